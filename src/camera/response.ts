/** What a class of camera makes of scene light: room above and below grey, the curve, the limits of white balance. */
import { oetf709 } from '../colour/rgb.ts';

export type ResponseClass = 'old-sd' | 'modern' | 'wide';

export interface Response {
  id: ResponseClass;
  words: string;
  iso: number;
  /** Stops from middle grey to clip and down to where noise takes over. */
  stopsAboveGrey: number;
  stopsBelowGrey: number;
  /** Stops above grey where the curve begins to bend over; absent: it runs straight into the clip. */
  kneeStops?: number;
  /** Colour temperatures it can be balanced to, and how far off the locus (Duv, either way). */
  kelvinRange: readonly [number, number];
  duvRange: number;
}

/** Planning values from memory [CHECKS-CAMERA §1.7]; a test shot of the real camera replaces them. */
export const RESPONSES: Record<ResponseClass, Response> = {
  'old-sd': {
    id: 'old-sd',
    words: 'old standard-definition video',
    iso: 320,
    stopsAboveGrey: 2.5,
    stopsBelowGrey: 4.5,
    kelvinRange: [2500, 10000],
    duvRange: 0.02,
  },
  modern: {
    id: 'modern',
    words: 'modern video',
    iso: 800,
    stopsAboveGrey: 5,
    stopsBelowGrey: 7,
    kneeStops: 1.5,
    kelvinRange: [2000, 15000],
    duvRange: 0.03,
  },
  wide: {
    id: 'wide',
    words: 'wide-range log',
    iso: 800,
    stopsAboveGrey: 6.5,
    stopsBelowGrey: 7.5,
    kneeStops: 1,
    kelvinRange: [2000, 15000],
    duvRange: 0.03,
  },
};

export const isClipped = (r: Response, linear: number): boolean => linear > 2 ** r.stopsAboveGrey;
export const isCrushed = (r: Response, linear: number): boolean => linear < 2 ** -r.stopsBelowGrey;

/**
 * Signal 0–1 of one channel, `linear` relative to middle grey (1 = an 18 % card under the reference light). The BT.709
 * camera curve, so grey lands at 0.409; above the knee a shoulder with the same slope at its start that ends at 1 at
 * clip; below the noise floor a toe to black. The shoulder and toe are ours: a believable camera, not a given one.
 */
export function toDisplay(r: Response, linear: number): number {
  if (!(linear > 0)) return 0;
  // Toe: from twice the floor down, level to zero slope at black.
  const floor = 0.18 * 2 ** -r.stopsBelowGrey;
  let L = 0.18 * linear;
  if (L < 2 * floor) {
    const t = L / (2 * floor);
    L = 2 * floor * (2 - t) * t * t;
  }
  if (r.kneeStops === undefined) return Math.min(1, oetf709(L));
  // Shoulder in stops: 1 − (1 − u)ᵖ, p so that the slope runs on.
  const stops = Math.log2(linear);
  if (stops <= r.kneeStops) return oetf709(L);
  const kneeL = 0.18 * 2 ** r.kneeStops;
  const kneeV = oetf709(kneeL);
  const slope = 1.099 * 0.45 * kneeL ** 0.45 * Math.LN2;
  const range = r.stopsAboveGrey - r.kneeStops;
  const u = Math.min(1, (stops - r.kneeStops) / range);
  return kneeV + (1 - kneeV) * (1 - (1 - u) ** ((slope * range) / (1 - kneeV)));
}
