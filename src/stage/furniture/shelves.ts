/** Boards between two sides, with or without books. */
import { box } from '../build.ts';
import { VARNISH } from '../finish.ts';
import { roundBox } from '../roundBox.ts';
import type { Builder } from './work.ts';

/** Parts whose finishes the covers have; most of them the first. */
const COVERS = ['books', 'books2', 'books', 'books3', 'books', 'books4', 'books2'];

/**
 * The count of boards from `detail.shelves`, else one each 35 cm; `books`: the share of their length that is filled, the
 * books of finishes `books`, `books2` … `books4` in several tones.
 */
export const shelves: Builder = ({ d, w, deep, h, slot, detail }) => {
  const x = w / 2;
  const y = deep / 2;
  const t = 0.02;
  const count = Math.max(2, Math.round(detail('shelves', Math.max(2, Math.round(h / 0.35) + 1))));
  for (const sx of [-1, 1]) {
    const a = sx < 0 ? -x : x - t;
    roundBox(d, [a, -y, 0], [a + t, y, h], 0.003, slot(undefined, VARNISH), { without: ['z-'] });
  }
  const full = Math.max(0, Math.min(1, detail('books', 0)));
  for (let k = 0; k < count; k++) {
    const z = ((h - t) * k) / (count - 1);
    roundBox(d, [-x + t, -y, z], [x - t, y, z + t], 0.003, slot(undefined, VARNISH, [1.04, 0.96][k % 2]));
    const room = (h - t) / (count - 1) - t;
    if (k + 1 === count || full === 0 || room < 0.14) continue;
    let at = -x + t + 0.004;
    const end = -x + t + (w - 2 * t) * Math.min(1, full * (0.75 + 0.5 * part(k * 7.3)));
    for (let i = 0; ; i++) {
      const r = part(k * 31.7 + i);
      const thick = 0.016 + 0.03 * r * r;
      if (at + thick > Math.min(end, x - t)) break;
      const high = Math.min(room - 0.015, 0.17 + 0.11 * part(k * 11 + i * 3.1));
      const into = Math.min(2 * y - 0.03, 0.11 + 0.08 * part(k * 5 + i * 1.7));
      // Covers stand a little over the pages.
      const cover = COVERS[Math.floor(COVERS.length * part(k * 2.9 + i * 7.7))]!;
      const tone = slot(cover, undefined, [0.7, 1.25, 0.9, 1.1, 0.8][Math.floor(5 * part(k + i * 5.3))]);
      const front = -y + 0.012 + 0.02 * part(k * 3 + i * 9.1);
      box(d, [at, front, z + t], [at + thick, front + into, z + t + high], tone, { without: ['z-', 'y+'] });
      at += thick + 0.001;
    }
  }
};

/** An uneven number 0 to 1 that is always the same for `n`. */
const part = (n: number): number => {
  const v = Math.sin(n * 12.9898 + 4.1) * 43758.5453;
  return v - Math.floor(v);
};
