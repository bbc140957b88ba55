/** The metering sheet: every mark and spot of an angle, every lamp alone and all together, expected beside measured. */
import { byCamera, NOISE_STOPS } from '../camera/meter.ts';
import { type Belief, covarianceOf, type Slope, varianceOf } from '../maths/belief.ts';
import { CONSTANT, METER, surfacesCause, Z90 } from '../setup/causes.ts';
import { learnedOf, luxOf, type Surprise, sigmaBefore } from '../setup/learned.ts';
import { isDaylight } from '../shoot/rigFor.ts';
import type { MeterReading, Shoot } from '../shoot/schema.ts';
import { type Expected, expectedAt, type MeterPoint, sameMeter } from './meter.ts';
import type { MarkReading } from './readMark.ts';

/** One line: what is held where, under which lamps. */
export interface SheetRow {
  mark?: string;
  spot?: string;
  toward: string;
  lamps: string[];
  /** All lamps that burn, or one of them alone. */
  together: boolean;
  /** Before any reading, lux. */
  plannedLx: number;
  /** By what is believed now, and its doubt without the instrument’s own. */
  expectedLx: number;
  bandStops: number;
  /** The last reading of this line. */
  measured:
    | { id: string; reading: MeterReading; lx: number; overPlanStops: number; surprise: Surprise | undefined }
    | undefined;
  /** By how much one light-meter reading here would bring down the variance of all faces’ readings, stops². */
  worth: number;
}

/** A lamp alone is worth a line if it gives at least this much of what the stop asks for. */
const SHARE_OF_STOP = 1 / 64;

export interface SheetQuestion {
  shoot: Shoot;
  scene: string;
  angle: string;
  points: readonly MeterPoint[];
  marks: readonly Pick<MarkReading, 'mark' | 'toward'>[];
  /** Marks that matter here, in order; others are left out. */
  faces: readonly string[];
  spots: readonly string[];
  /** Lamps that burn, in rig order. */
  burning: readonly string[];
  /** What cannot be put out: the day’s lights. */
  always: readonly string[];
  eRefLx: number;
}

export function sheetOf(q: SheetQuestion): SheetRow[] {
  const { shoot } = q;
  const { joint, surprises } = learnedOf(shoot);
  const surfaces = surfacesCause(shoot.scenes[q.scene]?.place ?? q.scene);
  const nothing: Belief = { names: [], mean: new Float64Array(), covariance: new Float64Array() };
  const rows: (SheetRow & { slope: Slope })[] = [];
  const put = (point: MeterPoint | undefined, lamps: readonly string[], together: boolean) => {
    if (!point || lamps.length === 0) return;
    const e = without(expectedAt(point, lamps, joint, surfaces, METER), joint);
    const planned = expectedAt(point, lamps, nothing, surfaces, METER).lx;
    if (!(planned > (together ? 0 : q.eRefLx * SHARE_OF_STOP))) return;
    rows.push({
      ...(point.mark === undefined ? { spot: point.spot! } : { mark: point.mark }),
      toward: point.toward,
      lamps: [...lamps],
      together,
      plannedLx: planned,
      expectedLx: e.lx,
      bandStops: e.bandStops,
      measured: lastReading(q, point, lamps, planned, surprises),
      worth: 0,
      slope: e.slope,
    });
  };
  for (const mark of q.faces) {
    const toward = q.marks.find((m) => m.mark === mark)?.toward ?? 'camera';
    put(
      q.points.find((p) => sameMeter(p, { mark, toward })),
      [...q.burning, ...q.always],
      true,
    );
    for (const lamp of q.burning)
      put(
        q.points.find((p) => sameMeter(p, { mark, toward: lamp })),
        [lamp, ...q.always],
        false,
      );
  }
  for (const spot of q.spots)
    put(
      q.points.find((p) => p.spot === spot),
      [...q.burning, ...q.always],
      true,
    );

  // What one more reading would take from the doubt on every face.
  const faces = rows.filter((r) => r.together && r.mark !== undefined);
  for (const r of rows) {
    const read = new Map(r.slope).set(METER, 1);
    const noise = varianceOf(joint, read, sigmaBefore) + NOISE_STOPS.lux ** 2;
    for (const f of faces) r.worth += covarianceOf(joint, f.slope, read, sigmaBefore) ** 2 / noise;
  }
  return rows.map(({ slope: _s, ...r }) => r);
}

