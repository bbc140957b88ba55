/** Camera, exposure and craft against published and computed values; ids follow [CHECKS-CAMERA §12]. */
import {
  DEFAULT_C,
  eRefLux,
  evLuminance,
  evLux,
  exactStop,
  impliedC,
  impliedReflectance,
  LUX_PER_FOOTCANDLE,
  markedStop,
  SATURATION_STOPS,
  stopsOfDensity,
  transmissionOfDensity,
} from '../camera/exposure.ts';
import { fullyShadedBeyond, hoodMouth } from '../camera/flare.ts';
import { beatHz, rippleStops, steadyAngles } from '../camera/flicker.ts';
import { depthOfField, fieldOfView, sensorById } from '../camera/lens.ts';
import { wallGapLateral } from '../camera/wall.ts';
import { code8, code10, inverseOetf709, oetf709 } from '../colour/rgb.ts';
import { pointLux, tubeLux } from '../light/analytic.ts';
import { fallOffStops, patternThrow, penumbraWidth, ratioOf } from '../light/softness.ts';
import { atVolts } from '../light/tungsten.ts';
import { DEG } from '../maths/vec3.ts';
import type { CheckRow } from './row.ts';
import { row } from './row.ts';

const ISO = 'ISO 2720 incident equation [ISO-2720]';
const FORMULA = 'formula [CHECKS-CAMERA §12]';

function exposureRows(): CheckRow[] {
  const at28 = { iso: 100, tStop: exactStop(2.8), shutterS: 1 / 48 };
  const E = eRefLux(at28);
  return [
    row('camera-1', 'one foot-candle', 'definition of the foot', 10.7639, LUX_PER_FOOTCANDLE, 'lx', 1e-4),
    row('camera-2-lx', 'C 250, ISO 100, T2.8, 1/48 s', ISO, 960, E, 'lx', 0.96),
    row('camera-2-fc', 'the same in foot-candles', ISO, 89.2, E / LUX_PER_FOOTCANDLE, 'fc', 0.0892),
    row(
      'camera-3-C',
      'C implied by 100 fc, ISO 100, 1/48 s, T2.8',
      'trade rule, a broadcast journal [TRADE-100FC]',
      280.3,
      impliedC(100 * LUX_PER_FOOTCANDLE, at28),
      '',
      0.28,
    ),
    row(
      'camera-4',
      'fc = 25 T²/(ISO t): T4, ISO 800, 1/48 s, with its C',
      'trade rule [TRADE-25]',
      24,
      eRefLux({ iso: 800, tStop: markedStop(4), shutterS: 1 / 48, constantC: 25 * LUX_PER_FOOTCANDLE }) /
        LUX_PER_FOOTCANDLE,
      'fc',
      0.024,
    ),
    row('camera-5-lx', 'EV 15 at C 250', ISO, 81920, evLux(15, DEFAULT_C), 'lx', 1e-6),
    row('camera-5-L', 'EV 15 at K 12.5', ISO, 4096, evLuminance(15), 'cd/m²', 1e-6),
    row(
      'camera-6',
      'reflectance implied by K 12.5, C 250',
      'published working [CHECKS-CAMERA §1.1]',
      0.1571,
      impliedReflectance(12.5, 250),
      '',
      1e-3,
    ),
    row('camera-7-V', 'BT.709 of 0.18', '[BT.709-6 §1.2]', 0.40901, oetf709(0.18), '', 1e-4),
    row('camera-7-8', 'its 8-bit code', '[BT.709-6 §4]', 106, code8(oetf709(0.18)), '', 0),
    row('camera-7-10', 'its 10-bit code', '[BT.709-6 §4]', 422, code10(oetf709(0.18)), '', 0),
    row(
      'camera-8-sat',
      'grey to clip, saturation speed',
      '[ISO-12232], copy',
      2.97,
      SATURATION_STOPS,
      'stops',
      0.01,
    ),
    row(
      'camera-8-100',
      'grey to clip, BT.709 at 100 %',
      FORMULA,
      2.47,
      Math.log2(inverseOetf709(1) / 0.18),
      'stops',
      0.01,
    ),
    row(
      'camera-8-109',
      'grey to clip, BT.709 at 109 %',
      FORMULA,
      2.73,
      Math.log2(inverseOetf709(1.09) / 0.18),
      'stops',
      0.01,
    ),
    row('camera-9-stops', 'neutral density 0.6', FORMULA, 1.99, stopsOfDensity(0.6), 'stops', 0.01),
    row('camera-9-T', 'its transmission', FORMULA, 25.1, 100 * transmissionOfDensity(0.6), '%', 0.05),
  ];
}

function flickerRows(): CheckRow[] {
  const src = 'twice-the-mains rule [CHECKS-CAMERA §2]';
  const out = [row('camera-10-beat', '24 fps under 50 Hz, beat', src, 4, beatHz(100, 24), 'Hz', 1e-9)];
  const angles = (fps: number, pulse: number): number[] => steadyAngles(pulse, fps).map((a) => a / DEG);
  const list = (id: string, words: string, got: number[], want: number[]): void => {
    out.push(row(`${id}-n`, `${words}, how many steady angles`, src, want.length, got.length, '', 0));
    want.forEach((a, i) => {
      out.push(
        row(`${id}-${i + 1}`, `${words}, steady angle ${i + 1}`, src, a, got[i] ?? Number.NaN, '°', 0.1),
      );
    });
  };
  list('camera-10', '24 fps under 50 Hz', angles(24, 100), [86.4, 172.8, 259.2, 345.6]);
  out.push(row('camera-11-beat', '24 fps under 60 Hz, beat', src, 0, beatHz(120, 24), 'Hz', 1e-9));
  list('camera-11', '25 fps under 60 Hz', angles(25, 120), [75, 150, 225, 300]);
  out.push(
    row(
      'camera-12-48',
      'ripple, m 0.9, 100 Hz, 1/48 s',
      FORMULA,
      0.103,
      rippleStops(0.9, 100, 1 / 48),
      'stops',
      0.002,
    ),
    row('camera-12-50', 'the same at 1/50 s', FORMULA, 0, rippleStops(0.9, 100, 1 / 50), 'stops', 1e-9),
  );
  return out;
}

