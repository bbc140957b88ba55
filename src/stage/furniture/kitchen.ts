/** Worktop, with cut-outs, and the sink under it. */
import type { Vec3 } from '../../maths/vec3.ts';
import { box, cylinder, type Hole, panel, pipe } from '../build.ts';
import { CHROME, STEEL } from '../finish.ts';
import { slotOf } from '../mesh.ts';
import { doors } from './case.ts';
import type { Builder } from './work.ts';

/** A slab, open over the bowls of sinks beneath it. */
export const worktop: Builder = ({ d, w, deep, h, slot, cuts }) => {
  const s = slot();
  const x = w / 2;
  const y = deep / 2;
  const holes = cuts.map(([x0, y0, x1, y1]): Hole => ({ u0: x0 + x, u1: x1 + x, v0: y0 + y, v1: y1 + y }));
  panel(d, [-x, -y, h], [w, 0, 0], [0, deep, 0], s, { holes });
  panel(d, [-x, y, 0], [w, 0, 0], [0, -deep, 0], s, {
    holes: holes.map((c) => ({ u0: c.u0, u1: c.u1, v0: deep - c.v1, v1: deep - c.v0 })),
  });
  box(d, [-x, -y, 0], [x, y, h], s, { without: ['z-', 'z+'] });
  for (const [x0, y0, x1, y1] of cuts) {
    panel(d, [x0, y0, 0], [0, y1 - y0, 0], [0, 0, h], s);
    panel(d, [x1, y1, 0], [0, y0 - y1, 0], [0, 0, h], s);
    panel(d, [x1, y0, 0], [x0 - x1, 0, 0], [0, 0, h], s);
    panel(d, [x0, y1, 0], [x1 - x0, 0, 0], [0, 0, h], s);
  }
};

/** Where a sink unit's bowl is, local metres: `detail.bowlFromM`, `bowlToM` from its left edge. */
export function bowlOf(
  w: number,
  deep: number,
  detail: (name: string, otherwise: number) => number,
): readonly [number, number, number, number] {
  const from = detail('bowlFromM', w / 2 - Math.min(0.25, w * 0.4)) - w / 2;
  const to = detail('bowlToM', w / 2 + Math.min(0.25, w * 0.4)) - w / 2;
  return [from, -deep / 2 + 0.1, to, deep / 2 - 0.14];
}

/** A base unit with a steel bowl sunk into it, a rim on what covers it, and a tap. */
export const sinkUnit: Builder = ({ d, w, deep, h, slot, detail, coverM }) => {
  const x = w / 2;
  const y = deep / 2;
  const s = slot();
  const steel = slot('bowl', STEEL);
  const top = Math.max(h, coverM ?? h);
  const [x0, y0, x1, y1] = bowlOf(w, deep, detail);
  const hole: Hole = { u0: x0 + x, u1: x1 + x, v0: y0 + y, v1: y1 + y };
  const front = -y + 0.019;
  // Carcass, its top open over the bowl.
  box(d, [-x, front, 0.1], [x, y, h], s, { without: ['y-', 'z-', 'z+'] });
  panel(d, [-x, front, h], [w, 0, 0], [0, y - front, 0], s, {
    holes: [{ ...hole, v0: y0 - front, v1: y1 - front }],
  });
  box(d, [-x, front + 0.05, 0], [x, y, 0.1], slot('plinth'), { without: ['z-', 'z+'] });
  doors(d, -x, x, 0.1, h, -y, slot('doors'), true, detail('framed', 0) > 0);
  // Bowl, seen from inside.
  const floor = top - detail('bowlDeepM', 0.17);
  const t = 0.002;
  const e = 0.002;
  const [a, b, c, f] = [x0 + e, y0 + e, x1 - e, y1 - e];
  panel(d, [a, b, floor], [c - a, 0, 0], [0, f - b, 0], steel);
  panel(d, [c, b, floor], [a - c, 0, 0], [0, 0, top - floor], steel);
  panel(d, [a, f, floor], [c - a, 0, 0], [0, 0, top - floor], steel);
  panel(d, [a, b, floor], [0, f - b, 0], [0, 0, top - floor], steel);
  panel(d, [c, f, floor], [0, b - f, 0], [0, 0, top - floor], steel);
  // Rim: four strips 3 cm wide that close the joint.
  const r = 0.03;
  box(d, [a - r, b - r, top], [c + r, b, top + t], steel);
  box(d, [a - r, f, top], [c + r, f + r, top + t], steel);
  box(d, [a - r, b, top], [a, f, top + t], steel);
  box(d, [c, b, top], [c + r, f, top + t], steel);
  // Tap behind the bowl.
  const chrome = slotOf(d, CHROME);
  const m = (x0 + x1) / 2;
  const ty = Math.min(y1 + 0.07, y - 0.03);
  cylinder(d, [m, ty, top], [m, ty, top + 0.05], 0.022, chrome);
  pipe(
    d,
    [
      [m, ty, top + 0.05],
      // A swan's neck.
      ...Array.from({ length: 9 }, (_, k): Vec3 => {
        const a = (Math.PI * k) / 8;
        return [m, ty - 0.085 * (1 - Math.cos(a)), top + 0.21 + 0.075 * Math.sin(a)];
      }),
      [m, ty - 0.17, top + 0.17],
    ],
    0.011,
    chrome,
    14,
  );
  for (const side of [-1, 1])
    cylinder(d, [m + side * 0.02, ty, top + 0.035], [m + side * 0.075, ty, top + 0.05], 0.009, chrome);
};
