/** Hatching: thin slanting lines inside one outline and outside others. */
import type { At, PageMark } from './page.ts';

/**
 * Lines rising to the right, `stepMm` apart, over what an odd number of the loops encloses: an outline and a loop inside
 * it give the outline less the loop.
 */
export function hatched(loops: readonly (readonly At[])[], stepMm: number, weightMm: number): PageMark[] {
  const r = Math.SQRT1_2;
  // In a frame turned by 45° the lines run level.
  const turned = loops.map((loop) => loop.map(([x, y]): At => [(x - y) * r, (x + y) * r]));
  const all = turned.flat();
  if (all.length === 0) return [];
  const lo = Math.min(...all.map((p) => p[1]));
  const hi = Math.max(...all.map((p) => p[1]));
  const marks: PageMark[] = [];
  for (let v = (Math.floor(lo / stepMm) + 0.5) * stepMm; v < hi; v += stepMm) {
    const cuts: number[] = [];
    for (const loop of turned)
      loop.forEach((p, i) => {
        const q = loop[(i + 1) % loop.length]!;
        if (p[1] > v !== q[1] > v) cuts.push(p[0] + ((v - p[1]) * (q[0] - p[0])) / (q[1] - p[1]));
      });
    cuts.sort((a, b) => a - b);
    for (let i = 0; i + 1 < cuts.length; i += 2) {
      if (cuts[i + 1]! - cuts[i]! < 0.3) continue;
      const back = (u: number): At => [(u + v) * r, (v - u) * r];
      marks.push({ kind: 'line', points: [back(cuts[i]!), back(cuts[i + 1]!)], weightMm });
    }
  }
  return marks;
}
