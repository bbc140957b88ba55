/** A boat being built: keel, ribs, planking as far as it goes, a ribband along the gunwale. Bow toward local +x. */
import type { Vec3 } from '../../maths/vec3.ts';
import { bar, box, sheet, sweep } from '../build.ts';
import type { Builder } from './work.ts';

const KEEL_WIDE_M = 0.07;
const KEEL_DEEP_M = 0.09;
const PLANK_M = 0.02;
const RIB_DEEP_M = 0.05;

/**
 * `detail`: `keelM`, `plankedToM`, `gunwaleM` heights in one frame of any origin; `ribEveryM`, `ribM` spacing and
 * width of the ribs; `plankedWidthM` width over the planking's upper edge; `endShare` how far the ends draw in
 * (0 none, 1 sharp bow; default 1); amidships, over half the length, the section is whole.
 */
export const boatHull: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot();
  const ribs = slot('ribs');
  const keelZ = detail('keelM', 0);
  const tall = Math.min(h, detail('gunwaleM', keelZ + h) - keelZ);
  const planked = Math.max(0, Math.min(tall, detail('plankedToM', keelZ + h * 0.3) - keelZ));
  const half = deep / 2;
  const every = Math.max(0.05, detail('ribEveryM', 0.3));
  const wide = detail('ribM', 0.045);
  const ends = Math.min(1, Math.max(0, detail('endShare', 1)));
  // The section: half-breadth over height, a power law through the planking's upper edge.
  const share = Math.min(0.95, Math.max(0.2, detail('plankedWidthM', deep * 0.667) / deep));
  const at = Math.min(0.9, Math.max(0.05, planked / tall || 0.27));
  const p = Math.log(1 - share) / Math.log(1 - at);
  const breadth = (z: number): number => half * (1 - (1 - Math.min(1, z / tall)) ** p);
  // Along the length: whole amidships, drawing in toward the bow, less toward the stern.
  const along = (x: number): number => {
    const u = (2 * x) / w;
    const t = Math.max(0, (Math.abs(u) - 0.5) / 0.5);
    return 1 - ends * (u > 0 ? 0.85 : 0.35) * t * t;
  };
  // Even steps of girth, so that ribs bend where the section does.
  const steps = 10;
  const girth: number[] = [];
  {
    const fine = 200;
    let run = 0;
    const table: [number, number][] = [[0, 0]];
    for (let k = 1; k <= fine; k++) {
      const z0 = (tall * (k - 1)) / fine;
      const z1 = (tall * k) / fine;
      run += Math.hypot(breadth(z1) - breadth(z0), z1 - z0);
      table.push([run, z1]);
    }
    for (let k = 0; k <= steps; k++) {
      const want = (run * k) / steps;
      girth.push(table.find(([r]) => r >= want - 1e-9)?.[1] ?? tall);
    }
  }
  const skin = (x: number, z: number, side: number): Vec3 => [x, side * along(x) * breadth(z), z];

  // Keel, stem and stern posts.
  const x0 = -w / 2;
  const x1 = w / 2;
  box(d, [x0, -KEEL_WIDE_M / 2, 0], [x1, KEEL_WIDE_M / 2, KEEL_DEEP_M], s);
  if (ends > 0) {
    bar(d, [x1 - 0.03, 0, KEEL_DEEP_M], [x1 - 0.03, 0, tall], KEEL_WIDE_M, 0.06, s, [0, 1, 0]);
    bar(d, [x0 + 0.03, 0, KEEL_DEEP_M], [x0 + 0.03, 0, tall], KEEL_WIDE_M, 0.06, s, [0, 1, 0]);
  }

  // Ribs on both sides, bedded on the inner face of the planking.
  const count = Math.max(2, Math.floor((w - wide) / every + 1e-6) + 1);
  const start = -((count - 1) * every) / 2;
  for (let k = 0; k < count; k++) {
    const x = start + k * every;
    for (const side of [-1, 1]) {
      const line = girth.map((z): Vec3 => {
        const b = Math.max(0, along(x) * breadth(z) - RIB_DEEP_M / 2 - (z <= planked ? PLANK_M : 0));
        return [x, side * b, Math.min(tall - 0.01, z + KEEL_DEEP_M * (1 - z / tall))];
      });
      sweep(d, line, [1, 0, 0], wide, RIB_DEEP_M, ribs);
    }
  }

  // Planking from the keel up.
  if (planked > 0.02) {
    const nu = Math.max(2, Math.ceil(w / d.patchM));
    const nv = Math.max(2, Math.ceil(Math.hypot(breadth(planked), planked) / d.patchM));
    const zAt = (v: number): number => planked * v ** 1.4;
    for (const side of [-1, 1])
      sheet(
        d,
        (u, v) => skin(side > 0 ? x1 - 0.01 - (w - 0.02) * u : x0 + 0.01 + (w - 0.02) * u, zAt(v), side),
        nu,
        nv,
        PLANK_M,
        slot('planking'),
      );
  }

  // Ribband along the gunwale, outside the ribs' heads.
  for (const side of [-1, 1]) {
    const n = Math.max(2, Math.ceil(w / d.patchM));
    const line = Array.from({ length: n + 1 }, (_, k): Vec3 => {
      const x = x0 + 0.01 + ((w - 0.02) * k) / n;
      return [x, side * Math.max(0.02, along(x) * half - 0.012), tall - 0.03];
    });
    sweep(d, line, [0, 0, 1], 0.06, 0.024, ribs);
  }
};
