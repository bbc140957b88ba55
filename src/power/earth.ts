/** Whether an earth fault would open something in time. A number is compared; nothing here is a measurement. */
import type { Protection } from './device.ts';
import type { Earthing, Region, Source } from './network.ts';

/** Volts a fault is reckoned with: 0.95 × 230 [BS-7671-41.3]. */
const FAULT_V = 0.95 * 230;

/** Plug and rewireable fuses at 0.4 s, Ω, through an electricians' table [BS-7671-41.3]. */
const FUSES_OHM: Readonly<Record<string, Readonly<Record<number, number>>>> = {
  bs1362: { 3: 15.6, 13: 2.3 },
  bs3036: { 5: 9.1, 15: 2.43, 20: 1.68, 30: 1.04 },
};

/**
 * Largest loop impedance that opens the device in 0.4 s, Ω, hot. UK [BS-7671-41.3]; Australia's type C from memory
 * [AS-3000]. Undefined: no table read for this device or region.
 */
export function zsLimitOhm(device: Protection, region: Region): number | undefined {
  if (device.ratingA === undefined) return undefined;
  if (region === 'au') return device.kind === 'mcb-c' ? 230 / (7.5 * device.ratingA) : undefined;
  if (region !== 'uk') return undefined;
  const times = { 'mcb-b': 5, 'mcb-c': 10, 'mcb-d': 20 }[device.kind as string];
  return times === undefined ? FUSES_OHM[device.kind]?.[device.ratingA] : FAULT_V / (times * device.ratingA);
}

/** A cold reading raised to the hot basis: the 80 % rule [BS-7671-41.3]. */
export const hotZsOhm = (measuredColdOhm: number): number => measuredColdOhm / 0.8;

/** Outcome of an earth-fault reckoning. */
export interface EarthAnswer {
  readonly level: 'within' | 'warn' | 'over' | 'not-checked';
  /** Loop at the lamp, Ω; undefined when it cannot be told. */
  readonly zsOhm: number | undefined;
  /** Largest limit among the devices in series, Ω. */
  readonly limitOhm: number | undefined;
  readonly words: string;
}

/** Loop at the end of a lead against every device in series: one that clears in time is enough, and is named. */
export function checkEarth(fault: {
  readonly region: Region;
  readonly source: Source;
  readonly earthing: Earthing;
  /** Hot basis, at the board or socket; undefined = not measured. */
  readonly zsOhm: number | undefined;
  /** What cables and leads add, both cores, hot; undefined = not told. */
  readonly leadOhm: number | undefined;
  readonly devices: readonly (Protection & { readonly words: string })[];
  readonly rcdCounted: boolean;
}): EarthAnswer {
  const rcd = fault.rcdCounted
    ? 'relies on the RCD, tested today'
    : 'needs an RCD that counts, or a competent person';
  const none = (why: string): EarthAnswer => ({
    level: 'not-checked',
    zsOhm: undefined,
    limitOhm: undefined,
    words: `not checked: ${why}; ${rcd}`,
  });
  if (fault.source.kind !== 'mains') return none('a generator or inverter may not bring the fault current');
  if (fault.earthing !== 'TN')
    return none(fault.earthing === 'unknown' ? 'earthing not told' : `${fault.earthing} earthing`);
  if (fault.zsOhm === undefined) return none('loop impedance not measured');
  if (fault.leadOhm === undefined) return none('resistance of a lead not told');
  const zsOhm = fault.zsOhm + fault.leadOhm;
  const known = fault.devices
    .map((d) => ({ words: d.words, limit: zsLimitOhm(d, fault.region) }))
    .filter((d): d is { words: string; limit: number } => d.limit !== undefined);
  if (known.length === 0) return none('no table for this device in this region');
  // Unrounded values are compared; two decimals are printed.
  const best = known.reduce((a, b) => (b.limit > a.limit ? b : a));
  const sum = `${(Math.ceil(zsOhm * 100 - 1e-9) / 100).toFixed(2)} Ω at the lamp`;
  const limit = `${(Math.floor(best.limit * 100 + 1e-9) / 100).toFixed(2)} Ω of ${best.words}`;
  if (zsOhm > best.limit)
    return {
      level: fault.rcdCounted ? 'warn' : 'over',
      zsOhm,
      limitOhm: best.limit,
      words: `${sum}: over the ${limit}; ${rcd}`,
    };
  const share = zsOhm / best.limit;
  return {
    level: share > 0.8 ? 'warn' : 'within',
    zsOhm,
    limitOhm: best.limit,
    words: `${sum}: within the ${limit} (${Math.round(share * 100)} %)`,
  };
}
