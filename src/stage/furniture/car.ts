/** A family car, nose toward local +x: shell, glass house, wheels in their arches, lamps, bumpers. */

import type { Vec3 } from '../../maths/vec3.ts';
import { box, cylinder, lathe } from '../build.ts';
import { BLACK_PAINT, CHROME, PANE } from '../finish.ts';
import { type Draft, inFrame, looking, newPatch, polygon, slotOf } from '../mesh.ts';
import type { Piece } from './piece.ts';

const PAINT = { glossF0: 0.05, roughness: 0.12 };

/** A prism between two outlines of the side view, drawn across local y; one strip of patches per edge. */
function skin(
  d: Draft,
  side: readonly (readonly [number, number, number])[],
  slotOfEdge: (k: number) => number,
  closed: boolean,
): void {
  const n = side.length;
  const count = closed ? n : n - 1;
  for (let k = 0; k < count; k++) {
    const [x0, z0, y0] = side[k]!;
    const [x1, z1, y1] = side[(k + 1) % n]!;
    const m = slotOfEdge(k);
    if (m < 0) continue;
    const long = Math.hypot(x1 - x0, z1 - z0);
    const nu = Math.max(1, Math.ceil(long / d.patchM));
    const nv = Math.max(1, Math.ceil((2 * Math.max(y0, y1)) / d.patchM));
    const at = (u: number, v: number): Vec3 => {
      const y = y0 + (y1 - y0) * u;
      return [x0 + (x1 - x0) * u, -y + 2 * y * v, z0 + (z1 - z0) * u];
    };
    for (let i = 0; i < nu; i++)
      for (let j = 0; j < nv; j++)
        polygon(
          d,
          [
            at(i / nu, j / nv),
            at((i + 1) / nu, j / nv),
            at((i + 1) / nu, (j + 1) / nv),
            at(i / nu, (j + 1) / nv),
          ],
          m,
          newPatch(d),
        );
  }
}

