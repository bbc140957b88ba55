/**
 * What the readings kept in a shoot say of its causes: this kind of lamp, this head, where it stands, the surfaces, the
 * camera’s constant, the light meter. All readings at once, so that their order cannot matter; pure, by document alone:
 * each reading carries what was expected of every lamp that burned.
 */
import { byCamera, luxRead, NOISE_STOPS } from '../camera/meter.ts';
import { RESPONSES } from '../camera/response.ts';
import { headFactor, luxFromStop } from '../light/calibration.ts';
import type { KitLamp as LampKind } from '../light/kitlamps.ts';
import { beamOfLamp, kitLampById } from '../light/kitlamps.ts';
import { type Belief, independent, meanOf, type Observation, observed, varianceOf } from '../maths/belief.ts';
import { DEG } from '../maths/vec3.ts';
import type { KitLamp, MeterReading, Shoot } from '../shoot/schema.ts';
import {
  CONSTANT,
  headCause,
  kindCause,
  logSum,
  METER,
  type Part,
  SIGMA_STOPS,
  slopeOf,
  surfacesCause,
  Z90,
} from './causes.ts';
import { DAY_SIGMA } from './dayDoubt.ts';

/** How far off what was expected a reading is, and what that is against what was believed before it. */
export interface Surprise {
  /** Measured over expected, stops. */
  stops: number;
  /** The same in sigmas of what was believed before this reading, its own noise included. */
  sigmas: number;
}

export interface Learned {
  /** Causes that some reading speaks of. */
  joint: Belief;
  /** By reading of the document: against what the others say. */
  surprises: ReadonlyMap<string, Surprise>;
}

/** A reading further off than this many sigmas is said aloud: beyond it lies 1 in 370 of a normal law [NIST-HB 1.3.6.7.1]. */
export const SURPRISING_SIGMAS = 3;

/** One sigma of a cause before anything was measured, stops. */
export function priorSigma(cause: string, kindSigma: (kind: string) => number): number {
  const at = cause.indexOf(':');
  const sort = at < 0 ? cause : cause.slice(0, at);
  if (sort === 'kind') return kindSigma(cause.slice(at + 1));
  return SIGMA_STOPS[sort as keyof typeof SIGMA_STOPS] ?? 0;
}
/** A kind’s candela are told to within its own band; of a kind nobody knows nothing is said. */
export const kindSigmaOf = (kind: string): number =>
  DAY_SIGMA[kind] ?? (kitLampById(kind)?.bandStops ?? 0) / Z90;
export const sigmaBefore = (cause: string): number => priorSigma(cause, kindSigmaOf);

/** A reading of the document as the model sees it. */
export function observationOf(shoot: Shoot, r: MeterReading): { observation: Observation; parts: Part[] } {
  const place = shoot.scenes[r.scene]?.place ?? r.scene;
  const parts = r.expected.flatMap((e): Part[] => {
    const causes = {
      kind: e.kind ?? kindCause(shoot.kit.lamps[e.head]?.kind ?? e.head),
      head: e.kind === undefined ? headCause(e.head, shoot.kit.lamps[e.head]?.old) : 'none:day',
      place: e.place,
    };
    return [
      { amount: e.directLx, slope: slopeOf(causes, surfacesCause(place), false) },
      { amount: e.bouncedLx, slope: slopeOf(causes, surfacesCause(place), true) },
    ].filter((p) => p.amount > 0);
  });
  const instrument = byCamera(r.how) ? CONSTANT : METER;
  return {
    parts,
    observation: {
      value: Math.log2(luxOf(shoot, r)),
      noise: Math.hypot(NOISE_STOPS[r.how], r.noiseStops ?? 0),
      model: (of) => {
        const m = logSum(parts, of);
        m.slope.set(instrument, 1);
        return { value: m.value + of(instrument), slope: m.slope };
      },
    },
  };
}

