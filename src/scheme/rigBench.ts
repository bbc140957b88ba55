/** What a rig is made from: the ground, heads and stands that are left, and one lamp put for a job. */
import { DEG, type Vec3 } from '../maths/vec3.ts';
import { wrap } from '../readings/bearing.ts';
import { exposureOf } from '../setup/develop.ts';
import { viewOf } from '../setup/view.ts';
import type { KitThing, Place, Scene, Shoot } from '../shoot/schema.ts';
import { areaM2, wallLengthM } from '../shoot/walls.ts';
import { type Face, type Ground, groundOf, type Site, sites, UNDER_CEILING_M } from './rigGround.ts';
import { type Fallen, type Job, type Placed, place, type Want } from './rigJobs.ts';
import {
  type Bouncer,
  bouncedLx,
  type Gives,
  givesLx,
  type Head,
  headsIn,
  rangeOf,
  type Setting,
  type Stock,
  throws,
} from './rigLight.ts';

export interface Stand {
  id: string;
  thing: KitThing;
  footM: number;
  heightM: readonly [number, number];
}

export interface Bench {
  shoot: Shoot;
  sceneId: string;
  scene: Scene;
  place: Place;
  ground: Ground;
  /** Of each face: + most cameras stand on the person's left, − on their right. */
  cameraSide: Map<string, number>;
  heads: Head[];
  stands: Stand[];
  kept: Map<string, Site[]>;
  /** What the set stop asks for, lux. */
  wantLx: number;
}

/** One lamp put for a job; how bright it is set comes last, for all of them together. */
export interface Put {
  job: Job;
  for: Face[];
  behind?: Face;
  placed: Placed;
  head: Head;
  stand: Stand;
  /** How many stops under the key it is asked to be. */
  underStops: number;
}

/** A back light as bright on the hair as the key on the face; fill a quarter of it (common practice, no source). */
export const UNDER_KEY: Record<Job, number> = { key: 0, back: 0, fill: 2, bounce: 2 };
/** So much over that a back light may burn before anybody minds, stops (common practice, no source). */
export const BACK_OVER = 0.75;
/** One who faces another's back light has it as fill: so far under the key at least (common practice, no source). */
const AS_FILL = 1.3;

export function benchOf(shoot: Shoot, sceneId: string): Bench {
  const scene = shoot.scenes[sceneId]!;
  const plan = shoot.places[scene.place]!;
  const faces = Object.entries(scene.marks)
    .filter(([, m]) => m.person !== undefined)
    .map(([id, m]): Face => ({ id, eyes: [m.at[0], m.at[1], m.eyeM], facingDeg: m.facings[0]! }));
  const views = Object.entries(scene.angles).map(([id, a]) => ({ id, view: viewOf(a) }));
  const cameraSide = new Map<string, number>();
  for (const f of faces) {
    let sum = 0;
    for (const { view } of views) {
      const to = Math.atan2(view.eye[1] - f.eyes[1], view.eye[0] - f.eyes[0]) / DEG;
      sum += Math.sign(Math.sin(wrap(to - f.facingDeg) * DEG));
    }
    cameraSide.set(f.id, Math.sign(sum));
  }
  const stands = Object.entries(shoot.kit.supports).flatMap(([id, thing]): Stand[] => {
    const { heightM, footM } = thing;
    if (!heightM || footM === undefined) return [];
    return Array.from({ length: thing.count }, () => ({ id, thing, footM, heightM }));
  });
  return {
    shoot,
    sceneId,
    scene,
    place: plan,
    ground: groundOf(plan, faces, views),
    cameraSide,
    heads: headsIn(shoot).filter((h) => rightVolts(h, plan.supply.nominalV)),
    // Those that go highest first.
    stands: stands.sort((a, b) => b.heightM[1] - a.heightM[1] || a.footM - b.footM),
    kept: new Map(),
    wantLx: exposureOf(scene.camera, shoot.exposureConstant).eRefLx,
  };
}

/** A bulb marked for other mains is not plugged in. */
const rightVolts = (h: Head, nominalV: number): boolean =>
  h.kind.supply !== 'mains' || Math.abs((h.head.volts ?? h.kind.ratedV) / nominalV - 1) < 0.12;

export function sitesFor(b: Bench, s: Stand): Site[] {
  const key = `${s.footM}/${s.heightM.join()}`;
  let made = b.kept.get(key);
  if (!made) {
    made = sites(b.ground, s);
    b.kept.set(key, made);
  }
  return made;
}

/** What a put lamp gives at those it is for: direct, or by way of the ceiling. */
export function givesOf(b: Bench, p: Pick<Put, 'job' | 'for' | 'head'>, at: Vec3, aim: Vec3): Gives {
  if (p.job === 'bounce') {
    const bouncer = ceilingOf(b.place, aim);
    return (s: Setting) => p.for.map((f) => bouncedLx(p.head, s, bouncer, f.eyes));
  }
  return (s: Setting) => p.for.map((f) => givesLx(p.head, at, aim, s, f.eyes));
}

export function ceilingOf(plan: Place, at: Vec3): Bouncer {
  const floor = Math.abs(areaM2(plan.outline));
  const high = plan.ceilingM ?? 3;
  const walls = plan.outline.reduce((s, _, i) => s + wallLengthM(plan.outline, i), 0) * high;
  const [up, round, down] = [
    plan.ceiling?.reflectance ?? 0.7,
    plan.walls.reflectance,
    plan.floor.reflectance,
  ];
  return {
    at,
    reflectance: up,
    areaM2: 2 * floor + walls,
    meanReflectance: (floor * (up + down) + walls * round) / (2 * floor + walls),
  };
}