export const car: Piece = {
  kind: 'car',
  patchM: 1.2,
  sizeM: [4.2, 1.75, 1.48],
  outM: 0.08,
  build: ({ d, w, deep, h, slot }) => {
    const s = slot(undefined, PAINT);
    const glass = slotOf(d, PANE);
    const dark = slotOf(d, BLACK_PAINT);
    const chrome = slotOf(d, CHROME);
    // In shares of length, height and half breadth; from the tail along the roof to the nose.
    const L = w;
    const y = deep / 2;
    const at = (u: number, v: number, b: number) => [(u - 0.5) * L, v * h, b * y] as const;
    const belt = 0.6;
    const body = [
      at(0.985, 0.16, 0.96),
      at(1, 0.3, 0.97),
      at(0.995, 0.44, 0.96),
      at(0.955, 0.53, 0.95),
      at(0.74, belt + 0.03, 0.97),
      at(0.2, belt + 0.05, 0.98),
      at(0.03, belt + 0.03, 0.96),
      at(0.0, 0.44, 0.95),
      at(0.0, 0.28, 0.96),
      at(0.02, 0.16, 0.96),
    ];
    // Upper skin from nose to tail (front along the way out: reversed order gives outward faces).
    skin(d, body, () => s, false);
    // Flanks.
    const wheel = Math.min(0.31, h * 0.22);
    const axles = [0.19, 0.81].map((u) => (u - 0.5) * L);
    for (const side of [-1, 1]) {
      // As a fan of strips between sill and belt, open over the wheels.
      const cut = 28;
      const under = (px: number): number => {
        let z = 0.14 * h;
        for (const a of axles) {
          const r = wheel * 1.18;
          const dx = Math.abs(px - a);
          if (dx < r) z = Math.max(z, wheel + Math.sqrt(r * r - dx * dx));
        }
        return z;
      };
      const over = (px: number): readonly [number, number] => {
        // Along the upper body line, by x.
        for (let k = 1; k < body.length; k++) {
          const [xa, za, ya] = body[k - 1]!;
          const [xb, zb, yb] = body[k]!;
          if ((xa - px) * (xb - px) <= 0 && Math.abs(xa - xb) > 1e-6 && za > 0.25 * h && zb > 0.25 * h) {
            const t = (px - xa) / (xb - xa);
            return [za + (zb - za) * t, ya + (yb - ya) * t];
          }
        }
        return [0.44 * h, 0.95 * y];
      };
      for (let k = 0; k < cut; k++) {
        const xa = (-0.5 + k / cut) * L;
        const xb = (-0.5 + (k + 1) / cut) * L;
        const [za, ya] = over(xa);
        const [zb, yb] = over(xb);
        const la = Math.min(under(xa), za - 0.02);
        const lb = Math.min(under(xb), zb - 0.02);
        const rows = Math.max(1, Math.ceil(Math.max(za - la, zb - lb) / d.patchM));
        for (let j = 0; j < rows; j++) {
          const q = (xx: number, l: number, t: number, yy: number, v: number): Vec3 => {
            // A flank bellies out a little at its middle.
            const z = l + (t - l) * v;
            const belly = 1 + 0.02 * Math.sin(Math.PI * v);
            return [xx, side * Math.min(y, yy * belly), z];
          };
          const [v0, v1] = [j / rows, (j + 1) / rows];
          const c = [
            q(xa, la, za, ya, v0),
            q(xb, lb, zb, yb, v0),
            q(xb, lb, zb, yb, v1),
            q(xa, la, za, ya, v1),
          ];
          polygon(d, side < 0 ? c : c.reverse(), s, newPatch(d));
        }
      }
      for (const a of axles)
        inFrame(d, looking([a, side * (y - 0.2), wheel], [0, side, 0]), () => {
          lathe(
            d,
            [
              [0, 0],
              [wheel, 0],
              [wheel, 0.17],
              [wheel * 0.66, 0.185],
              [0, 0.17],
            ],
            dark,
            { sides: 24 },
          );
          lathe(
            d,
            [
              [wheel * 0.62, 0.186],
              [wheel * 0.3, 0.176],
              [0, 0.18],
            ],
            chrome,
            { sides: 16 },
          );
        });
    }
    // Floor pan.
    box(d, [-L / 2 + 0.06, -y * 0.9, 0.13 * h], [L / 2 - 0.06, y * 0.9, 0.15 * h], dark);
    // Glass house: front screen, roof, rear screen; side lights leaning in.
    const house = [
      at(0.72, belt + 0.035, 0.92),
      at(0.575, 0.985, 0.74),
      at(0.4, 1, 0.74),
      at(0.22, 0.97, 0.74),
      at(0.09, belt + 0.045, 0.9),
    ];
    skin(d, house, (k) => (k === 0 || k === 3 ? glass : s), false);
    for (const side of [-1, 1]) {
      const low = house.map(
        ([px, pz, py], k): Vec3 => (k === 0 || k === 4 ? [px, side * py, pz] : [px, side * py, pz]),
      );
      const foot = [0.66, 0.43, 0.24].map((u): Vec3 => [(u - 0.5) * L, side * y * 0.94, (belt + 0.045) * h]);
      const face = (c: Vec3[], m: number) => polygon(d, side < 0 ? [...c].reverse() : c, m, newPatch(d));
      const [f0, r0, r1, r2, b0] = low as [Vec3, Vec3, Vec3, Vec3, Vec3];
      face([f0, r0, foot[0]!], s);
      face([foot[0]!, r0, r1, foot[1]!], glass);
      face([foot[1]!, r1, r2, foot[2]!], glass);
      face([foot[2]!, r2, b0], s);
      // Pillar between the doors, and the mirror.
      const px = (0.43 - 0.5) * L;
      const a = side * (y * 0.93);
      box(
        d,
        [px - 0.04, Math.min(a, side * y * 0.76), (belt + 0.04) * h],
        [px + 0.04, Math.max(a, side * y * 0.76), (belt + 0.06) * h],
        dark,
      );
      box(
        d,
        [(0.64 - 0.5) * L, Math.min(side * (y - 0.02), side * (y + 0.06)), belt * h + 0.05],
        [(0.66 - 0.5) * L + 0.06, Math.max(side * (y - 0.02), side * (y + 0.06)), belt * h + 0.17],
        s,
      );
      // Lamps.
      box(
        d,
        [L / 2 - 0.06, Math.min(side * y * 0.55, side * y * 0.88), 0.44 * h],
        [L / 2 - 0.004, Math.max(side * y * 0.55, side * y * 0.88), 0.5 * h],
        chrome,
      );
      box(
        d,
        [-L / 2, Math.min(side * y * 0.62, side * y * 0.92), 0.46 * h],
        [-L / 2 + 0.05, Math.max(side * y * 0.62, side * y * 0.92), 0.56 * h],
        slot('tail'),
      );
    }
    box(d, [L / 2 - 0.03, -y * 0.9, 0.2 * h], [L / 2, y * 0.9, 0.31 * h], slot('bumpers'));
    box(d, [-L / 2, -y * 0.9, 0.2 * h], [-L / 2 + 0.03, y * 0.9, 0.32 * h], slot('bumpers'));
    // Seats, seen through the glass.
    for (const u of [0.52, 0.28])
      for (const side of [-1, 1]) {
        const cx = (u - 0.5) * L;
        box(d, [cx - 0.1, side > 0 ? 0.12 : -0.58, 0.35 * h], [cx, side > 0 ? 0.58 : -0.12, 0.78 * h], dark);
      }
    cylinder(d, [(0.6 - 0.5) * L, 0.3, 0.6 * h], [(0.6 - 0.5) * L + 0.03, 0.3, 0.63 * h], 0.18, dark, {
      sides: 14,
    });
  },
};
