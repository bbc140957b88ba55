/**
 * What grows: a tree, a hedge, a plant in its pot. Leaves are flat scraps strewn by a fixed lattice, so that light gets
 * through as it does through foliage, without chance. `detail.leaves` counts them.
 */

import { add, cross, scale, type Vec3 } from '../../maths/vec3.ts';
import { cylinder, lathe } from '../build.ts';
import { type Draft, newPatch, polygon, triangle, vertex } from '../mesh.ts';
import type { Piece } from './piece.ts';

const GOLDEN = 2.399963229728653;

/** Scraps of leaf `size` m wide over ellipsoids: middle, half sizes; packed near their skins. */
function leaves(
  d: Draft,
  blobs: readonly { c: Vec3; r: Vec3 }[],
  count: number,
  size: number,
  slots: readonly number[],
  lo: Vec3,
  hi: Vec3,
  deep = 0.16,
): void {
  const each = Math.max(1, Math.floor(count / blobs.length));
  for (const [b, { c, r }] of blobs.entries()) {
    // Scraps that hang together in space keep their light together.
    const cell = Math.max(0.2, Math.max(...r) / 4);
    const patches = new Map<number, number>();
    const cellAt = (v: number): number => Math.floor(v / cell) + 512;
    for (let i = 0; i < each; i++) {
      const z = 1 - (2 * i + 1) / each;
      const a = i * GOLDEN + b * 1.7;
      const flat = Math.sqrt(1 - z * z);
      const ox = flat * Math.cos(a);
      const oy = flat * Math.sin(a);
      // Several shells deep.
      const depth = 1 - deep * (((i * 7 + b * 3) % 5) / 4);
      const px = c[0] + ox * r[0] * depth;
      const py = c[1] + oy * r[1] * depth;
      const pz = c[2] + z * r[2] * depth;
      const where = (cellAt(px) * 1024 + cellAt(py)) * 1024 + cellAt(pz);
      let patch = patches.get(where);
      if (patch === undefined) {
        patch = newPatch(d);
        patches.set(where, patch);
      }
      // Lean any which way about outward.
      const twist = i * 1.13 + b;
      let nx = ox + Math.cos(twist) * 0.8;
      let ny = oy + Math.sin(twist * 1.7) * 0.8;
      let nz = z + Math.sin(twist) * 0.6 + 0.3;
      const n = 1 / Math.hypot(nx, ny, nz);
      nx *= n;
      ny *= n;
      nz *= n;
      // Across the leaf, level where it can be, and along it.
      const upright = Math.abs(nz) < 0.9;
      let ux = upright ? -ny : 0;
      let uy = upright ? nx : -nz;
      let uz = upright ? 0 : ny;
      const u = (size * 0.5) / Math.hypot(ux, uy, uz);
      ux *= u;
      uy *= u;
      uz *= u;
      // Both are square to each other and to the leaf's face.
      const v = 0.85 / 0.5;
      const vx = (ny * uz - nz * uy) * v;
      const vy = (nz * ux - nx * uz) * v;
      const vz = (nx * uy - ny * ux) * v;
      // A leaf is folded along its rib, and no two are of one green.
      const fold = size * 0.16;
      const slot = slots[(i * 5 + b) % slots.length]!;
      const held = (x: number, y: number, w: number): Vec3 => [
        Math.min(hi[0], Math.max(lo[0], x)),
        Math.min(hi[1], Math.max(lo[1], y)),
        Math.min(hi[2], Math.max(lo[2], w)),
      ];
      const t0 = held(px - vx, py - vy, pz - vz);
      const t1 = held(px + ux + fold * nx, py + uy + fold * ny, pz + uz + fold * nz);
      const t2 = held(px + vx, py + vy, pz + vz);
      const t3 = held(px - ux + fold * nx, py - uy + fold * ny, pz - uz + fold * nz);
      if (scrap(d, t0, t1, t2, slot, patch)) scrap(d, t0, t2, t3, slot, patch);
    }
  }
}