/** Illuminance that a reading says, lux. */
export const luxOf = (shoot: Shoot, r: MeterReading): number =>
  luxRead(
    r.how,
    r.value,
    {
      iso: r.ei ?? 100,
      shutterS: r.shutterS ?? 0.02,
      filterStops: r.filterStops ?? 0,
      constantC: shoot.exposureConstant,
    },
    RESPONSES[r.class ?? 'modern'],
    r.zebraPercent,
  );

/** The reading that stands with a head itself: alone, bare, at rated volts. */
function observationOfHead(
  id: string,
  head: KitLamp,
  kind: LampKind,
  exposureConstant: number,
): Observation | undefined {
  const r = head.reading;
  if (!r) return undefined;
  const lux =
    r.kind === 'lux'
      ? r.lux
      : luxFromStop({ tStop: r.stop, iso: r.ei, shutterS: r.shutterS, constantC: exposureConstant });
  const factor = headFactor(beamOfLamp(kind, r.focus ?? 0), {
    lux,
    distanceM: r.distanceM,
    offAxis: (r.offAxisDeg ?? 0) * DEG,
  });
  if (factor === undefined) return undefined;
  const slope = new Map([
    [kindCause(head.kind), 1],
    [headCause(id, head.old), 1],
    [r.kind === 'lux' ? METER : CONSTANT, 1],
  ]);
  return {
    value: Math.log2(factor),
    // Where the meter was held is off by as much as where a lamp stands.
    noise: Math.hypot(NOISE_STOPS[r.kind], SIGMA_STOPS.place),
    model: (of) => ({ value: [...slope].reduce((s, [c, k]) => s + k * of(c), 0), slope }),
  };
}

/** Every observation of a shoot that counts; readings by id, heads’ own apart. */
function observationsOf(shoot: Shoot): { id: string | undefined; observation: Observation }[] {
  const out: { id: string | undefined; observation: Observation }[] = [];
  for (const [id, head] of Object.entries(shoot.kit.lamps)) {
    const kind = kitLampById(head.kind);
    const observation = kind && observationOfHead(id, head, kind, shoot.exposureConstant);
    if (observation) out.push({ id: undefined, observation });
  }
  for (const [id, r] of Object.entries(shoot.readings ?? {})) {
    const { observation, parts } = observationOf(shoot, r);
    if (parts.length) out.push({ id, observation });
  }
  return out;
}

/** The belief over every cause that these observations speak of. */
function believe(all: readonly Observation[], among: readonly Observation[] = all): Belief {
  const sigmas = new Map<string, number>();
  for (const o of among)
    for (const cause of o.model(() => 0).slope.keys()) sigmas.set(cause, sigmaBefore(cause));
  return observed(independent(sigmas), all);
}

/** How surprising an observation is to one who believes `b`. */
export function surpriseOf(b: Belief, o: Observation): Surprise {
  const { value, slope } = o.model((name) => meanOf(b, name));
  const stops = o.value - value;
  return { stops, sigmas: stops / Math.hypot(Math.sqrt(varianceOf(b, slope, sigmaBefore)), o.noise) };
}

const known = new WeakMap<Shoot, Learned>();

export function learnedOf(shoot: Shoot): Learned {
  let found = known.get(shoot);
  if (!found) {
    const all = observationsOf(shoot);
    const counts = all.filter(({ id }) => id === undefined || !shoot.readings?.[id]?.aside);
    const joint = believe(counts.map((o) => o.observation));
    const surprises = new Map<string, Surprise>();
    for (const { id, observation } of all)
      if (id !== undefined)
        surprises.set(
          id,
          surpriseOf(believe(counts.filter((o) => o.id !== id).map((o) => o.observation)), observation),
        );
    found = { joint, surprises };
    known.set(shoot, found);
  }
  return found;
}

/** What the readings say a cause is off by, stops. */
export const shiftOf = (learned: Learned, cause: string): number => meanOf(learned.joint, cause);

/** The exposure constant as the camera’s own readings correct it. */
export const constantOf = (shoot: Shoot): number =>
  shoot.exposureConstant * 2 ** -shiftOf(learnedOf(shoot), CONSTANT);