/** Whether there is a ceiling worth aiming into. */
export const ceilingSends = (plan: Place): boolean =>
  plan.ceilingM !== undefined && plan.ceilingM <= 4.5 && (plan.ceiling?.reflectance ?? 0.7) >= 0.4;

/** A head with a lens for key and back, a plain one into the ceiling (common practice, no source). */
function suits(b: Bench, h: Head, job: Job, pair: boolean): number {
  const { kind } = h;
  const soft = kind.emitter.kind === 'rectangle' && kind.emitter.widthM >= 0.2;
  const lens = kind.optics.kind === 'focus';
  if (job === 'fill') return soft ? -0.4 : 0.6;
  if (job === 'bounce') return soft ? 0.2 : kind.doors ? 0.1 : -0.1;
  if (job === 'back') return lens ? -0.2 : 0;
  // Two alike make a pair.
  const alone = pair && b.heads.filter((x) => x.kind.id === kind.id).length < 2 ? 0.8 : 0;
  return alone + (lens || soft ? -0.2 : kind.doors ? 0 : 0.5);
}

/** One lamp put for a job: where, which head, on which stand; or why not. */
export function put(
  b: Bench,
  ground: Ground,
  job: Job,
  who: Face[],
  before: readonly Put[],
  stock: Stock,
  more: { behind?: Face; like?: string; pair?: boolean } = {},
): Put | string {
  const used = new Set(before.map((p) => p.head.id));
  const heads = b.heads.filter((h) => !used.has(h.id) && throws(h.kind));
  if (heads.length === 0) return 'there is no further lamp for it';
  const stands = b.stands.filter((s) => before.filter((p) => p.stand.id === s.id).length < s.thing.count);
  if (stands.length === 0) return 'there is no further stand for it';
  const fallen: Fallen = new Map();
  let best: { put: Put; cost: number } | undefined;
  const places = new Map<string, Placed | undefined>();
  // Of each kind of head one, on the first stand that holds it.
  for (const head of new Map(heads.map((h) => [`${h.kind.id}/${h.factor}`, h])).values()) {
    const stand = stands.find((s) => (s.thing.holdsKg ?? 6) >= head.kind.massKg);
    if (!stand) {
      fallen.set(`the stands that are left do not hold its ${head.kind.massKg} kg`, 1e6);
      continue;
    }
    const hot = head.kind.watts > 500 ? 2 : head.kind.watts >= 100 ? 1 : 0;
    const key = `${stand.footM}/${stand.heightM.join()}/${hot}`;
    if (!places.has(key)) {
      const want: Want = {
        job,
        faces: who,
        cameraSide: b.cameraSide,
        taken: ground.views.map(({ id }) => before.map((p) => p.placed.cheats.get(id)?.at ?? p.placed.at)),
        watts: head.kind.watts,
        ...(more.behind ? { behind: more.behind } : {}),
      };
      places.set(key, place(ground, sitesFor(b, stand), want, fallen));
    }
    const placed = places.get(key);
    if (!placed) continue;
    const made: Put = {
      job,
      for: who,
      placed,
      head,
      stand,
      underStops: UNDER_KEY[job],
      ...(more.behind ? { behind: more.behind } : {}),
    };
    if (job === 'back') made.underStops = underOthers(ground, made);
    // How far out of its reach what is asked of it lies.
    const [low, high] = rangeOf(head, givesOf(b, made, placed.at, placed.aim), stock);
    const asked = b.wantLx / 2 ** made.underStops;
    const off = Math.max(0, Math.log2(low / asked)) * 0.6 + Math.max(0, Math.log2(asked / high)) * 1.2;
    const cost =
      placed.cost +
      off +
      (more.like && more.like !== head.kind.id ? 0.8 : 0) +
      suits(b, head, job, more.pair ?? false);
    if (!best || cost < best.cost) best = { cost, put: made };
  }
  return best ? best.put : whyNot(fallen, b, stands[0]!);
}

/** How far under the key a back light must be, so that one who faces it has it as fill and no second key. */
function underOthers(ground: Ground, p: Put): number {
  const { at, aim } = p.placed;
  const bare = { focus: 0, level: 1, sheets: [], scrims: [] };
  const own = Math.max(1e-9, ...p.for.map((f) => givesLx(p.head, at, aim, bare, f.eyes)));
  let under = UNDER_KEY.back;
  for (const f of ground.faces) {
    if (p.for.includes(f) || p.placed.bearings.get(f.id)!.azimuthDeg >= 95) continue;
    under = Math.max(under, AS_FILL + Math.log2(givesLx(p.head, at, aim, bare, f.eyes) / own));
  }
  return under;
}

function whyNot(fallen: Fallen, b: Bench, stand: Stand): string {
  if (sitesFor(b, stand).length === 0) {
    const ceiling = b.place.ceilingM;
    return ceiling !== undefined && ceiling - UNDER_CEILING_M < stand.heightM[0]
      ? `under a ceiling of ${ceiling.toFixed(2)} m no head on the ${stand.thing.words ?? 'stand'} (${stand.heightM[0]} m at its lowest) keeps ${UNDER_CEILING_M} m from it`
      : 'no floor is left for a stand that is clear of walls, things, people and cameras and out of frame';
  }
  const [why] = [...fallen].sort((x, y) => y[1] - x[1]);
  return why ? `at most places ${why[0]}` : 'no one place serves the angles that need it';
}
