/** Tables, benches and trestles. */
import type { Vec3 } from '../../maths/vec3.ts';
import { bar, box } from '../build.ts';
import { VARNISH } from '../finish.ts';
import type { Draft } from '../mesh.ts';
import { roundBox } from '../roundBox.ts';
import type { Builder } from './work.ts';

/** Boards of one wood side by side: lighter and darker ones, their mean as told. */
const TONES = [1.05, 0.94, 1.02, 1.08, 0.91];

/**
 * A level slab of planks glued side by side, grain along its longer side: tones a little apart, edges eased. Its
 * boards are laid to fit; the joint is a hair's breadth.
 */
export function planks(
  d: Draft,
  lo: Vec3,
  hi: Vec3,
  slotOfTone: (tone: number) => number,
  boardM = 0.14,
  easeM = 0.003,
): void {
  const alongX = hi[0] - lo[0] >= hi[1] - lo[1];
  const [a, b] = alongX ? [lo[1], hi[1]] : [lo[0], hi[0]];
  const n = Math.max(1, Math.round((b - a) / boardM));
  const each = (b - a) / n;
  for (let k = 0; k < n; k++) {
    const [from, to] = [a + k * each, a + (k + 1) * each];
    const tone = n < 2 ? 1 : TONES[k % TONES.length]!;
    roundBox(
      d,
      alongX ? [lo[0], from, lo[2]] : [from, lo[1], lo[2]],
      alongX ? [hi[0], to, hi[2]] : [to, hi[1], hi[2]],
      easeM,
      slotOfTone(tone),
    );
  }
}

/** A top 3 cm thick of planks on four legs that narrow downwards, with an apron. */
export const table: Builder = ({ d, w, deep, h, slot, detail }) => {
  const legs = slot('legs', VARNISH);
  const apronSlot = slot('legs', VARNISH, 0.93);
  const top = Math.min(detail('topM', 0.03), h / 2);
  const leg = Math.min(detail('legM', 0.05), w / 3, deep / 3);
  const x = w / 2;
  const y = deep / 2;
  const ease = Math.min(0.004, top / 4);
  planks(d, [-x, -y, h - top], [x, y, h], (tone) => slot(undefined, VARNISH, tone), 0.15, ease);
  const inset = Math.min(0.03, w / 8);
  for (const sx of [-1, 1])
    for (const sy of [-1, 1]) {
      const cx = sx * (x - inset - leg / 2);
      const cy = sy * (y - inset - leg / 2);
      // Inner faces lean: the foot is two thirds of the head.
      const taper = (p: Vec3): Vec3 => {
        const t = Math.max(0, Math.min(1, 1 - p[2] / Math.max(0.1, h - top - 0.1)));
        const e = (leg / 3) * t;
        const along = (v: number, c: number, s: number) => v + (s * (v - c) < 0 ? s * e : 0);
        return [along(p[0], cx, sx), along(p[1], cy, sy), p[2]];
      };
      roundBox(d, [cx - leg / 2, cy - leg / 2, 0], [cx + leg / 2, cy + leg / 2, h - top], 0.005, legs, {
        without: ['z-'],
        bend: taper,
      });
    }
  const apron = Math.min(0.09, h / 4, detail('apronM', 0.08));
  const ax = x - inset - leg;
  const ay = y - inset - leg;
  const thick = 0.02;
  for (const side of [-1, 1]) {
    const cy = side * (y - inset - leg / 2);
    roundBox(
      d,
      [-ax - 0.01, cy - thick / 2, h - top - apron],
      [ax + 0.01, cy + thick / 2, h - top],
      0.003,
      apronSlot,
    );
    const cx = side * (x - inset - leg / 2);
    roundBox(
      d,
      [cx - thick / 2, -ay - 0.01, h - top - apron],
      [cx + thick / 2, ay + 0.01, h - top],
      0.003,
      apronSlot,
    );
  }
};

/** A heavy top on square legs, with a shelf low down. */
export const workbench: Builder = ({ d, w, deep, h, slot }) => {
  const s = slot();
  const x = w / 2;
  const y = deep / 2;
  const top = 0.06;
  const leg = 0.09;
  box(d, [-x, -y, h - top], [x, y, h], s);
  const along = Math.max(2, Math.round(deep / 1.5) + 1);
  for (let k = 0; k < along; k++) {
    const cy = -y + leg / 2 + 0.05 + ((deep - leg - 0.1) * k) / (along - 1);
    for (const sx of [-1, 1]) {
      const cx = sx * (x - 0.02 - leg / 2);
      box(d, [cx - leg / 2, cy - leg / 2, 0], [cx + leg / 2, cy + leg / 2, h - top], s, { without: ['z-'] });
    }
  }
  box(d, [-x + 0.04, -y + 0.06, 0.2], [x - 0.04, y - 0.06, 0.23], s);
};

/** A bar on two pairs of splayed legs, along the longer side. */
export const trestle: Builder = ({ d, w, deep, h, slot }) => {
  const s = slot();
  const alongX = w > deep;
  const l = Math.max(w, deep) / 2;
  const b = Math.min(w, deep) / 2;
  const top = Math.min(0.08, h / 4);
  const at = (a: number, c: number, z: number) => (alongX ? ([a, c, z] as const) : ([c, a, z] as const));
  const t = Math.min(b, 0.05);
  const [x, y] = at(l, t, 0);
  box(d, [-x, -y, h - top], [x, y, h], s);
  // Feet spread at least as wide as the thing is tall by a quarter.
  const foot = Math.max(b, h * 0.28);
  for (const sa of [-1, 1])
    for (const sc of [-1, 1])
      bar(d, at(sa * (l - 0.1), sc * foot, 0.01), at(sa * (l - 0.1), sc * 0.02, h - top), 0.05, 0.035, s);
};
