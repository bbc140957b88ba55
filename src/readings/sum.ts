/** The sum behind a lamp’s direct light at a face, step by step, as one would work it out by hand. */
import { intensityCd } from '../light/beam.ts';
import { diffusionById, scrimById } from '../light/diffusion.ts';
import { gelById } from '../light/gels.ts';
import { beamOfLamp } from '../light/kitlamps.ts';
import { dot, normalize, sub, type Vec3 } from '../maths/vec3.ts';
import type { LampWeight } from '../setup/angle.ts';
import { kindOf, poseOf } from '../setup/lamps.ts';
import type { KitLamp, RigLamp } from '../shoot/schema.ts';

export interface LampSum {
  /** Candela of the bare lamp at rated volts in that direction, and how far off its axis that is. */
  cd: number;
  offAxisDeg: number;
  distanceM: number;
  /** cd / d². */
  bareLx: number;
  /** What takes from it or adds to it, stops, in the order light meets it. */
  steps: { words: string; stops: number }[];
  /** What is left between that and the traced light: a sheet’s spread, the lamp’s size, shadows; stops. */
  restStops: number;
  directLx: number;
}

/** `words`: how a sheet is named. Undefined where the lamp is not known, out, or gives nothing that way. */
export function lampSum(
  lamp: RigLamp,
  head: KitLamp | undefined,
  weight: LampWeight,
  eyes: Vec3,
  directLx: number,
  words: (sheet: string) => string = (id) => id.replaceAll('-', ' '),
): LampSum | undefined {
  const kind = kindOf(head);
  if (!kind || !(weight.lightFactor > 0) || !(directLx > 0)) return undefined;
  const { axis, up, right } = poseOf(lamp);
  const to = sub(eyes, lamp.at as Vec3);
  const distanceM = Math.hypot(...to);
  const d = normalize(to);
  const cd = intensityCd(beamOfLamp(kind, lamp.focus), [dot(d, right), dot(d, up), dot(d, axis)]);
  if (!(cd > 0)) return undefined;
  const bareLx = cd / distanceM ** 2;

  const steps: LampSum['steps'] = [];
  const step = (says: string, factor: number) => {
    if (Math.abs(Math.log2(factor)) >= 0.005) steps.push({ words: says, stops: Math.log2(factor) });
  };
  step(kind.source === 'tungsten' ? 'volts and dimmer' : 'dimmer', weight.lightFactor);
  let sheets = 1;
  for (const scrim of lamp.scrims) {
    const t = scrimById(scrim)?.transmittance ?? 1;
    sheets *= t;
    step(`${scrim} scrim`, t);
  }
  const gels: string[] = [];
  for (const id of lamp.sheets) {
    const diffusion = diffusionById(id);
    if (diffusion) {
      sheets *= diffusion.transmittance;
      step(words(id), diffusion.transmittance);
    } else if (gelById(id)) gels.push(words(id));
  }
  // The gels’ own loss is what is left of all that the beam passes.
  if (gels.length) step(gels.join(' and '), weight.passes / sheets);
  step('as measured', 2 ** weight.shiftStops);
  const sum = bareLx * 2 ** steps.reduce((s, x) => s + x.stops, 0);
  return {
    cd,
    offAxisDeg: (Math.acos(Math.max(-1, Math.min(1, dot(d, axis)))) * 180) / Math.PI,
    distanceM,
    bareLx,
    steps,
    restStops: Math.log2(directLx / sum),
    directLx,
  };
}
