/** What differs from country to country: worst volts, ordinary sockets, the lines planners keep to. */
import type { Region } from './network.ts';

/** One region's figures. Amps and volts r.m.s. */
export interface RegionRules {
  readonly nominalV: number;
  readonly lowestV: number;
  readonly highestV: number;
  /** Ordinary socket, A. */
  readonly socketA: number;
  /** Line for long loads at a socket, A. */
  readonly socketLongA: number;
  /** Both outlets of a double plate together, A. */
  readonly plateA: number;
  /** Cautious line for the plate, A. */
  readonly plateLineA: number;
  /** Largest planned watts at one point; undefined where no such line is known. */
  readonly pointW: number | undefined;
  /** Largest planned watts on one ring; undefined outside ring countries. */
  readonly ringW: number | undefined;
  /** How a figure over the 80 % line is named here. */
  readonly longWords: string;
  /** Word for a socket and for earth. */
  readonly socketWord: string;
  readonly earthWord: string;
}

/**
 * Figures by region. Volts [EN-50160] (from memory), sockets [BS-1363], [CEE-7], [NEC-210], [AS-3112], [JIS-8303] through
 * secondary pages; the 10 A line of the EU socket and the cautious 13 A of a UK double plate are planners' practice, not ratings.
 */
export const REGION: Readonly<Record<Region, RegionRules>> = {
  uk: {
    nominalV: 230,
    lowestV: 216.2,
    highestV: 253,
    socketA: 13,
    socketLongA: 10.4,
    plateA: 20,
    plateLineA: 13,
    pointW: 2000,
    ringW: 6000,
    longWords: 'long-load line',
    socketWord: 'socket',
    earthWord: 'earth',
  },
  eu: {
    nominalV: 230,
    lowestV: 207,
    highestV: 253,
    socketA: 16,
    socketLongA: 10,
    plateA: 16,
    plateLineA: 10,
    pointW: undefined,
    ringW: undefined,
    longWords: 'long-load line',
    socketWord: 'socket',
    earthWord: 'earth',
  },
  na: {
    nominalV: 120,
    lowestV: 114,
    highestV: 126,
    socketA: 15,
    socketLongA: 12,
    plateA: 15,
    plateLineA: 12,
    pointW: undefined,
    ringW: undefined,
    longWords: 'continuous-load limit',
    socketWord: 'outlet',
    earthWord: 'ground',
  },
  au: {
    nominalV: 230,
    lowestV: 216.2,
    highestV: 253,
    socketA: 10,
    socketLongA: 8,
    plateA: 10,
    plateLineA: 8,
    pointW: undefined,
    ringW: undefined,
    longWords: 'long-load line',
    socketWord: 'outlet',
    earthWord: 'earth',
  },
  jp: {
    nominalV: 100,
    lowestV: 95,
    highestV: 107,
    socketA: 15,
    socketLongA: 12,
    plateA: 15,
    plateLineA: 12,
    pointW: undefined,
    ringW: undefined,
    longWords: 'long-load line',
    socketWord: 'outlet',
    earthWord: 'earth',
  },
};

/** Share of a device's rating planned for set lighting, which burns for hours [NEC-210]; elsewhere common practice, no source. */
export const LONG_SHARE = 0.8;

/** Plan for a circuit whose device or cable nobody knows, A. Common practice, no source. */
export const UNKNOWN_PLAN_A = 10;

/** Load a coiled lead without a wound-up mark may carry, W: the mark of one published case [REEL]. */
export const UNMARKED_REEL_W = 500;

/** Most a UK ring's one leg carries when the ring may be broken, A: its 2.5 mm² cable [BS-7671-433]. */
export const RING_LEG_A = 20;

/** The rating a device or conductor needs: 1.25 × the continuous amps + 1 × the rest, A [NEC-210]. */
export const neededRatingA = (continuousA: number, otherA: number): number =>
  continuousA / LONG_SHARE + otherA;

/** Longest load an outlet of this rating takes on a North American multi-outlet circuit, A [NEC-210]. */
export const outletLimitA = (ratingA: number): number => LONG_SHARE * ratingA;

/** Plugs and outlets met on the continent and its neighbours. `EF` the round 16 A pair, `K` Danish, `2-pin` flat or old. */
export type PlugKind = 'EF' | 'K' | '2-pin' | 'BS1363' | 'other';

/**
 * Whether the pair carries the earth through: false where it fits without one, undefined where nothing was read of it.
 * A round 16 A plug fits a Danish socket with no earth [CEE-7].
 */
export function carriesEarth(plug: PlugKind, socket: PlugKind): boolean | undefined {
  if (plug === '2-pin' || socket === '2-pin') return false;
  if (plug === 'EF' && socket === 'K') return false;
  return plug === socket && plug !== 'other' ? true : undefined;
}
