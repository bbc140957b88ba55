/** Tables, benches and trestles. */
import { bar, box } from '../build.ts';
import { VARNISH } from '../finish.ts';
import type { Builder } from './work.ts';

/** A top 3 cm thick on four legs with an apron. */
export const table: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot(undefined, VARNISH);
  const legs = slot('legs', VARNISH);
  const top = Math.min(detail('topM', 0.03), h / 2);
  const leg = Math.min(detail('legM', 0.05), w / 3, deep / 3);
  const x = w / 2;
  const y = deep / 2;
  box(d, [-x, -y, h - top], [x, y, h], s);
  const inset = Math.min(0.03, w / 8);
  for (const sx of [-1, 1])
    for (const sy of [-1, 1]) {
      const cx = sx * (x - inset - leg / 2);
      const cy = sy * (y - inset - leg / 2);
      box(d, [cx - leg / 2, cy - leg / 2, 0], [cx + leg / 2, cy + leg / 2, h - top], legs, {
        without: ['z-'],
      });
    }
  const apron = Math.min(detail('apronM', 0.08), h / 4);
  const ax = x - inset - leg;
  const ay = y - inset - leg;
  const thick = 0.02;
  for (const side of [-1, 1]) {
    const cy = side * (y - inset - leg / 2);
    box(d, [-ax, cy - thick / 2, h - top - apron], [ax, cy + thick / 2, h - top], legs);
    const cx = side * (x - inset - leg / 2);
    box(d, [cx - thick / 2, -ay, h - top - apron], [cx + thick / 2, ay, h - top], legs);
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
