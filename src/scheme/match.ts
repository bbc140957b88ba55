/**
 * A close-up held against its wide: what a cut between the two would show on every face and spot that both see, as
 * differences in stops, mired and hours of the clock round the face. Levels are
 * against each angle's own set stop, colours after its own white balance: as the pictures have them.
 */
import { printed, printedDifference } from '../maths/printed.ts';
import { castOf } from '../readings/balance.ts';
import { wrap } from '../readings/bearing.ts';
import type { SpotReading } from '../readings/readAngle.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { LampWeight } from '../setup/angle.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Scene, Shoot } from '../shoot/schema.ts';
import { type Asked, askLook, type Balanced, lookOf } from './look.ts';

/**
 * What may differ and still cut (common practice, no source): a third of a stop; an hour of the clock, about which a key's
 * place on the face changes its name; as many mired as the weakest correction gel shifts.
 */
export const MATCH = { stops: 1 / 3, mired: 20, hours: 1 } as const;
export type Tolerance = Record<keyof typeof MATCH, number>;
/** As the scene has it told, else as is usual. */
export const toleranceOf = ({ cut }: Pick<Scene, 'cut'>): Tolerance => ({
  stops: cut?.stops ?? MATCH.stops,
  mired: cut?.mired ?? MATCH.mired,
  hours: cut?.hours ?? MATCH.hours,
});
/** As much green or magenta as an eighth of a correction makes (judgement). */
const DUV = 0.004;

export interface MatchRead {
  ref: AngleRef;
  marks: readonly MarkReading[];
  facesSeen: readonly string[];
  spots: readonly SpotReading[];
  eRefLx: number;
  balance: Balanced;
  lamps: readonly LampWeight[];
}

export interface Difference {
  what:
    | 'key'
    | 'ratio'
    | 'side'
    | 'clock'
    | 'height'
    | 'key colour'
    | 'fill colour'
    | 'back'
    | 'background'
    | 'pattern';
  unit: 'stops' | 'mired' | 'hours' | 'degrees' | 'words';
  /** In the wide and in the close-up; undefined: there is none. */
  wide: number | string | undefined;
  close: number | string | undefined;
  /** The close-up's less the wide's; undefined: words differ, or one has none. */
  by: number | undefined;
  /** The same between the two figures as they are printed. */
  printedBy: number | undefined;
  /** Over what may be. */
  off: boolean;
  /** “key 0.8 stops over the wide’s” */
  says: string;
}
export interface Matched {
  /** A mark or a spot. */
  of: string;
  kind: 'face' | 'spot';
  rows: Difference[];
}
export interface Match {
  wide: AngleRef;
  close: AngleRef;
  parts: Matched[];
  /** Why some things are not compared, sentences. */
  notes: string[];
}

/** Figures after the point with which a row is printed. */
export const digitsOf = (unit: Difference['unit']): 0 | 1 => (unit === 'mired' || unit === 'degrees' ? 0 : 1);
const sized = (v: number, digits = 1) => Math.abs(v).toFixed(digits);
const more = (v: number, over: string, under: string) => (v >= 0 ? over : under);

/** In hours: where the key stands round the face seen from above, the face looking to 6; to its left is positive. */
const hourOf = (l: { azimuthDeg: number; side: 'left' | 'right' }): number =>
  ((l.side === 'left' ? 1 : -1) * l.azimuthDeg) / 30;

