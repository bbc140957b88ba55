/**
 * Cures tried before they are offered: each idea is made in data, the angle is looked at again, and the idea stays only
 * if its trouble is gone or less. What it costs and what it makes instead stands in the same sentence; one that makes a
 * worse trouble comes last and says that it is worse.
 */

import { weightsOf } from '../setup/weights.ts';
import { applyEdits } from '../shoot/edits.ts';
import { type AngleRef, anglesOf, lightName } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { Tracer } from '../transport/tracer.ts';
import { fullLook, type Known, reweighed, smallLook, type Told, type TryOptions } from './afterEdit.ts';
import { listed } from './listed.ts';
import { powerTroubles } from './powerTroubles.ts';
import { type Price, priceOf } from './price.ts';
import {
  type Cure,
  type Found,
  type Idea,
  keyOf,
  type Trouble,
  type TroubleKind,
  untried,
} from './trouble.ts';

/** A trouble that is smaller by this share is lessened; greater by it, a worse one. */
const LESS = 0.8;
const MORE = 1.15;
/** A face may lose this much and the cure still cost nothing, stops. */
const FREE_STOPS = 1 / 6;
/** Behind every other cure. */
const LAST = 1e6;
/** Troubles by which people, or the place, could come to harm: nothing is cured at their price. */
const CAN_HURT: ReadonlySet<TroubleKind> = new Set([
  'stand-cannot-stand',
  'heat-near',
  'circuit-over',
  'plug-over',
  'lead-over',
  'long-load',
  'keep-off',
  'lead-in-the-way',
  'flashing',
]);
/** As many cures as are offered against one trouble. */
const OFFERED = 4;

/** What came of trying one idea. */
export interface Tried {
  before: Told;
  after: Told;
  /** Troubles in other angles that the act makes. */
  elsewhere: Elsewhere[];
}
interface Elsewhere {
  angle: string;
  short: string;
}

export interface Trier {
  known: Known;
  /** What trying this idea comes to; undefined: it cannot be done. Kept by content. */
  of(idea: Idea): Promise<Tried | undefined>;
  /** What several come to together. */
  ofAll(ideas: readonly Idea[]): Promise<Tried | undefined>;
}

export function trier(tracer: Tracer, known: Known, o: TryOptions): Trier {
  const kept = new Map<string, Promise<Tried | undefined>>();
  const full = fullLook(known);
  let small: Promise<Told> | undefined;
  const smallNow = () => {
    const { shoot, ref, people } = known;
    small ??= smallLook(tracer, shoot, ref, people, known, o);
    return small;
  };
  const { shoot: now, people } = known;
  const there = (shoot: Shoot, ref: AngleRef, what: string): Promise<Told> => {
    let kept = lookedAt.get(now);
    if (!kept) {
      kept = new Map();
      lookedAt.set(now, kept);
    }
    const key = `${ref.angle}|${what}`;
    let told = kept.get(key);
    if (!told) {
      told = smallLook(tracer, shoot, ref, people, undefined, o);
      kept.set(key, told);
    }
    return told;
  };
  async function attempt(ideas: readonly Idea[]): Promise<Tried | undefined> {
    let shoot: Shoot;
    try {
      shoot = applyEdits(known.shoot, ideas).shoot;
    } catch {
      return undefined;
    }
    const again = reweighed(known, shoot);
    if (again) return { before: full, after: fullLook(again), elsewhere: supplyElsewhere(known, shoot) };
    const before = await smallNow();
    const after = await smallLook(tracer, shoot, known.ref, people, known, o);
    // An act on the whole rig is looked at from every angle of the scene.
    const elsewhere: Elsewhere[] = [];
    if (ideas.some(ofTheRig))
      for (const ref of anglesOf(shoot)) {
        if (ref.scene !== known.ref.scene || ref.angle === known.ref.angle) continue;
        const made = madeBy(
          (await there(now, ref, '')).found.filter((t) => SEEN_WITHOUT_BOUNCE.has(t.kind)),
          (await there(shoot, ref, contentOf(ideas))).found.filter((t) => SEEN_WITHOUT_BOUNCE.has(t.kind)),
        );
        elsewhere.push(...made.map(({ short }) => ({ angle: ref.angle, short })));
      }
    return { before, after, elsewhere };
  }
  return {
    known,
    of(idea) {
      const key = contentOf([idea]);
      let tried = kept.get(key);
      if (!tried) {
        tried = attempt([idea]);
        kept.set(key, tried);
      }
      return tried;
    },
    ofAll: attempt,
  };
}

