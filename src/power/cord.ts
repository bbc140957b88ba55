/** Cords and cables: resistance, what they carry, what they drop. */

/** One size of flexible cord. */
export interface CordSize {
  readonly mm2: number;
  /** Largest resistance of one plain copper core at 20 °C, Ω/km [IEC-60228], class 5. */
  readonly plainOhmPerKm: number;
  /** The same, tinned; undefined where not read. */
  readonly tinnedOhmPerKm: number | undefined;
  /** What a 60 °C cord carries single-phase at 30 °C, A [BS-7671-4F3]; undefined above the table. */
  readonly singleA: number | undefined;
  readonly threeA: number | undefined;
  /** Table drop at 60 °C, mV per amp per metre [BS-7671-4F3]. */
  readonly mvPerAM: number | undefined;
  readonly mvPerAMThree: number | undefined;
}

/** Sizes 0.5 … 16 mm². Both tables through trade reproductions; the 1.25 mm² core from memory. */
export const CORDS: readonly CordSize[] = [
  [0.5, 39.0, 40.1, 3, 3, 93, 80],
  [0.75, 26.0, 26.7, 6, 6, 62, 54],
  [1.0, 19.5, 20.0, 10, 10, 46, 40],
  [1.25, 15.6, undefined, 13, undefined, 37, undefined],
  [1.5, 13.3, 13.7, 16, 16, 32, 27],
  [2.5, 7.98, 8.21, 25, 20, 19, 16],
  [4, 4.95, 5.09, 32, 25, 12, 10],
  [6, 3.3, 3.39, undefined, undefined, undefined, undefined],
  [10, 1.91, 1.95, undefined, undefined, undefined, undefined],
  [16, 1.21, 1.24, undefined, undefined, undefined, undefined],
].map(([mm2, plain, tinned, single, three, mv, mv3]) => ({
  mm2: mm2!,
  plainOhmPerKm: plain!,
  tinnedOhmPerKm: tinned,
  singleA: single,
  threeA: three,
  mvPerAM: mv,
  mvPerAMThree: mv3,
}));

/** The row of this size; undefined when the table has none. */
export const cord = (mm2: number): CordSize | undefined => CORDS.find((c) => c.mm2 === mm2);

/** Copper's rise of resistance per kelvin from 20 °C. */
export const COPPER_ALPHA = 0.00393;

/** Resistance at `conductorC` from the resistance at 20 °C, same unit. */
export const atTemperature = (ohm20: number, conductorC: number): number =>
  ohm20 * (1 + COPPER_ALPHA * (conductorC - 20));

/** Resistance of line and return of a lead, Ω. Plain copper at 60 °C unless told; undefined for a size not in the table. */
export function leadLoopOhm(lead: {
  mm2: number;
  lengthM: number;
  conductorC?: number;
  tinned?: boolean;
}): number | undefined {
  const size = cord(lead.mm2);
  const core = lead.tinned ? size?.tinnedOhmPerKm : size?.plainOhmPerKm;
  return core === undefined
    ? undefined
    : (atTemperature(2 * core, lead.conductorC ?? 60) * lead.lengthM) / 1000;
}

/** The table's millivolts per amp per metre, from the core: 2·R·k for one phase, √3·R·k for three [IEC-60228]. */
export const dropPerAmpMetreMv = (coreOhmPerKm: number, conductorC = 60, phases: 1 | 3 = 1): number =>
  atTemperature((phases === 1 ? 2 : Math.sqrt(3)) * coreOhmPerKm, conductorC);

/** Table drop at constant current, V [BS-7671-4F3]: about 3 % pessimistic for tungsten; a number, not a verdict. */
export function tableDropV(mm2: number, currentA: number, lengthM: number): number | undefined {
  const mv = cord(mm2)?.mvPerAM;
  return mv === undefined ? undefined : (mv * currentA * lengthM) / 1000;
}

/** Conductor temperature in use, °C: the rise goes with the square of the current and reaches 60 °C at the table's amps. */
export const runningTemperatureC = (currentA: number, tableA: number, ambientC: number): number =>
  ambientC + (60 - 30) * (currentA / tableA) ** 2;

/** One American size. Cord amps: three or two conductors carrying [NEC-400.5], through a cable maker. */
export interface AwgSize {
  readonly awg: number;
  readonly circularMils: number | undefined;
  /** Ω per 1000 ft at 75 °C, stranded, from memory. */
  readonly ohmPerKft: number;
  readonly threeCarryingA: number;
  readonly twoCarryingA: number;
}

/** 18 … 6 AWG. Circular mils [NEC-CH9-8]. */
export const AWG: readonly AwgSize[] = (
  [
    [18, undefined, 7.95, 7, 10],
    [16, undefined, 4.99, 10, 13],
    [14, 4110, 3.14, 15, 18],
    [12, 6530, 1.98, 20, 25],
    [10, 10380, 1.24, 25, 30],
    [8, 16510, 0.778, 35, 40],
    [6, 26240, 0.491, 45, 55],
  ] as const
).map(([awg, circularMils, ohmPerKft, threeCarryingA, twoCarryingA]) => ({
  awg,
  circularMils,
  ohmPerKft,
  threeCarryingA,
  twoCarryingA,
}));

/** Loop resistance of an American cord of `lengthFt` one way, Ω at 75 °C; undefined for a size not in the table. */
export function awgLoopOhm(awg: number, lengthFt: number): number | undefined {
  const size = AWG.find((a) => a.awg === awg);
  return size && (2 * size.ohmPerKft * lengthFt) / 1000;
}

/** Drop by circular mils, V: 2·K·I·D/CM, or √3 for three phases; K = 12.9 Ω·cmil/ft for copper [K-METHOD]. */
export function circularMilDropV(awg: number, currentA: number, lengthFt: number, phases: 1 | 3 = 1) {
  const mils = AWG.find((a) => a.awg === awg)?.circularMils;
  return mils === undefined
    ? undefined
    : ((phases === 1 ? 2 : Math.sqrt(3)) * 12.9 * currentA * lengthFt) / mils;
}

const AMBIENT: Readonly<Record<60 | 90, readonly (readonly [number, number])[]>> = {
  60: [
    [30, 1],
    [35, 0.91],
    [40, 0.82],
    [45, 0.71],
    [50, 0.58],
    [55, 0.41],
  ],
  90: [
    [50, 1],
    [55, 0.96],
    [60, 0.83],
    [65, 0.67],
    [70, 0.47],
  ],
};

/** What is left of a cord's amps in a hot place, 0..1 [BS-7671-4F3]; the next hotter row of the table, 0 beyond it. */
export const ambientFactor = (ambientC: number, ratedC: 60 | 90 = 60): number =>
  AMBIENT[ratedC].find(([t]) => ambientC <= t)?.[1] ?? 0;

/** What is left when loaded circuits lie side by side or under one cover; from memory; undefined above three: ask. */
export const bundleFactor = (circuits: number): number | undefined =>
  circuits <= 1 ? 1 : circuits === 2 ? 0.8 : circuits === 3 ? 0.7 : undefined;

/** Heat a lead gives off, W: I²R over its whole length. In a reel none of it gets out. */
export const leadHeatW = (currentA: number, loopOhm: number): number => currentA ** 2 * loopOhm;
