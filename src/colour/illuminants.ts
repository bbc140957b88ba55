/** Spectra of standard and typical lights, relative power by wavelength. */
import { dIlluminant } from './daylight.ts';
import { planck } from './planck.ts';
import type { Spectrum } from './spectrum.ts';
import { constant } from './spectrum.ts';
import { FL2, FL4, FL7, FL11, FL12, HP1, HP5, LED_B1, LED_B3, LED_B5 } from './tables/lamps.ts';

const table = (values: readonly number[]): Spectrum => Float64Array.from(values);

/** Illuminant A: a black body at 2848·1.4388/1.435 K [CIE-15 §3.1]. */
export const illuminantA = (): Spectrum => planck((2848 * 1.4388) / 1.435);

export type IlluminantName =
  | 'A'
  | 'D50'
  | 'D55'
  | 'D65'
  | 'D75'
  | 'E'
  | 'FL2'
  | 'FL4'
  | 'FL7'
  | 'FL11'
  | 'FL12'
  | 'LED-B1'
  | 'LED-B3'
  | 'LED-B5'
  | 'HP1'
  | 'HP5';

/** A CIE illuminant by name, relative spectral power [CIE-15]. */
export function illuminant(name: IlluminantName): Spectrum {
  switch (name) {
    case 'A':
      return illuminantA();
    case 'D50':
      return dIlluminant(5000);
    case 'D55':
      return dIlluminant(5500);
    case 'D65':
      return dIlluminant(6500);
    case 'D75':
      return dIlluminant(7500);
    case 'E':
      return constant(1);
    case 'FL2':
      return table(FL2);
    case 'FL4':
      return table(FL4);
    case 'FL7':
      return table(FL7);
    case 'FL11':
      return table(FL11);
    case 'FL12':
      return table(FL12);
    case 'LED-B1':
      return table(LED_B1);
    case 'LED-B3':
      return table(LED_B3);
    case 'LED-B5':
      return table(LED_B5);
    case 'HP1':
      return table(HP1);
    case 'HP5':
      return table(HP5);
  }
}
