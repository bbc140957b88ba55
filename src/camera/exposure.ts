/** How bright a lit surface comes out: settings, the reference illuminance, stops. */

/** What is set on the camera. */
export interface ExposureSettings {
  /** Exposure index. */
  iso: number;
  /** T-stop as typed, or exact for a marked one (`markedStop`). */
  tStop: number;
  shutterS: number;
  /** Filters in front of or in the lens, stops of loss. Default 0. */
  filterStops?: number;
  /** Meter constant C (lux form). Default 250, a flat receptor. Printed with every number. */
  constantC?: number;
}

/** C of a flat (cosine) receptor, common value; the standard allows 240–400 (from memory) [CHECKS-CAMERA §1.1]. */
export const DEFAULT_C = 250;
/** C of a dome (hemispherical) receptor, as these files use it [CHECKS-CAMERA §1.1]. */
export const DOME_C = 330;
/** Lux in one foot-candle, exact. */
export const LUX_PER_FOOTCANDLE = 1 / 0.3048 ** 2;

/** A marked stop is √2 to a whole (or part) power: 2.8 is √8. k: 0 → 1, 1 → 1.4, 2 → 2, 3 → 2.8 … */
export const markedStop = (k: number): number => 2 ** (k / 2);

/** The exact value behind a marked number (1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22); others as typed. */
export const exactStop = (typed: number): number => {
  const k = Math.round(2 * Math.log2(typed));
  const marks = [1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32];
  return marks[k] !== undefined && Math.abs(marks[k] - typed) < 1e-9 ? markedStop(k) : typed;
};

/** Illuminance, lux, that puts an 18 % card on middle grey: C·N²/(S·t), filters in [ISO-2720]. */
export const eRefLux = (s: ExposureSettings): number =>
  (((s.constantC ?? DEFAULT_C) * s.tStop ** 2) / (s.iso * s.shutterS)) * 2 ** (s.filterStops ?? 0);

/** Stops over middle grey of a matte surface of reflectance `rho` under `lux`. */
export const stopsOverGrey = (lux: number, rho: number, s: ExposureSettings): number =>
  Math.log2((rho / 0.18) * (lux / eRefLux(s)));

/** Stops by which an incident reading is over (positive) or under the set stop. */
export const stopsOverSet = (lux: number, s: ExposureSettings): number => Math.log2(lux / eRefLux(s));

/** The T-stop a reading asks for at this index, shutter and filters. */
export const askedStop = (lux: number, s: ExposureSettings): number =>
  Math.sqrt((lux * s.iso * s.shutterS) / ((s.constantC ?? DEFAULT_C) * 2 ** (s.filterStops ?? 0)));

/** The constant C that an illuminance and settings imply. */
export const impliedC = (lux: number, s: ExposureSettings): number =>
  (lux * s.iso * s.shutterS) / s.tStop ** 2;

/** Reflectance at which the reflected constant K and the incident C agree: πK/C. */
export const impliedReflectance = (K: number, C: number): number => (Math.PI * K) / C;

/** Illuminance and luminance of an exposure value at ISO 100. */
export const evLux = (ev: number, C = DEFAULT_C): number => (C / 100) * 2 ** ev;
export const evLuminance = (ev: number, K = 12.5): number => (K / 100) * 2 ** ev;

/** Time of a shutter angle (radians in, seconds out) and back. */
export const shutterS = (angle: number, fps: number): number => angle / (2 * Math.PI * fps);
export const shutterAngle = (seconds: number, fps: number): number => 2 * Math.PI * fps * seconds;

/** Stops and transmission of an optical density. */
export const stopsOfDensity = (density: number): number => density / Math.log10(2);
export const transmissionOfDensity = (density: number): number => 10 ** -density;

/** Stops of electronic gain: 6 dB is one (20·log10 2 = 6.02). */
export const stopsOfGain = (dB: number): number => dB / (20 * Math.log10(2));

/** Stops from grey to saturation under the saturation-based speed of ISO 12232: log2(√2/0.18). */
export const SATURATION_STOPS = Math.log2(Math.SQRT2 / 0.18);