function faceRows(
  w: MarkReading,
  c: MarkReading,
  wide: MatchRead,
  close: MatchRead,
  t: Tolerance,
): Difference[] {
  const rows: Difference[] = [];
  const stops = (
    what: Difference['what'],
    a: number | undefined,
    b: number | undefined,
    says: (by: number) => string,
  ) => {
    if (a === undefined && b === undefined) return;
    const none = a === undefined || b === undefined;
    const by = none ? undefined : b - a;
    const printedBy = none ? undefined : printedDifference(a, b, 1);
    rows.push({
      ...{ what, unit: 'stops', wide: a, close: b, by, printedBy },
      off: by === undefined || Math.abs(by) > t.stops + 1e-9,
      says:
        printedBy === undefined
          ? `${what} only in ${(a === undefined ? close : wide).ref.angle}`
          : says(printedBy),
    });
  };
  stops('key', w.overStops, c.overStops, (by) => `key ${sized(by)} stops ${more(by, 'over', 'under')}`);
  stops(
    'ratio',
    w.ratioStops,
    c.ratioStops,
    (by) => `contrast ${sized(by)} stops ${more(by, 'more', 'less')}`,
  );
  stops(
    'back',
    w.backOverKeyStops,
    c.backOverKeyStops,
    (by) => `back light ${sized(by)} stops ${more(by, 'more', 'less')} against the key`,
  );
  const [kw, kc] = [w, c].map((m) => m.lamps.find((l) => l.role === 'key'));
  if (kw && kc) {
    // Nearly straight before the face there is no side to be on.
    const [from, to] = [hourOf(kw), hourOf(kc)];
    const hours = wrap(30 * (to - from)) / 30;
    const told = printed(wrap(30 * printedDifference(from, to, 1)) / 30, 1);
    rows.push({
      ...{ what: 'clock', unit: 'hours', wide: from, close: to, by: hours, printedBy: told },
      off: Math.abs(hours) > t.hours + 1e-9,
      says:
        kw.side !== kc.side && Math.abs(hours) > t.hours
          ? `key from the other side, ${sized(told)} hours round the face`
          : `key ${sized(told)} hours further to their ${more(told, 'left', 'right')}`,
    });
    const up = kc.elevationDeg - kw.elevationDeg;
    const upTold = printedDifference(kw.elevationDeg, kc.elevationDeg, 0);
    rows.push({
      ...{ what: 'height', unit: 'degrees', wide: kw.elevationDeg, close: kc.elevationDeg, by: up },
      printedBy: upTold,
      off: Math.abs(up) > 30 * t.hours + 1e-9,
      says: `key ${sized(upTold, 0)}° ${more(upTold, 'higher', 'lower')}`,
    });
  } else if (kw || kc)
    rows.push({
      ...{ what: 'clock', unit: 'hours', wide: kw && hourOf(kw), close: kc && hourOf(kc) },
      ...{ by: undefined, printedBy: undefined },
      off: true,
      says: `a key only in ${(kw ? wide : close).ref.angle}`,
    });
  for (const [what, key] of [
    ['key colour', 'litXyz'],
    ['fill colour', 'shadeXyz'],
  ] as const) {
    const [a, b] = [w[key] && castOf(w[key], wide.balance), c[key] && castOf(c[key], close.balance)];
    if (!a || !b) continue;
    const by = b.mired - a.mired;
    const printedBy = printedDifference(a.mired, b.mired, 0);
    const green = b.duv - a.duv;
    const tint = Math.abs(green) > DUV ? `, ${more(green, 'greener', 'more magenta')}` : '';
    rows.push({
      ...{ what, unit: 'mired', wide: a.mired, close: b.mired, by, printedBy },
      off: Math.abs(by) > t.mired + 1e-9 || tint !== '',
      says: `${what === 'key colour' ? 'lit' : 'shadow'} side ${sized(printedBy, 0)} mired ${more(printedBy, 'warmer', 'colder')}${tint}`,
    });
  }
  const [pw, pc] = [w.face?.key?.pattern, c.face?.key?.pattern];
  if (pw !== undefined && pc !== undefined)
    rows.push({
      ...{ what: 'pattern', unit: 'words', wide: pw, close: pc, by: undefined, printedBy: undefined },
      off: pw !== pc,
      says: pw === pc ? `${pw} in both` : `${pc} in place of ${pw}`,
    });
  return rows;
}

