/** Cased things, front along local −y: cupboards, base units, fridge, cooker. */
import { neutral } from '../../colour/reflectance.ts';
import type { Vec3 } from '../../maths/vec3.ts';
import { box, cylinder, lathe, pipe } from '../build.ts';
import { BLACK_PAINT, CHROME, ENAMEL, VARNISH } from '../finish.ts';
import { type Draft, inFrame, slotOf, upright } from '../mesh.ts';
import { roundBox } from '../roundBox.ts';
import type { Material } from '../stage.ts';
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

/** A board of a front, its edges eased; with a frame where it is wide enough and asked to have one. */
export function leaf(
  d: Draft,
  lo: Vec3,
  hi: Vec3,
  slot: number,
  framed: boolean,
  faces: { field?: number } = {},
): void {
  const rail = 0.065;
  if (!framed || hi[0] - lo[0] < 4 * rail || hi[2] - lo[2] < 4 * rail) {
    roundBox(d, lo, hi, 0.003, slot);
    return;
  }
  const proud = 0.007;
  const [x0, y, z0] = lo;
  const [x1, y1, z1] = hi;
  roundBox(d, [x0 + 0.01, y + proud, z0 + 0.01], [x1 - 0.01, y1, z1 - 0.01], 0.002, faces.field ?? slot);
  for (const [a, b] of [
    [x0, x0 + rail],
    [x1 - rail, x1],
  ] as const)
    roundBox(d, [a, y, z0], [b, y1, z1], 0.003, slot);
  for (const [a, b] of [
    [z0, z0 + rail],
    [z1 - rail, z1],
  ] as const)
    roundBox(d, [x0 + rail, y, a], [x1 - rail, y1, b], 0.003, slot);
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
  framed = false,
): void {
  const count = Math.max(1, Math.round((x1 - x0) / 0.5));
  const each = (x1 - x0) / count;
  for (let k = 0; k < count; k++) {
    const a = x0 + k * each + 0.0015;
    const b = x0 + (k + 1) * each - 0.0015;
    leaf(d, [a, y, z0 + 0.0015], [b, y + DOOR_M, z1 - 0.0015], slot, framed);
    const left = count > 1 && k % 2 === 0;
    // A tall door is opened at the hand's height.
    const tall = z1 - z0 > 1.4;
    const z = tall ? z0 + 0.95 : handleAtTop ? z1 - 0.12 : z0 + 0.12;
    pull(d, left ? b - 0.035 : a + 0.035, y, z, tall ? 0.16 : 0.11, false);
  }
}

/**
 * A carcass with doors; on the floor it stands on a plinth, on the wall it has none. `detail.topM`: a slab of its own on
 * top, so thick, that stands over the doors; `framed` 1: doors of frame and panel; `drawers`: so many rows over the doors.
 */
const carcass =
  (plinthM: number): Builder =>
  ({ d, w, deep, h, slot, detail }) => {
    const x = w / 2;
    const y = deep / 2;
    const s = slot();
    const slab = Math.max(0, Math.min(h / 4, detail('topM', 0)));
    const over = slab > 0 ? 0.015 : 0;
    const top = h - slab;
    const front = -y + over;
    roundBox(d, [-x + over, front + DOOR_M + 0.001, plinthM], [x - over, y, top], 0.002, s, {
      without: plinthM > 0 ? ['y-', 'z-'] : ['y-'],
    });
    if (plinthM > 0)
      box(d, [-x + over, front + DOOR_M + 0.05, 0], [x - over, y, plinthM], slot('plinth'), {
        without: ['z-', 'z+'],
      });
    if (slab > 0)
      roundBox(d, [-x, -y, top], [x, y, h], Math.min(0.006, slab / 3), slot('top', VARNISH), { steps: 2 });
    const framed = detail('framed', 0) > 0;
    const rows = Math.max(0, Math.min(6, Math.round(detail('drawers', 0))));
    const high = Math.min(0.16, (top - plinthM) / Math.max(1, rows));
    const across = Math.max(1, Math.round((2 * (x - over)) / 0.5));
    for (let k = 0; k < rows; k++)
      for (let c = 0; c < across; c++) {
        const [a, b] = [0, 1].map((e) => -x + over + (2 * (x - over) * (c + e)) / across) as [number, number];
        const z = top - (k + 1) * high;
        leaf(
          d,
          [a + 0.0015, front, z + 0.0015],
          [b - 0.0015, front + DOOR_M, z + high - 0.0015],
          slot('doors'),
          false,
        );
        pull(d, (a + b) / 2, front, z + high / 2, Math.min(0.12, (b - a) / 2), true);
      }
    const under = top - rows * high;
    if (under - plinthM > 0.12)
      doors(d, -x + over, x - over, plinthM, under, front, slot('doors'), plinthM > 0, framed);
  };
/** A wall cupboard. */
export const cupboard: Builder = carcass(0);
/** A floor cupboard on a plinth. */
export const baseUnit: Builder = carcass(0.1);

