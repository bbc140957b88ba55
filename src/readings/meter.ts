/**
 * Where a meter can be held in an angle and what each lamp gives there, before any reading corrected it: enough to say
 * what any lamps together should read, and to keep beside what they did read.
 */
import { type Belief, meanOf, shares } from '../maths/belief.ts';
import { type AngleGeometry, type AngleWeights, lightsOf } from '../setup/angle.ts';
import { type LampCauses, logSum, type Part, slopeOf, Z90 } from '../setup/causes.ts';
import { sigmaBefore } from '../setup/learned.ts';
import { lampAt } from './lightAt.ts';
import type { Measured } from './measure.ts';

/** One lamp’s light at a meter, as expected before any reading. */
export interface MeterPart {
  lamp: string;
  head: string;
  causes: LampCauses;
  directLx: number;
  bouncedLx: number;
}

/** A place and a way for a meter: at the eyes of a mark turned to something, or flat on a spot. */
export interface MeterPoint {
  mark?: string;
  spot?: string;
  /** A lamp’s id, camera, front, left, right; a spot: as it faces. */
  toward: string;
  parts: MeterPart[];
}

export const sameMeter = (
  a: { mark?: string | undefined; spot?: string | undefined; toward?: string | undefined },
  b: { mark?: string | undefined; spot?: string | undefined; toward?: string | undefined },
): boolean => a.mark === b.mark && a.spot === b.spot && (a.spot !== undefined || a.toward === b.toward);

export function meterPoints(angle: AngleGeometry, weights: AngleWeights, measured: Measured): MeterPoint[] {
  const out: MeterPoint[] = [];
  measured.plan.names.forEach((name, i) => {
    if ('lens' in name || 'card' in name) return;
    const lampSide = 'toward' in name && typeof name.toward === 'object' ? name.toward.lamp : undefined;
    const nearer = 'nearer' in name ? name.nearer : 1;
    const parts = lightsOf(angle).flatMap((lamp): MeterPart[] => {
      const w = weights.lamps.find((x) => x.id === lamp.id);
      if (!w) return [];
      const light = lampAt(measured, weights, lamp.layers, i);
      // Take back what the readings made of it.
      const own = 2 ** -w.shiftStops;
      const gain = weights.layers[lamp.layers[0]!]?.bounceGain ?? 1;
      return [
        {
          lamp: lamp.id,
          head: angle.rig.lamps[lamp.id]?.head ?? lamp.id,
          causes: w.causes,
          directLx: light.directLx * own * (lamp.id === lampSide ? nearer : 1),
          bouncedLx: (light.bouncedLx * own) / gain,
        },
      ];
    });
    out.push({
      ...('mark' in name ? { mark: name.mark } : { spot: name.spot }),
      toward: 'side' in name ? name.side : 'toward' in name ? (lampSide ?? (name.toward as string)) : 'face',
      parts,
    });
  });
  return out;
}

/** The parts of some lamps as the model of readings takes them. */
export const partsOf = (point: MeterPoint, lamps: readonly string[], surfaces: string): Part[] =>
  point.parts.flatMap((p) =>
    lamps.includes(p.lamp)
      ? [
          { amount: p.directLx, slope: slopeOf(p.causes, surfaces, false) },
          { amount: p.bouncedLx, slope: slopeOf(p.causes, surfaces, true) },
        ]
      : [],
  );

export interface Expected {
  lx: number;
  /** Half-width of a 90 % interval, the instrument’s own doubt in it, stops. */
  bandStops: number;
  /** The two causes that add most, each with its share as a half-width, stops. */
  doubts: { cause: string; stops: number }[];
  slope: Map<string, number>;
}

/** What those lamps together should read there, by what is believed now. `instrument`: the cause that stands for it. */
export function expectedAt(
  point: MeterPoint,
  lamps: readonly string[],
  belief: Belief,
  surfaces: string,
  instrument: string,
): Expected {
  const { value, slope } = logSum(partsOf(point, lamps, surfaces), (c) => meanOf(belief, c));
  slope.set(instrument, 1);
  const by = [...shares(belief, slope, sigmaBefore)].sort((a, b) => b[1] - a[1]);
  const variance = by.reduce((s, [, v]) => s + v, 0);
  return {
    lx: 2 ** value,
    bandStops: Z90 * Math.sqrt(Math.max(0, variance)),
    doubts: by
      .filter(([, v]) => v > 0.01 ** 2)
      .slice(0, 2)
      .map(([cause, v]) => ({ cause, stops: Z90 * Math.sqrt(v) })),
    slope,
  };
}

/** Whether what was read at this mark or spot tells of nearly all the light there now (four fifths, judgement). */
export function readHere(
  weights: AngleWeights,
  at: string,
  lamps: readonly { lamp: string; directLx: number; bouncedLx: number }[],
): boolean {
  const under = weights.metered.readAt.get(at);
  if (!under) return false;
  let sum = 0;
  let read = 0;
  for (const l of lamps) {
    const lx = l.directLx + l.bouncedLx;
    sum += lx;
    const place = weights.lamps.find((w) => w.id === l.lamp)?.causes.place;
    if (place !== undefined && under.has(place)) read += lx;
  }
  return sum > 0 && read >= 0.8 * sum;
}
