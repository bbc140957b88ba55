/** From what the light said to what the meter shows: lines, points, sentences. Pure. */

import { stopsOfDensity } from '../camera/exposure.ts';
import { type ReadBy, wouldRead } from '../camera/meter.ts';
import { RESPONSES } from '../camera/response.ts';
import { causeWords, withArticle } from '../readings/causeWords.ts';
import { type MeterPoint, sameMeter } from '../readings/meter.ts';
import { type CauseMoved, type SheetRow, sheetOf } from '../readings/sheet.ts';
import { exposureOf } from '../setup/develop.ts';
import { learnedOf, SURPRISING_SIGMAS, type Surprise } from '../setup/learned.ts';
import { type AngleRef, isDaylight, lightName, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { stopWords, thirdWords, wholeAndThird } from '../shoot/thirds.ts';
import type { AngleResult } from './messages.ts';
import type { MeterAt } from './store.ts';
import { lux, signed } from './views.ts';

/** The camera as a meter in an angle. */
export function cameraThen(shoot: Shoot, ref: AngleRef) {
  const { camera } = rigFor(shoot, ref);
  const { shutterS } = exposureOf(camera, shoot.exposureConstant);
  const filterStops = stopsOfDensity(camera.ndDensity ?? 0);
  return {
    iso: camera.ei,
    ei: camera.ei,
    shutterS,
    filterStops,
    class: camera.class,
    constantC: shoot.exposureConstant,
    response: RESPONSES[camera.class],
  };
}
export type CameraThen = ReturnType<typeof cameraThen>;

/** T-number at which a grey card under so much light looks grey. */
export const stopFor = (lx: number, camera: CameraThen): number =>
  wouldRead('stop', lx, camera, camera.response);

export const footcandles = (lx: number): string => {
  const v = lx * 0.3048 ** 2;
  return v >= 10 ? v.toFixed(0) : v >= 1 ? v.toFixed(1) : v.toFixed(2);
};

/** The day’s lights: they cannot be put out while one lamp is read. */
export const dayOf = (r: AngleResult): string[] =>
  r.lamps.filter((l) => isDaylight(l.id) && l.lightFactor > 0).map((l) => l.id);

/** Lines of the sheet of an angle. */
export function linesOf(shoot: Shoot, r: AngleResult): SheetRow[] {
  const rig = rigFor(shoot, r.ref);
  const burning = Object.entries(rig.lamps)
    .filter(([id, l]) => l.on && (r.lamps.find((w) => w.id === id)?.lightFactor ?? 0) > 0)
    .map(([id]) => id);
  const faces = r.facesSeen.length ? r.facesSeen : r.marks.map((m) => m.mark);
  return sheetOf({
    shoot,
    scene: r.ref.scene,
    angle: r.ref.angle,
    points: r.meters,
    marks: r.marks,
    faces,
    spots: r.spots.filter((s) => s.seen).map((s) => s.spot),
    burning,
    always: dayOf(r),
    eRefLx: r.exposure.eRefLx,
  });
}

export const isLine = (row: SheetRow, at: MeterAt): boolean =>
  sameMeter(row, at) && row.lamps.length === at.lamps.length && row.lamps.every((l) => at.lamps.includes(l));

export const atOf = (row: SheetRow): MeterAt => ({
  ...(row.mark === undefined ? { spot: row.spot! } : { mark: row.mark }),
  toward: row.toward,
  lamps: row.lamps,
});

/** All lamps at a face, turned as its incident reading is, or flat on a spot: what a press on the ruler asks for. */
export function meterOn(r: AngleResult, at: { kind: string; id: string }): MeterAt {
  const lamps = r.lamps.filter((l) => l.lightFactor > 0).map((l) => l.id);
  return at.kind === 'face'
    ? { mark: at.id, toward: r.marks.find((m) => m.mark === at.id)?.toward ?? 'camera', lamps }
    : { spot: at.id, toward: 'face', lamps };
}

export const pointAt = (r: AngleResult, at: MeterAt): MeterPoint | undefined =>
  r.meters.find((p) => sameMeter(p, at));

/** The line not read yet that is worth most; else the first. */
export function nextLine(rows: readonly SheetRow[], not?: MeterAt): SheetRow | undefined {
  const open = rows.filter((r) => r.measured === undefined && !(not && isLine(r, not)));
  return [...open].sort((a, b) => b.worth - a.worth)[0] ?? rows.find((r) => !(not && isLine(r, not)));
}

/** What the meter is turned to, in words. */
export function towardWords(shoot: Shoot, ref: AngleRef, at: Pick<MeterAt, 'spot' | 'toward'>): string {
  if (at.spot !== undefined) return 'flat on it';
  const rig = rigFor(shoot, ref);
  if (rig.lamps[at.toward] || isDaylight(at.toward)) return `meter to ${lightName(rig, at.toward)}`;
  switch (at.toward) {
    case 'camera':
      return `meter to the camera of ${ref.angle}`;
    case 'front':
      return 'meter as the face looks';
    default:
      return `meter 60° to the ${at.toward}`;
  }
}

/** A band or a difference in thirds: 1⁄3, 1 2⁄3. */
export function thirds(stops: number): string {
  const n = Math.max(1, Math.round(3 * stops));
  return wholeAndThird(Math.floor(n / 3) ? String(Math.floor(n / 3)) : '', n % 3);
}

/** A value as it is said on its instrument. */
export function said(how: ReadBy, value: number): string {
  if (how === 'lux') return `${lux(value)} lx`;
  if (how === 'footcandle') return `${value >= 10 ? value.toFixed(0) : value.toFixed(1)} fc`;
  return stopWords(value);
}

/** “1 gives 1⁄3 less than a 300 W fresnel should.” */
export function headWords(number: string, kind: string, shiftStops: number): string {
  const off = thirdWords(shiftStops, 'less than', 'more than', '');
  return off
    ? `${number} gives ${off} ${withArticle(kind)} should.`
    : `${number} gives what ${withArticle(kind)} should, to within a sixth of a stop.`;
}

/** Said aloud where a reading is far from what was expected; undefined: it is not. */
export function surpriseWords(s: Surprise | undefined): string | undefined {
  if (!s || Math.abs(s.sigmas) < SURPRISING_SIGMAS) return undefined;
  return `${Math.abs(s.stops).toFixed(1)} stops ${s.stops < 0 ? 'less' : 'more'} than was expected, which by chance ${oneIn(s.sigmas)} would be: check focus, doors, gel and volts, and that only these lamps burn.`;
}
/** One in how many readings lies so far off, both sides of a normal law, roundly (tail by its usual expansion). */
function oneIn(sigmas: number): string {
  const z = Math.abs(sigmas);
  const tail = ((2 * Math.exp((-z * z) / 2)) / (z * Math.sqrt(2 * Math.PI))) * (1 - 1 / (z * z));
  const n = 1 / tail;
  return n > 1e6
    ? 'not one reading in a million'
    : `one reading in ${Number(n.toPrecision(1)).toLocaleString('en').replaceAll(',', ' ')}`;
}

/** “what a 300 W fresnel gives by −0.3 (±0.5, then ±0.2)” */
export const movedWords = (shoot: Shoot, scene: string, m: CauseMoved): string =>
  `${causeWords(shoot, scene, m.cause)} by ${signed(m.to) || '0'} (±${(1.645 * m.sigmaFrom).toFixed(1)}, then ±${(1.645 * m.sigmaTo).toFixed(1)})`;

/** Faces of an angle, stops over what the set stop asks, before and with the reading. */
export function facesNowThen(
  before: AngleResult | undefined,
  after: AngleResult | undefined,
): { mark: string; was: number; is: number }[] {
  if (!before || !after) return [];
  return after.marks.flatMap((m) => {
    const b = before.marks.find((x) => x.mark === m.mark);
    return b && after.facesSeen.includes(m.mark) ? [{ mark: m.mark, was: b.overStops, is: m.overStops }] : [];
  });
}

/** A free name for a reading. */
export function readingId(shoot: Shoot): string {
  let n = Object.keys(shoot.readings ?? {}).length + 1;
  while (shoot.readings && Object.hasOwn(shoot.readings, `R${n}`)) n++;
  return `R${n}`;
}

/** How well it was foretold: readings that count, how many lay in their 90 % band, the mean of measured over planned. */
export function foretold(shoot: Shoot, scene: string) {
  const { surprises } = learnedOf(shoot);
  const list = Object.entries(shoot.readings ?? {}).filter(([, r]) => r.scene === scene);
  const within = list.filter(([id]) => Math.abs(surprises.get(id)?.sigmas ?? 0) <= 1.645).length;
  return { list, within, surprises };
}
