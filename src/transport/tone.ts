/** Figures of surfaces at the points a camera sees. Light that goes on to other surfaces is of their mean. */
import { toneAt } from '../stage/figure.ts';
import type { Material } from '../stage/stage.ts';
import type { Hits } from './tracer.ts';

const kept = new WeakMap<Hits, { of: string; tone: Float32Array }>();

/** Factor on the diffuse reflectance at each point; nothing if no surface seen has a figure. `pitch`: breadth of a pixel a metre away. */
export function toneOf(materials: readonly Material[], hits: Hits, pitch: number): Float32Array | undefined {
  const figures = materials.map((m) => m.figure);
  if (!figures.some((f) => f)) return undefined;
  // While a lamp is carried or a colour tried, what is seen and its figures stay as they were.
  const of = JSON.stringify(figures);
  const before = kept.get(hits);
  if (before?.of === of) return before.tone;
  const { position, faceNormal, toEye, material, count } = hits.points;
  const out = new Float32Array(count).fill(1);
  const at: [number, number, number] = [0, 0, 0];
  const normal: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    const figure = figures[material[i]!];
    if (!figure) continue;
    const o = 3 * i;
    let slant = 0;
    for (let k = 0; k < 3; k++) {
      at[k] = position[o + k]!;
      normal[k] = faceNormal[o + k]!;
      slant += normal[k]! * toEye[o + k]!;
    }
    // A slanting pixel is long and narrow: between its breadth and its length.
    out[i] = toneAt(figure, at, normal, (pitch * hits.depth[i]!) / Math.sqrt(Math.max(0.03, slant)));
  }
  kept.set(hits, { of, tone: out });
  return out;
}
