/** What a class of camera makes of scene light: room above and below grey, the curve, the limits of white balance. */
import { oetf709 } from '../colour/rgb.ts';

export const CLASSES = ['old-sd', 'tape', 'hd-knee', 'large-8bit', 'modern', 'wide', 'negative'] as const;
export type ResponseClass = (typeof CLASSES)[number];

export interface Response {
  id: ResponseClass;
  words: string;
  /** The same where there is little room. */
  short: string;
  iso: number;
  /** Stops from middle grey to clip and down to where noise takes over. */
  stopsAboveGrey: number;
  stopsBelowGrey: number;
  /** Signal to noise on a grey card at its own sensitivity, decibels (20 log10); from memory. */
  greySnrDb: number;
  /** Sensitivity may be raised at the price of noise. */
  gain: boolean;
  /** Stops above grey where the curve begins to bend over; absent: it runs straight into the clip. */
  kneeStops?: number;
  /** Colour temperatures it can be balanced to, and how far off the locus (Duv, either way). */
  kelvinRange: readonly [number, number];
  duvRange: number;
}

/**
 * Planning values from memory, room above and below grey in the ranges that [CHECKS-CAMERA §1.7] gives for each class; a
 * test shot of the real camera replaces them.
 */
export const RESPONSES: Record<ResponseClass, Response> = {
  'old-sd': {
    id: 'old-sd',
    words: 'old standard-definition video',
    short: 'old SD video',
    greySnrDb: 42,
    gain: false,
    iso: 320,
    stopsAboveGrey: 2.5,
    stopsBelowGrey: 4.5,
    kelvinRange: [2500, 10000],
    duvRange: 0.02,
  },
  tape: {
    id: 'tape',
    words: 'third-inch tape camcorder, knee on',
    short: 'tape camcorder',
    iso: 320,
    stopsAboveGrey: 3,
    stopsBelowGrey: 3.5,
    greySnrDb: 38,
    gain: true,
    kneeStops: 1.75,
    kelvinRange: [2500, 10000],
    duvRange: 0.02,
  },
  'hd-knee': {
    id: 'hd-knee',
    words: 'half-inch and two-thirds-inch HD with a knee',
    short: 'HD with a knee',
    iso: 400,
    stopsAboveGrey: 3.5,
    stopsBelowGrey: 5.5,
    greySnrDb: 44,
    gain: true,
    kneeStops: 1.6,
    kelvinRange: [2300, 15000],
    duvRange: 0.025,
  },
  'large-8bit': {
    id: 'large-8bit',
    words: 'early large-sensor video in 8 bits',
    short: 'early large sensor',
    iso: 640,
    stopsAboveGrey: 3.25,
    stopsBelowGrey: 5.25,
    greySnrDb: 38,
    gain: true,
    kneeStops: 1.8,
    kelvinRange: [2500, 10000],
    duvRange: 0.03,
  },
  modern: {
    id: 'modern',
    words: 'modern video',
    short: 'modern video',
    greySnrDb: 42,
    gain: true,
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
    short: 'wide range',
    greySnrDb: 44,
    gain: true,
    iso: 800,
    stopsAboveGrey: 6.5,
    stopsBelowGrey: 7.5,
    kneeStops: 1,
    kelvinRange: [2000, 15000],
    duvRange: 0.03,
  },
  negative: {
    id: 'negative',
    words: 'colour negative film, graded afterwards',
    short: 'colour negative',
    iso: 500,
    stopsAboveGrey: 6.5,
    stopsBelowGrey: 7,
    greySnrDb: 34,
    gain: false,
    kneeStops: 0.5,
    kelvinRange: [2600, 8000],
    duvRange: 0.03,
  },
};

/** At the class's floor the signal is so many times the noise of the dark: the least that is still used (judgement). */
const FLOOR_OVER_NOISE = 4;

/**
 * Spread of the signal at a level, as a share of it (one sigma). Two noises: one that is there in the dark, and tells where
 * the floor is; and one that grows with the root of light, as the grey card tells.
 */
export function noiseShare(r: Response, linear: number): number {
  if (!(linear > 0)) return Number.POSITIVE_INFINITY;
  const dark = 2 ** -r.stopsBelowGrey / FLOOR_OVER_NOISE;
  const shot = 10 ** (-r.greySnrDb / 20);
  return Math.sqrt(dark * dark + shot * shot * linear) / linear;
}

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
