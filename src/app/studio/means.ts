/** What the studio works with: a tracer, a voice, and all that it keeps by content. */

import type { Neared } from '../../scheme/matchCures.ts';
import type { Cure, Trouble } from '../../scheme/trouble.ts';
import type { AngleGeometry } from '../../setup/angle.ts';
import type { Weighed } from '../../setup/weights.ts';
import type { PeopleData } from '../../stage/people/person.ts';
import type { LayerField, Room } from '../../transport/quick/quick.ts';
import type { Layer } from '../../transport/scene.ts';
import type { AbortSignalLike, RayCount, Tracer } from '../../transport/tracer.ts';
import type { FromLight, Outlines } from '../messages.ts';
import type { Shown, Stood } from './shown.ts';

export const SEED = 20_011;

/** What trying has come to, for one state of one angle. */
export interface Cured {
  troubles: Map<string, Trouble>;
  free: Cure[];
}

export interface StudioOptions {
  tracer: Tracer;
  /** Another for readings while that one is at work; absent: they wait for it. */
  reader?: Tracer;
  people: PeopleData | undefined;
  say: (message: FromLight, transfer?: ArrayBuffer[]) => void;
  /** Lets others have a turn. */
  pause: () => Promise<void>;
  /** Whether a newer wish has come. */
  newer: () => boolean;
}

/** All that is at hand while angles are worked on. */
export interface Means extends StudioOptions {
  angles: Map<string, Shown>;
  geometries: Map<string, AngleGeometry>;
  /** Layers made by diffusion frames, by what they are made of. */
  framesLit: Map<string, Layer[]>;
  rooms: Map<string, Room>;
  onPatches: Map<string, Float32Array>;
  outlined: Map<string, string>;
  outlinesKept: Map<string, Outlines[string]['loops']>;
  layerFields: Map<string, LayerField>;
  cured: Map<string, Cured>;
  /** Cheats that bring a close-up nearer to its wide, as tried. */
  matched: Map<string, Neared[]>;
  /** What lamps give in each angle while a hand carries one, and what of. */
  weighed: Map<string, { key: string; weighed: Weighed }>;
  /** Where the chosen one could stand, as last traced. */
  stood?: Stood;
}

export const meansOf = (options: StudioOptions): Means => ({
  ...options,
  angles: new Map(),
  geometries: new Map(),
  framesLit: new Map(),
  rooms: new Map(),
  onPatches: new Map(),
  outlined: new Map(),
  outlinesKept: new Map(),
  layerFields: new Map(),
  cured: new Map(),
  matched: new Map(),
  weighed: new Map(),
});

export function rays({ tracer, reader }: Means): RayCount {
  const sum = { ...tracer.rays };
  for (const kind of Object.keys(sum) as (keyof RayCount)[]) sum[kind] += reader?.rays[kind] ?? 0;
  return sum;
}

/** Lets others have a turn; throws where the wish was abandoned meanwhile. */
export async function turnOver(on: Means, signal: AbortSignalLike): Promise<void> {
  await on.pause();
  if (signal.aborted) throw Object.assign(new Error('abandoned'), { name: 'AbortError' });
}

export async function load(on: Means, s: Shown): Promise<void> {
  await on.tracer.load(s.geometry.transport);
}

export function keep<T>(map: Map<string, T>, key: string, value: T, most: number): void {
  map.delete(key);
  map.set(key, value);
  while (map.size > most) map.delete(map.keys().next().value as string);
}
