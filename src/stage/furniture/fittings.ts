/** House fittings whose light is a lamp of the rig: a bulkhead, a batten for tubes; and a radiator, a rug, a heater. */
import { box, cylinder, lathe } from '../build.ts';
import { BLACK_PAINT, ENAMEL, GREY_STEEL, WHITE_PLASTIC } from '../finish.ts';
import { inFrame, looking, slotOf } from '../mesh.ts';
import type { Piece } from './piece.ts';

/** A round bulkhead on a wall behind it (local +y), its ring and back only: the opal glows as the lamp does. */
export const bulkhead: Piece = {
  kind: 'bulkhead',
  sizeM: [0.3, 0.1, 0.3],
  build: ({ d, w, deep, h, slot }) => {
    const r = Math.min(w, h) / 2;
    inFrame(d, looking([0, deep / 2, h / 2], [0, -1, 0]), () => {
      const s = slot(undefined, ENAMEL);
      lathe(
        d,
        [
          [r, 0],
          [r, deep * 0.4],
          [r * 0.86, deep * 0.5],
          [r * 0.86, 0.004],
          [0, 0.004],
        ],
        s,
        { sides: 28 },
      );
      // Two bars of the guard.
      for (const e of [-0.3, 0.3])
        cylinder(
          d,
          [e * r, -r * 0.8, deep * 0.5],
          [e * r, r * 0.8, deep * 0.5],
          0.004,
          slotOf(d, GREY_STEEL),
          { sides: 5 },
        );
      cylinder(d, [0, 0, deep * 0.5], [0, 0, deep], 0.006, slotOf(d, GREY_STEEL), { sides: 6 });
    });
  },
};

/** A batten along local x under a ceiling: its spine; tubes are lamps. `detail.tubes` lampholders for so many (1). */
export const batten: Piece = {
  kind: 'batten',
  sizeM: [1.52, 0.1, 0.09],
  build: ({ d, w, deep, h, slot }) => {
    const s = slot(undefined, ENAMEL);
    const x = w / 2;
    box(d, [-x, -deep / 2, h * 0.45], [x, deep / 2, h], s);
    for (const side of [-1, 1]) {
      const a = side < 0 ? -x : x - 0.02;
      box(d, [a, -deep / 4, 0], [a + 0.02, deep / 4, h * 0.45], slotOf(d, WHITE_PLASTIC), {
        without: ['z+'],
      });
    }
  },
};

export const radiator: Piece = {
  kind: 'radiator',
  sizeM: [1, 0.1, 0.6],
  build: ({ d, w, deep, h, slot }) => {
    const s = slot(undefined, ENAMEL);
    const x = w / 2;
    const foot = Math.min(0.1, h / 5);
    box(d, [-x, -deep / 2 + 0.014, foot], [x, deep / 2 - 0.02, h], s);
    const n = Math.max(2, Math.round(w / 0.08));
    for (let k = 0; k < n; k++) {
      const a = -x + (w * k) / n + 0.012;
      box(d, [a, -deep / 2, foot + 0.02], [a + w / n - 0.024, -deep / 2 + 0.014, h - 0.02], s, {
        without: ['y+'],
      });
    }
    for (const side of [-1, 1])
      cylinder(
        d,
        [side * (x - 0.04), deep / 2 - 0.03, 0],
        [side * (x - 0.04), deep / 2 - 0.03, foot],
        0.008,
        s,
      );
    box(d, [-x + 0.1, deep / 2 - 0.02, h * 0.5], [-x + 0.14, deep / 2, h * 0.7], s);
  },
};

export const rug: Piece = {
  kind: 'rug',
  sizeM: [2, 1.4, 0.012],
  build: ({ d, w, deep, h, slot }) => {
    const [x, y] = [w / 2, deep / 2];
    const b = Math.min(0.12, w / 6, deep / 6);
    const border = slot('border');
    box(d, [-x, -y, 0], [x, -y + b, h], border, { without: ['z-'] });
    box(d, [-x, y - b, 0], [x, y, h], border, { without: ['z-'] });
    box(d, [-x, -y + b, 0], [-x + b, y - b, h], border, { without: ['z-'] });
    box(d, [x - b, -y + b, 0], [x, y - b, h], border, { without: ['z-'] });
    box(d, [-x + b, -y + b, 0], [x - b, y - b, h * 0.95], slot(), { without: ['z-'] });
  },
};

export const heater: Piece = {
  kind: 'heater',
  sizeM: [0.3, 0.2, 0.35],
  build: ({ d, w, deep, h, slot }) => {
    const [x, y] = [w / 2, deep / 2];
    const s = slot(undefined, ENAMEL);
    const dark = slotOf(d, BLACK_PAINT);
    box(d, [-x, -y + 0.01, 0.02], [x, y, h], s);
    box(d, [-x + 0.02, -y + 0.03, 0], [x - 0.02, y - 0.02, 0.02], dark, { without: ['z-', 'z+'] });
    const n = 6;
    for (let k = 0; k < n; k++) {
      const z = 0.05 + ((h - 0.1) * k) / n;
      box(d, [-x + 0.02, -y, z], [x - 0.02, -y + 0.012, z + (h - 0.1) / n - 0.012], dark, {
        without: ['y+'],
      });
    }
  },
};
