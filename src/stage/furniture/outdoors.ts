/** Things of the street and the garden: fence, lamp-post, bollard, puddle, kerb. */

import type { Vec3 } from '../../maths/vec3.ts';
import { box, cylinder, lathe, pipe } from '../build.ts';
import { GREY_STEEL, PANE } from '../finish.ts';
import { inFrame, newPatch, polygon, slotOf, upright } from '../mesh.ts';
import type { Piece } from './piece.ts';

/** Pales on two rails between posts, along local x; `detail.gapM` between pales (0.03; 0 closed boards). */
export const fence: Piece = {
  kind: 'fence',
  sizeM: [2.4, 0.1, 1.2],
  build: ({ d, w, deep, h, slot, detail }) => {
    const s = slot();
    const [x, y] = [w / 2, deep / 2];
    const gap = Math.max(0, detail('gapM', 0.03));
    const pale = Math.min(0.1, w);
    const n = Math.max(1, Math.floor((w + gap) / (pale + gap)));
    const each = w / n;
    const thick = Math.min(0.02, deep / 3);
    for (let k = 0; k < n; k++) {
      const a = -x + k * each;
      // Pales weather apart and were never cut to one length.
      const tone = slot(undefined, undefined, [1.06, 0.92, 1.02, 0.97, 1.03][(k * 3) % 5]);
      const tall = h - 0.012 * ((k * 5) % 3);
      box(
        d,
        [a + (k ? gap / 2 : 0), -y, 0.05],
        [a + each - (k < n - 1 ? gap / 2 : 0), -y + thick, tall],
        tone,
      );
    }
    for (const z of [h * 0.25, h * 0.78]) box(d, [-x, -y + thick, z], [x, -y + thick * 2.5, z + 0.07], s);
    const posts = Math.max(2, Math.round(w / 1.8) + 1);
    for (let k = 0; k < posts; k++) {
      const cx = -x + 0.04 + ((w - 0.08) * k) / (posts - 1);
      box(d, [cx - 0.04, -y + thick, 0], [cx + 0.04, y, h], s, { without: ['z-'] });
    }
  },
};

/** A street lamp-post: tapered column, arm toward local +x, lantern with its glass downward. Its light is a lamp of the rig. */
export const lampPost: Piece = {
  kind: 'lamp-post',
  sizeM: [1.5, 0.3, 6],
  build: ({ d, w, deep, h, slot }) => {
    const s = slot();
    const x = w / 2;
    const r = Math.min(0.075, deep / 2);
    const foot = -x + r;
    cylinder(d, [foot, 0, 0], [foot, 0, Math.min(1.2, h / 4)], r, s, { sides: 12 });
    cylinder(d, [foot, 0, Math.min(1.2, h / 4)], [foot, 0, h - 0.25], r * 0.75, s, {
      r1: r * 0.5,
      sides: 12,
    });
    const reach = x - 0.55;
    if (reach > foot + 0.1)
      pipe(
        d,
        [
          [foot, 0, h - 0.25],
          [foot + (reach - foot) * 0.4, 0, h - 0.06],
          [reach, 0, h - 0.06],
        ],
        0.03,
        s,
      );
    const [a, b] = [Math.max(-x, x - 0.6), x];
    const z = h - 0.13;
    box(d, [a, -deep / 2, z + 0.02], [b, deep / 2, h], s);
    box(d, [a + 0.04, -deep / 2 + 0.03, z - 0.02], [b - 0.04, deep / 2 - 0.03, z + 0.018], slotOf(d, PANE), {
      without: ['z+'],
      patchM: 1e3,
    });
  },
};

export const bollard: Piece = {
  kind: 'bollard',
  sizeM: [0.16, 0.16, 1],
  build: ({ d, w, h, slot }) => {
    const r = w / 2;
    lathe(
      d,
      [
        [0, 0],
        [r, 0],
        [r, h * 0.08],
        [r * 0.8, h * 0.1],
        [r * 0.75, h * 0.82],
        [r * 0.9, h * 0.86],
        [r * 0.7, h * 0.96],
        [0, h],
      ],
      slot(),
      { sides: 14 },
    );
  },
};