/** The same without the instrument’s own doubt: what the light is, not what some meter will say of it. */
function without(e: Expected, joint: Belief): Expected {
  const slope = new Map(e.slope);
  slope.delete(METER);
  return { ...e, slope, bandStops: Z90 * Math.sqrt(varianceOf(joint, slope, sigmaBefore)) };
}

const sameLamps = (a: readonly string[], b: readonly string[]) =>
  a.length === b.length && a.every((l) => b.includes(l));

/** A reading belongs to a line while every lamp that burned stands where it stood. */
function lastReading(
  q: SheetQuestion,
  point: MeterPoint,
  lamps: readonly string[],
  planned: number,
  surprises: ReadonlyMap<string, Surprise>,
): SheetRow['measured'] {
  let found: SheetRow['measured'];
  for (const [id, reading] of Object.entries(q.shoot.readings ?? {})) {
    if (reading.scene !== q.scene || !sameMeter(point, reading) || !sameLamps(reading.lamps, lamps)) continue;
    if (point.toward === 'camera' && reading.angle !== q.angle) continue;
    const stands = reading.expected.every((e) =>
      point.parts.some((p) => p.lamp === e.lamp && p.causes.place === e.place && p.head === e.head),
    );
    if (!stands) continue;
    // Nor has anybody turned it up or down since.
    const then = expectedThen(reading);
    if (Math.abs(Math.log2(then / planned)) > 0.05) continue;
    const lx = luxOf(q.shoot, reading);
    found = { id, reading, lx, overPlanStops: Math.log2(lx / then), surprise: surprises.get(id) };
  }
  return found;
}

/** What was expected of a reading when it was made, before any reading, lux. */
export const expectedThen = (r: MeterReading): number =>
  r.expected.reduce((s, e) => s + e.directLx + e.bouncedLx, 0);

/** The record to keep of what was measured at a point under some lamps. */
export function recordOf(
  point: MeterPoint,
  lamps: readonly string[],
  where: { scene: string; angle: string },
  said: Pick<MeterReading, 'how' | 'value'> & { zebraPercent?: number },
  camera: { ei: number; shutterS: number; filterStops: number; class: NonNullable<MeterReading['class']> },
  noiseStops: number,
  when: string | undefined,
): MeterReading {
  const round = (v: number) => Number(v.toPrecision(6));
  return {
    ...where,
    ...(point.mark === undefined ? { spot: point.spot! } : { mark: point.mark, toward: point.toward }),
    lamps: [...lamps],
    how: said.how,
    value: round(said.value),
    ...(said.zebraPercent === undefined ? {} : { zebraPercent: said.zebraPercent }),
    ...(byCamera(said.how)
      ? {
          ei: camera.ei,
          shutterS: camera.shutterS,
          ...(camera.filterStops ? { filterStops: camera.filterStops } : {}),
          class: camera.class,
        }
      : {}),
    ...(when === undefined ? {} : { when }),
    expected: point.parts
      .filter((p) => lamps.includes(p.lamp))
      .map((p) => ({
        lamp: p.lamp,
        head: p.head,
        ...(isDaylight(p.lamp) ? { kind: p.causes.kind } : {}),
        place: p.causes.place,
        directLx: round(p.directLx),
        bouncedLx: round(p.bouncedLx),
      })),
    noiseStops: Number(noiseStops.toFixed(3)),
  };
}

/** The instrument that a way of reading asks. */
export const instrumentOf = (how: MeterReading['how']): string => (byCamera(how) ? CONSTANT : METER);

export interface CauseMoved {
  cause: string;
  /** What it was and is taken to be off by, stops, and the doubt left on it (one sigma). */
  from: number;
  to: number;
  sigmaFrom: number;
  sigmaTo: number;
}

/** Which causes a change of the readings moves, most first. */
export function movedCauses(before: Belief, after: Belief): CauseMoved[] {
  const names = [...new Set([...before.names, ...after.names])];
  const mean = (b: Belief, c: string) => b.mean[b.names.indexOf(c)] ?? 0;
  const sigma = (b: Belief, c: string) => Math.sqrt(varianceOf(b, new Map([[c, 1]]), sigmaBefore));
  return names
    .map((cause) => ({
      cause,
      from: mean(before, cause),
      to: mean(after, cause),
      sigmaFrom: sigma(before, cause),
      sigmaTo: sigma(after, cause),
    }))
    .sort((a, b) => Math.abs(b.to - b.from) - Math.abs(a.to - a.from));
}
