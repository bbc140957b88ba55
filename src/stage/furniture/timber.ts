/** Long and heavy things: plank stacks, masts and oars, gantries, a sheet thrown over. */
import { add, type Vec3 } from '../../maths/vec3.ts';
import { box, cylinder } from '../build.ts';
import { VARNISH } from '../finish.ts';
import type { Builder } from './work.ts';

/** Layers of planks laid along the longer side, with sticks between; ends a little uneven. */
export const plankStack: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot();
  const alongX = w >= deep;
  const l = Math.max(w, deep);
  const b = Math.min(w, deep);
  const layers = Math.max(1, Math.round(detail('layers', h / 0.12)));
  const each = h / layers;
  for (let k = 0; k < layers; k++) {
    // Same unevenness each time, whole stack within its size.
    const back = 0.02 * ((k * 7) % 5);
    const from = -l / 2 + (k % 2 ? back : 0);
    const to = l / 2 - (k % 2 ? 0 : back);
    const lo: Vec3 = alongX ? [from, -b / 2, k * each] : [-b / 2, from, k * each];
    const hi: Vec3 = alongX ? [to, b / 2, (k + 1) * each - 0.012] : [b / 2, to, (k + 1) * each - 0.012];
    // Between layers no light to speak of: only the top one shows its upper face.
    box(d, lo, hi, s, { without: k === layers - 1 ? ['z-'] : ['z-', 'z+'] });
    if (k + 1 < layers) {
      for (const t of [0.08, 0.5, 0.92]) {
        const m = -l / 2 + l * t;
        const c: Vec3 = alongX ? [m, 0, (k + 1) * each - 0.012] : [0, m, (k + 1) * each - 0.012];
        const half: Vec3 = alongX ? [0.02, b / 2 - 0.005, 0] : [b / 2 - 0.005, 0.02, 0];
        box(d, [c[0] - half[0], c[1] - half[1], c[2]], add(c, [half[0], half[1], 0.012]), s, {
          without: ['z-', 'z+'],
        });
      }
      const core: Vec3 = alongX ? [l / 2 - 0.1, b / 2 - 0.04, 0] : [b / 2 - 0.04, l / 2 - 0.1, 0];
      box(d, [-core[0], -core[1], (k + 1) * each - 0.012], [core[0], core[1], (k + 1) * each], s, {
        without: ['z-', 'z+'],
      });
    }
  }
};

/** A round pole lying along its longer side, thinner toward its ends. */
export const mast: Builder = ({ d, w, deep, h, slot }) => {
  const s = slot(undefined, VARNISH);
  const r = h / 2;
  const alongX = w >= deep;
  const l = Math.max(w, deep) / 2;
  const at = (t: number): Vec3 => (alongX ? [t * l, 0, r] : [0, t * l, r]);
  cylinder(d, at(-1), at(0), r * 0.75, s, { r1: r });
  cylinder(d, at(0), at(1), r, s, { r1: r * 0.6 });
};

/** Two posts and a bar over them, along the longer side. */
export const gantry: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot();
  const alongX = w >= deep;
  const l = Math.max(w, deep) / 2;
  const t = Math.min(w, deep) / 2;
  const barM = Math.min(h / 3, detail('barM', 2 * t));
  for (const e of [-1, 1]) {
    const c = e * (l - t);
    const lo: Vec3 = alongX ? [c - t, -t, 0] : [-t, c - t, 0];
    const hi: Vec3 = alongX ? [c + t, t, h - barM] : [t, c + t, h - barM];
    box(d, lo, hi, s);
  }
  box(d, alongX ? [-l, -t, h - barM] : [-t, -l, h - barM], alongX ? [l, t, h] : [t, l, h], s);
};

/** A sheet lying over a thing of this footprint: a slab with short, slanting falls at its edges. */
export const sheetCover: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot();
  const fall = detail('fallM', 0.2);
  const thick = 0.004;
  const x = w / 2;
  const y = deep / 2;
  box(d, [-x, -y, h - thick], [x, y, h], s);
  if (fall > 0) {
    const t = thick;
    box(d, [-x, -y - t, h - fall], [x, -y, h], s);
    box(d, [-x, y, h - fall], [x, y + t, h], s);
    box(d, [-x - t, -y, h - fall * 0.7], [-x, y, h], s);
    box(d, [x, -y, h - fall * 0.7], [x + t, y, h], s);
  }
};