/** Standing water on the ground: a flat oval skin, rough-edged, that mirrors. */
export const puddle: Piece = {
  kind: 'puddle',
  patchM: 0.4,
  sizeM: [1.6, 1, 0.01],
  build: ({ d, w, deep, h, slot }) => {
    // Water: 2 % straight on, near a mirror at a slant; what is under it is wet and dark.
    const s = slot(undefined, { glossF0: 0.02, roughness: 0.03 });
    const n = 40;
    const edge = (k: number): Vec3 => {
      const a = (2 * Math.PI * k) / n;
      const ripple = k % 10 === 0 ? 1 : 0.86 + 0.07 * Math.sin(3 * a + 1) + 0.06 * Math.cos(5 * a);
      return [(w / 2) * ripple * Math.cos(a), (deep / 2) * ripple * Math.sin(a), h];
    };
    const at = (k: number, t: number): Vec3 => {
      const e = edge(k);
      return [e[0] * t, e[1] * t, h];
    };
    const rings = Math.max(1, Math.ceil(Math.max(w, deep) / 2 / 0.2));
    const spokes = Math.max(4, Math.ceil((Math.PI * Math.max(w, deep)) / 0.2 / 4) * 4);
    for (let j = 0; j < rings; j++) {
      const [t0, t1] = [j / rings, (j + 1) / rings];
      const share = Math.max(4, Math.round(spokes * t1));
      let patch = newPatch(d);
      for (let k = 0; k < n; k++) {
        if (Math.floor((k * share) / n) !== Math.floor(((k - 1) * share) / n)) patch = newPatch(d);
        const quad =
          t0 > 0
            ? [at(k, t0), at(k, t1), at(k + 1, t1), at(k + 1, t0)]
            : [at(k, 0), at(k, t1), at(k + 1, t1)];
        polygon(d, quad, s, patch);
      }
    }
    // Down to the ground all round.
    for (let k = 0; k < n; k++) {
      const [p, q] = [edge(k), edge(k + 1)];
      polygon(d, [[p[0], p[1], 0], [q[0], q[1], 0], q, p], s, newPatch(d));
    }
  },
};

/** A slab: pavement with its kerb stone along local −y. */
export const pavement: Piece = {
  kind: 'pavement',
  sizeM: [4, 1.8, 0.12],
  build: ({ d, w, deep, h, slot }) => {
    const [x, y] = [w / 2, deep / 2];
    const kerb = Math.min(0.13, deep / 4);
    box(d, [-x, -y + kerb + 0.006, 0], [x, y, h - 0.004], slot(), { without: ['z-'] });
    const stones = Math.max(1, Math.round(w / 0.9));
    for (let k = 0; k < stones; k++) {
      const [a, b] = [-x + (w * k) / stones, -x + (w * (k + 1)) / stones];
      box(d, [a + (k ? 0.004 : 0), -y, 0], [b - (k < stones - 1 ? 0.004 : 0), -y + kerb, h], slot('kerb'), {
        without: ['z-'],
      });
    }
  },
};

/** A gas or water butt, a bin: a tapered drum with a lid. */
export const bin: Piece = {
  kind: 'bin',
  sizeM: [0.5, 0.5, 0.75],
  build: ({ d, w, h, slot }) => {
    const r = w / 2;
    const s = slot();
    lathe(
      d,
      [
        [0, 0],
        [r * 0.8, 0],
        [r * 0.94, h * 0.86],
        [r, h * 0.86],
        [r, h * 0.92],
        [r * 0.7, h * 0.97],
        [0, h * 0.97],
      ],
      s,
      { sides: 20 },
    );
    inFrame(d, upright([0, 0, h * 0.97]), () =>
      pipe(
        d,
        [
          [-0.06, 0, -0.005],
          [-0.05, 0, h * 0.03 - 0.006],
          [0.05, 0, h * 0.03 - 0.006],
          [0.06, 0, -0.005],
        ],
        0.006,
        slotOf(d, GREY_STEEL),
        5,
      ),
    );
  },
};
