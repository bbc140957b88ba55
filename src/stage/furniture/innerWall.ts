/**
 * A wall between two rooms under one roof, along local x, with one way through it: a doorway, a hatch, an arch. `detail`:
 * `fromM` and `toM` along it from its left end, `sillM` (0), `headM` (2); none told: an unbroken wall. `leafDeg`: a leaf
 * hinged at `fromM` stands so far open, toward local −y; minus: away.
 */
import { DEG } from '../../maths/vec3.ts';
import { bar, type Hole, panel } from '../build.ts';
import { VARNISH } from '../finish.ts';
import type { Piece } from './piece.ts';

/** Of a plain flush door, metres; common practice. */
const LEAF_M = 0.035;

export const innerWall: Piece = {
  kind: 'inner-wall',
  sizeM: [3, 0.1, 2.4],
  build: ({ d, w, deep, h, slot, detail }) => {
    const [x, y] = [w / 2, deep / 2];
    const s = slot();
    const u0 = Math.max(0, Math.min(w, detail('fromM', 0)));
    const u1 = Math.max(0, Math.min(w, detail('toM', 0)));
    const v0 = Math.max(0, Math.min(h, detail('sillM', 0)));
    const v1 = Math.max(0, Math.min(h, detail('headM', 2)));
    const open = u1 - u0 > 0.02 && v1 - v0 > 0.02;
    const holes: Hole[] = open ? [{ u0, u1, v0, v1 }] : [];
    const back = holes.map((o) => ({ ...o, u0: w - o.u1, u1: w - o.u0 }));
    panel(d, [-x, -y, 0], [w, 0, 0], [0, 0, h], s, { holes });
    panel(d, [x, y, 0], [-w, 0, 0], [0, 0, h], s, { holes: back });
    panel(d, [-x, y, 0], [0, -deep, 0], [0, 0, h], s);
    panel(d, [x, -y, 0], [0, deep, 0], [0, 0, h], s);
    panel(d, [-x, -y, h], [w, 0, 0], [0, deep, 0], s);
    const through = open && v0 < 1e-5;
    const under = through ? [{ u0, u1, v0: 0, v1: deep }] : [];
    panel(d, [-x, y, 0], [w, 0, 0], [0, -deep, 0], s, { holes: under });
    if (!open) return;
    const [a, b] = [u0 - x, u1 - x];
    const lining = slot('lining', VARNISH);
    panel(d, [a, -y, v0], [0, deep, 0], [0, 0, v1 - v0], lining);
    panel(d, [b, y, v0], [0, -deep, 0], [0, 0, v1 - v0], lining);
    panel(d, [a, y, v1], [b - a, 0, 0], [0, -deep, 0], lining);
    // A doorway down to the floor has the floor's own.
    if (!through) panel(d, [a, -y, v0], [b - a, 0, 0], [0, deep, 0], lining);
    const turn = detail('leafDeg', 0);
    if (!turn || !through) return;
    const wide = b - a - 0.01;
    const side = turn > 0 ? -1 : 1;
    const [c, n] = [Math.cos(Math.abs(turn) * DEG), Math.sin(Math.abs(turn) * DEG)];
    // Hinged on the face it opens to.
    const z = (v0 + v1) / 2;
    bar(
      d,
      [a + 0.005, side * y, z],
      [a + 0.005 + wide * c, side * (y + wide * n), z],
      v1 - v0 - 0.02,
      LEAF_M,
      slot('leaf', VARNISH),
    );
  },
};
