/**
 * What each lamp earns: it is struck, and what every angle loses is read. Light adds, so this asks no ray: the same
 * meters under other weights, the supply solved without it. What clips in the picture is not asked.
 */
import type { Solution } from '../power/solve.ts';
import { wrap } from '../readings/bearing.ts';
import type { Measured } from '../readings/measure.ts';
import { type AngleReading, readAngle, type SpotReading } from '../readings/readAngle.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { AngleGeometry, AngleWeights } from '../setup/angle.ts';
import type { Exposure } from '../setup/develop.ts';
import { relayed } from '../setup/relays.ts';
import { weightsOf } from '../setup/weights.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot, Wish } from '../shoot/schema.ts';
import type { Hits } from '../transport/tracer.ts';
import type { Trouble } from './trouble.ts';
import { troublesOf } from './troubles.ts';

/** Loss is counted no further than this: the ruler’s own length; beyond it all is dark. */
const MOST_STOPS = 6;
/** A wish is kept within this where it does not say, stops (judgement). */
const WITHIN = 0.5;
/** A rim of light and a wall are less of the picture than a side of a face: their loss counts half (judgement). */
const HALF = 0.5;
/** Smaller losses are not spoken of, stops. */
const SPEAKS = 0.1;

export interface EarnedInAngle {
  lamp: string;
  /** The greatest single loss on what this angle sees, edges and spots counted half; stops, not under nought. */
  lostStops: number;
  /** What is lost, what counts most first: stops, and how much of them counts. */
  losses: { what: string; stops: number; weight: number }[];
  /** Faces whose ratio moves by a tenth of a stop, as n:1 before and after. */
  ratios: { mark: string; from: number; to: number }[];
  /** Face against the background spots seen, stops under key, before and after. */
  separations: { spot: string; from: number; to: number }[];
  /** Wishes that hold with the lamp and not without it; and the other way. */
  broken: string[];
  mended: string[];
  /** Troubles that go with it, and that come. */
  gone: string[];
  come: string[];
}

/** What `earned` needs of an angle with and without the lamp. */
export interface Looked {
  marks: readonly MarkReading[];
  spots: readonly SpotReading[];
  troubles: readonly Pick<Trouble, 'kind' | 'lamp' | 'subject' | 'severity' | 'says' | 'meant'>[];
}

const held = (stops: number): number => Math.max(-MOST_STOPS, Math.min(MOST_STOPS, stops));
const sides = (m: MarkReading): { left: number | undefined; right: number | undefined } => {
  const [lit, shade] = [m.litOverGreyStops, m.shadeOverGreyStops];
  return m.litSide === 'left' ? { left: lit, right: shade } : { left: shade, right: lit };
};
/** Light from behind on a face against what else falls there, stops it adds; nought without any. */
const edgeStops = (m: MarkReading): number => {
  const back = m.lamps
    .filter((l) => l.role === 'back' || l.role === 'kicker')
    .reduce((s, l) => s + l.directLx, 0);
  const rest = m.lamps.reduce((s, l) => s + l.bouncedLx, 0);
  return back > 0 ? Math.log2((back + rest) / Math.max(rest, back / 2 ** MOST_STOPS)) : 0;
};

export function wishHolds(
  wish: Wish,
  marks: readonly MarkReading[],
  spots: readonly SpotReading[],
): boolean | undefined {
  const m = marks.find((x) => x.mark === wish.mark);
  const s = spots.find((x) => x.spot === wish.spot);
  const v =
    wish.reading === 'overStops'
      ? m?.overStops
      : wish.reading === 'ratioStops'
        ? m?.ratioStops
        : wish.reading === 'underKeyStops'
          ? s?.underKeyStops
          : (s?.lx ?? m?.incidentLx);
  if (v === undefined) return undefined;
  const off = wish.reading === 'lux' && wish.target > 0 ? Math.log2(v / wish.target) : v - wish.target;
  return Math.abs(off) <= (wish.reading === 'lux' ? WITHIN : (wish.within ?? WITHIN));
}
const wishWords = (w: Wish): string => {
  const whom = w.mark ?? w.spot ?? '';
  switch (w.reading) {
    case 'overStops':
      return `${whom} ${w.target >= 0 ? '+' : '−'}${Math.abs(w.target).toFixed(1)}`;
    case 'ratioStops':
      return `${whom} ${(2 ** w.target).toFixed(0)}:1`;
    case 'underKeyStops':
      return `${whom} ${w.target.toFixed(1)} under key`;
    case 'lux':
      return `${whom} ${w.target.toFixed(0)} lx`;
  }
};

