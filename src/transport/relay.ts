/**
 * Diffusion frames that stand in the room. What falls on a frame from a layer leaves its far side scattered, and
 * becomes a layer of its own: a grid of small matte rectangles, each as bright as the light on it says. What goes
 * straight through needs nothing here: shadow rays pass the sheet by its `straight` share.
 */
import type { Vec3 } from '../maths/vec3.ts';
import { add, cross, normalize, scale } from '../maths/vec3.ts';
import { probes } from './points.ts';
import type { Emitter, Layer, TransportScene } from './scene.ts';
import type { AbortSignalLike, Tracer } from './tracer.ts';

/** A sheet in its frame. Both sides take light. */
export interface Frame {
  id: string;
  centre: Vec3;
  /** Unit, square to the sheet. */
  axis: Vec3;
  /** Unit, along its height. */
  up: Vec3;
  widthM: number;
  heightM: number;
  /** Share of the light that leaves the far side scattered, 0–1: transmittance × (1 - straight share). */
  scattered: number;
  /** Cells across and up. Default: about eight along the longer side. */
  cells?: readonly [across: number, up: number];
}

/** Points per cell and shadow samples on each emitter from each. */
const PER_SIDE = 2;
const SAMPLES_EACH = 16;
/** Cells that get less than this share of the brightest are left dark. */
const FAINTEST = 1e-3;
/** Clear of the sheet, metres. */
const LIFT = 2e-3;

export interface RelayOptions {
  seed: number;
  signal?: AbortSignalLike;
  /** Numbers of the layers that are relayed. Default all of the scene. */
  only?: readonly number[];
}

/**
 * Layers that the frames make of those of `scene`, which must be loaded in `tracer`: one for each frame and layer
 * that lights it, named `layer/frame`, of the same lamp. Light that meets two frames one after the other is scattered
 * by the first only; light between frame and lamp (back and forth) is left to the bounce field.
 */
export async function relayLayers(
  tracer: Tracer,
  scene: TransportScene,
  frames: readonly Frame[],
  options: RelayOptions,
): Promise<Layer[]> {
  const out: Layer[] = [];
  for (const frame of frames) {
    if (!(frame.scattered > 0)) continue;
    const grid = cellsOf(frame);
    const sides = [1, -1] as const;
    const points = sides.map((side) => probes(onSide(frame, grid, side)));
    for (const number of options.only ?? scene.layers.map((_, l) => l)) {
      const layer = scene.layers[number]!;
      const emitters: Emitter[] = [];
      for (const [s, side] of sides.entries()) {
        const { diffuse } = await tracer.direct(points[s]!, number, {
          seed: options.seed,
          samples: SAMPLES_EACH,
          ...(options.signal ? { signal: options.signal } : {}),
        });
        emitters.push(...leaving(frame, grid, side, diffuse));
      }
      if (emitters.length === 0) continue;
      out.push({
        id: `${layer.id}/${frame.id}`,
        lamp: layer.lamp,
        emitters,
        key: JSON.stringify(emitters),
        ownParts: layer.ownParts,
      });
    }
  }
  return out;
}

interface Grid {
  across: number;
  up: number;
  right: Vec3;
}

function cellsOf(frame: Frame): Grid {
  const longer = Math.max(frame.widthM, frame.heightM);
  const [across, up] = frame.cells ?? [
    Math.max(1, Math.round((8 * frame.widthM) / longer)),
    Math.max(1, Math.round((8 * frame.heightM) / longer)),
  ];
  return { across, up, right: normalize(cross(frame.up, frame.axis)) };
}

/** Place on the sheet, −½ … ½ of its width and height. */
const placeOn = (frame: Frame, { right }: Grid, x: number, y: number): Vec3 =>
  add(frame.centre, add(scale(right, x * frame.widthM), scale(frame.up, y * frame.heightM)));

/** Receivers on the side that `axis × side` looks to: PER_SIDE² in every cell, cell by cell. */
function onSide(frame: Frame, grid: Grid, side: 1 | -1): { position: Vec3; normal: Vec3 }[] {
  const normal = scale(frame.axis, side);
  const list: { position: Vec3; normal: Vec3 }[] = [];
  for (let j = 0; j < grid.up; j++) {
    for (let i = 0; i < grid.across; i++) {
      for (let k = 0; k < PER_SIDE ** 2; k++) {
        const x = (i + ((k % PER_SIDE) + 0.5) / PER_SIDE) / grid.across - 0.5;
        const y = (j + (Math.floor(k / PER_SIDE) + 0.5) / PER_SIDE) / grid.up - 0.5;
        list.push({ position: add(placeOn(frame, grid, x, y), scale(normal, LIFT)), normal });
      }
    }
  }
  return list;
}

/** What leaves on the other side: matte cells of I₀ = E τ A / π. */
function leaving(frame: Frame, grid: Grid, side: 1 | -1, lux: Float32Array): Emitter[] {
  const per = PER_SIDE ** 2;
  const cells = Float64Array.from({ length: lux.length / per }, (_, c) => {
    let sum = 0;
    for (let k = 0; k < per; k++) sum += lux[c * per + k]!;
    return sum / per;
  });
  const most = cells.reduce((a, b) => Math.max(a, b), 0);
  if (!(most > 0)) return [];
  const widthM = frame.widthM / grid.across;
  const heightM = frame.heightM / grid.up;
  const emitters: Emitter[] = [];
  cells.forEach((E, c) => {
    if (E < FAINTEST * most) return;
    const x = ((c % grid.across) + 0.5) / grid.across - 0.5;
    const y = (Math.floor(c / grid.across) + 0.5) / grid.up - 0.5;
    emitters.push({
      shape: {
        kind: 'rectangle',
        centre: placeOn(frame, grid, x, y),
        axis: scale(frame.axis, -side),
        up: frame.up,
        widthM,
        heightM,
      },
      beam: { kind: 'cosine', peakCd: (widthM * heightM) / Math.PI, exponent: 1 },
      gain: E * frame.scattered,
    });
  });
  return emitters;
}
