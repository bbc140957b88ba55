/** Weighted light at probes: sums over a lamp's layers, and over lamps. */
import { type AngleGeometry, type AngleWeights, lightsOf } from '../setup/angle.ts';
import type { Measured, ProbeName } from './measure.ts';

export const SAMPLES = 12;

export interface LampLight {
  directLx: number;
  bouncedLx: number;
}

/** Direct and bounced lux of one lamp at probe `i`. */
export function lampAt(
  measured: Measured,
  weights: AngleWeights,
  layers: readonly number[],
  i: number,
): LampLight {
  let directLx = 0;
  let bouncedLx = 0;
  for (const l of layers) {
    const w = weights.layers[l]!;
    const m = measured.layers[l]!;
    directLx += w.white[1] * m.direct[i]!;
    let bounced = 0;
    for (let k = 0; k < SAMPLES; k++) bounced += w.matrix[SAMPLES + k]! * m.bounced[i * SAMPLES + k]!;
    bouncedLx += bounced * (w.bounceGain ?? 1);
  }
  return { directLx, bouncedLx };
}

/** XYZ of the light at probe `i` (Y in lux), all lamps or those in `only`; direct and bounced together. */
export function xyzAt(
  angle: AngleGeometry,
  measured: Measured,
  weights: AngleWeights,
  i: number,
  only?: ReadonlySet<string>,
): [number, number, number] {
  const out: [number, number, number] = [0, 0, 0];
  for (const lamp of lightsOf(angle)) {
    if (only && !only.has(lamp.id)) continue;
    for (const l of lamp.layers) {
      const w = weights.layers[l]!;
      const m = measured.layers[l]!;
      for (let c = 0; c < 3; c++) {
        let v = 0;
        for (let k = 0; k < SAMPLES; k++) v += w.matrix[c * SAMPLES + k]! * m.bounced[i * SAMPLES + k]!;
        out[c]! += w.white[c]! * m.direct[i]! + v * (w.bounceGain ?? 1);
      }
    }
  }
  return out;
}

/** Number of the first probe whose name fits; −1 if none. */
export const findProbe = (names: readonly ProbeName[], fits: (n: ProbeName) => boolean): number =>
  names.findIndex(fits);