/** One half of a leaf; false: clamped flat by the box it has lost its face, and is left out. */
function scrap(d: Draft, a: Vec3, b: Vec3, c: Vec3, slot: number, patch: number): boolean {
  const n = cross([b[0] - a[0], b[1] - a[1], b[2] - a[2]], [c[0] - a[0], c[1] - a[1], c[2] - a[2]]);
  const twice = Math.hypot(n[0], n[1], n[2]);
  if (twice < 1e-6) return false;
  const unit: Vec3 = [n[0] / twice, n[1] / twice, n[2] / twice];
  triangle(d, vertex(d, a, unit), vertex(d, b, unit), vertex(d, c, unit), slot, patch);
  return true;
}

export const tree: Piece = {
  kind: 'tree',
  patchM: 0.9,
  sizeM: [3, 3, 5],
  build: ({ d, w, deep, h, slot, detail }) => {
    const bark = slot('bark');
    const trunk = Math.min(0.14, w / 10) * Math.max(0.6, h / 5);
    const fork = h * 0.36;
    cylinder(d, [0, 0, 0], [0, 0, fork * 0.2], trunk * 1.35, bark, { r1: trunk, sides: 14 });
    cylinder(d, [0, 0, fork * 0.2], [0, 0, fork], trunk, bark, { r1: trunk * 0.72, sides: 14 });
    const [x, y] = [w / 2, deep / 2];
    const blobs: { c: Vec3; r: Vec3 }[] = [];
    // Boughs leave the stem in a screw and bend up; a clump of leaves sits on each, others close the crown.
    const boughs = 17;
    for (let k = 0; k < boughs; k++) {
      const a = k * GOLDEN + 0.4;
      const t = (k + 0.5) / boughs;
      const out = Math.sin(Math.PI * (0.2 + 0.72 * t)) * (k % 3 ? 0.66 : 0.42);
      const tip: Vec3 = [x * out * Math.cos(a), y * out * Math.sin(a), h * (0.42 + 0.44 * t)];
      const from: Vec3 = [0, 0, fork * (0.82 + 0.9 * t)];
      const knee: Vec3 = [tip[0] * 0.5, tip[1] * 0.5, from[2] + (tip[2] - from[2]) * 0.36];
      const thick = trunk * (0.42 - 0.2 * t);
      cylinder(d, from, knee, thick, bark, { r1: thick * 0.6, sides: 7 });
      cylinder(d, knee, tip, thick * 0.6, bark, { r1: thick * 0.15, sides: 5 });
      const big = k % 3 ? 0.34 : 0.42;
      blobs.push({ c: tip, r: [x * big, y * big, h * 0.13] });
    }
    cylinder(d, [0, 0, fork], [0, 0, h * 0.86], trunk * 0.66, bark, { r1: trunk * 0.1, sides: 9 });
    blobs.push({ c: [0, 0, h * 0.86], r: [x * 0.42, y * 0.42, h * 0.14] });
    blobs.push({ c: [0, 0, h * 0.62], r: [x, y, h * 0.2] });
    if (detail('bare', 0) <= 0)
      leaves(
        d,
        blobs,
        Math.round(detail('leaves', 5200)),
        Math.min(0.095, w / 16),
        [0.8, 1, 1.2].map((tone) => slot(undefined, undefined, tone)),
        [-x, -y, h * 0.3],
        [x, y, h],
        0.5,
      );
    // In winter: twigs that reach to where leaves would be.
    else
      for (let k = 0; k < 26; k++) {
        const a = k * GOLDEN;
        const z = h * (0.5 + (0.5 * k) / 26);
        const r = Math.sqrt(Math.max(0.02, 1 - ((z - h * 0.66) / (h * 0.36)) ** 2));
        cylinder(
          d,
          [0.2 * x * Math.cos(a), 0.2 * y * Math.sin(a), z * 0.86],
          [x * r * Math.cos(a), y * r * Math.sin(a), Math.min(h, z)],
          0.018,
          bark,
          { r1: 0.004, sides: 4 },
        );
      }
  },
};