export function matchOf(
  shoot: Shoot,
  wide: MatchRead,
  close: MatchRead,
  tolerance: Tolerance = MATCH,
): Match {
  const notes: string[] = [];
  const parts: Matched[] = [];
  const rig = rigFor(shoot, close.ref);
  for (const mark of close.facesSeen) {
    const [w, c] = [wide, close].map((r) => r.marks.find((m) => m.mark === mark));
    if (!w || !c || !wide.facesSeen.includes(mark)) {
      notes.push(
        `${wide.ref.angle} does not see the face of ${rig.scene.marks[mark]?.name ?? mark}: it is not compared.`,
      );
      continue;
    }
    const rows = faceRows(w, c, wide, close, tolerance);
    parts.push({ of: mark, kind: 'face', rows });
  }
  for (const s of close.spots) {
    const w = wide.spots.find((x) => x.spot === s.spot);
    if (!w || !s.seen || !w.seen) continue;
    const rows: Difference[] = [];
    // Against the face, where both have a key: a face that is brighter in the close-up must not hide a darker wall.
    const keyed = w.underKeyStops !== undefined && s.underKeyStops !== undefined;
    const [a, b] = keyed ? [-w.underKeyStops!, -s.underKeyStops!] : [w.overGreyStops, s.overGreyStops];
    if (a !== undefined && b !== undefined) {
      const by = b - a;
      const printedBy = printedDifference(a, b, 1);
      rows.push({
        ...{ what: 'background', unit: 'stops', wide: a, close: b, by, printedBy },
        off: Math.abs(by) > tolerance.stops + 1e-9,
        says: `${sized(printedBy)} stops ${more(printedBy, 'brighter', 'darker')} ${keyed ? 'against the face' : 'in the picture'}`,
      });
    }
    if (rows.length) parts.push({ of: s.spot, kind: 'spot', rows });
  }
  if (!close.spots.some((s) => s.seen && wide.spots.find((x) => x.spot === s.spot)?.seen))
    notes.push('No named spot is seen in both: how the background stands to the face is not compared.');
  return { wide: wide.ref, close: close.ref, parts, notes };
}

/** The wide's light asked for on a face of the close-up, as edits of that angle alone; untried. */
export function nearerOf(shoot: Shoot, wide: MatchRead, close: MatchRead, mark: string): Asked | string {
  const [w, c] = [wide, close].map((r) => r.marks.find((m) => m.mark === mark));
  if (!w || !c) return `${mark} is not seen in both.`;
  const look = lookOf(shoot, wide.ref, { ...wide, mark: w }, mark);
  return typeof look === 'string' ? look : askLook(shoot, close.ref, mark, look, { ...close, mark: c });
}

/** “A: key 0.8 stops under; contrast 1.1 stops more. The rest is within ⅓ stop, 20 mired, 1 hour.” */
export function matchWords(shoot: Shoot, m: Match, t: Tolerance = MATCH): string[] {
  const scene = rigFor(shoot, m.close).scene;
  const within = `${Math.abs(t.stops - 1 / 3) < 0.004 ? '⅓' : t.stops.toFixed(2)} stop, ${t.mired.toFixed(0)} mired, ${t.hours.toFixed(1)} h`;
  return m.parts.map((p) => {
    const name = p.kind === 'face' ? (scene.marks[p.of]?.name ?? p.of) : (scene.spots[p.of]?.name ?? p.of);
    const off = p.rows.filter((r) => r.off);
    return off.length
      ? `${name}: ${off.map((r) => r.says).join('; ')}; the rest within ${within}.`
      : `${name}: within ${within}.`;
  });
}

/** What a wide sees that is not this close-up: the one that sees its faces through the shortest lens for the sensor. */
export function wideFor(
  shoot: Shoot,
  close: AngleRef,
  reads: Readonly<Record<string, { facesSeen: readonly string[] }>>,
): string | undefined {
  const { angles } = shoot.scenes[close.scene]!;
  const faces = reads[close.angle]?.facesSeen ?? [];
  const shared = (id: string) => faces.filter((f) => reads[id]?.facesSeen.includes(f)).length;
  const far = (id: string) => {
    const a = angles[id]!;
    return a.focalMm / Math.max(0.1, Math.hypot(...a.at.map((v, i) => v - a.lookAt[i]!)));
  };
  return Object.keys(angles)
    .filter((id) => id !== close.angle && (faces.length === 0 || shared(id) > 0))
    .sort((a, b) => shared(b) - shared(a) || far(a) - far(b))[0];
}
