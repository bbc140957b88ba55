/** A tungsten lamp off its rated voltage: (V/V₀)ᵏ. */

/**
 * Exponents: flux 3.4 (3.4–3.5 [FINK-BEATY]; 3.42 [FIELD-GUIDE]), power 1.55 (mean of
 * 1.53 and 1.6, so that power = volts × amps), current 0.55, colour temperature 0.42. Sure from 95 to 105 % of
 * rated; below half voltage only a direction.
 */
export const TUNGSTEN_EXPONENTS = { flux: 3.4, power: 1.55, current: 0.55, cct: 0.42 } as const;

export interface TungstenState {
  fluxFactor: number;
  powerFactor: number;
  currentFactor: number;
  cctK: number;
}

/** State at `volts` of a lamp rated for `ratedV` with `ratedCctK`. Volts at or below zero: dark. */
export function atVolts(rated: { volts: number; cctK: number }, volts: number): TungstenState {
  const r = Math.max(0, volts / rated.volts);
  const k = TUNGSTEN_EXPONENTS;
  return {
    fluxFactor: r ** k.flux,
    powerFactor: r ** k.power,
    currentFactor: r ** k.current,
    // A cold filament has no colour; hold it where the eye sees none.
    cctK: Math.max(1000, rated.cctK * r ** k.cct),
  };
}

/** Share of rated voltage (0–1 and above) at which the flux has changed by `stops` (negative: dimmer). */
export const voltShareForStops = (stops: number): number => 2 ** (stops / TUNGSTEN_EXPONENTS.flux);

/** RMS voltage share of a phase-cut dimmer firing at `angle` radians (0 full, π off), resistive load [CHECKS-CAMERA §6.4]. */
export const phaseCutShare = (angle: number): number =>
  Math.sqrt(Math.max(0, 1 - angle / Math.PI + Math.sin(2 * angle) / (2 * Math.PI)));
