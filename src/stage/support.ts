/** What holds a lamp or a flag: stands, clamps with a drop pipe, floor feet, wall plates, cords. To scale. */
import { add, cross, DEG, distance, length, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { bar, box, cylinder, lathe, pipe } from './build.ts';
import { BLACK_PAINT, CHROME, GREY_STEEL, WHITE_PLASTIC } from './finish.ts';
import { bodyOf, type Draft, draft, inFrame, looking, slotOf, upright } from './mesh.ts';
import type { Body } from './stage.ts';

interface Common {
  id: string;
  words: string;
}
/** What holds a thing, and where. */
export type SupportSpec = Common &
  (
    | {
        kind: 'stand';
        /** Top of the spigot, metres. */
        top: Vec3;
        /** Floor it stands on. */
        baseZ: number;
        /** Radius of the circle of its feet, metres. */
        footM: number;
        /** Where the first leg points; 0 = east, counter-clockwise. */
        legDeg?: number;
      }
    | {
        kind: 'clamp';
        /** On the lower face of what it grips, metres. */
        top: Vec3;
        /** Where the lamp's yoke begins. */
        end: Vec3;
        /** Width and depth of what it grips, and the way that runs; absent: a small jaw only. */
        grip?: { widthM: number; depthM: number; along: Vec3 };
      }
    | {
        kind: 'foot';
        /** On what it stands on, under the head, metres. */
        base: Vec3;
        /** Middle of the head's housing: it is held there on both sides, without a yoke of its own. */
        end: Vec3;
        /** Width of the housing. */
        widthM: number;
        facing: Vec3;
      }
    | { kind: 'wall'; onto: Vec3; normal: Vec3; end: Vec3 }
    | { kind: 'hung'; from: Vec3; end: Vec3 }
  );

/** Its body: part `support:<id>`, moving. */
export function buildSupport(s: SupportSpec): Body {
  const d = draft();
  switch (s.kind) {
    case 'stand':
      stand(d, s.top, s.baseZ, s.footM, (s.legDeg ?? 90) * DEG);
      break;
    case 'clamp': {
      const black = slotOf(d, BLACK_PAINT);
      const steel = slotOf(d, GREY_STEEL);
      if (s.grip) {
        // Two cheeks up the sides, a jaw over the top and one below.
        const f = looking(s.top, [0, 0, 1], normalize(s.grip.along));
        const x = s.grip.widthM / 2;
        const t = 0.008;
        inFrame(d, f, () => {
          for (const e of [-1, 1]) {
            const lo = e < 0 ? -x - t : x;
            box(d, [lo, -0.025, -0.012], [lo + t, 0.025, s.grip!.depthM], black);
          }
          box(d, [-x - t, -0.025, -0.02], [x + t, 0.025, -0.002], black);
        });
      } else inFrame(d, upright(s.top), () => box(d, [-0.03, -0.02, -0.06], [0.03, 0.02, -0.001], black));
      // Drop pipe straight down, then an arm to the head if it hangs aside.
      const knee: Vec3 = [s.top[0], s.top[1], s.end[2]];
      const start: Vec3 = [s.top[0], s.top[1], s.top[2] - 0.01];
      if (start[2] - knee[2] > 0.01) cylinder(d, start, knee, 0.0135, steel);
      if (distance(knee, s.end) > 0.015) cylinder(d, knee, s.end, 0.011, steel);
      break;
    }
    case 'foot': {
      // Two runners joined behind, an upright on each side of the head that holds it at its middle.
      const steel = slotOf(d, GREY_STEEL);
      const f = normalize([s.facing[0], s.facing[1], 0]);
      const side = cross(f, [0, 0, 1]);
      const r = 0.009;
      const z = s.base[2] + r;
      const at = (a: number, b: number, height: number): Vec3 => [
        s.base[0] + side[0] * a + f[0] * b,
        s.base[1] + side[1] * a + f[1] * b,
        height,
      ];
      const x = s.widthM / 2 + r;
      // The feet stand under the head's middle, so that it does not tip.
      const e = [s.end[0] - s.base[0], s.end[1] - s.base[1]] as const;
      const m = e[0] * f[0] + e[1] * f[1];
      const long = Math.max(0.11, (s.end[2] - s.base[2]) * 0.5);
      for (const k of [-1, 1]) {
        pipe(d, [at(k * x, m + long, z), at(k * x, m - long, z)], r, steel);
        pipe(d, [at(k * x, m, z), at(k * x, m, Math.max(z, s.end[2]))], r, steel);
        cylinder(d, at(k * x, m, s.end[2]), at(k * (x - 0.03), m, s.end[2]), 0.006, steel);
      }
      cylinder(d, at(-x, m - long, z), at(x, m - long, z), r, steel);
      break;
    }
    case 'wall': {
      const white = slotOf(d, WHITE_PLASTIC);
      inFrame(d, looking(s.onto, s.normal), () => box(d, [-0.04, -0.06, 0.0005], [0.04, 0.06, 0.02], white));
      const from = add(s.onto, scale(normalize(s.normal), 0.02));
      if (distance(from, s.end) > 0.02) cylinder(d, from, s.end, 0.01, slotOf(d, GREY_STEEL));
      break;
    }
    case 'hung': {
      const white = slotOf(d, WHITE_PLASTIC);
      const rose: readonly [number, number][] = [
        [0, 0.0],
        [0.02, 0.0],
        [0.045, 0.03],
      ];
      inFrame(d, upright([s.from[0], s.from[1], s.from[2] - 0.03]), () => lathe(d, rose, white));
      if (length(sub(s.from, s.end)) > 0.04)
        cylinder(d, s.end, [s.from[0], s.from[1], s.from[2] - 0.03], 0.0035, slotOf(d, BLACK_PAINT));
      break;
    }
  }
  return bodyOf(d, { id: `support:${s.id}`, words: s.words, kind: 'support', moving: true });
}

/**
 * Where the first of three legs should point, degrees (0 = east, counter-clockwise), so that the feet keep clear of
 * the walls of `outline` (counter-clockwise) as well as they can: in a corner one leg goes into it.
 */
export function legDegWithin(
  top: Vec3,
  footM: number,
  outline: readonly (readonly [number, number])[],
): number {
  // Room to each wall, for a stand within the outline.
  const walls = outline.map((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const n = [-(b[1] - a[1]) / l, (b[0] - a[0]) / l] as const;
    const along = ((top[0] - a[0]) * (b[0] - a[0]) + (top[1] - a[1]) * (b[1] - a[1])) / (l * l);
    return { n, room: (top[0] - a[0]) * n[0] + (top[1] - a[1]) * n[1], beside: along > 0 && along < 1 };
  });
  const near = walls.filter((w) => w.beside && w.room >= 0 && w.room < footM * 1.5);
  let best = 90;
  let most = -Infinity;
  for (let deg = 90; deg < 210; deg += 5) {
    let least = Infinity;
    for (const w of near)
      for (const k of [0, 120, 240]) {
        const a = (deg + k) * DEG;
        least = Math.min(least, w.room + footM * (Math.cos(a) * w.n[0] + Math.sin(a) * w.n[1]));
      }
    if (least > most + 1e-6) {
      most = least;
      best = deg;
    }
  }
  return best;
}

/** A tripod stand: column in three stages, three legs with struts, a spigot. */
function stand(d: Draft, top: Vec3, baseZ: number, footM: number, first: number): void {
  const black = slotOf(d, BLACK_PAINT);
  const chrome = slotOf(d, CHROME);
  const at = (z: number): Vec3 => [top[0], top[1], z];
  const tall = top[2] - baseZ;
  if (!(tall > 0.1)) return;
  const hub = baseZ + Math.min(tall * 0.7, Math.max(0.18, footM * 1.1));
  const collar = baseZ + Math.min(0.12, tall * 0.15);
  // Column: the lower tube to its lock, two risers, each thinner; the last 5 cm are spigot.
  const stage = (tall - (hub - baseZ) - 0.05) / 2;
  const lock1 = hub + Math.max(0.02, Math.min(stage, 0.5));
  const lock2 = lock1 + Math.max(0.02, (top[2] - 0.05 - lock1) / 2);
  cylinder(d, at(collar - 0.03), at(lock1), 0.0175, black);
  if (lock2 > lock1) cylinder(d, at(lock1), at(Math.min(lock2, top[2])), 0.0145, chrome);
  if (top[2] - 0.05 > lock2) cylinder(d, at(lock2), at(top[2] - 0.05), 0.0115, chrome);
  cylinder(d, at(Math.max(lock2, top[2] - 0.06)), top, 0.008, chrome);
  for (const z of [hub, lock1, lock2])
    if (z < top[2] - 0.06) cylinder(d, at(z - 0.02), at(z + 0.02), 0.024, black);
  cylinder(d, at(collar - 0.015), at(collar + 0.015), 0.024, black);
  // Legs.
  for (let k = 0; k < 3; k++) {
    const a = first + (k * 2 * Math.PI) / 3;
    const way: Vec3 = [Math.cos(a), Math.sin(a), 0];
    const side = cross(way, [0, 0, 1]);
    const foot: Vec3 = [top[0] + way[0] * (footM - 0.012), top[1] + way[1] * (footM - 0.012), baseZ + 0.012];
    const head = add(at(hub), scale(way, 0.02));
    bar(d, head, foot, 0.022, 0.012, black, side);
    const knee = add(head, scale(sub(foot, head), 0.5));
    bar(d, add(at(collar), scale(way, 0.02)), knee, 0.016, 0.006, black, side);
    cylinder(d, [foot[0], foot[1], baseZ], foot, 0.012, black);
  }
}
