/** A family car, nose toward local +x: a rounded shell, a glass house on pillars, wheels in their arches, lamps, bumpers. */
import { neutral } from '../../colour/reflectance.ts';
import type { Vec3 } from '../../maths/vec3.ts';
import { box, cylinder, lathe, sweep } from '../build.ts';
import { BLACK_PAINT, CHROME, PANE } from '../finish.ts';
import { inFrame, looking, newPatch, polygon, slotOf } from '../mesh.ts';
import { roundBox } from '../roundBox.ts';
import type { Material } from '../stage.ts';
import type { Piece } from './piece.ts';

const PAINT = { glossF0: 0.05, roughness: 0.1 };
/** Tyres, trims, seats; reflectances are judgement. */
const matt = (name: string, rho: number, f0 = 0, roughness = 0.6): Material => ({
  name,
  reflectance: neutral(rho),
  kind: 'opaque',
  ...(f0 ? { gloss: { f0, roughness } } : {}),
});
const RUBBER = matt('rubber', 0.04, 0.04, 0.7);
const CLOTH_GREY = matt('seat cloth', 0.1);
const PLATE = matt('number plate', 0.7, 0.04, 0.4);
/** Behind a lamp's lens lies its mirror. */
const LENS = matt('headlamp', 0.3, 0.35, 0.15);