export const hedge: Piece = {
  kind: 'hedge',
  patchM: 0.6,
  sizeM: [2, 0.6, 1.5],
  build: ({ d, w, deep, h, slot, detail }) => {
    const s = slot();
    const [x, y] = [w / 2, deep / 2];
    const n = Math.max(1, Math.round(w / Math.max(0.3, deep)));
    const blobs = Array.from({ length: n }, (_, k) => ({
      c: [-x + (w * (k + 0.5)) / n, 0, h / 2] as Vec3,
      r: [w / n / 1.5, y * 1.15, h * 0.56] as Vec3,
    }));
    // A dark heart, so that one does not see through.
    lathe(
      d,
      [
        [0, 0],
        [0.001, 0],
      ],
      s,
      { sides: 3 },
    );
    for (const { c } of blobs) {
      const r = Math.min(w / n / 2, y) * 0.75;
      cylinder(d, [c[0], 0, 0], [c[0], 0, h * 0.9], r, s, { sides: 8, r1: r * 0.8 });
    }
    leaves(
      d,
      blobs,
      Math.round(detail('leaves', Math.min(3000, 600 * n))),
      0.074,
      [0.8, 1, 1.2].map((tone) => slot(undefined, undefined, tone)),
      [-x, -y, 0],
      [x, y, h],
      0.22,
    );
  },
};

export const potPlant: Piece = {
  kind: 'plant',
  patchM: 0.45,
  sizeM: [0.5, 0.5, 0.9],
  build: ({ d, w, deep, h, slot, detail }) => {
    const pot = slot('pot');
    const s = slot();
    const r = Math.min(0.14, Math.min(w, deep) * 0.3);
    const tall = Math.min(0.26, h * 0.34);
    lathe(
      d,
      [
        [0, 0],
        [r * 0.72, 0],
        [r, tall],
        [r * 0.9, tall],
        [r * 0.86, tall * 0.9],
        [0, tall * 0.9],
      ],
      pot,
      { sides: 40 },
    );
    const [x, y] = [w / 2, deep / 2];
    const n = Math.max(4, Math.round(detail('leaves', 14)));
    // Blades that arch outward.
    for (let k = 0; k < n; k++) {
      const a = k < 4 ? (k * Math.PI) / 2 : k * GOLDEN;
      const reach = k < 4 ? 1 : 0.35 + 0.6 * (((k * 5) % n) / n);
      let patch = newPatch(d);
      const across: Vec3 = [-Math.sin(a), Math.cos(a), 0];
      const at = (t: number): Vec3 => {
        const out = reach * t ** 1.5;
        return [
          x * out * Math.cos(a),
          y * out * Math.sin(a),
          tall * 0.9 + (h - tall * 0.9) * (1.25 * t - 0.25 * t * t * (1 + reach)) * (1 - 0.25 * reach),
        ];
      };
      const wide = Math.min(0.05, w / 9);
      const steps = 4;
      for (let i = 0; i < steps; i++) {
        if (i === 2) patch = newPatch(d);
        const [t0, t1] = [i / steps, (i + 1) / steps];
        const half = (t: number) => wide * Math.sin(Math.PI * Math.min(0.98, 0.12 + 0.88 * t)) + 0.002;
        const [p, q] = [at(t0), at(t1)];
        const keep = (v: Vec3): Vec3 => [
          Math.max(-x, Math.min(x, v[0])),
          Math.max(-y, Math.min(y, v[1])),
          Math.min(h, v[2]),
        ];
        polygon(
          d,
          [
            keep(add(p, scale(across, -half(t0)))),
            keep(add(p, scale(across, half(t0)))),
            keep(add(q, scale(across, half(t1)))),
            keep(add(q, scale(across, -half(t1)))),
          ],
          s,
          patch,
        );
      }
    }
    // The tallest stands straight.
    cylinder(d, [0, 0, tall * 0.8], [0, 0, h], 0.006, s, { r1: 0.003, sides: 5 });
  },
};
