/**
 * Cheats of a close-up that would bring it nearer to its wide, each traced before it is offered: what it makes of the
 * match, row by row, and what it costs: other faces and the background of that angle, new troubles, the supply. A cheat
 * that does not bring it nearer when traced is not offered, and that is said.
 */
import type { Edit } from '../shoot/edits.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { ofThirds, stopWords, thirdsOf } from '../shoot/thirds.ts';
import { fullLook, type Known, type Told } from './afterEdit.ts';
import type { Asked } from './look.ts';
import { type Difference, type Match, type MatchRead, matchOf, nearerOf, type Tolerance } from './match.ts';
import type { Idea } from './trouble.ts';
import { costOf, madeByTrying, type Trier } from './tryCures.ts';

export interface Nearer {
  /** The face it is for. */
  of: string;
  /** The act, a sentence. */
  says: string;
  edits: Edit[];
  /** What becomes of each thing that was off: “key 0.8 stops under: then within”. */
  becomes: string[];
  /** What could not be held, sentences. */
  gave: string[];
  /** What it changes on other faces. */
  price: string[];
  /** What it puts off or makes: troubles, other faces, the background. */
  but: string[];
}
/** Nothing to offer for a face, and why. */
export interface NotNearer {
  of: string;
  why: string;
}
export type Neared = Nearer | NotNearer;

/** What is left over the tolerance must be less than this share of what was (as a cure's trouble must). */
const LESS = 0.8;

/** A look after trying, as a match reads it; faces and spots that the angle sees stay those it saw. */
const readAfter = (close: MatchRead, t: Told): MatchRead => ({
  ...close,
  marks: t.reading.marks,
  spots: t.reading.spots.map((s) => ({
    ...s,
    seen: close.spots.find((x) => x.spot === s.spot)?.seen ?? s.seen,
  })),
  eRefLx: t.eRefLx,
  balance: t.balance,
});

/** By how much a row is over what may be, in tolerances; a thing that only one side has counts as twice. */
function over(r: Difference, t: Tolerance): number {
  if (!r.off) return 0;
  if (r.by === undefined) return 1;
  const may =
    r.unit === 'mired'
      ? t.mired
      : r.unit === 'hours'
        ? t.hours
        : r.unit === 'degrees'
          ? 30 * t.hours
          : t.stops;
  return Math.max(0.05, Math.abs(r.by) / may - 1);
}

/** The close-up as a match reads it, of what is known of it. */
export function closeOf(
  known: Known,
  facesSeen: (angle: Told['angle'], reading: Told['reading']) => string[],
): MatchRead {
  const now = fullLook(known);
  return {
    ...{ ref: known.ref, marks: now.reading.marks, spots: now.reading.spots },
    facesSeen: facesSeen(known.angle, now.reading),
    ...{ eRefLx: now.eRefLx, balance: now.balance, lamps: known.weights.lamps },
  };
}

const rowsOf = (m: Match, of: string): readonly Difference[] => m.parts.find((p) => p.of === of)?.rows ?? [];

/** What might be done, before anybody has tried it. */
type Way = Pick<Nearer, 'says' | 'edits' | 'gave'>;
const waysOf = (asked: Asked | string): Way[] =>
  typeof asked === 'string' || !asked.edits.length ? [] : [asked];
const nothing = (asked: Asked): string => ['No cheat of the key brings it nearer.', ...asked.gave].join(' ');

/** A key that is over or under by some thirds: the lens closed or opened by as many, in the close-up alone. */
function stopped(shoot: Shoot, close: MatchRead, rows: readonly Difference[]): Way[] {
  const by = rows.find((r) => r.what === 'key' && r.off)?.by;
  const now = rigFor(shoot, close.ref).camera.stop;
  if (by === undefined) return [];
  const stop = +ofThirds(thirdsOf(now) + Math.round(3 * by)).toFixed(2);
  if (stop < 0.7 || stop > 45 || thirdsOf(stop) === thirdsOf(now)) return [];
  return [
    {
      says: `${by > 0 ? 'Stop down' : 'Open up'} to ${stopWords(stop)}.`,
      edits: [{ edit: 'setCamera', args: { ...close.ref, camera: { stop } } }],
      gave: [],
    },
  ];
}

export async function nearerTried(
  shoot: Shoot,
  wide: MatchRead,
  close: MatchRead,
  tolerance: Tolerance,
  trial: Trier,
): Promise<Neared[]> {
  const before = matchOf(shoot, wide, close, tolerance);
  const out: Neared[] = [];
  for (const part of before.parts) {
    if (part.kind !== 'face' || !part.rows.some((r) => r.off)) continue;
    const of = part.of;
    const asked = nearerOf(shoot, wide, close, of);
    const ways = [...waysOf(asked), ...stopped(shoot, close, part.rows)];
    if (!ways.length) {
      out.push({ of, why: typeof asked === 'string' ? asked : nothing(asked) });
      continue;
    }
    const made: { offer: Nearer; left: number }[] = [];
    const not: string[] = [];
    for (const way of ways) {
      const one = await attempt(way, of);
      if (typeof one === 'string') not.push(one);
      else made.push(one);
    }
    made.sort((a, b) => a.left - b.left);
    if (made.length) out.push(...made.map((x) => x.offer));
    else out.push({ of, why: `Tried and left out: ${not.join('; ')}.` });
  }

  /** One way tried: what it comes to and what is left over the tolerance; or why it is not offered, a clause. */
  async function attempt(way: Way, of: string): Promise<{ offer: Nearer; left: number } | string> {
    const act = way.says.replace(/\.$/, '');
    const tried = await trial.ofAll(way.edits.map((e): Idea => ({ ...e, act, scope: '' })));
    if (!tried) return `${act}: it cannot be done`;
    // The same look before and after: where shapes moved both are small ones, with the bounced light as it was.
    const was = matchOf(shoot, wide, readAfter(close, tried.before), tolerance);
    const is = matchOf(shoot, wide, readAfter(close, tried.after), tolerance);
    const after = new Map(rowsOf(is, of).map((r) => [r.what, r]));
    const becomes: string[] = [];
    const but: string[] = [];
    let [had, has] = [0, 0];
    for (const r of rowsOf(was, of)) {
      const a = after.get(r.what);
      // Shadows are not asked where shapes moved: their pattern is told by the picture.
      if (!a) continue;
      had += over(r, tolerance);
      has += over(a, tolerance);
      if (r.off)
        becomes.push(
          `${r.says}: then ${a.off ? a.says.replace(/^(key|contrast|back light) /, '') : 'within'}`,
        );
      else if (a.off) but.push(a.says);
    }
    const made = madeByTrying(tried);
    if (made.harm) return `${act}: it makes ${made.says[0]}`;
    if (!(has < LESS * had))
      return `${act}: traced, it brings it no nearer (${[...becomes, ...but.map((x) => `but ${x}`)].join('; ') || 'nothing changes'})`;
    // Other faces and the background, as the same cut shows them.
    for (const p of is.parts)
      if (p.of !== of)
        for (const r of p.rows)
          if (r.off && !rowsOf(was, p.of).some((x) => x.what === r.what && x.off))
            but.push(`${p.of}: ${r.says}`);
    return {
      left: has + 0.2 * made.says.length,
      offer: {
        ...{ of, says: way.says, edits: way.edits, becomes, gave: way.gave },
        price: costOf(tried, trial.known, of).says,
        but: [...but, ...made.says],
      },
    };
  }
  return out;
}