export const car: Piece = {
  kind: 'car',
  patchM: 1.2,
  sizeM: [4.2, 1.75, 1.48],
  outM: 0.08,
  build: ({ d, w, deep, h, slot }) => {
    const s = slot(undefined, PAINT);
    const glass = slotOf(d, PANE);
    const dark = slotOf(d, BLACK_PAINT);
    const chrome = slotOf(d, CHROME);
    const rubber = slotOf(d, RUBBER);
    const seat = slotOf(d, CLOTH_GREY);
    const lens = slotOf(d, LENS);
    const bumper = slot('bumpers');
    // Places in shares of length (tail 0 … nose 1) and height.
    const L = w;
    const y = deep / 2;
    const px = (u: number): number => (u - 0.5) * L;
    const sill = 0.15 * h;
    const belt = 0.6 * h;
    // Seen from above both ends draw in; from the side bonnet and boot fall away.
    const planAt = (x: number): number => 1 - 0.17 * Math.max(0, (Math.abs((2 * x) / L) - 0.62) / 0.38) ** 2;
    const topAt = (x: number): number => {
      const u = x / L + 0.5;
      if (u > 0.7) return belt - (0.13 * h * (u - 0.7) ** 1.5) / 0.3 ** 1.5;
      return u < 0.1 ? belt - 0.6 * h * (0.1 - u) ** 1.4 : belt;
    };
    const shell = (p: Vec3, n: Vec3): Vec3 => {
      const v = (p[2] - sill) / (belt - sill);
      // Flanks stand out most a little under the belt and draw in toward the sill.
      const flank = 1 - 0.035 * Math.max(0, 0.55 - v) ** 2 - 0.05 * Math.max(0, v - 0.6) ** 2;
      const z = sill + (topAt(p[0]) - sill) * v;
      // A bonnet is higher along its middle.
      const crown = n[2] > 0.2 ? 0.018 * (1 - (p[1] / y) ** 2) : 0;
      return [p[0] - 0.02 * L * (p[0] / L) * v ** 2, p[1] * planAt(p[0]) * flank, z + crown];
    };
    roundBox(d, [-L / 2, -y, sill], [L / 2, y, belt], Math.min(0.11, h / 12), s, {
      steps: 2,
      cellM: Math.max(0.2, L / 24),
      bend: shell,
    });
    // Wheels: a dark arch with its lip, tyre, and a wheel of five spokes.
    const wheel = Math.min(0.31, h * 0.215);
    for (const side of [-1, 1])
      for (const u of [0.19, 0.81]) {
        const side0 = side * y * 0.985 * planAt(px(u));
        inFrame(d, looking([px(u), side0, wheel], [0, side, 0]), () => {
          // `looking` keeps y up: the arch is open below the sill.
          const arch = wheel * 1.16;
          const from = Math.asin(Math.max(-1, Math.min(1, (sill - wheel) / arch)));
          const n = 20;
          const rim = (r: number, z: number, k: number): Vec3 => {
            const a = from + ((Math.PI - 2 * from) * k) / n;
            return [r * Math.cos(a), r * Math.sin(a), z];
          };
          const hollow = newPatch(d);
          for (let k = 0; k < n; k++)
            polygon(d, [[0, 0, 0.012], rim(arch, 0.012, k), rim(arch, 0.012, k + 1)], dark, hollow);
          sweep(
            d,
            Array.from({ length: n + 1 }, (_, k) => rim(arch + 0.012, 0.014, k)),
            [0, 0, 1],
            0.024,
            0.024,
            s,
          );
          const t = 0.19;
          lathe(
            d,
            [
              [0, -t],
              [wheel * 0.96, -t],
              [wheel, -t + 0.02],
              [wheel, 0.018],
              [wheel * 0.97, 0.034],
              [wheel * 0.8, 0.042],
              [wheel * 0.7, 0.03],
              [wheel * 0.66, 0.012],
              [0, 0.012],
            ],
            rubber,
            { sides: 28 },
          );
          lathe(
            d,
            [
              [wheel * 0.7, 0.03],
              [wheel * 0.64, 0.036],
              [wheel * 0.6, 0.014],
            ],
            chrome,
            { sides: 28 },
          );
          lathe(
            d,
            [
              [wheel * 0.17, 0.014],
              [wheel * 0.15, 0.036],
              [0, 0.04],
            ],
            chrome,
            { sides: 20 },
          );
          for (let k = 0; k < 5; k++) {
            const a = (2 * Math.PI * k) / 5 + 0.3;
            sweep(
              d,
              [0.12, 0.62].map((r): Vec3 => [wheel * r * Math.cos(a), wheel * r * Math.sin(a), 0.024]),
              [0, 0, 1],
              0.02,
              wheel * 0.17,
              chrome,
            );
          }
        });
      }
    // Floor, seen under the sills.
    box(d, [-L / 2 + 0.2, -y * 0.88, 0.12 * h], [L / 2 - 0.2, y * 0.88, sill + 0.02], dark);
    // Glass house: belt and roof lines, panes between pillars.
    const low = { y: y * 0.9, z: belt + 0.005 };
    const high = { y: y * 0.7, z: h * 0.965 };
    const line = (u: number, v: number, side: number): Vec3 => [
      px(u),
      side * (low.y + (high.y - low.y) * v),
      low.z + (high.z - low.z) * v,
    ];
    const [nose0, nose1, tail1, tail0] = [0.73, 0.585, 0.19, 0.07];
    const pane = (c: Vec3[]) => polygon(d, c, glass, newPatch(d));
    pane([line(nose0, 0, 1), line(nose1, 1, 1), line(nose1, 1, -1), line(nose0, 0, -1)]);
    pane([line(tail0, 0, -1), line(tail1, 1, -1), line(tail1, 1, 1), line(tail0, 0, 1)]);
    const thick = 0.045;
    for (const side of [-1, 1]) {
      const side4 = [line(nose0, 0, side), line(nose1, 1, side), line(tail1, 1, side), line(0.17, 0, side)];
      pane(side > 0 ? side4 : side4.reverse());
      // Behind the last side window the shell goes on up to the roof.
      const quarter = [line(0.17, 0, side), line(tail1 + 0.005, 1, side), line(tail0, 0, side)];
      polygon(d, side > 0 ? quarter : quarter.reverse(), s, newPatch(d));
      const out: Vec3 = [0, side, 0];
      sweep(d, [line(nose0 + 0.004, -0.04, side), line(nose1, 1, side)], out, thick, 0.06, s);
      sweep(d, [line(tail0 - 0.004, -0.04, side), line(tail1, 1, side)], out, thick, 0.1, s);
      sweep(d, [line(0.43, -0.02, side), line(0.415, 1, side)], out, 0.03, 0.075, dark);
      // Rubber and chrome along the belt.
      sweep(
        d,
        [0, 1, 2, 3, 4].map((k) => line(nose0 - 0.02 + ((tail0 - nose0 + 0.04) * k) / 4, 0.01, side)),
        out,
        0.03,
        0.018,
        dark,
      );
      // Gaps of the doors, handles, a rubbing strip, the mirror.
      const skin = (u: number, z: number, off: number): Vec3 => {
        const q = shell([px(u), side * y, z], [0, side, 0]);
        return [px(u), q[1] + side * off, z];
      };
      for (const [u, tall] of [
        [0.665, 0.97],
        [0.43, 0.97],
        [0.255, 0.97],
      ] as const) {
        const zs = [0.24, 0.5, 0.75, tall].map((v) => sill + (belt - sill) * v * 0.96);
        sweep(
          d,
          zs.map((z) => skin(u, z, -0.001)),
          [0, side, 0],
          0.005,
          0.006,
          dark,
        );
      }
      sweep(
        d,
        [0.68, 0.55, 0.4, 0.27].map((u) => skin(u, 0.33 * h, 0.004)),
        [0, side, 0],
        0.014,
        0.035,
        dark,
      );
      for (const u of [0.475, 0.3]) {
        const c = skin(u, 0.52 * h, 0.012);
        roundBox(
          d,
          [c[0] - 0.08, c[1] - 0.012, c[2] - 0.013],
          [c[0] + 0.08, c[1] + 0.012, c[2] + 0.013],
          0.01,
          s,
          {
            steps: 2,
          },
        );
      }
      const m: Vec3 = [px(0.675), side * (y * 0.93 + 0.045), belt + 0.07];
      roundBox(
        d,
        [m[0] - 0.045, m[1] - 0.085, m[2] - 0.055],
        [m[0] + 0.055, m[1] + 0.085, m[2] + 0.055],
        0.035,
        s,
        {
          steps: 2,
        },
      );
      // Headlamps and tail lamps lie in the shell's corners.
      const lamp = (u: number, v: number, b: number, size: Vec3, of: number) => {
        const q = shell([px(u), side * y * b, sill + (belt - sill) * v], [0, 0, 0]);
        roundBox(
          d,
          [q[0] - size[0], q[1] - size[1], q[2] - size[2]],
          [q[0] + size[0], q[1] + size[1], q[2] + size[2]],
          0.03,
          of,
          { steps: 2 },
        );
      };
      lamp(1, 0.74, 0.7, [0.05, 0.17, 0.055], lens);
      lamp(0, 0.76, 0.74, [0.05, 0.15, 0.075], slot('tail', PAINT));
    }
    // Roof, a little domed.
    roundBox(
      d,
      [px(tail1) - 0.02, -high.y - 0.02, high.z - 0.03],
      [px(nose1) + 0.03, high.y + 0.02, h - 0.012],
      0.03,
      s,
      {
        steps: 2,
        cellM: 0.3,
        bend: (p, n) => [
          p[0],
          p[1],
          p[2] +
            (n[2] > 0.1
              ? 0.012 * (1 - (p[1] / high.y) ** 2 * 0.9) * (1 - ((p[0] - px(0.39)) / (0.24 * L)) ** 2)
              : 0),
        ],
      },
    );
    // Bumpers wrap round, the grille lies between the lamps.
    for (const e of [-1, 1]) {
      const [a, b] = [e * (L / 2 - 0.14), e * (L / 2 + 0.035)];
      roundBox(
        d,
        [Math.min(a, b), -y * 1.02, 0.2 * h],
        [Math.max(a, b), y * 1.02, 0.335 * h],
        0.045,
        bumper,
        {
          steps: 2,
          cellM: 0.25,
          bend: (p) => [p[0] - e * 0.05 * (p[1] / y) ** 4, p[1] * planAt(p[0] * 0.97), p[2]],
        },
      );
    }
    for (let k = 0; k < 4; k++)
      box(
        d,
        [L / 2 - 0.08, -y * 0.42, (0.35 + 0.025 * k) * h],
        [L / 2 - 0.012 - 0.006 * k, y * 0.42, (0.362 + 0.025 * k) * h],
        dark,
      );
    for (const e of [-1, 1])
      box(
        d,
        [e > 0 ? L / 2 - 0.01 : -L / 2 - 0.004, -0.26, 0.235 * h],
        [e > 0 ? L / 2 + 0.004 : -L / 2 + 0.01, 0.26, 0.235 * h + 0.11],
        slotOf(d, PLATE),
      );
    // Inside, seen through the glass: dash, wheel, seats with their heads.
    roundBox(d, [px(0.63), -y * 0.8, belt - 0.12], [px(0.705), y * 0.8, belt + 0.035], 0.04, dark, {
      steps: 2,
    });
    // From the waist down a cabin is dark.
    box(
      d,
      [px(0.08), -y * 0.87, belt + 0.005],
      [px(0.69), y * 0.87, belt + 0.024],
      slotOf(d, matt('cabin', 0.05)),
    );
    for (const u of [0.5, 0.27])
      for (const side of [-1, 1]) {
        const [c, b] = [px(u), side * 0.36];
        roundBox(d, [c - 0.13, b - 0.24, 0.36 * h], [c, b + 0.24, 0.74 * h], 0.05, seat, { steps: 2 });
        roundBox(d, [c - 0.13, b - 0.13, 0.755 * h], [c - 0.03, b + 0.13, 0.86 * h], 0.04, seat, {
          steps: 2,
        });
      }
    inFrame(d, looking([px(0.605), 0.36, belt + 0.02], [-1, 0, 0.45]), () =>
      lathe(
        d,
        Array.from({ length: 9 }, (_, k): [number, number] => {
          const a = (2 * Math.PI * k) / 8;
          return [0.175 + 0.013 * Math.cos(a), 0.013 * Math.sin(a)];
        }),
        dark,
        { sides: 28, smooth: true },
      ),
    );
    cylinder(d, [px(0.63), 0.36, belt - 0.03], [px(0.61), 0.36, belt + 0.01], 0.05, dark);
  },
};
