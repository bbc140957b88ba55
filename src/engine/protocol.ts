/**
 * What a pool and its workers say to each other. The pool decides what every worker keeps; workers obey, answer
 * one question at a time, and never speak of their own accord but for `ready`.
 */
import type { Layer, TransportScene, View } from '../transport/scene.ts';
import type {
  Direct,
  Hits,
  PathEstimate,
  Priority,
  RayCount,
  Stretch,
  SurfacePoints,
} from '../transport/tracer.ts';

export type Stage = TransportScene['stage'];

/** The large arrays of a stage; the last may be absent. */
export const STAGE_ARRAYS = ['positions', 'normals', 'indices', 'material', 'part', 'patch', 'rest'] as const;
export type StageArray = (typeof STAGE_ARRAYS)[number];

/** One piece of a call, in the port's own words; points are already cut out. */
export type Question =
  | {
      method: 'hits';
      view: View;
      width: number;
      height: number;
      options: { seed: number; samples?: number; jitter?: boolean; rows: Stretch };
    }
  | {
      method: 'direct';
      points: SurfacePoints;
      layer: number;
      options: { seed: number; samples: number; shadows?: boolean };
    }
  | { method: 'patchDirect'; layer: number; options: { seed: number; samples: number; patches: Stretch } }
  | { method: 'passes'; from: Float32Array; to: Float32Array }
  | {
      method: 'links';
      points: SurfacePoints;
      per: number;
      options: { seed: number; near?: Float32Array };
    }
  | {
      method: 'trace';
      points: SurfacePoints;
      options: { seed: number; paths: number; begun?: number; only?: readonly number[] };
    };

/** Answers, by method: only what was asked for (of `hits` and `patchDirect` the stretch, nothing around it). */
export interface Answers {
  hits: Hits;
  direct: Direct;
  patchDirect: Float32Array;
  passes: Float32Array;
  links: Uint32Array;
  trace: PathEstimate;
}
export type Answer = Answers[keyof Answers];

export type ToWorker =
  | {
      kind: 'stage';
      id: number;
      /** With `like`, each large array lacks as many numbers at its front as `same` says: take them from that stage. */
      stage: Stage;
      like?: { key: string; same: Record<StageArray, number> };
      /** Key of a stage whose trees are to be taken over where nothing changed. */
      before?: string;
    }
  /** Layers not yet known, and a list of keys of layers that calls speak of by its number. */
  | { kind: 'list'; list: number; keys: string[]; layers: Layer[] }
  | { kind: 'forget'; stages: string[]; lists: number[]; layers: string[] }
  | { kind: 'ask'; id: number; stage: string; list: number; priority: Priority; question: Question }
  | { kind: 'abort'; id: number };

export type FromWorker =
  | { kind: 'ready' }
  | { kind: 'built'; id: number; ms: number }
  | { kind: 'answer'; id: number; ms: number; rays: RayCount; answer: Answer }
  | { kind: 'failed'; id: number; name: string; message: string };

/** The pool's end of a worker. */
export interface Port {
  post(message: ToWorker, transfer: ArrayBuffer[]): void;
  /** Called once. `onDeath`: the worker is gone or cannot be understood, and why. */
  listen(onMessage: (message: FromWorker) => void, onDeath: (why: string) => void): void;
  /** Ends the worker; nothing is heard of it any more. */
  close(): void;
  /** Whether somebody waits for this worker: only then need it keep the program alive. */
  busy?(waited: boolean): void;
}

/** The worker's end. */
export interface Outlet {
  post(message: FromWorker, transfer: ArrayBuffer[]): void;
  listen(onMessage: (message: ToWorker) => void): void;
}

/** Buffers of the arrays in plain data, to be handed over instead of copied; shared memory stays where it is. */
export function buffersOf(value: unknown, out: ArrayBuffer[] = []): ArrayBuffer[] {
  if (ArrayBuffer.isView(value)) {
    if (value.buffer instanceof ArrayBuffer && !out.includes(value.buffer)) out.push(value.buffer);
  } else if (typeof value === 'object' && value !== null) {
    for (const inner of Object.values(value)) buffersOf(inner, out);
  }
  return out;
}
