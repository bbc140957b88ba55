/**
 * What the last picture saw, in the numbers of the stage that is read now. A reading does not wait for a new picture; with
 * one room or thing more the old picture's parts have other numbers, and a chair would be taken for a lamp's head.
 */
import type { Hits } from '../../transport/tracer.ts';
import type { Shown } from './shown.ts';

/** No part and no layer has this number: what was seen is not there any more. */
export const GONE = 65_535;

/** Until the first picture: nothing seen. */
export const NO_HITS: Hits = {
  width: 1,
  height: 1,
  points: {
    count: 0,
    position: new Float32Array(),
    normal: new Float32Array(),
    faceNormal: new Float32Array(),
    toEye: new Float32Array(),
    material: new Uint16Array(),
    patch: new Uint32Array(),
  },
  pixelStart: new Uint32Array(2),
  weight: new Float32Array(),
  part: new Uint16Array(),
  depth: new Float32Array(),
  glow: { pixel: new Uint32Array(), layer: new Uint16Array(), luminance: new Float32Array() },
};

const known = new WeakMap<Hits, { names: string; hits: Hits }>();

export function hitsNow(s: Pick<Shown, 'geometry' | 'last'>): Hits {
  if (!s.last) return NO_HITS;
  const { stage, layers } = s.geometry.transport;
  const { hits } = s.last.sight;
  const then = s.last.names;
  const parts = stage.parts.map((p) => p.id);
  const lamps = layers.map((l) => l.id);
  if (same(then.parts, parts) && same(then.layers, lamps)) return hits;
  const names = JSON.stringify([parts, lamps]);
  const before = known.get(hits);
  if (before?.names === names) return before.hits;
  const part = Uint16Array.from(hits.part, numbersOf(then.parts, parts));
  const layer = Uint16Array.from(hits.glow.layer, numbersOf(then.layers, lamps));
  const now: Hits = { ...hits, part, glow: { ...hits.glow, layer } };
  known.set(hits, { names, hits: now });
  return now;
}

const same = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((v, i) => v === b[i]);

function numbersOf(then: readonly string[], now: readonly string[]): (n: number) => number {
  const at = new Map(now.map((id, i) => [id, i]));
  const to = then.map((id) => at.get(id) ?? GONE);
  return (n) => to[n] ?? GONE;
}
