/** From light to what the camera class shows: exposure, balance, response, display bytes; or stops in our ramp. */
import { eRefLux, exactStop, shutterS, stopsOfDensity } from '../camera/exposure.ts';
import { noiseShare, RESPONSES, type Response, toDisplay } from '../camera/response.ts';
import { stopColour } from '../camera/stopRamp.ts';
import { balanceKelvin, type WhiteBalance } from '../camera/whitebalance.ts';
import { hash32, unit } from '../maths/sampling.ts';
import type { CameraSettings } from '../shoot/schema.ts';

export interface Exposure {
  /** Illuminance that puts an 18 % card on grey, lux. */
  eRefLx: number;
  /** Luminance of that card, cd/m². */
  greyCdM2: number;
  stop: number;
  shutterS: number;
  response: Response;
}

export function exposureOf(camera: CameraSettings, constantC: number): Exposure {
  const shutter =
    camera.shutter.kind === 'time'
      ? camera.shutter.seconds
      : shutterS((camera.shutter.deg * Math.PI) / 180, camera.fps);
  const stop = exactStop(camera.stop);
  const eRefLx = eRefLux({
    iso: camera.ei,
    shutterS: shutter,
    tStop: stop,
    constantC,
    filterStops: stopsOfDensity(camera.ndDensity ?? 0),
  });
  return {
    eRefLx,
    greyCdM2: (0.18 * eRefLx) / Math.PI,
    stop,
    shutterS: shutter,
    response: RESPONSES[camera.class],
  };
}

/** Balance by the camera's own setting where that needs no light read; reading a card is the caller's. */
export const presetBalance = (camera: CameraSettings): WhiteBalance | undefined =>
  camera.whiteBalance.kind === 'kelvin'
    ? balanceKelvin(camera.whiteBalance.kelvin, RESPONSES[camera.class])
    : undefined;

/** Entries of the response table: 1/64 stop from −12 to +8 about grey. */
const STEPS = 64;
const LOW = -12;
const HIGH = 8;
const tables = new WeakMap<Response, Uint8ClampedArray>();

function tableOf(response: Response): Uint8ClampedArray {
  let t = tables.get(response);
  if (!t) {
    t = new Uint8ClampedArray((HIGH - LOW) * STEPS + 1);
    for (let i = 0; i < t.length; i++) t[i] = Math.round(255 * toDisplay(response, 2 ** (LOW + i / STEPS)));
    tables.set(response, t);
  }
  return t;
}

/** A draw of the normal law from a word of chance (Box and Muller). */
const normal = (word: number): number =>
  Math.sqrt(-2 * Math.log(1 - unit(word))) * Math.cos(2 * Math.PI * unit(hash32(word, 1)));

/**
 * RGBA bytes of a picture. `xyz`: 3 × n, Y in cd/m². The display shows the camera's signal as it is
 * (BT.709 signal on an sRGB screen: the dim-surround difference of the two is left as monitors leave it). `grain`: with the
 * noise of the camera's class in it.
 */
export function develop(
  xyz: Float32Array,
  exposure: Exposure,
  balance: WhiteBalance,
  out: Uint8ClampedArray,
  grain?: { seed: number },
): void {
  const table = tableOf(exposure.response);
  const m = balance.matrix;
  const k = 1 / exposure.greyCdM2;
  const at = (linear: number): number => {
    if (!(linear > 0)) return 0;
    const i = Math.round((Math.log2(linear) - LOW) * STEPS);
    return i <= 0 ? 0 : table[Math.min(i, table.length - 1)]!;
  };
  const [a, b, c, d, e, f, g, h, i] = m as readonly number[] as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  for (let p = 0, q = 0; p < xyz.length; p += 3, q += 4) {
    const X = xyz[p]! * k;
    const Y = xyz[p + 1]! * k;
    const Z = xyz[p + 2]! * k;
    let R = a * X + b * Y + c * Z;
    let G = d * X + e * Y + f * Z;
    let B = g * X + h * Y + i * Z;
    if (grain) {
      // Each channel by itself, as the sensor's; the dark's noise is there without light too.
      const noise = (v: number, channel: number): number => {
        const level = Math.max(v, 2 ** LOW);
        return (
          level * (1 + noiseShare(exposure.response, level) * normal(hash32(grain.seed, q + channel, 83)))
        );
      };
      R = noise(R, 0);
      G = noise(G, 1);
      B = noise(B, 2);
    }
    out[q] = at(R);
    out[q + 1] = at(G);
    out[q + 2] = at(B);
    out[q + 3] = 255;
  }
}

/** The same picture in stops about grey: our ramp, a contour at each whole stop, hatching beyond the class's ends. */
export function developStops(
  xyz: Float32Array,
  width: number,
  exposure: Exposure,
  out: Uint8ClampedArray,
): void {
  const n = xyz.length / 3;
  const stops = new Float32Array(n);
  for (let p = 0; p < n; p++) stops[p] = Math.log2(Math.max(xyz[3 * p + 1]! / exposure.greyCdM2, 1e-6));
  for (let p = 0; p < n; p++) {
    const s = stops[p]!;
    const x = p % width;
    const y = (p / width) | 0;
    let [r, g, b] = stopColour(s);
    const right = x + 1 < width ? stops[p + 1]! : s;
    const below = p + width < n ? stops[p + width]! : s;
    if (Math.floor(right) !== Math.floor(s) || Math.floor(below) !== Math.floor(s)) {
      r *= 0.55;
      g *= 0.55;
      b *= 0.55;
    }
    const clipped = s > exposure.response.stopsAboveGrey;
    const crushed = s < -exposure.response.stopsBelowGrey;
    if (clipped && (x + y) % 6 < 2) [r, g, b] = [0.05, 0.05, 0.05];
    if (crushed && x % 4 === 0 && y % 4 === 0) [r, g, b] = [0.4, 0.4, 0.4];
    out[4 * p] = 255 * r;
    out[4 * p + 1] = 255 * g;
    out[4 * p + 2] = 255 * b;
    out[4 * p + 3] = 255;
  }
}
