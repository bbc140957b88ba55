/** Long and heavy things: plank stacks, masts and oars, gantries, a sheet thrown over. */
import type { Vec3 } from '../../maths/vec3.ts';
import { box, cylinder, panel } from '../build.ts';
import { VARNISH } from '../finish.ts';
import { inFrame, newPatch, upright } from '../mesh.ts';
import type { Builder } from './work.ts';

/** Layers of planks laid along the longer side, a gap and sticks between; ends a little uneven. */
export const plankStack: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot();
  const alongX = w >= deep;
  const l = Math.max(w, deep);
  const b = Math.min(w, deep);
  inFrame(d, upright([0, 0, 0], alongX ? 0 : Math.PI / 2), () => {
    const layers = Math.max(1, Math.round(detail('layers', h / 0.12)));
    const each = h / layers;
    const gap = 0.012;
    // Sides share patches over several layers.
    const patches = new Map<string, number>();
    const patchOf = (side: number, i: number, k: number): number => {
      const key = `${side}/${i}/${Math.floor(((k + 0.5) * each) / d.patchM)}`;
      const known = patches.get(key) ?? newPatch(d);
      patches.set(key, known);
      return known;
    };
    // Cells of all layers and gaps stand over each other.
    const cells = Math.ceil(l / d.patchM - 1e-3);
    const side = (corner: Vec3, u: Vec3, v: Vec3, name: number, k: number): void =>
      panel(d, corner, u, v, s, {
        patchM: Math.max(0.05, (Math.abs(u[0]) / cells) * 1.0005 || d.patchM),
        patchOf: (i) => patchOf(name, i, k),
      });
    for (let k = 0; k < layers; k++) {
      const back = 0.015 * ((k * 7) % 5);
      const x0 = -l / 2 + (k % 2 ? back : 0);
      const x1 = l / 2 - (k % 2 ? 0 : back);
      const y = b / 2;
      const z = k * each;
      const tall: Vec3 = [0, 0, k + 1 === layers ? each : each - gap];
      side([x0, -y, z], [x1 - x0, 0, 0], tall, 0, k);
      side([x1, y, z], [x0 - x1, 0, 0], tall, 1, k);
      side([x1, -y, z], [0, b, 0], tall, 2, k);
      side([x0, y, z], [0, -b, 0], tall, 3, k);
      if (k + 1 === layers) panel(d, [x0, -y, h], [x1 - x0, 0, 0], [0, b, 0], s);
      else {
        // What lies back in the gap closes the stack to light.
        const e = 0.04;
        const g: Vec3 = [0, 0, gap];
        const zg = z + each - gap;
        const xe = l / 2 - 0.06;
        side([-xe, -y + e, zg], [2 * xe, 0, 0], g, 0, k);
        side([xe, y - e, zg], [-2 * xe, 0, 0], g, 1, k);
        side([xe, -y + e, zg], [0, b - 2 * e, 0], g, 2, k);
        side([-xe, y - e, zg], [0, 2 * e - b, 0], g, 3, k);
      }
    }
  });
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

/** A sheet lying over a thing of this footprint: a slab with short falls at its edges. */
export const sheetCover: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot();
  const fall = detail('fallM', 0.2);
  const t = 0.004;
  const x = w / 2;
  const y = deep / 2;
  // Only the faces that light can reach.
  box(d, [-x, -y, h - t], [x, y, h], s, { without: ['z-'] });
  if (fall > 0) {
    box(d, [-x, -y - t, h - fall], [x, -y, h], s, { without: ['y+'] });
    box(d, [-x, y, h - fall], [x, y + t, h], s, { without: ['y-'] });
    box(d, [-x - t, -y, h - fall * 0.7], [-x, y, h], s, { without: ['x+'] });
    box(d, [x, -y, h - fall * 0.7], [x + t, y, h], s, { without: ['x-'] });
  }
};