/** An enamelled case with a door over all of it, or from 1.3 m on two: the cold one above. */
export const fridge: Builder = ({ d, w, deep, h, slot }) => {
  const x = w / 2;
  const y = deep / 2;
  const s = slot(undefined, ENAMEL);
  const door = slot('door', ENAMEL);
  const round = Math.min(0.014, w / 10);
  roundBox(d, [-x, -y + 0.055, 0.03], [x, y, h], 0.008, s, { without: ['z-'], steps: 2 });
  box(d, [-x + 0.02, -y + 0.08, 0], [x - 0.02, y, 0.03], slotOf(d, BLACK_PAINT), { without: ['z-', 'z+'] });
  // The seal is the dark line round a door.
  box(d, [-x + 0.012, -y + 0.044, 0.06], [x - 0.012, -y + 0.056, h - 0.015], slotOf(d, BLACK_PAINT));
  const split = h > 1.3 ? h * 0.36 : 0;
  const leaves: [number, number][] = split
    ? [
        [0.05, split - 0.004],
        [split + 0.004, h],
      ]
    : [[0.05, h]];
  for (const [z0, z1] of leaves) {
    roundBox(d, [-x, -y, z0], [x, -y + 0.045, z1], round, door, { steps: 3 });
    const up = z0 > 0.2;
    const long = Math.min(0.3, (z1 - z0) * 0.5);
    pull(
      d,
      -x + 0.05,
      -y,
      split ? (up ? z0 + long / 2 + 0.06 : z1 - long / 2 - 0.06) : h - 0.22,
      long,
      false,
    );
  }
};

/** A cooker: enamel case, oven door with its window and handle, four knobs, four rings under their pans' supports. */
export const cooker: Builder = ({ d, w, deep, h, slot }) => {
  const x = w / 2;
  const y = deep / 2;
  const s = slot(undefined, ENAMEL);
  const dark = slot('hob', ENAMEL);
  const glass = slotOf(d, OVEN_GLASS);
  roundBox(d, [-x, -y + 0.03, 0], [x, y, h - 0.02], 0.005, s, { without: ['z-'] });
  roundBox(d, [-x, -y, h - 0.022], [x, y, h], 0.006, s, { steps: 2 });
  // Panel of the knobs, oven door, drawer under it.
  roundBox(d, [-x + 0.004, -y + 0.006, h - 0.14], [x - 0.004, -y + 0.03, h - 0.025], 0.006, s);
  const [z0, z1] = [Math.min(0.24, h * 0.27), h - 0.16];
  roundBox(d, [-x + 0.008, -y, z0], [x - 0.008, -y + 0.028, z1], 0.008, slot('door', ENAMEL), { steps: 2 });
  roundBox(d, [-x + 0.008, -y + 0.002, 0.07], [x - 0.008, -y + 0.028, z0 - 0.008], 0.006, s);
  const [gw, g0, g1] = [w * 0.33, z0 + (z1 - z0) * 0.16, z0 + (z1 - z0) * 0.74];
  if (g1 - g0 > 0.06) box(d, [-gw, -y - 0.001, g0], [gw, -y + 0.002, g1], glass, { without: ['y+'] });
  pull(d, 0, -y, z1 - 0.05, w * 0.7, true);
  for (let k = 0; k < 4; k++) {
    const cx = -x + (w * (k + 0.75)) / 4.5;
    const z = h - 0.085;
    cylinder(d, [cx, -y + 0.008, z], [cx, -y - 0.002, z], 0.024, dark, { sides: 20 });
    cylinder(d, [cx, -y - 0.002, z], [cx, -y - 0.022, z], 0.018, dark, { r1: 0.015, sides: 20 });
    box(d, [cx - 0.003, -y - 0.026, z - 0.014], [cx + 0.003, -y - 0.02, z + 0.014], s);
  }
  for (const sx of [-1, 1])
    for (const sy of [-1, 1]) {
      const r = (sx * sy > 0 ? 0.052 : 0.042) * Math.min(1, w / 0.5);
      inFrame(d, upright([sx * w * 0.24, sy * deep * 0.22, h]), () => {
        lathe(
          d,
          [
            [r * 1.35, 0],
            [r, 0.008],
            [r, 0.014],
            [0, 0.016],
          ],
          dark,
          { sides: 24 },
        );
        // Bars that a pan stands on.
        for (const a of [0, Math.PI / 2])
          inFrame(d, upright([0, 0, 0], a + Math.PI / 4), () =>
            box(d, [-r * 1.9, -0.004, 0.02], [r * 1.9, 0.004, 0.028], dark),
          );
        for (const [u, v] of [
          [1, 1],
          [1, -1],
          [-1, 1],
          [-1, -1],
        ] as const)
          box(
            d,
            [u * r * 1.3 - 0.004, v * r * 1.3 - 0.004, 0],
            [u * r * 1.3 + 0.004, v * r * 1.3 + 0.004, 0.022],
            dark,
          );
      });
    }
};

/** The window of an oven: dark behind polished glass (judgement). */
const OVEN_GLASS: Material = {
  name: 'oven glass',
  reflectance: neutral(0.02),
  kind: 'opaque',
  gloss: { f0: 0.06, roughness: 0.06 },
};
