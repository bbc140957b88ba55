/** Cased things, front along local −y: cupboards, base units, fridge, cooker, shelves. */
import { box, cylinder, lathe, pipe } from '../build.ts';
import { BLACK_PAINT, CHROME, ENAMEL } from '../finish.ts';
import { type Draft, inFrame, slotOf, upright } from '../mesh.ts';
import type { Builder } from './work.ts';

const DOOR_M = 0.018;

/** A bar handle, upright or level, standing 3 cm off the plane y. */
export function pull(d: Draft, x: number, y: number, z: number, long: number, level: boolean): void {
  const s = slotOf(d, CHROME);
  const e = long / 2;
  const a = level ? ([x - e, y, z] as const) : ([x, y, z - e] as const);
  const b = level ? ([x + e, y, z] as const) : ([x, y, z + e] as const);
  pipe(d, [a, [a[0], y - 0.03, a[2]], [b[0], y - 0.03, b[2]], b], 0.005, s);
}

/** Doors side by side over a front from x0 to x1, z0 to z1, with 3 mm gaps and a handle each. */
export function doors(
  d: Draft,
  x0: number,
  x1: number,
  z0: number,
  z1: number,
  y: number,
  slot: number,
  handleAtTop: boolean,
): void {
  const count = Math.max(1, Math.round((x1 - x0) / 0.5));
  const each = (x1 - x0) / count;
  for (let k = 0; k < count; k++) {
    const a = x0 + k * each + 0.0015;
    const b = x0 + (k + 1) * each - 0.0015;
    box(d, [a, y, z0 + 0.0015], [b, y + DOOR_M, z1 - 0.0015], slot);
    const left = count > 1 && k % 2 === 0;
    pull(d, left ? b - 0.05 : a + 0.05, y, handleAtTop ? z1 - 0.12 : z0 + 0.12, 0.11, false);
  }
}

/** A carcass with doors; on the floor it stands on a plinth, on the wall it has none. */
const carcass =
  (plinthM: number): Builder =>
  ({ d, w, deep, h, slot }) => {
    const x = w / 2;
    const y = deep / 2;
    const s = slot();
    const front = -y + DOOR_M;
    box(d, [-x, front + 0.001, plinthM], [x, y, h], s, {
      without: plinthM > 0 ? ['y-', 'z-'] : ['y-'],
    });
    if (plinthM > 0)
      box(d, [-x, front + 0.05, 0], [x, y, plinthM], slot('plinth'), { without: ['z-', 'z+'] });
    doors(d, -x, x, plinthM, h, -y, slot('doors'), plinthM > 0);
  };
/** A wall cupboard. */
export const cupboard: Builder = carcass(0);
/** A floor cupboard on a plinth. */
export const baseUnit: Builder = carcass(0.1);

/** An enamelled case with one door. */
export const fridge: Builder = ({ d, w, deep, h, slot }) => {
  const x = w / 2;
  const y = deep / 2;
  const s = slot(undefined, ENAMEL);
  box(d, [-x, -y + 0.05, 0.03], [x, y, h], s, { without: ['y-', 'z-'] });
  box(d, [-x + 0.02, -y + 0.08, 0], [x - 0.02, y, 0.03], slotOf(d, BLACK_PAINT), { without: ['z-', 'z+'] });
  box(d, [-x + 0.002, -y, 0.05], [x - 0.002, -y + 0.045, h - 0.005], slot('door', ENAMEL));
  pull(d, -x + 0.05, -y, h - 0.22, 0.25, false);
};

/** A cooker: enamel case, oven door with a handle, four knobs, four rings on the hob. */
export const cooker: Builder = ({ d, w, deep, h, slot }) => {
  const x = w / 2;
  const y = deep / 2;
  const s = slot(undefined, ENAMEL);
  const dark = slot('hob', ENAMEL);
  box(d, [-x, -y + 0.03, 0], [x, y, h - 0.02], s, { without: ['z-'] });
  box(d, [-x, -y, h - 0.02], [x, y, h], s);
  box(d, [-x + 0.01, -y, 0.12], [x - 0.01, -y + 0.028, h - 0.16], slot('door', ENAMEL));
  pull(d, 0, -y, h - 0.2, w * 0.7, true);
  for (let k = 0; k < 4; k++) {
    const cx = -x + (w * (k + 0.75)) / 4.5;
    cylinder(d, [cx, -y + 0.03, h - 0.08], [cx, -y - 0.0, h - 0.08], 0.018, dark);
  }
  for (const sx of [-1, 1])
    for (const sy of [-1, 1])
      inFrame(d, upright([sx * w * 0.24, sy * deep * 0.22, h]), () =>
        lathe(
          d,
          [
            [0.05, 0],
            [0.08, 0],
            [0.08, 0.012],
            [0.05, 0.012],
            [0.05, 0],
          ],
          dark,
          { sides: 16 },
        ),
      );
};

/** Boards between two sides; the count of boards from `detail.shelves`, else one each 35 cm. */
export const shelves: Builder = ({ d, w, deep, h, slot, detail }) => {
  const x = w / 2;
  const y = deep / 2;
  const s = slot();
  const t = 0.02;
  const count = Math.max(2, Math.round(detail('shelves', Math.max(2, Math.round(h / 0.35) + 1))));
  for (const sx of [-1, 1]) {
    const a = sx < 0 ? -x : x - t;
    box(d, [a, -y, 0], [a + t, y, h], s);
  }
  for (let k = 0; k < count; k++) {
    const z = ((h - t) * k) / (count - 1);
    box(d, [-x + t, -y, z], [x - t, y, z + t], s);
  }
};
