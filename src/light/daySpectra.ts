/** Colour of sun, sky, moon by the air their light comes through. */
import { planck } from '../colour/planck.ts';
import { FIRST_NM, type Spectrum, STEP_NM } from '../colour/spectrum.ts';
import { airMass, type Weather } from './dayLevels.ts';
import { perLumen, sourceSpectrum } from './source.ts';

/** Aerosol of Ångström's law by weather, at 1 µm: clean 0.05, hazy 0.15 (from memory). */
const BETA: Record<Weather, number> = { clear: 0.06, partly: 0.12, overcast: 0.2 };

/**
 * The sun through the air, W/nm per lumen: a black body of 5778 K dimmed by Rayleigh's scattering, aerosol and (in its
 * visible band, as a Gaussian) ozone, 0.3 cm [LECKNER-1978], from memory. Lines of the sun are left out.
 */
export function sunSpectrum(elevationDeg: number, weather: Weather): Spectrum {
  const m = airMass(elevationDeg);
  return perLumen(
    planck(5778).map((v, i) => {
      const um = (FIRST_NM + STEP_NM * i) / 1000;
      const rayleigh = Math.exp(-0.008735 * m * um ** -4.08);
      const aerosol = Math.exp(-BETA[weather] * m * um ** -1.3);
      const ozone = Math.exp(-0.3 * 0.12 * m * Math.exp(-(((um - 0.6) / 0.055) ** 2)));
      return v * rayleigh * aerosol * ozone;
    }),
  );
}

/**
 * Colour temperature of the sky, kelvin (common practice, no source: blue sky 10 000–20 000, half cloud 7000–8000,
 * overcast 6000–7000; deep dusk blue as a clear day).
 */
export const SKY_K: Record<Weather, number> = { clear: 12000, partly: 7800, overcast: 6500 };

export const skySpectrum = (weather: Weather, kelvin = SKY_K[weather]): Spectrum =>
  sourceSpectrum('daylight', kelvin);
export const moonSpectrum = (): Spectrum => sourceSpectrum('moon');
