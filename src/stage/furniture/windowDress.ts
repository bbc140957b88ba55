/**
 * What hangs at a window, along local x, facing local −y: curtains drawn back or shut, a net, a venetian blind, a roller
 * blind. Cloth is a folded sheet; a net is a finish that `passes` light.
 */

import { normalize, type Vec3 } from '../../maths/vec3.ts';
import { bar, box, cylinder } from '../build.ts';
import { CHROME } from '../finish.ts';
import type { Draft } from '../mesh.ts';
import { newPatch, slotOf, triangle, vertex } from '../mesh.ts';
import type { Piece } from './piece.ts';

/** A folded cloth from x0 to x1, one skin, waves about y = 0 of half-depth `a`, `every` metres apart. */
function cloth(d: Draft, x0: number, x1: number, h: number, a: number, every: number, slot: number): void {
  const w = x1 - x0;
  const waves = Math.max(1, Math.round(w / every));
  const nu = waves * 6;
  const rows = Math.max(1, Math.ceil(h / 0.28));
  const at = (i: number): [number, number, number] => {
    const u = i / nu;
    const p = u * waves * 2 * Math.PI;
    const slope = ((a * waves * 2 * Math.PI) / w) * Math.cos(p);
    return [x0 + w * u, a * Math.sin(p), slope];
  };
  const grid: number[][] = [];
  for (let j = 0; j <= rows; j++) {
    grid[j] = [];
    for (let i = 0; i <= nu; i++) {
      const [x, y, slope] = at(i);
      // Folds open a little toward the hem.
      const k = 0.75 + 0.25 * (1 - j / rows);
      const n: Vec3 = normalize([slope * k, -1, 0]);
      grid[j]!.push(vertex(d, [x, y * k, (h * j) / rows], n));
    }
  }
  const across = Math.max(1, Math.round(0.24 / Math.max(0.02, w / nu)));
  for (let j = 0; j < rows; j++)
    for (let i0 = 0; i0 < nu; i0 += across) {
      const patch = newPatch(d);
      for (let i = i0; i < Math.min(nu, i0 + across); i++) {
        const [p, q, r, s] = [grid[j]![i]!, grid[j]![i + 1]!, grid[j + 1]![i + 1]!, grid[j + 1]![i]!];
        triangle(d, p, q, r, slot, patch);
        triangle(d, p, r, s, slot, patch);
      }
    }
}

/** A pair of curtains on a pole. `detail.openShare`: how much of the width they leave free (0 shut … 0.8). */
export const curtains: Piece = {
  kind: 'curtains',
  sizeM: [1.8, 0.12, 2.1],
  outM: 0.04,
  build: ({ d, w, deep, h, slot, detail }) => {
    const open = Math.max(0, Math.min(0.9, detail('openShare', 0.6)));
    const each = (w * (1 - open)) / 2;
    const a = Math.min(0.05, deep / 2 - 0.005);
    const every = open > 0.3 ? 0.11 : 0.2;
    const s = slot();
    cloth(d, -w / 2, -w / 2 + each, h - 0.03, a, every, s);
    cloth(d, w / 2 - each, w / 2, h - 0.03, a, every, s);
    cylinder(d, [-w / 2, 0, h - 0.015], [w / 2, 0, h - 0.015], Math.min(0.014, deep / 2), slot('pole'));
  },
};

/** One net or sheer across the whole width. */
export const net: Piece = {
  kind: 'net-curtain',
  sizeM: [1.6, 0.06, 1.2],
  build: ({ d, w, deep, h, slot }) => {
    cloth(d, -w / 2, w / 2, h, Math.min(0.02, deep / 2), 0.13, slot());
  },
};

/** A venetian blind: slats of `detail.slatM` (0.025), tilted `tiltDeg` (35) from level, let down by `downShare` (1). */
export const blind: Piece = {
  kind: 'venetian-blind',
  sizeM: [1.2, 0.05, 1.1],
  build: ({ d, w, deep, h, slot, detail }) => {
    const s = slot();
    const slat = Math.min(detail('slatM', 0.025), deep * 0.95);
    const pitch = slat * 0.86;
    const down = Math.max(0.05, Math.min(1, detail('downShare', 1))) * (h - 0.06);
    const tilt = (detail('tiltDeg', 35) * Math.PI) / 180;
    box(d, [-w / 2, -deep / 2, h - 0.035], [w / 2, deep / 2, h], slot('rail'));
    const n = Math.max(1, Math.floor(down / pitch));
    const dy = (slat / 2) * Math.cos(tilt);
    const dz = (slat / 2) * Math.sin(tilt);
    for (let k = 0; k < n; k++) {
      const z = h - 0.04 - (k + 0.5) * pitch;
      bar(d, [-w / 2 + 0.005, 0, z], [w / 2 - 0.005, 0, z], slat, 0.001, s, [0, dy, dz]);
    }
    for (const u of [-0.35, 0.35])
      cylinder(d, [w * u, -dy, h - 0.04 - n * pitch], [w * u, -dy, h - 0.035], 0.0015, slotOf(d, CHROME), {
        sides: 4,
      });
    box(
      d,
      [-w / 2, -0.012, h - 0.04 - n * pitch - 0.015],
      [w / 2, 0.012, h - 0.04 - n * pitch],
      slot('rail'),
    );
    // To its foot it is cord.
    if (h - 0.055 - n * pitch > 0.03)
      cylinder(d, [w * 0.35, 0, 0], [w * 0.35, 0, h - 0.055 - n * pitch], 0.002, slot('rail'), { sides: 4 });
  },
};

/** A roller blind let down by `detail.downShare` (0.5). */
export const roller: Piece = {
  kind: 'roller-blind',
  sizeM: [1.2, 0.05, 1.2],
  build: ({ d, w, deep, h, slot, detail }) => {
    const down = Math.max(0.05, Math.min(1, detail('downShare', 0.5)));
    const r = deep / 2;
    cylinder(d, [-w / 2, 0, h - r], [w / 2, 0, h - r], r, slot('roll'));
    const foot = (h - 2 * r) * (1 - down);
    box(d, [-w / 2 + 0.01, -0.001, foot], [w / 2 - 0.01, 0.001, h - r], slot());
    box(d, [-w / 2 + 0.008, -0.006, foot], [w / 2 - 0.008, 0.006, foot + 0.02], slot('roll'));
    if (foot > 0.03) cylinder(d, [0, 0, 0], [0, 0, foot], 0.002, slot('roll'), { sides: 4 });
  },
};
