/**
 * Sun and sky: where they stand [MEEUS-1998, REDA-2004], what the general skies send through an opening [CIE-171]
 * (tests 5.9, 5.11, 5.12; exact values re-derived), and what stands outside at dusk and by the moon.
 */
import { clearLevelLx, moonLevelLx, skyLevelLx } from '../light/dayLevels.ts';
import { moonAmongStars, moonLit, moonPhaseDeg } from '../light/moon.ts';
import { throughGap } from '../light/openings.ts';
import { levelOverZenith, OVERCAST, type Sky, skyOverZenith } from '../light/sky.ts';
import { julianDay, sunAmongStars, sunOver, sunPasses } from '../light/sun.ts';
import { DEG, type Vec3 } from '../maths/vec3.ts';
import type { CheckRow } from './row.ts';
import { row } from './row.ts';

const CIE171 = 'CIE 171:2006 as transcribed, exact values re-derived [CIE-171]';

/** 100 E / E on open level ground, of the sky at one point through a gap; the ground beyond of reflectance ρ. */
function share(
  sky: Sky,
  gap: { corner: Vec3; u: Vec3; v: Vec3 },
  at: Vec3,
  normal: Vec3,
  options: { ground?: number; glazed?: boolean } = {},
): number {
  const level = levelOverZenith(sky);
  const ground = ((options.ground ?? 0) * level) / Math.PI;
  const light = (d: Vec3): number => (d[2] > 0 ? skyOverZenith(sky, d) : ground);
  return (100 * throughGap(gap, at, normal, light, { grid: 240, glazed: options.glazed ?? false })) / level;
}

