/**
 * What hangs or falls in the air, as light meets it: how it scatters by angle, and how much. Angles are those by which
 * light is turned: 0 it goes on toward the camera (a lamp behind the air, back light), 180° it turns round (a lamp at the
 * camera, front light). A phase function's integral over all directions is 1; cosines in, per steradian out.
 */

const FOUR_PI = 4 * Math.PI;

/** One lobe whose mean cosine is `g`, −1 … 1 [CHECKS-LIGHT §7.1]. */
export const henyeyGreenstein = (g: number, cos: number): number =>
  (1 - g * g) / (FOUR_PI * (1 + g * g - 2 * g * cos) ** 1.5);

/** The lobe that reaches from one mean cosine to Rayleigh's law by `alpha` [CHECKS-LIGHT §7.2]. */
export const draine = (g: number, alpha: number, cos: number): number =>
  (henyeyGreenstein(g, cos) * (1 + alpha * cos * cos)) / (1 + (alpha * (1 + 2 * g * g)) / 3);

/** Parts of the published fit to droplets of fog, `diameterUm` 5 … 50 micrometres [CHECKS-LIGHT §7.2]. */
export function fogFit(diameterUm: number): { g: number; gDraine: number; alpha: number; share: number } {
  const d = diameterUm;
  return {
    g: Math.exp(-0.0990567 / (d - 1.67154)),
    gDraine: Math.exp(-2.20679 / (d + 3.91029) - 0.428934),
    alpha: Math.exp(3.62489 - 8.29288 / (d + 5.52825)),
    share: Math.exp(-0.599085 / (d - 0.641583) - 0.665888),
  };
}

/** Scattering of fog droplets of one diameter: the fit's two lobes together. */
export function fogPhase(diameterUm: number, cos: number): number {
  const { g, gDraine, alpha, share } = fogFit(diameterUm);
  return (1 - share) * henyeyGreenstein(g, cos) + share * draine(gDraine, alpha, cos);
}

/**
 * Droplets of about a micrometre as machines make them: two lobes, the second one backward, set so that mean cosine and
 * the ratios of back to front and back to side come out as the sums over droplets of 1 µm (refractive index 1.43) do
 * [CHECKS-LIGHT §7.2]: .71, 8.9, 14. One lobe alone has no light turned back and overstates the ratio up to five times.
 */
const HAZE = { forward: 0.81, backward: -0.52, share: 0.075 } as const;
export const hazePhase = (cos: number): number =>
  (1 - HAZE.share) * henyeyGreenstein(HAZE.forward, cos) + HAZE.share * henyeyGreenstein(HAZE.backward, cos);

/** Means over solid angle between these angles, degrees, of a drop of water by ray optics [CHECKS-LIGHT §7.3]. */
const RAIN_DEG = [0, 10, 20, 30, 40, 60, 80, 100, 120, 140, 160, 180] as const;
const RAIN = [1.177, 0.854, 0.505, 0.269, 0.0933, 0.0126, 0.00232, 0.00219, 0.013, 0.0242, 0.00824] as const;
/** The table's own sum over all directions: its digits are rounded. */
const RAIN_SUM = RAIN.reduce((s, p, k) => s + p * solidAngle(RAIN_DEG[k]!, RAIN_DEG[k + 1]!), 0);

/** Scattering of a falling drop: what it sends is mostly refracted straight on, within 83°. */
export function rainPhase(cos: number): number {
  const deg = (Math.acos(Math.min(1, Math.max(-1, cos))) * 180) / Math.PI;
  let k = RAIN.length - 1;
  while (k > 0 && deg < RAIN_DEG[k]!) k--;
  return RAIN[k]! / RAIN_SUM;
}

/** Mean cosine of snow and ice crystals in visible light; from memory, .7–.8 are given. */
const SNOW_G = 0.75;

/** What is in the air: a machine's haze, fog, rain, snow, or one lobe of a mean cosine. */
export type Phase = 'haze' | 'fog' | 'rain' | 'snow' | number;
/** Diameter of fog droplets, micrometres [CHECKS-LIGHT §7.2]. */
const FOG_UM = 10;

export function phaseOf(phase: Phase): (cos: number) => number {
  switch (phase) {
    case 'haze':
      return hazePhase;
    case 'fog':
      return (cos) => fogPhase(FOG_UM, cos);
    case 'rain':
      return rainPhase;
    case 'snow':
      return (cos) => henyeyGreenstein(SNOW_G, cos);
    default:
      return (cos) => henyeyGreenstein(phase, cos);
  }
}

function solidAngle(fromDeg: number, toDeg: number): number {
  return 2 * Math.PI * (Math.cos((fromDeg * Math.PI) / 180) - Math.cos((toDeg * Math.PI) / 180));
}

/** Mean over solid angle of a phase function between two angles, degrees; per steradian. */
export function bandMean(phase: (cos: number) => number, fromDeg: number, toDeg: number): number {
  // The midpoint rule in the cosine, in which solid angle is even; fine enough for the sharpest lobe in use.
  const [a, b] = [Math.cos((toDeg * Math.PI) / 180), Math.cos((fromDeg * Math.PI) / 180)];
  const steps = 4000;
  let sum = 0;
  for (let k = 0; k < steps; k++) sum += phase(a + ((b - a) * (k + 0.5)) / steps);
  return sum / steps;
}

/** How much brighter the air is lit from behind than from the front: means of 20–40° and 140–160°. */
export const backOverFront = (phase: (cos: number) => number): number =>
  bandMean(phase, 20, 40) / bandMean(phase, 140, 160);

/** Share of light that comes through `metres` of air that takes `extinctionPerM` of it. */
export const passed = (extinctionPerM: number, metres: number): number => Math.exp(-extinctionPerM * metres);

/**
 * Extinction per metre from how far one sees: the meteorological optical range, over which a parallel beam falls to 5 %
 * (the meteorologists' definition, from memory).
 */
export const extinctionOfRange = (metres: number): number => -Math.log(0.05) / metres;
export const rangeOfExtinction = (perM: number): number => -Math.log(0.05) / perM;

/**
 * Extinction of what falls, per metre, from millimetres of water an hour: the power laws used for optical links in rain
 * (1.076 R^0.67 dB/km) and wet snow (3.79 S^0.72), from memory.
 */
export function extinctionOfFall(kind: 'rain' | 'snow', mmPerH: number): number {
  const dBPerKm = kind === 'rain' ? 1.076 * mmPerH ** 0.67 : 3.79 * mmPerH ** 0.72;
  return (dBPerKm * Math.LN10) / 10 / 1000;
}
