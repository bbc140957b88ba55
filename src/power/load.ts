/** How one load's current answers to its volts. */
import type { Load, Network } from './network.ts';
import { REGION } from './region.ts';

/** Exponent of tungsten current on volts, good for about 0.8–1.1 of the rated volts [LAMP-RERATING]. */
export const TUNGSTEN_CURRENT_EXPONENT = 0.55;
/** The power that goes with it, so that volts × amps = watts. */
export const TUNGSTEN_POWER_EXPONENT = 1 + TUNGSTEN_CURRENT_EXPONENT;

/** Electronics are reckoned down to this share of the lowest supply volts (8 % lost in leads): the planning rule. */
export const LOWEST_LAMP_SHARE = 0.92;

/**
 * Power factor reckoned, 0..1. Unstated: 0.55 for an uncorrected electronic supply, 0.4 for an uncorrected choke
 * [CFL-PF]: the worse case.
 */
export function powerFactorOf(load: Load): number {
  if (load.kind === 'tungsten' || load.kind === 'resistive') return 1;
  return load.powerFactor ?? (load.kind === 'electronic' ? 0.55 : 0.4);
}

/** Input power factor of a rectifier from its displacement factor and total harmonic distortion (0.3 = 30 %). */
export const distortedPowerFactor = (displacement: number, thd: number): number =>
  displacement / Math.hypot(1, thd);

/** Current magnitude at these volts, A. `level` 0..1 is the share of the rated watts. A choke is reckoned as holding its power. */
export function currentAt(load: Load, volts: number, level = 1): number {
  if (!load.on || level <= 0) return 0;
  const ratedA = load.watts / load.ratedV;
  const x = volts / load.ratedV;
  switch (load.kind) {
    case 'tungsten':
      // A dimmer in series: the lamp's own r.m.s. volts fall to level^(1/1.55), its current with them.
      return (
        ratedA *
        x ** TUNGSTEN_CURRENT_EXPONENT *
        level ** (TUNGSTEN_CURRENT_EXPONENT / TUNGSTEN_POWER_EXPONENT)
      );
    case 'resistive':
      return ratedA * x * Math.sqrt(level);
    default:
      return (load.watts * level) / (powerFactorOf(load) * volts);
  }
}

/** Volts a network is reckoned at: nominal, and the worst on either side. A measured figure replaces all three. */
export function voltsOf(network: Network): { nominalV: number; lowestV: number; highestV: number } {
  if (network.measuredV !== undefined)
    return { nominalV: network.measuredV, lowestV: network.measuredV, highestV: network.measuredV };
  const rules = REGION[network.region];
  const share = network.nominalV / rules.nominalV;
  return {
    nominalV: network.nominalV,
    lowestV: network.lowestV ?? rules.lowestV * share,
    highestV: network.highestV ?? rules.highestV * share,
  };
}

/**
 * Planning current, A: the most this load takes anywhere between the worst volts: what a rating is held against.
 * Tungsten and heaters at the highest volts; the rest at 0.92 of the lowest.
 */
export function planningCurrentA(load: Load, volts: { lowestV: number; highestV: number }): number {
  return load.kind === 'tungsten' || load.kind === 'resistive'
    ? currentAt(load, volts.highestV)
    : currentAt(load, LOWEST_LAMP_SHARE * volts.lowestV);
}

/** Largest constant power a loop of `loopOhm` can deliver from `sourceV`: P = V²/4R, W. Above it there is no working point. */
export const largestPowerW = (sourceV: number, loopOhm: number): number => sourceV ** 2 / (4 * loopOhm);
