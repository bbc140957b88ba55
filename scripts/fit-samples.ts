/** Prints src/colour/tables/sampleBasis.ts: the 12-wavelength fit over every training set (src/colour/sampleFit.ts). */
import { makeBasis, trainingSet } from '../src/colour/sampleFit.ts';
import { SAMPLES, SPECTRUM_LENGTH } from '../src/colour/spectrum.ts';

const P = makeBasis(trainingSet());
console.log(`/**
 * The 12-wavelength fit, made by scripts/fit-samples.ts and held to it by samples.test.ts. 12 × 81, row-major: weight
 * at a sample wavelength for each unit of weighting at 380 … 780 nm.
 */
// biome-ignore format: a table
export const SAMPLE_BASIS: readonly number[] = [`);
for (let a = 0; a < SAMPLES; a++)
  console.log(
    `  ${Array.from(P.subarray(a * SPECTRUM_LENGTH, (a + 1) * SPECTRUM_LENGTH), (v) => `${Number(v.toPrecision(11))}`).join(', ')},`,
  );
console.log('];');
