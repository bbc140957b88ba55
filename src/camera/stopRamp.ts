/**
 * Our own colours for stops over and under middle grey: lightness alone tells the order (L* 14 at six under to 95 at
 * six over), under is blue, over is yellow, grey is grey, so that red–green blindness loses nothing.
 */

import { xyzOfLab } from '../colour/lab.ts';
import { D65_WHITE, encodeSrgb, rgbOfXyz } from '../colour/rgb.ts';

export const RAMP_STOPS = 6;

/** Encoded sRGB 0–1 of a number of stops, held to ±6. */
export function stopColour(stops: number): [number, number, number] {
  const s = Math.min(1, Math.max(-1, stops / RAMP_STOPS));
  const L = 50 + (s < 0 ? 36 : 45) * s;
  // Chroma rises fast from grey and shrinks toward the ends, where there is no room for it.
  const room = s < 0 ? 52 : 66;
  const chroma = room * Math.sin(Math.PI * Math.min(1, Math.abs(s)) ** 0.75 * 0.86);
  const hue = s < 0 ? 275 : 86;
  for (let c = chroma; ; c *= 0.96) {
    const a = c * Math.cos((hue * Math.PI) / 180);
    const b = c * Math.sin((hue * Math.PI) / 180);
    const rgb = rgbOfXyz(xyzOfLab([L, a, b], D65_WHITE));
    if (rgb.every((v) => v >= -1e-6 && v <= 1 + 1e-6) || c < 0.5)
      return [
        encodeSrgb(Math.min(1, Math.max(0, rgb[0]))),
        encodeSrgb(Math.min(1, Math.max(0, rgb[1]))),
        encodeSrgb(Math.min(1, Math.max(0, rgb[2]))),
      ];
  }
}