/** The loss of one lamp in one angle. Pure: two looks at the same meters. */
export function earned(
  lamp: string,
  before: Looked,
  after: Looked,
  facesSeen: readonly string[],
  wishes: readonly Wish[],
): EarnedInAngle {
  const losses: EarnedInAngle['losses'] = [];
  const ratios: EarnedInAngle['ratios'] = [];
  const lose = (what: string, stops: number, weight: number) => {
    if (Math.abs(stops) >= SPEAKS) losses.push({ what, stops: held(stops), weight });
  };
  for (const b of before.marks) {
    const a = after.marks.find((m) => m.mark === b.mark);
    if (!a || !facesSeen.includes(b.mark)) continue;
    const [was, is] = [sides(b), sides(a)];
    for (const side of ['left', 'right'] as const) {
      if (was[side] === undefined) continue;
      const lit = b.litSide === side;
      lose(`${b.mark}’s ${lit ? 'lit' : 'shadow'} side`, held(was[side]!) - held(is[side] ?? -MOST_STOPS), 1);
    }
    lose(`${b.mark}’s edge`, edgeStops(b) - edgeStops(a), HALF);
    if (b.ratio !== undefined && a.ratio !== undefined && Math.abs(Math.log2(a.ratio / b.ratio)) >= SPEAKS)
      ratios.push({ mark: b.mark, from: b.ratio, to: a.ratio });
  }
  const separations: EarnedInAngle['separations'] = [];
  for (const b of before.spots) {
    const a = after.spots.find((s) => s.spot === b.spot);
    if (!a || !b.seen || !(b.lx > 0)) continue;
    lose(b.spot, a.lx > 0 ? Math.log2(b.lx / a.lx) : MOST_STOPS, HALF);
    if (
      b.underKeyStops !== undefined &&
      a.underKeyStops !== undefined &&
      Math.abs(a.underKeyStops - b.underKeyStops) >= SPEAKS
    )
      separations.push({ spot: b.spot, from: b.underKeyStops, to: a.underKeyStops });
  }
  losses.sort((x, y) => y.stops * y.weight - x.stops * x.weight);
  const state = (look: Looked) => wishes.map((w) => wishHolds(w, look.marks, look.spots));
  const [had, has] = [state(before), state(after)];
  const serious = (look: Looked) => look.troubles.filter((t) => t.meant === undefined && t.severity >= 2);
  const same = (x: Looked['troubles'][number], y: Looked['troubles'][number]) =>
    x.kind === y.kind && x.lamp === y.lamp && x.subject === y.subject;
  const [were, are] = [serious(before), serious(after)];
  return {
    lamp,
    lostStops: Math.max(0, losses[0] ? losses[0].stops * losses[0].weight : 0),
    losses,
    ratios,
    separations,
    broken: wishes.filter((_, i) => had[i] === true && has[i] !== true).map(wishWords),
    mended: wishes.filter((_, i) => had[i] !== true && has[i] === true).map(wishWords),
    gone: were.filter((t) => !are.some((x) => same(x, t))).map((t) => t.says),
    come: are.filter((t) => !were.some((x) => same(x, t))).map((t) => t.says),
  };
}

/** The shoot with a lamp out in the rig and wherever an angle cheats it on. */
export function struck(shoot: Shoot, scene: string, lamp: string): Shoot {
  const s = shoot.scenes[scene]!;
  const out = { ...s.rig.lamps[lamp]!, on: false };
  const angles = Object.fromEntries(
    Object.entries(s.angles).map(([id, a]) => {
      const cheat = a.cheats[lamp];
      return [id, cheat?.on ? { ...a, cheats: { ...a.cheats, [lamp]: { ...cheat, on: false } } } : a];
    }),
  );
  const rig = { ...s.rig, lamps: { ...s.rig.lamps, [lamp]: out } };
  return { ...shoot, scenes: { ...shoot.scenes, [scene]: { ...s, rig, angles } } };
}

/** Marks whose face an angle sees: in frame, and not turned more than 110° from the lens. */
export const facesSeenBy = (angle: AngleGeometry, reading: AngleReading): string[] =>
  angle.marks
    .filter((m) => {
      const to = (Math.atan2(angle.view.eye[1] - m.eyes[1], angle.view.eye[0] - m.eyes[0]) * 180) / Math.PI;
      return m.part >= 0 && reading.seen.has(m.part) && Math.abs(wrap(to - m.facingDeg)) < 110;
    })
    .map((m) => m.id);

