/** Scattering in haze, fog and rain against the published function and the tables of it [CHECKS-LIGHT §7]. */
import { bandMean, fogFit, fogPhase, henyeyGreenstein, phaseOf } from '../light/haze.ts';
import { rel } from './lightTolerance.ts';
import type { CheckRow } from './row.ts';
import { row } from './row.ts';

const LOBE = 'Henyey-Greenstein phase function, computed [CHECKS-LIGHT §7.1]';
const FOG = 'published fit to fog droplets of 5–50 µm, check values computed [CHECKS-LIGHT §7.2]';
const DROPS = 'sums over droplets, computed, ± 10 % [CHECKS-LIGHT §7.2]';
const RAIN = 'ray optics of a water sphere, computed, ± 5 % [CHECKS-LIGHT §7.3]';

const cosOf = (deg: number): number => Math.cos((deg * Math.PI) / 180);

/** Rows of §7; six digits are printed there. */
export function airRows(): CheckRow[] {
  const out: CheckRow[] = [];
  const lobe: [number, number, number][] = [
    [0, 90, 0.0795775],
    [0.3, 20, 0.189725],
    [0.5, 45, 0.149204],
    [0.7, 0, 1.50313],
    [0.7, 150, 0.00913539],
    [0.75, 30, 0.257449],
    [0.75, 150, 0.00719232],
    [0.75, 180, 0.00649612],
    [0.8, 90, 0.0136404],
    [0.85, 160, 0.00365048],
    [0.9, 135, 0.00279336],
  ];
  for (const [g, deg, p] of lobe)
    out.push(
      row(
        `light-air-g${g}-${deg}`,
        `light turned by ${deg}°, mean cosine ${g}`,
        LOBE,
        p,
        henyeyGreenstein(g, cosOf(deg)),
        '1/sr',
        rel(p, 5e-6, 0),
      ),
    );
  for (const [g, ratio] of [
    [0.3, 4.7406],
    [0.75, 35.795],
    [0.85, 45.6116],
  ] as const)
    out.push(
      row(
        `light-air-ratio-g${g}`,
        `30° from behind against 30° from the front, mean cosine ${g}`,
        LOBE,
        ratio,
        henyeyGreenstein(g, cosOf(30)) / henyeyGreenstein(g, cosOf(150)),
        ':1',
        rel(ratio, 2e-5, 0),
      ),
    );
  const fit = fogFit(10);
  const fog: [string, string, number, number][] = [
    ['lobe', 'fit at 10 µm: mean cosine of the sharp lobe', 0.988177, fit.g],
    ['second', 'fit at 10 µm: second lobe', 0.555671, fit.gDraine],
    ['alpha', 'fit at 10 µm: its exponent', 21.99552, fit.alpha],
    ['share', 'fit at 10 µm: its share', 0.481955, fit.share],
    ['30', 'fog of 10 µm, light turned by 30°', 0.18409, fogPhase(10, cosOf(30))],
    ['90', 'fog of 10 µm, by 90°', 0.00172563, fogPhase(10, cosOf(90))],
    ['150', 'fog of 10 µm, by 150°', 0.0106748, fogPhase(10, cosOf(150))],
    ['180', 'fog of 10 µm, straight back', 0.012715, fogPhase(10, -1)],
  ];
  for (const [id, what, expected, got] of fog)
    out.push(row(`light-air-fog-${id}`, what, FOG, expected, got, '', rel(expected, 1e-5, 0)));
  const bands = (phase: Parameters<typeof phaseOf>[0], a: number, b: number, c: number, d: number): number =>
    bandMean(phaseOf(phase), a, b) / bandMean(phaseOf(phase), c, d);
  const means: [string, string, string, number, number, number][] = [
    ['haze-front', 'haze, 20–40° over 140–160°', DROPS, 8.9, bands('haze', 20, 40, 140, 160), 0.1],
    ['haze-side', 'haze, 20–40° over 80–100°', DROPS, 14, bands('haze', 20, 40, 80, 100), 0.1],
    ['fog-front', 'fog of 10 µm, 20–40° over 140–160°', FOG, 17.4, bands('fog', 20, 40, 140, 160), 0.005],
    ['rain-front', 'rain, 20–40° over 140–160°', RAIN, 15.2, bands('rain', 20, 40, 140, 160), 0.05],
    ['rain-side', 'rain, 20–40° over 80–100°', RAIN, 159, bands('rain', 20, 40, 80, 100), 0.05],
  ];
  for (const [id, what, source, expected, got, tolerance] of means)
    out.push(row(`light-air-${id}`, what, source, expected, got, ':1', rel(expected, tolerance, 0)));
  return out;
}
