/** What was read, however it was read, as the illuminance that a right meter would have shown. */
import { bisect } from '../maths/roots.ts';
import { eRefLux, LUX_PER_FOOTCANDLE } from './exposure.ts';
import { type Response, toDisplay } from './response.ts';

/** How a reading was made: on a light meter in lux or foot-candles, or on the camera with a grey card. */
export type ReadBy = 'lux' | 'footcandle' | 'stop' | 'zebra';

export interface CameraThen {
  iso: number;
  shutterS: number;
  filterStops?: number;
  constantC: number;
}

/** Whether the camera was the meter: then its own grey is read, whatever it is. */
export const byCamera = (how: ReadBy): boolean => how === 'stop' || how === 'zebra';

/**
 * Lux. `stop`: an 18 % card looked grey at T`value`. `zebra`: on that card zebra at `zebraPercent` just showed at
 * T`value`; the stop read is wider open than grey's by as much as the response puts that signal above grey.
 */
export function luxRead(
  how: ReadBy,
  value: number,
  camera: CameraThen,
  response: Response,
  zebraPercent = DEFAULT_ZEBRA,
): number {
  if (how === 'lux') return value;
  if (how === 'footcandle') return value * LUX_PER_FOOTCANDLE;
  const grey = eRefLux({ ...camera, tStop: value });
  return how === 'stop' ? grey : grey * 2 ** stopsOfSignal(response, zebraPercent / 100);
}

/** The value that `lux` would have given: `luxRead` backwards. */
export function wouldRead(
  how: ReadBy,
  lux: number,
  camera: CameraThen,
  response: Response,
  zebraPercent = DEFAULT_ZEBRA,
): number {
  const one = luxRead(how, 1, camera, response, zebraPercent);
  return byCamera(how) ? Math.sqrt(lux / one) : lux / one;
}

/** Zebra set so that the bright side of light skin just shows (common practice) [CHECKS-CAMERA §1.9]. */
export const DEFAULT_ZEBRA = 70;

/** Stops over grey at which a class of camera puts out a signal of 0–1; the highest it tells apart from clip at 1. */
export function stopsOfSignal(r: Response, signal: number): number {
  const most = Math.min(signal, 0.9999);
  return bisect((s) => toDisplay(r, 2 ** s) - most, -r.stopsBelowGrey, r.stopsAboveGrey, 1e-9);
}

/**
 * One sigma of a reading’s own noise, stops. A light meter in the hand: turned and held a little off (judgement). Read
 * off a lens in thirds: half a third either way, evenly, is 1/6 ÷ √3 [JCGM-100 §4.3.7], and the eye that calls a
 * card grey is good to about as much again (judgement); zebra’s edge is a little harder to call (judgement).
 */
export const NOISE_STOPS: Readonly<Record<ReadBy, number>> = {
  lux: 0.08,
  footcandle: 0.08,
  stop: Math.hypot(1 / 6 / Math.sqrt(3), 0.1),
  zebra: Math.hypot(1 / 6 / Math.sqrt(3), 0.13),
};