function lensRows(): CheckRow[] {
  const s35 = sensorById('super-35')!;
  const d = depthOfField(50, 2.8, 0.025, 2000);
  const gap = wallGapLateral({
    cameraToSubject: 1.8,
    halfFov: 12.5 * DEG,
    keyAzimuth: 45 * DEG,
    lampToHead: 2.5,
    headRadius: 0.09,
  });
  const mouth = hoodMouth(40, 120, 20 * DEG);
  return [
    row(
      'camera-13-h',
      '35 mm on 24.9 × 14, across',
      FORMULA,
      39.2,
      fieldOfView(s35.widthMm, 35) / DEG,
      '°',
      0.1,
    ),
    row(
      'camera-13-v',
      '35 mm on 24.9 × 14, up',
      FORMULA,
      22.6,
      fieldOfView(s35.heightMm, 35) / DEG,
      '°',
      0.1,
    ),
    row('camera-14-H', 'hyperfocal, 50 mm, N 2.8, c 0.025', FORMULA, 35764, d.hyperfocalMm, 'mm', 5),
    row('camera-14-n', 'near limit at 2 m', FORMULA, 1896.5, d.nearMm, 'mm', 1),
    row('camera-14-f', 'far limit at 2 m', FORMULA, 2115.5, d.farMm, 'mm', 1),
    row(
      'camera-16',
      'gap to the wall, round head, exact tangents',
      FORMULA,
      0.74,
      gap ?? Number.NaN,
      'm',
      0.01,
    ),
    row('camera-20-m', 'hood mouth, r 40, l 120, half field 20°', FORMULA, 83.7, mouth, 'mm', 0.1),
    row('camera-20-a', 'shaded beyond', FORMULA, 45.9, fullyShadedBeyond(mouth, 40, 120) / DEG, '°', 0.1),
  ];
}

function craftRows(): CheckRow[] {
  // Row 17: A and B 1.5 m apart face each other; A's far-side key 45° from her facing, 3.5 m away.
  const lamp = [-0.75 + 3.5 * Math.cos(45 * DEG), 3.5 * Math.sin(45 * DEG)] as const;
  const toB = [lamp[0] - 0.75, lamp[1]] as const;
  const dB = Math.hypot(toB[0], toB[1]);
  const r = ratioOf(4, 1);
  const warm = atVolts({ volts: 1, cctK: 3200 }, 0.7);
  return [
    row(
      'camera-17-stops',
      'cross-key: the same lamp on B',
      FORMULA,
      0.79,
      fallOffStops(dB, 3.5),
      'stops',
      0.02,
    ),
    row(
      'camera-17-deg',
      'cross-key: its angle round from B’s facing',
      FORMULA,
      111.5,
      Math.acos(-toB[0] / dB) / DEG,
      '°',
      0.1,
    ),
    row('camera-18-k', 'fill two stops under: key to fill', FORMULA, 4, r.keyToFill, ':1', 0.01),
    row('camera-18-s', 'fill two stops under: the two sides', FORMULA, 5, r.sides, ':1', 0.01),
    row('camera-18-f', 'fill two stops under: on the face', FORMULA, 2.32, r.stopsOnFace, 'stops', 0.01),
    row(
      'camera-19-p',
      'penumbra of 0.25 m at 6 m, 1.5 m behind the edge',
      FORMULA,
      62.5,
      1000 * penumbraWidth(0.25, 6, 1.5),
      'mm',
      1e-9,
    ),
    row(
      'camera-19-a',
      'throw for 25 mm slats, 150 mm lens, 2 m',
      FORMULA,
      10,
      patternThrow(0.15, 0.025, 2),
      'm',
      1e-9,
    ),
    row(
      'camera-21',
      '330 000 cd at 3 m',
      'university lighting table [CHECKS-CAMERA §7.1]',
      36667,
      pointLux(330000, 3),
      'lx',
      183,
    ),
    row('camera-22', 'tube 2850 lm, 1.2 m, at 1 m', FORMULA, 236, tubeLux(2850, 1.2, 1), 'lx', 2.36),
    row(
      'camera-23-l',
      'tungsten at 70 % volts, light',
      'lamp rerating exponents [FINK-BEATY]',
      29.7,
      100 * warm.fluxFactor,
      '%',
      0.3,
    ),
    row(
      'camera-23-s',
      'tungsten at 70 % volts, stops',
      'lamp rerating exponents [FINK-BEATY]',
      -1.75,
      Math.log2(warm.fluxFactor),
      'stops',
      0.0175,
    ),
    row(
      'camera-23-k',
      'tungsten at 70 % volts, kelvin',
      'lamp rerating exponents [FINK-BEATY]',
      2755,
      warm.cctK,
      'K',
      27.5,
    ),
  ];
}

/** The check rows of the camera. */
export const rows = (): CheckRow[] => [...exposureRows(), ...flickerRows(), ...lensRows(), ...craftRows()];
