/**
 * The port behind which tracers are exchanged (plain TypeScript in one thread, a pool of workers, WASM,
 * WebGPU). The same scene gives the same numbers within noise on all; one suite holds them to it.
 */
import type { Air } from '../stage/air.ts';
import type { TransportScene, View } from './scene.ts';
import type { Sums } from './sums.ts';

/** Points on surfaces, as a structure of arrays: what a camera sees, a reading's probe, a patch sample. */
export interface SurfacePoints {
  count: number;
  /** 3 × count, metres, lifted clear of the surface (shadow-terminator fix applied). */
  position: Float32Array;
  /** 3 × count, unit, true face normal on the side that is seen. */
  faceNormal: Float32Array;
  /** 3 × count, unit, shading normal on the same side. */
  normal: Float32Array;
  /** 3 × count, unit, from the point toward the eye (gloss); for probes equal to the normal. */
  toEye: Float32Array;
  /** 3 × count, unit, along the hair where the material is one's; else zero. Absent: no point lies on hair. */
  grain?: Float32Array;
  /** count: material number; 65535 = a probe: an ideal white matte receiver. */
  material: Uint16Array;
  /** count: patch number, 4294967295 = none. */
  patch: Uint32Array;
  /**
   * Number of the first of these points in the list they were cut from (default 0). Chance goes by it, so that a list
   * cut in pieces gives the same numbers as the whole.
   */
  firstIndex?: number;
}

/**
 * What a camera sees: for each pixel some surface points with weights, and emitters seen directly. Pixels run row by
 * row from the top left. Emitters hide nothing: what is behind a glow is among the points.
 */
export interface Hits {
  width: number;
  height: number;
  points: SurfacePoints;
  /** width × height + 1: points pixelStart[p] … pixelStart[p + 1]-1 belong to pixel p. */
  pixelStart: Uint32Array;
  /** points.count: share of the pixel, losses of panes, mirrors and haze on the way included (neutral). */
  weight: Float32Array;
  /** points.count: part of the stage hit. */
  part: Uint16Array;
  /** points.count: distance along the ray, metres. */
  depth: Float32Array;
  /** What fills the air that was seen through; absent: it is clear. */
  air?: Air;
  /** Emitters in view: pixel, layer, luminance cd/m² at rated volts, bare, weighted by share of the pixel. */
  glow: { pixel: Uint32Array; layer: Uint16Array; luminance: Float32Array };
}

/** Direct light of one layer at points. Units: of the layer at rated volts, bare. */
export interface Direct {
  /** count: illuminance, lux, shadows included, cosine by the shading normal. */
  diffuse: Float32Array;
  /** count: luminance of the gloss toward the eye, cd/m². Zero where the material has no gloss. */
  gloss: Float32Array;
  /** In a picture through haze or rain: what the air itself sends toward the eye. */
  air?: AirLight;
  /** In a picture: lux that pass the lens's front glass (`veil.ts`). */
  glassLx?: number;
  /** `diffuse` spread under the skin that `of` knows, once it was asked for; who changes `diffuse` takes it away. */
  under?: { of: object; spread: Float32Array[] };
}

/** Light that the air of a picture scatters toward the eye, once. */
export interface AirLight {
  /** width × height: luminance, cd/m². */
  luminance: Float32Array;
  /** Means over the frame, cd/m²: of light that went on forward (from behind the air), and that turned back. */
  behind: number;
  front: number;
}

/** Estimate of everything at points, per layer, by paths. All unbiased; sums over `paths` already divided. */
export interface PathEstimate {
  paths: number;
  /** Per layer; with `only`, in its order. */
  layers: {
    direct: Direct;
    /** count × 12: bounced illuminance at the sample wavelengths, lux-like (a flat spectrum would give lux). */
    bounced: Float32Array;
    /** count × 12: luminance toward the eye, cd/m², of bounced light in the gloss. Zero where there is none. */
    glossBounced?: Float32Array;
    /** count: variance of the mean of direct diffuse + mean over wavelengths of bounced, lux²; infinite if paths = 1. */
    variance: Float32Array;
  }[];
}

/** Rays by kind, counted by every tracer: the table of edits and rays is a test on this. */
export interface RayCount {
  camera: number;
  shadow: number;
  bounce: number;
  link: number;
}

/** What someone waits for, and what may wait until nobody does. */
export type Priority = 'now' | 'later';

export interface TraceOptions {
  seed: number;
  signal?: AbortSignalLike;
  /** A hint for tracers that share their work out: calls for `later` wait while others (default `now`) are at work. */
  priority?: Priority;
}
/** A stretch of rows or patches: `from` … `to - 1`. What lies outside comes back empty (zero). */
export interface Stretch {
  from: number;
  to: number;
}
/** The part of AbortSignal that is used (the core is compiled without DOM types). */
export interface AbortSignalLike {
  readonly aborted: boolean;
}

export interface Tracer {
  readonly name: string;
  readonly rays: RayCount;
  /** How its thread does the quick light's long sums; absent: as sums.ts does. */
  readonly sums?: Sums;
  /** Makes `scene` the one that the calls below speak of. Cheap if the stage's key (or still key) is unchanged. */
  load(scene: TransportScene): Promise<void>;
  /** First hits through mirrors and panes; `samples` sub-pixel rays where a silhouette is found (1 elsewhere). */
  hits(
    view: View,
    width: number,
    height: number,
    options: TraceOptions & { samples?: number; jitter?: boolean; rows?: Stretch },
  ): Promise<Hits>;
  /** Direct light by `samples` points on each emitter (stratified); `shadows: false` as if nothing stood in the way. */
  direct(
    points: SurfacePoints,
    layer: number,
    options: TraceOptions & { samples: number; shadows?: boolean },
  ): Promise<Direct>;
  /** patchCount: mean direct illuminance of the front of each patch (lux), `samples` points on each; for the quick solve. */
  patchDirect(
    layer: number,
    options: TraceOptions & { samples: number; patches?: Stretch },
  ): Promise<Float32Array>;
  /**
   * Shadow rays asked one by one: share of light (0–1) that gets from each of `count` points to its target, both 3 ×
   * count, metres; the last half millimetre is not asked. Counted as shadow rays.
   */
  passes(
    from: Float32Array,
    to: Float32Array,
    options?: { signal?: AbortSignalLike; priority?: Priority },
  ): Promise<Float32Array>;
  /**
   * `per` × count: what cosine-distributed rays from the points see: patch numbers; 4294967295 = nothing,
   * open sky or a surface without a patch. `near`, metres per point: a patch met nearer than that, on the straight
   * way, has 2147483648 added to its number.
   */
  links(
    points: SurfacePoints,
    per: number,
    options: TraceOptions & { near?: Float32Array },
  ): Promise<Uint32Array>;
  /**
   * Unbiased paths from the points, `paths` each. Layers with index in `only` (default all). `begun`: paths already
   * traced with this seed; the low-discrepancy sequences go on from there, and the mean of calls, weighted by their
   * paths, is what one call for all would have given.
   */
  trace(
    points: SurfacePoints,
    options: TraceOptions & { paths: number; begun?: number; only?: readonly number[] },
  ): Promise<PathEstimate>;
  dispose(): void;
}
