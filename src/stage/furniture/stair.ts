/**
 * Stairs: a flight that climbs along local +x, steps from `detail.steps` (else risers of about 18 cm); a landing slab;
 * a railing along local x whose foot climbs with `detail.riseM`.
 */
import { bar, box, cylinder, pipe } from '../build.ts';
import type { Piece } from './piece.ts';

const SLAB_M = 0.14;

export const flight: Piece = {
  kind: 'stair',
  sizeM: [2.4, 1.1, 1.4],
  outM: 0.2,
  build: ({ d, w, deep, h, slot, detail }) => {
    const s = slot();
    const treads = slot('treads');
    const n = Math.max(1, Math.round(detail('steps', h / 0.175)));
    const [rise, going] = [h / n, w / n];
    const y = deep / 2;
    const x0 = -w / 2;
    for (let k = 0; k < n; k++) {
      const a = x0 + k * going;
      const z = (k + 1) * rise;
      // Each step a block down to the sloping slab beneath.
      const under = Math.max(0, k * rise - SLAB_M);
      box(d, [a, -y, under], [a + going, y, z], s, { faces: { 'z+': treads }, without: k ? [] : ['z-'] });
    }
  },
};

export const landing: Piece = {
  kind: 'landing',
  sizeM: [2.4, 1.2, 0.2],
  build: ({ d, w, deep, h, slot }) => {
    box(d, [-w / 2, -deep / 2, 0], [w / 2, deep / 2, h], slot(), { faces: { 'z+': slot('treads') } });
  },
};

export const railing: Piece = {
  kind: 'railing',
  sizeM: [2.4, 0.06, 1],
  build: ({ d, w, h, slot, detail }) => {
    const s = slot();
    const rise = Math.max(-20, Math.min(20, detail('riseM', 0)));
    const tall = Math.max(0.3, h - Math.abs(rise));
    const x = w / 2;
    const foot = (u: number) => (rise >= 0 ? rise * u : -rise * (1 - u));
    const r = 0.02;
    pipe(
      d,
      [
        [-x, 0, foot(0) + tall - r],
        [x, 0, foot(1) + tall - r],
      ],
      r,
      slot('handrail'),
    );
    bar(d, [-x, 0, foot(0) + 0.1], [x, 0, foot(1) + 0.1], 0.02, 0.04, s, [0, 1, 0]);
    const n = Math.max(2, Math.round(w / detail('everyM', 0.2)) + 1);
    for (let k = 0; k < n; k++) {
      const u = k / (n - 1);
      const px = -x + 0.016 + (w - 0.032) * u;
      const post = k === 0 || k === n - 1;
      cylinder(d, [px, 0, foot(u) + (post ? 0 : 0.1)], [px, 0, foot(u) + tall - r], post ? 0.016 : 0.007, s, {
        sides: post ? 6 : 4,
      });
    }
  },
};