const contentOf = (ideas: readonly Idea[]): string => JSON.stringify(ideas.map((i) => [i.edit, i.args]));
const ofTheRig = ({ args }: Idea): boolean =>
  args.angle === undefined && (args.flag as { angles?: unknown } | undefined)?.angles === undefined;
/** Other angles without their bounced light, by shoot: all angles that try an act on the rig ask for the same. */
const lookedAt = new WeakMap<Shoot, Map<string, Promise<Told>>>();

/** Troubles that can be told of another angle without its bounced light. */
const SEEN_WITHOUT_BOUNCE: ReadonlySet<TroubleKind> = new Set([
  'lamp-in-frame',
  'stand-in-frame',
  'flag-in-frame',
  'face-hidden',
  'flare',
  'unattractive-zone',
  'stand-cannot-stand',
  'heat-near',
]);

/** Supply troubles that an act makes while other angles burn other lamps. */
function supplyElsewhere(k: Known, shoot: Shoot): Elsewhere[] {
  const of = (s: Shoot, ref: AngleRef) =>
    powerTroubles({ shoot: s, where: ref, solution: weightsOf(s, ref).supply });
  if (shoot.places === k.shoot.places && sameFeeds(k.shoot, shoot, k.ref.scene)) return [];
  return anglesOf(shoot)
    .filter((ref) => ref.scene === k.ref.scene && ref.angle !== k.ref.angle)
    .flatMap((ref) =>
      madeBy(of(k.shoot, ref), of(shoot, ref)).map(({ short }) => ({ angle: ref.angle, short })),
    );
}
const sameFeeds = (a: Shoot, b: Shoot, scene: string) =>
  JSON.stringify(Object.values(a.scenes[scene]!.rig.lamps).map((l) => l.feed)) ===
  JSON.stringify(Object.values(b.scenes[scene]!.rig.lamps).map((l) => l.feed));

/** Troubles that trying has made, this angle's first, and whether people or the place could come to harm by one. */
export function madeByTrying({ before, after, elsewhere }: Tried): { says: string[]; harm: boolean } {
  const made = madeBy(before.found, after.found).sort((a, b) => b.severity - a.severity);
  return {
    says: [...made.map((x) => x.short), ...elsewhere.map((x) => `in ${x.angle} ${x.short}`)],
    harm: made.some((x) => CAN_HURT.has(x.kind)),
  };
}

/** Troubles that were not there before, or are worse than they were; notes and what is meant are none. */
function madeBy(before: readonly Found[], after: readonly Found[]): Found[] {
  const was = new Map(before.map((t) => [keyOf(t), t]));
  return after.filter((t) => {
    if (t.severity < 1 || t.meant !== undefined) return false;
    const old = was.get(keyOf(t));
    return !old || t.severity > old.severity || (t.severity === old.severity && t.size > old.size * MORE);
  });
}

/** A trouble with those of its ideas that help, best first. */
export async function withCures(t: Found, trial: Trier): Promise<Trouble> {
  const cures: { cure: Cure; rank: number }[] = [];
  const said = new Set<string>();
  for (const idea of t.ideas()) {
    const tried = await trial.of(idea);
    const made = tried && judged(t, idea, tried, trial.known);
    if (!made || said.has(made.cure.says)) continue;
    said.add(made.cure.says);
    cures.push(made);
  }
  cures.sort((a, b) => a.rank - b.rank);
  return { ...untried(t), cures: cures.slice(0, OFFERED).map((c) => c.cure), tried: true };
}

/** What it costs the people this angle sees, `without` this one. */
export function costOf(
  { before, after }: Pick<Tried, 'before' | 'after'>,
  known: Known,
  without?: string,
): Price {
  const seen = new Set(
    before.angle.marks
      .filter((m) => m.id !== without && m.part >= 0 && before.reading.seen.has(m.part))
      .map((m) => m.id),
  );
  return priceOf(
    before.reading.marks,
    after.reading.marks,
    seen,
    (light) => lightName(known.angle.rig, light),
    Math.log2(before.eRefLx / after.eRefLx),
  );
}

