/** What fills the air of a stage: the same everywhere (haze), or only where no roof is over it (rain, snow). */

/** A room that keeps dry: an upright prism. */
export interface Roofed {
  outline: readonly (readonly [number, number])[];
  fromM: number;
  toM: number;
}

export interface Air {
  /** Haze: share of light taken per metre; nothing is swallowed, all of it is scattered. 0: clear air. */
  extinctionPerM: number;
  /** How it scatters: a kind by name, or the mean cosine of one lobe. */
  phase: 'haze' | 'fog' | number;
  /** What falls, outside of rooms. What it takes from a beam over the length of a set is left out: under a tenth. */
  falling?: { kind: 'rain' | 'snow'; scatteringPerM: number; rooms: readonly Roofed[] };
}

/** Content of the air as a key; the empty text for clear air. */
export const airKey = (air: Air | undefined): string => (air ? JSON.stringify(air) : '');