export interface EarnsQuestion {
  shoot: Shoot;
  ref: AngleRef;
  angle: AngleGeometry;
  weights: AngleWeights;
  measured: Measured;
  exposure: Exposure;
  hits: Hits;
  reading: AngleReading;
  supply: Solution;
  facesSeen: readonly string[];
}

/** Every lamp that burns in this angle, struck in turn. */
export function earnsInAngle(q: EarnsQuestion): EarnedInAngle[] {
  const look = (shoot: Shoot, weights: AngleWeights, reading: AngleReading, supply: Solution): Looked => ({
    marks: reading.marks,
    spots: reading.spots,
    troubles: troublesOf({
      shoot,
      angle: q.angle,
      weights,
      reading,
      exposure: q.exposure,
      clipped: new Map(),
      supply,
    }),
  });
  const before = look(q.shoot, q.weights, q.reading, q.supply);
  return q.angle.lamps.flatMap((lamp): EarnedInAngle[] => {
    const own = q.weights.lamps.find((w) => w.id === lamp.id);
    if (!own || !(own.lightFactor > 0)) return [];
    const without = struck(q.shoot, q.ref.scene, lamp.id);
    const weighed = weightsOf(without, q.ref);
    const weights = relayed(q.angle, weighed.weights);
    const reading = readAngle(q.angle, weights, q.measured, q.exposure, q.hits);
    const after = look(without, weights, reading, weighed.supply);
    return [earned(lamp.id, before, after, q.facesSeen, q.angle.rig.angle.wishes)];
  });
}

export interface Earns {
  lamp: string;
  /** At nominal volts; undefined: not on the mains. */
  amps: number | undefined;
  /** Sum over the angles of the greatest loss in each, stops; and per amp. */
  stops: number;
  stopsPerAmp: number | undefined;
  byAngle: { angle: string; earned: EarnedInAngle }[];
}

/** Lamps by what they earn over all angles, most first; those that earn most for an amp by `perAmp`. */
export function ranked(
  angles: readonly { angle: string; earned: readonly EarnedInAngle[] }[],
  ampsOf: (lamp: string) => number | undefined,
  perAmp = false,
): Earns[] {
  const lamps = [...new Set(angles.flatMap((a) => a.earned.map((e) => e.lamp)))];
  const list = lamps.map((lamp): Earns => {
    const byAngle = angles.flatMap((a) => {
      const e = a.earned.find((x) => x.lamp === lamp);
      return e ? [{ angle: a.angle, earned: e }] : [];
    });
    const stops = byAngle.reduce((s, a) => s + a.earned.lostStops, 0);
    const drawn = ampsOf(lamp);
    const amps = drawn !== undefined && drawn > 0 ? drawn : undefined;
    return { lamp, amps, stops, stopsPerAmp: amps === undefined ? undefined : stops / amps, byAngle };
  });
  // Light that costs no amps is had for nothing.
  const rate = (e: Earns) => e.stopsPerAmp ?? (e.stops > 0 ? Number.POSITIVE_INFINITY : 0);
  return list.sort((a, b) => (perAmp ? rate(b) - rate(a) || b.stops - a.stops : b.stops - a.stops));
}

/** One angle’s loss as a sentence: what goes, most first; wishes and troubles. */
export function earnedWords(e: EarnedInAngle): string {
  const n = (v: number) => v.toFixed(v >= 10 ? 0 : 1);
  const parts: string[] = [];
  const lost = e.losses.filter((l) => l.stops > 0).slice(0, 3);
  if (lost.length)
    parts.push(
      `loses ${lost.map((l) => `${l.what} ${l.stops >= MOST_STOPS ? 'whole' : l.stops.toFixed(1)}`).join(', ')}`,
    );
  for (const r of e.ratios.slice(0, 2)) parts.push(`${r.mark} goes from ${n(r.from)}:1 to ${n(r.to)}:1`);
  for (const s of e.separations.slice(0, 1))
    parts.push(`${s.spot} from ${s.from.toFixed(1)} to ${s.to.toFixed(1)} under key`);
  if (e.broken.length) parts.push(`no longer ${e.broken.join(', ')}`);
  if (e.mended.length) parts.push(`then ${e.mended.join(', ')} as wished`);
  if (e.gone.length) parts.push(`rid of: ${e.gone.slice(0, 2).join(' ')}`);
  if (e.come.length) parts.push(`new: ${e.come.slice(0, 2).join(' ')}`);
  return parts.length ? `${parts.join('; ').replace(/\.$/, '')}.` : 'Nothing here would be missed.';
}