/** The cure an idea makes, and where it stands among others; undefined: its trouble is no less for it. */
function judged(
  t: Found,
  idea: Idea,
  { before, after, elsewhere }: Tried,
  known: Known,
): { cure: Cure; rank: number } | undefined {
  const was = before.found.find((x) => keyOf(x) === keyOf(t));
  const left = after.found.find((x) => keyOf(x) === keyOf(t));
  // Too small for the small picture to find: nothing can be said of it there.
  if (!was && before.found !== after.found && left) return undefined;
  const from = was ?? t;
  if (left && !(left.severity < from.severity || left.size <= from.size * LESS)) return undefined;
  const made = madeBy(before.found, after.found).filter((x) => keyOf(x) !== keyOf(t));
  // What makes a worse one is offered last, and says so first; where people could come to harm it is no cure.
  const worse = made.filter((x) => x.severity > t.severity).sort((a, b) => b.severity - a.severity);
  if (worse.some((x) => CAN_HURT.has(x.kind))) return undefined;
  const price = costOf({ before, after }, known);
  // What happens in several angles is said once.
  const others = new Map<string, string[]>();
  for (const { angle, short } of elsewhere) others.set(short, [...(others.get(short) ?? []), angle]);
  const tooIn = ({ short }: Found): string => {
    const angles = others.get(short);
    others.delete(short);
    return angles ? `${short}, in ${listed(angles)} too` : short;
  };
  const but = [
    ...worse.map((x) => `worse: ${tooIn(x)}`),
    ...made.filter((x) => !worse.includes(x)).map(tooIn),
    ...[...others].map(([short, angles]) => `in ${listed(angles)} ${short}`),
  ];
  const ends = before.found
    .filter((x) => x.meant === undefined && !after.found.some((y) => keyOf(y) === keyOf(x)))
    .map(keyOf);
  const still = left && `${left.short}${left.severity < from.severity ? '' : ' still, less'}`;
  const parts = [
    idea.act,
    idea.scope ? `, ${idea.scope}` : '',
    idea.needs || price.says.length
      ? ` (${[idea.needs ? `needs ${idea.needs}` : '', ...price.says].filter(Boolean).join('; ')})`
      : '',
    still ? `; ${still}` : '',
    but.length ? `, but ${but.slice(0, 3).join(' and ')}${but.length > 3 ? ' and more' : ''}` : '',
    '.',
  ];
  // A lamp put out is never nothing: what it did for the room, no face tells.
  const out = idea.args.on === false && idea.edit === 'switchLamp';
  const free = !out && !idea.needs && !left && but.length === 0 && price.lossStops <= FREE_STOPS;
  const worst = Math.max(0, ...made.map((x) => x.severity), elsewhere.length ? 2 : 0);
  return {
    cure: {
      ...idea,
      says: parts.join(''),
      price: price.says,
      ...(still ? { left: still } : {}),
      but,
      ends,
      free,
    },
    rank:
      (worse.length ? LAST : 0) +
      (left ? 40 : 0) +
      30 * worst +
      (Number.isFinite(price.lossStops) ? 10 * price.changeStops : 60) +
      (idea.needs ? 5 : 0) +
      (out ? 60 : 0) -
      3 * ends.length,
  };
}

/**
 * Those cures of an angle that cost nothing and can all be made at once: tried together, and the last one left out until
 * they make no new trouble and still cost no face anything.
 */
export async function freeTogether(troubles: readonly Trouble[], trial: Trier): Promise<Cure[]> {
  const chosen: Cure[] = [];
  const ended = new Set<string>();
  for (const t of [...troubles].sort((a, b) => b.severity - a.severity)) {
    if (t.meant !== undefined || ended.has(keyOf(t))) continue;
    const cure = t.cures.find((c) => c.free);
    // One act on a thing: a lamp is not carried to two places.
    if (
      !cure ||
      chosen.some(
        (c) => c.edit === cure.edit && c.args.lamp === cure.args.lamp && c.args.load === cure.args.load,
      )
    )
      continue;
    chosen.push(cure);
    for (const key of cure.ends) ended.add(key);
  }
  while (chosen.length > 1) {
    const tried = await trial.ofAll(chosen);
    if (
      tried &&
      madeBy(tried.before.found, tried.after.found).length === 0 &&
      tried.elsewhere.length === 0 &&
      costOf(tried, trial.known).lossStops <= FREE_STOPS
    )
      break;
    chosen.pop();
  }
  return chosen;
}

/** All troubles of an angle with their cures tried; notes below 1 and what is meant are left as they are. */
export async function tryAll(found: readonly Found[], trial: Trier): Promise<Trouble[]> {
  const out: Trouble[] = [];
  for (const t of found)
    out.push(
      t.severity < 1 || t.meant !== undefined ? { ...untried(t), tried: true } : await withCures(t, trial),
    );
  return out;
}
