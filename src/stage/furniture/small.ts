/** Small things: book, pendant shade, drum, smoke machine. */
import { box, cylinder, lathe, sheet } from '../build.ts';
import { BLACK_PAINT, GREY_STEEL } from '../finish.ts';
import { inFrame, slotOf, upright } from '../mesh.ts';
import type { Builder } from './work.ts';

/** An open book lying flat: two covers and two bowed stacks of pages, the spine along local y. */
export const book: Builder = ({ d, w, deep, h, slot }) => {
  const cover = slot();
  const pages = slot('pages');
  const x = w / 2;
  const y = deep / 2;
  const t = Math.min(0.003, h / 4);
  box(d, [-x, -y, 0], [x, y, t], cover);
  const in0 = 0.004;
  const bow = h - t;
  for (const side of [-1, 1])
    sheet(
      d,
      (u, v) => {
        // u runs from the left edge to the right of this half.
        const k = side < 0 ? 1 - u : u;
        const z =
          t + bow * (0.25 + 0.75 * Math.sin(Math.PI * Math.min(1, 0.12 + 0.88 * k)) ** 0.8 * (1 - 0.35 * k));
        return [side * (0.001 + (x - in0 - 0.001) * k), -y + in0 + (2 * y - 2 * in0) * v, Math.min(h, z)];
      },
      6,
      1,
      Math.max(0.0005, bow * 0.2),
      pages,
    );
};

/**
 * An opaque shade hung open downward: its rim at the foot of the body, a closed crown above. `detail.topM`: diameter
 * of the crown; `cordM`: length of cord to draw above it.
 */
export const pendantShade: Builder = ({ d, w, h, slot, detail }) => {
  const r = w / 2;
  const top = detail('topM', w * 0.4) / 2;
  const t = 0.0015;
  const outside = slot();
  const inside = slot('inside');
  const sides = 40;
  // Outside from rim to crown, then back down inside.
  lathe(
    d,
    [
      [r, 0],
      [top, h],
      [0, h],
    ],
    outside,
    { sides },
  );
  lathe(
    d,
    [
      [0, h - t],
      [top - t, h - t],
      [r - t, 0],
    ],
    inside,
    { sides },
  );
  lathe(
    d,
    [
      [r - t, 0],
      [r, 0],
    ],
    outside,
    { sides },
  );
  const cord = detail('cordM', 0);
  if (cord > 0) cylinder(d, [0, 0, h], [0, 0, h + cord], 0.004, slotOf(d, BLACK_PAINT));
};

/** A steel drum: two rolled hoops and a sunk lid. */
export const drum: Builder = ({ d, w, h, slot }) => {
  const r = w / 2;
  const s = slot();
  const e = 0.008;
  const a = h / 3;
  const c = (2 * h) / 3;
  lathe(
    d,
    [
      [r - e, 0],
      [r - e, a - 0.015],
      [r, a],
      [r - e, a + 0.015],
      [r - e, c - 0.015],
      [r, c],
      [r - e, c + 0.015],
      [r - e, h],
      [r - 2 * e, h],
      [r - 2 * e, h - 0.012],
      [0, h - 0.012],
    ],
    s,
    { sides: 44 },
  );
};

/** A case with a nozzle at its local −y end, on four feet, with a carrying bow. */
export const smokeMachine: Builder = ({ d, w, deep, h, slot }) => {
  const x = w / 2;
  const y = deep / 2;
  const s = slot();
  const steel = slotOf(d, GREY_STEEL);
  const body = h * 0.8;
  box(d, [-x, -y + 0.03, 0.02], [x, y, body], s);
  inFrame(d, upright([0, 0, 0]), () => {
    cylinder(d, [0, -y + 0.03, body * 0.6], [0, -y, body * 0.6], 0.02, steel, { r1: 0.014 });
    for (const sx of [-1, 1]) {
      box(d, [sx * (x - 0.03) - 0.01, -0.01, body], [sx * (x - 0.03) + 0.01, 0.01, h - 0.015], steel);
      for (const sy of [-1, 1])
        cylinder(
          d,
          [sx * (x - 0.04), sy * (y - 0.06), 0],
          [sx * (x - 0.04), sy * (y - 0.06), 0.02],
          0.014,
          steel,
        );
    }
    box(d, [-x + 0.02, -0.012, h - 0.015], [x - 0.02, 0.012, h], steel);
  });
};
