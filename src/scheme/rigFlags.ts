/**
 * Flags that a rig needs from the start: where a lamp would shine into a lens that looks toward it, or burn out a wall
 * behind the people in an angle. Doors first, for they are on the head; then a flag, with what holds it.
 */
import { glassShare } from '../light/veil.ts';
import { add, distance, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { onFrame } from '../setup/view.ts';
import type { RigFlag } from '../shoot/schema.ts';
import { atWall, ends } from '../shoot/walls.ts';
import type { View } from '../transport/scene.ts';
import { halfDiagonal } from '../transport/veil.ts';
import { bladeToward, type Doors, hiddenFrom } from './blade.ts';
import { lensFlag } from './flagOnLens.ts';
import { VEIL_SHARE } from './inFrame.ts';
import type { Bench, Put } from './rigBench.ts';
import type { Face, Ground } from './rigGround.ts';
import { givesLx, type Setting } from './rigLight.ts';
import { clampNear, fromLineM, inside, toBoxM } from './room.ts';
import { inTheWay } from './sightLines.ts';
import { m } from './trouble.ts';

/** One lamp as an angle has it. */
export interface There {
  number: string;
  put: Put;
  at: Vec3;
  aim: Vec3;
  setting: Setting;
  doors?: Doors;
  on: boolean;
}

interface Holds {
  words: string;
  kit?: string;
}
export interface Hung {
  id: string;
  flag: RigFlag;
  says: string;
}
export interface Flags {
  hung: Hung[];
  /** Doors closed further, by lamp's number, in every angle. */
  doors: Map<string, Doors>;
  says: string[];
  gave: string[];
}

/** A wall behind people brighter than this over grey draws the eye from them, stops (judgement). */
const HOT_STOPS = 2;
/** What is traced later may be a third more than this first sum (walls, glass, mains): flagged already when so near. */
const NEARLY = 0.75;
/** Where along a beam a flag hangs, and sizes one owns or cuts, metres. */
const ALONG_M = [0.6, 0.8, 1, 1.3];
const SIZES_M = [0.3, 0.45, 0.6, 0.9, 1.2];

/** `inAngle`: the lamps as an angle has them, its cheats in; `eRefLx`: what its stop asks for. */
export function rigFlags(b: Bench, inAngle: (angle: string) => There[], eRefLx: number): Flags {
  const out: Flags = { hung: [], doors: new Map(), says: [], gave: [] };
  for (const { id: angle, view } of b.ground.views) {
    const lamps = inAngle(angle);
    for (const l of lamps) {
      if (!l.on || l.put.job === 'bounce') continue;
      const doors = out.doors.get(l.number) ?? l.doors;
      offLens(b, angle, view, { ...l, ...(doors ? { doors } : {}) }, lamps, eRefLx, out);
      if (l.put.job !== 'key' || l.put.behind)
        offWall(b, angle, view, { ...l, ...(doors ? { doors } : {}) }, lamps, eRefLx, out);
    }
  }
  return out;
}

const axisOf = (l: There): Vec3 => normalize(sub(l.aim, l.at));
export function sizeOf(l: There): number {
  const e = l.put.head.kind.emitter;
  return e.kind === 'disc' ? e.diameterM : e.kind === 'rectangle' ? Math.max(e.widthM, e.heightM) : 0.1;
}

/** Whether one of its doors hides its whole face from a point. */
function doorHides(l: There, to: Vec3): boolean {
  const blade = l.doors && bladeToward(l.put.head.kind, l.at, axisOf(l), to);
  return blade !== undefined && hiddenFrom(blade, l.doors![blade.which]) < blade.want * 0.98;
}

/** Light that it puts on the glass, as a share of what the stop asks for; 0: hood, door or thing in between. */
export function veilOf(g: Ground, view: View, l: There, eRefLx: number): number {
  const f = onFrame(view, l.at);
  // What the hood leaves of the glass, as the trouble has it.
  const through = f.depthM <= 0 ? 0 : Math.cos(f.offAxis) * glassShare(f.offAxis, halfDiagonal(view));
  if (through <= 0 || doorHides(l, view.eye)) return 0;
  if (inTheWay(g.place, g.posts, l.at, view.eye, 0)) return 0;
  return (givesLx(l.put.head, l.at, l.aim, l.setting, view.eye) * through) / eRefLx;
}

function offLens(
  b: Bench,
  angle: string,
  view: View,
  l: There,
  lamps: readonly There[],
  eRefLx: number,
  out: Flags,
): void {
  if (!(veilOf(b.ground, view, l, eRefLx) > NEARLY * VEIL_SHARE)) return;
  const flag = lensFlag(view, l.at, sizeOf(l), (at, sizeM) => spoils(b, lamps, at, sizeM));
  if (!flag) {
    out.gave.push(
      `In ${angle} ${l.number} shines into the lens, and no flag fits between: a hood, or less of it.`,
    );
    return;
  }
  const holds = holdsAt(b, flag.at);
  hang(out, angle, {
    words: `keeps ${l.number} off the lens in ${angle}`,
    at: triple(flag.at),
    facing: triple(flag.facing),
    sizeM: [flag.sizeM, flag.sizeM],
    holds,
    says: `keeps ${l.number} off the lens in ${angle}: ${m(flag.sizeM)} square, ${m(flag.fromLensM, 1)} from the lens, ${m(flag.clearOfFrameM)} clear of the frame, on an ${holds.words}`,
  });
}

/** Parts of the walls that the angle sees and the lamp burns out: a door closed if one face is not lost, or a flag. */
function offWall(
  b: Bench,
  angle: string,
  view: View,
  l: There,
  lamps: readonly There[],
  eRefLx: number,
  out: Flags,
): void {
  const hot = hotWall(b, view, l, eRefLx);
  if (hot.length === 0) return;
  const middle = scale(
    hot.reduce((s, p) => add(s, p), [0, 0, 0] as Vec3),
    1 / hot.length,
  );
  const lit = l.put.for.concat(l.put.behind ?? []);
  const closed = closeDoor(l, hot, lit);
  if (closed) {
    out.doors.set(l.number, closed.doors);
    out.says.push(
      `The ${closed.which} door of ${l.number} stands at ${closed.doors[closed.which]}°: it would burn out the wall in ${angle}.`,
    );
    return;
  }
  const D = distance(l.at, middle);
  const dir = normalize(sub(middle, l.at));
  const radius = Math.max(0.2, ...hot.map((p) => fromLineM(l.at, add(l.at, scale(dir, 2 * D)), p)));
  for (const x of ALONG_M) {
    const width = sizeOf(l) + ((2 * radius - sizeOf(l)) * x) / D;
    const sizeM = SIZES_M.find((s) => s >= width);
    if (sizeM === undefined || x > D - 0.3) continue;
    const at = add(l.at, scale(dir, x));
    if (seen(view, at, sizeM) || spoils(b, lamps, at, sizeM)) continue;
    const holds = holdsAt(b, at);
    hang(out, angle, {
      words: `keeps ${l.number} off the wall in ${angle}`,
      at: triple(at),
      facing: triple(dir),
      sizeM: [sizeM, sizeM],
      holds,
      says: `keeps ${l.number} off the wall behind in ${angle}: ${m(sizeM)} square, ${m(x, 1)} ahead of it, on an ${holds.words}`,
    });
    return;
  }
  out.gave.push(`In ${angle} ${l.number} burns out the wall, and neither door nor flag keeps it off.`);
}

/** Places on the walls in frame, every 0.3 m, that this lamp alone lifts too far over grey. */
export function hotWall(b: Bench, view: View, l: There, eRefLx: number): Vec3[] {
  const { place } = b;
  const rho = place.walls.reflectance;
  const hot: Vec3[] = [];
  const high = place.ceilingM ?? 2.4;
  for (let wall = 0; wall < place.outline.length; wall++) {
    const [p, q] = ends(place.outline, wall);
    const long = Math.hypot(q[0] - p[0], q[1] - p[1]);
    // Counter-clockwise outline: inward is to the left.
    const inward: Vec3 = [-(q[1] - p[1]) / long, (q[0] - p[0]) / long, 0];
    for (let u = 0.15; u < long; u += 0.3)
      for (let z = 0.3; z < high; z += 0.3) {
        if (
          Object.values(place.openings).some(
            (o) => o.wall === wall && u >= o.fromM && u <= o.toM && z >= o.sillM && z <= o.headM,
          )
        )
          continue;
        const [x, y] = atWall(place.outline, wall, u);
        const at = add([x, y, z], scale(inward, 0.01));
        const f = onFrame(view, at);
        if (!(f.depthM > 0 && Math.abs(f.x) < 1 && Math.abs(f.y) < 1)) continue;
        const to = sub(l.at, at);
        const cos = dot(normalize(to), inward);
        if (cos <= 0 || doorHides(l, at)) continue;
        const lx = givesLx(l.put.head, l.at, l.aim, l.setting, at) * cos;
        if (Math.log2((lx * rho) / 0.18 / eRefLx) <= HOT_STOPS) continue;
        if (inTheWay(place, b.ground.posts, l.at, at, 0) || inTheWay(place, b.ground.posts, view.eye, at, 0))
          continue;
        hot.push(at);
      }
  }
  return hot;
}

/** One door closed until the places are hidden, while those it is for keep the whole face. */
function closeDoor(
  l: There,
  places: readonly Vec3[],
  faces: readonly Face[],
): { which: 'top' | 'bottom' | 'left' | 'right'; doors: Doors } | undefined {
  if (!l.doors) return undefined;
  const { kind } = l.put.head;
  const blades = places.map((p) => bladeToward(kind, l.at, axisOf(l), p));
  const which = blades[0]?.which;
  if (!which || blades.some((x) => x?.which !== which)) return undefined;
  for (let open = l.doors[which] - 5; open >= 10; open -= 5) {
    if (!blades.every((x) => hiddenFrom(x!, open) < x!.want * 0.98)) continue;
    const cuts = faces.some((f) => {
      const x = bladeToward(kind, l.at, axisOf(l), f.eyes);
      return x?.which === which && edgeFrom(x, open) < x.want + 0.1;
    });
    return cuts ? undefined : { which, doors: { ...l.doors, [which]: open } };
  }
  return undefined;
}

/** Slope from which on a door begins to hide the near edge of the face. */
const edgeFrom = (x: { halfM: number; longM: number }, openDeg: number): number => {
  const a = (openDeg * Math.PI) / 180;
  return (Math.sin(a) * x.longM) / (0.004 + Math.cos(a) * x.longM);
};

const seen = (view: View, at: Vec3, sizeM: number): boolean => {
  const f = onFrame(view, at);
  const reach = (0.75 * sizeM) / Math.max(0.1, f.depthM);
  return f.depthM > -sizeM && Math.abs(f.x) < 1 + reach / view.tanH && Math.abs(f.y) < 1 + reach / view.tanV;
};

/** Whether a flag there would cut a lamp's line to a face it is for, stand at a head, or stick in a wall or thing. */
export function spoils(b: Bench, lamps: readonly There[], at: Vec3, sizeM: number): boolean {
  const half = sizeM * 0.5 + 0.02;
  if (!inside(b.place.outline, at[0], at[1]) || at[2] + half > (b.place.ceilingM ?? 9)) return true;
  if (Object.values(b.place.furniture).some((f) => toBoxM(f, at) < half * 0.7)) return true;
  if (b.ground.faces.some((f) => distance(f.eyes, at) < 0.3 + half)) return true;
  return lamps.some(
    (l) =>
      l.on &&
      l.put.job !== 'bounce' &&
      l.put.for.concat(l.put.behind ?? []).some((f) => fromLineM(l.at, f.eyes, at) < half),
  );
}

/** What holds a flag there, in words, and which of the kit it is. */
function holdsAt(b: Bench, at: Vec3): Holds {
  const holder = clampNear(b.place, at, 1.2);
  const words = holder ? `arm from ${holder.words}` : 'arm on a stand out of frame';
  const of = (kind: string) =>
    Object.entries(b.shoot.kit.supports).find(([, t]) => t.kind === kind && t.count > 0)?.[0];
  const kit = holder ? of('arm') : (of('stand-arm') ?? of('arm'));
  return kit === undefined ? { words } : { words, kit };
}

function hang(
  out: Flags,
  angle: string,
  f: { words: string; at: Vec3; facing: Vec3; sizeM: [number, number]; holds: Holds; says: string },
): void {
  // The same flag may serve a second angle.
  const same = out.hung.find((h) => distance(h.flag.at as Vec3, f.at) < 0.05);
  if (same) {
    same.flag.angles = [...(same.flag.angles ?? []), angle];
    return;
  }
  const id = `F${out.hung.length + 1}`;
  if (f.holds.kit === undefined)
    out.gave.push(
      `What holds ${id} is not in the kit: an arm, and a stand with a bag if nothing is overhead.`,
    );
  out.hung.push({
    id,
    says: `${id} ${f.says}.`,
    flag: {
      words: f.words,
      at: f.at as [number, number, number],
      facing: f.facing as [number, number, number],
      sizeM: f.sizeM,
      kind: 'flag',
      finish: { words: 'black velvet', reflectance: 0.01 },
      angles: [angle],
      support: { kind: 'hung', ...f.holds },
    },
  });
}

const triple = (v: Vec3): Vec3 => [+v[0].toFixed(3), +v[1].toFixed(3), +v[2].toFixed(3)];
