/** What the air of an angle shows: lit from behind or from the front, and by which lamps. */
import { backOverFront, phaseOf } from '../light/haze.ts';
import { type AngleGeometry, type AngleWeights, lightsOf } from '../setup/angle.ts';
import type { AirLight } from '../transport/tracer.ts';

export interface AirReading {
  /** Mean luminance over the frame that haze, rain or snow adds, cd/m²: its lamps stand behind it, or before it. */
  behindCdM2: number;
  frontCdM2: number;
  /** The first over the second, stops; undefined: no light in the air at all; infinite: none from the front. */
  ratioStops: number | undefined;
  /** Both together against middle grey, stops. */
  overGreyStops: number;
  /** What this air shows of a lamp straight behind it over one beside the lens, by its own law of scattering, n:1. */
  lawRatio: number;
  /** Strongest first. */
  lamps: { lamp: string; behindCdM2: number; frontCdM2: number }[];
}

/** `air`: by layer, as a picture's light has it. Undefined: the air is clear, or there is no picture yet. */
export function airReading(
  angle: AngleGeometry,
  weights: AngleWeights,
  air: readonly (AirLight | undefined)[],
  greyCdM2: number,
): AirReading | undefined {
  const medium = angle.transport.stage.air;
  if (!medium || !air.some((a) => a)) return undefined;
  const lamps = lightsOf(angle)
    .map((lamp) => {
      let [behindCdM2, frontCdM2] = [0, 0];
      for (const l of lamp.layers) {
        const w = weights.layers[l]?.white[1] ?? 0;
        behindCdM2 += (air[l]?.behind ?? 0) * w;
        frontCdM2 += (air[l]?.front ?? 0) * w;
      }
      return { lamp: lamp.id, behindCdM2, frontCdM2 };
    })
    .filter((l) => l.behindCdM2 + l.frontCdM2 > 0)
    .sort((a, b) => b.behindCdM2 + b.frontCdM2 - a.behindCdM2 - a.frontCdM2);
  const behindCdM2 = lamps.reduce((s, l) => s + l.behindCdM2, 0);
  const frontCdM2 = lamps.reduce((s, l) => s + l.frontCdM2, 0);
  return {
    behindCdM2,
    frontCdM2,
    ratioStops: behindCdM2 + frontCdM2 > 0 ? Math.log2(behindCdM2 / frontCdM2) : undefined,
    overGreyStops: Math.log2((behindCdM2 + frontCdM2) / greyCdM2),
    lawRatio: backOverFront(phaseOf(medium.falling?.kind ?? medium.phase)),
    lamps,
  };
}