export function skyRows(): CheckRow[] {
  const out: CheckRow[] = [];
  const UP: Vec3 = [0, 0, 1];

  // 5.9: a hole 1 × 1 m in the middle of the roof, z 3; the sun 60° up toward +y.
  const roof = { corner: [1.5, 1.5, 3] as Vec3, u: [1, 0, 0] as Vec3, v: [0, 1, 0] as Vec3 };
  const toY: Vec3 = [0, Math.cos(60 * DEG), Math.sin(60 * DEG)];
  const byRoof: [number, Record<string, number>][] = [
    [1, { A: 0.46, D: 2.26, G: 2.33, J: 4.29, M: 3.11 }],
    [5, { A: 1.04, D: 2.2, G: 1.95, J: 3.37, M: 2.52 }],
    [12, { A: 1.74, D: 4.61, G: 5.72, J: 3.97, M: 1.4 }],
    [OVERCAST, { A: 0.56, D: 2.2, G: 2.29, J: 4.29, M: 3.07 }],
  ];
  for (const [type, points] of byRoof)
    for (const [p, percent] of Object.entries(points)) {
      const wall = 'ABCDEF'.indexOf(p);
      const at: Vec3 = wall >= 0 ? [2, 0, 2.75 - 0.5 * wall] : [2, 0.25 + 0.5 * 'GHIJKLMN'.indexOf(p), 0];
      out.push(
        row(
          `light-5.9-${type}${p}`,
          `CIE 5.9 point ${p}, 1 × 1 m roof opening, sky ${type}`,
          CIE171,
          percent,
          share({ type, sun: toY }, roof, at, wall >= 0 ? [0, 1, 0] : UP),
          '%',
          0.01,
        ),
      );
    }

  // 5.11 and 5.12: a window 2 × 1 m in the wall y = 0, sill 1 m; the sun 60° up toward −y; ground 0.30.
  const window = { corner: [1, 0, 1] as Vec3, u: [2, 0, 0] as Vec3, v: [0, 0, 1] as Vec3 };
  const fromY: Vec3 = [0, -toY[1], toY[2]];
  const byWindow: [number, Record<string, number>][] = [
    [1, { B: 1.06, D: 1.51, F: 1.86, G: 0.87, K: 5.07, M: 9.33 }],
    [5, { B: 1.06, D: 3.09, F: 3.17, G: 1.27, K: 5.19, M: 7.99 }],
    [12, { B: 1.06, D: 4.93, F: 5.01, G: 2.0, K: 9.54, M: 16.35 }],
    [OVERCAST, { B: 1.06, D: 1.71, F: 2.14, G: 0.95, K: 4.97, M: 9.11 }],
  ];
  const inRoom = (p: string): [Vec3, Vec3] => {
    const wall = 'ABCDEF'.indexOf(p);
    return wall >= 0
      ? [
          [2, 4, 2.75 - 0.5 * wall],
          [0, -1, 0],
        ]
      : [[2, 3.75 - 0.5 * 'GHIJKLMN'.indexOf(p), 0], UP];
  };
  for (const [type, points] of byWindow)
    for (const [p, percent] of Object.entries(points))
      out.push(
        row(
          `light-5.11-${type}${p}`,
          `CIE 5.11 point ${p}, 2 × 1 m window, sky ${type}, ground 0.30`,
          CIE171,
          percent,
          share({ type, sun: fromY }, window, ...inRoom(p), { ground: 0.3 }),
          '%',
          0.02,
        ),
      );
  for (const [p, percent] of Object.entries({ B: 0.94, D: 2.72, F: 2.79, H: 1.54, K: 4.47, M: 6.17 }))
    out.push(
      row(
        `light-5.12-${p}`,
        `CIE 5.12 point ${p}, the same with 6 mm glass, even sky`,
        CIE171,
        percent,
        share({ type: 5, sun: fromY }, window, ...inRoom(p), { ground: 0.3, glazed: true }),
        '%',
        0.02,
      ),
    );
  out.push(
    row(
      'light-sky-overcast',
      'level illuminance over zenith luminance, overcast: 7π/9',
      'closed form of (1 + 2 sin γ)/3',
      (7 * Math.PI) / 9,
      levelOverZenith({ type: OVERCAST, sun: UP }),
      '',
      3e-4,
    ),
  );

  // Where they stand.
  const meeus = sunAmongStars(2448908.5);
  const spa = sunOver(julianDay(2003, 10, 17, 19 + 30.5 / 60), {
    latitudeDeg: 39.742476,
    longitudeDeg: -105.1786,
  });
  const moon = moonAmongStars(2448724.5);
  const M = 'worked examples 25.a, 47.a, 48.a [MEEUS-1998]';
  out.push(
    row(
      'light-sun-ra',
      'right ascension of the sun, 1992 October 13',
      M,
      198.38083,
      meeus.rightAscensionDeg,
      '°',
      0.01,
    ),
    row(
      'light-sun-dec',
      'declination of the sun, 1992 October 13',
      M,
      -7.78507,
      meeus.declinationDeg,
      '°',
      0.01,
    ),
    row(
      'light-sun-az',
      'azimuth of the sun, 2003 October 17, 12:30:30 at UTC −7',
      'worked example [REDA-2004]',
      194.34024,
      spa.azimuthDeg,
      '°',
      0.1,
    ),
    row(
      'light-sun-el',
      'its elevation, refraction in',
      'worked example [REDA-2004]',
      90 - 50.11162,
      spa.elevationDeg,
      '°',
      0.1,
    ),
    row('light-moon-lon', 'longitude of the moon, 1992 April 12', M, 133.162655, moon.longitudeDeg, '°', 0.1),
    row('light-moon-lat', 'latitude of the moon, 1992 April 12', M, -3.229126, moon.latitudeDeg, '°', 0.1),
    row(
      'light-moon-lit',
      'lit share of the moon, 1992 April 12',
      M,
      0.6786,
      moonLit(moonPhaseDeg(2448724.5)),
      '',
      0.002,
    ),
  );

  // Levels outside.
  const day = sunPasses(julianDay(2026, 3, 20), { latitudeDeg: 0, longitudeDeg: 0 }, -0.833);
  const S = '[CHECKS-CAMERA §7.5], sources there';
  out.push(
    row('light-dusk-civil', 'clear sky at the end of civil twilight', S, 3.4, clearLevelLx(-6), 'lx', 0.4),
    row('light-dusk-set', 'clear sky at sunset', S, 400, clearLevelLx(-0.833), 'lx', 100),
    row('light-dusk-grey', 'overcast at sunset', S, 40, skyLevelLx('overcast', -0.833), 'lx', 10),
    row('light-moon-full', 'full moon overhead, clear', S, 0.26, moonLevelLx(90, 0, 384400), 'lx', 0.03),
    row('light-noon', 'sun and clear sky, sun overhead', S, 120000, clearLevelLx(90), 'lx', 12000),
    row(
      'light-sun-equinox',
      'length of the day on the equator at the equinox: 12 h 6.7 min by −0.833°',
      'geometry: 2 × 0.833° / 15° an hour more than 12 h',
      12 + (2 * 0.833) / 15,
      (day.down ?? Number.NaN) - (day.up ?? Number.NaN),
      'h',
      0.01,
    ),
  );
  return out;
}
