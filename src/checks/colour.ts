/** Colour against published values, one row a value; ids follow the list of acceptance checks [CHECKS-LIGHT §8]. */
import { adaptation, BRADFORD, CAT02, CAT16 } from '../colour/cat.ts';
import { cctOf, cctOfUv, cctOfXy, mcCamyK, miredShift, shifted } from '../colour/cct.ts';
import { daylight, daylightXy, dIlluminant } from '../colour/daylight.ts';
import { colourRendering, similarity, similarityToIdeal } from '../colour/fidelity.ts';
import { type IlluminantName, illuminant } from '../colour/illuminants.ts';
import { deltaE2000, type Lab } from '../colour/lab.ts';
import { X_BAR, Y_BAR, Z_BAR } from '../colour/observer.ts';
import { planckAt, planckXy } from '../colour/planck.ts';
import { encodeSrgb, eotf1886, oetf709 } from '../colour/rgb.ts';
import { X_BAR_1NM, Y_BAR_1NM, Z_BAR_1NM } from '../colour/tables/observer1nm.ts';
import type { XYZ } from '../colour/xyz.ts';
import { uvOf, xyOf, xyzOf } from '../colour/xyz.ts';
import type { CheckRow } from './row.ts';
import { row } from './row.ts';

const sum = (a: ArrayLike<number>): number => Array.from(a).reduce((s, v) => s + v, 0);

/** Sums of the observer's table, 1 nm over 360–830 and 5 nm × 5 over 380–780. */
function observerRows(): CheckRow[] {
  const src = 'CIE 1931 table, sums of the official 1 nm file [CIE-1931]';
  return [
    row('light-5.1-x', 'sum of x̄, 360–830 nm by 1 nm', src, 106.865469, sum(X_BAR_1NM), '', 1e-6),
    row('light-5.1-y', 'sum of ȳ, 360–830 nm by 1 nm', src, 106.856917, sum(Y_BAR_1NM), '', 1e-6),
    row('light-5.1-z', 'sum of z̄, 360–830 nm by 1 nm', src, 106.892251, sum(Z_BAR_1NM), '', 1e-6),
    row('light-5.1-x5', 'sum of x̄ × 5, 380–780 nm by 5 nm', src, 106.857626, 5 * sum(X_BAR), '', 1e-6),
    row('light-5.1-y5', 'sum of ȳ × 5, 380–780 nm by 5 nm', src, 106.856639, 5 * sum(Y_BAR), '', 1e-6),
    row('light-5.1-z5', 'sum of z̄ × 5, 380–780 nm by 5 nm', src, 106.857701, 5 * sum(Z_BAR), '', 1e-6),
  ];
}

/** Black body, correlated colour temperature, daylight: rows 18, 19, 20. */
function temperatureRows(): CheckRow[] {
  const planck = 'Planck with c₂ 1.4388e-2, 1 nm sums [CIE-15]';
  const ohno = 'Ohno 2014, regression values of an open colour library [OHNO-2014]';
  const p = planckXy(3200);
  const out = [
    row('light-18-x', 'black body 3200 K, x', planck, 0.423363, p.x, '', 2e-6),
    row('light-18-y', 'black body 3200 K, y', planck, 0.398953, p.y, '', 2e-6),
  ];
  for (const T of [2000, 2700, 2856, 3000, 3200, 4000, 4300, 5000, 5600, 6500, 10000]) {
    const back = cctOfXy(planckXy(T));
    out.push(row(`light-18-T${T}`, `round trip of ${T} K`, ohno, T, back.cctK, 'K', 0.1));
    out.push(row(`light-18-D${T}`, `Duv of black body ${T} K`, ohno, 0, back.duv, '', 1e-5));
  }
  const c = cctOf([95.04, 100, 108.88]);
  out.push(
    row('light-19-T', 'CCT of XYZ 95.04, 100, 108.88', ohno, 6503.31, c.cctK, 'K', 1),
    row('light-19-D', 'its Duv', ohno, 0.003217, c.duv, '', 2e-5),
    row('light-5.3-uv', 'CCT of uv 0.1978, 0.3122', ohno, 6507.474789, cctOfUv(0.1978, 0.3122).cctK, 'K', 1),
    row('light-5.3-far', 'Duv of uv 0.4328, 0.2883', ohno, -0.067378, cctOfUv(0.4328, 0.2883).duv, '', 2e-5),
    row(
      'light-5.3-m1',
      'McCamy of D65',
      '[MCCAMY-1992]',
      6505.08059131,
      mcCamyK({ x: 0.3127, y: 0.329 }),
      'K',
      1e-6,
    ),
    row(
      'light-5.3-m2',
      'McCamy of A',
      '[MCCAMY-1992]',
      2857.28961266,
      mcCamyK({ x: 0.44757, y: 0.40745 }),
      'K',
      1e-6,
    ),
  );
  const day = '[CIE-15 §4.1.2]';
  const d = daylightXy(5600);
  out.push(
    row('light-20-x', 'CIE daylight 5600 K, x', day, 0.330164, d.x, '', 1e-6),
    row('light-20-y', 'CIE daylight 5600 K, y', day, 0.345546, d.y, '', 1e-6),
    row('light-5.4-4000', 'CIE daylight 4000 K, x', day, 0.382343625, daylightXy(4000).x, '', 1e-8),
    row('light-5.4-385', 'D50 at 385 nm', day, 27.179, dIlluminant(5000)[1]!, '', 1e-3),
    row('light-5.4-540', 'D50 at 540 nm', day, 100.755, dIlluminant(5000)[32]!, '', 2e-3),
    row('light-5.4-75', 'D75 at 385 nm', day, 68.333, dIlluminant(7500)[1]!, '', 2e-3),
  );
  // The spectrum of a daylight has the chromaticity it was made for.
  const s = xyOf(xyzOf(daylight(5600)));
  out.push(row('light-5.4-s', 'chromaticity x of the 5600 K spectrum', day, 0.330164, s.x, '', 2e-4));
  return out;
}

/** Tables of lamps: chromaticity as published, colour temperature and Duv. */
const LAMPS: [IlluminantName, number, number, number, number][] = [
  ['A', 0.4476, 0.4074, 2855.5, 0],
  ['D50', 0.3457, 0.3585, 5001.9, 0.0032],
  ['D55', 0.3324, 0.3474, 5502.6, 0.0033],
  ['D65', 0.3127, 0.329, 6503.7, 0.0032],
  ['D75', 0.299, 0.3149, 7506, 0.0031],
  ['FL2', 0.3721, 0.3751, 4224.5, 0.0018],
  ['FL4', 0.4402, 0.4031, 2938, -0.0008],
  ['FL7', 0.3129, 0.3292, 6495, 0.0032],
  ['FL11', 0.3805, 0.3769, 3998.6, 0.0001],
  ['FL12', 0.437, 0.4042, 3000, 0],
  ['LED-B1', 0.456, 0.4078, 2733.5, -0.0007],
  ['LED-B3', 0.3756, 0.3723, 4102.5, -0.0007],
  ['HP1', 0.533, 0.415, 1959, 0.0008],
];

function lampRows(): CheckRow[] {
  const src = '[CIE-15], chromaticity as published; CCT and Duv by an open colour library';
  return LAMPS.flatMap(([name, x, y, T, duv]) => {
    const xyz = xyzOf(illuminant(name));
    const xy = xyOf(xyz);
    const c = cctOf(xyz);
    return [
      row(`light-5.2-${name}-x`, `illuminant ${name}, x`, src, x, xy.x, '', 2e-4),
      row(`light-5.2-${name}-y`, `illuminant ${name}, y`, src, y, xy.y, '', 2e-4),
      row(`light-5.2-${name}-T`, `illuminant ${name}, CCT`, src, T, c.cctK, 'K', 2),
      row(`light-5.2-${name}-D`, `illuminant ${name}, Duv`, src, duv, c.duv, '', 1e-4),
    ];
  });
}

/** Mired arithmetic and colour differences: row 24. */
function differenceRows(): CheckRow[] {
  const sharma = 'Sharma, Wu, Dalal 2005 [SHARMA-2005]';
  const pairs: [number, Lab, Lab][] = [
    [2.0425, [50, 2.6772, -79.7751], [50, 0, -82.7485]],
    [2.8615, [50, 3.1571, -77.2803], [50, 0, -82.7485]],
    [3.4412, [50, 2.8361, -74.02], [50, 0, -82.7485]],
    [1, [50, -1.3802, -84.2814], [50, 0, -82.7485]],
    [2.3669, [50, 0, 0], [50, -1, 2]],
    [7.1792, [50, 2.49, -0.001], [50, -2.49, 0.0009]],
    [7.1792, [50, 2.49, -0.001], [50, -2.49, 0.001]],
    [7.2195, [50, 2.49, -0.001], [50, -2.49, 0.0011]],
    [4.8045, [50, -0.001, 2.49], [50, 0.0009, -2.49]],
    [4.7461, [50, -0.001, 2.49], [50, 0.0011, -2.49]],
    [4.3065, [50, 2.5, 0], [50, 0, -2.5]],
    [27.1492, [50, 2.5, 0], [73, 25, -18]],
    [22.8977, [50, 2.5, 0], [61, -5, 29]],
    [31.903, [50, 2.5, 0], [56, -27, -3]],
    [19.4535, [50, 2.5, 0], [58, 24, 15]],
    [1.2644, [60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387]],
    [1.263, [63.0109, -31.0961, -5.8663], [62.8187, -29.7946, -4.0864]],
    [2.0373, [22.7233, 20.0904, -46.694], [23.0331, 14.973, -42.5619]],
    [1.4441, [90.8027, -2.0831, 1.441], [91.1528, -1.6435, 0.0447]],
    [0.9082, [2.0776, 0.0795, -1.135], [0.9033, -0.0636, -0.5514]],
  ];
  return [
    row(
      'light-24-m',
      'mired shift 3200 → 5600 K',
      'arithmetic',
      -133.929,
      miredShift(3200, 5600),
      'mired',
      1e-3,
    ),
    row(
      'light-24-c',
      '+159 mired on 5600 K',
      'arithmetic',
      2962.3,
      shifted(5600, 159) ?? Number.NaN,
      'K',
      0.1,
    ),
    ...pairs.map(([e, a, b], i) =>
      row(`light-24-E${i + 1}`, `CIEDE2000, pair ${i + 1}`, sharma, e, deltaE2000(a, b), '', 5e-5),
    ),
  ];
}

/** Adaptation matrices and video curves. */
function encodingRows(): CheckRow[] {
  const A: XYZ = [109.85, 100, 35.585];
  const D65: XYZ = [95.047, 100, 108.883];
  const D50: XYZ = [96.422, 100, 82.521];
  const cat = 'matrices of an open colour library [CHECKS-LIGHT §5.10]';
  const first: [string, readonly number[], XYZ, XYZ, number[]][] = [
    [
      'Bradford A → D65',
      BRADFORD,
      A,
      D65,
      [0.844697, -0.117923, 0.394811, -0.13663, 1.104123, 0.129172, 0.079849, -0.1349, 3.192401],
    ],
    [
      'CAT02 A → D65',
      CAT02,
      A,
      D65,
      [0.868782, -0.141643, 0.387119, -0.102999, 1.058403, 0.153834, 0.007815, 0.026782, 2.960413],
    ],
    [
      'CAT16 A → D65',
      CAT16,
      A,
      D65,
      [0.950689, -0.187376, 0.262791, -0.025665, 1.032307, -0.01156, -0.002741, 0.090967, 2.812626],
    ],
    [
      'Bradford D65 → D50',
      BRADFORD,
      D65,
      D50,
      [1.047811, 0.022887, -0.050127, 0.029542, 0.990484, -0.017049, -0.009234, 0.015044, 0.752132],
    ],
  ];
  const out: CheckRow[] = [];
  for (const [words, cone, from, to, want] of first) {
    const got = adaptation(from, to, cone);
    want.forEach((v, i) => {
      out.push(
        row(
          `light-5.10-${words.replaceAll(' ', '')}-${i}`,
          `${words}, element ${i}`,
          cat,
          v,
          got[i]!,
          '',
          2e-6,
        ),
      );
    });
  }
  const b709 = '[BT.709-6 §1.2]';
  for (const [L, V] of [
    [0.01, 0.045],
    [0.018, 0.081248],
    [0.05, 0.186453],
    [0.18, 0.409008],
    [0.5, 0.705515],
    [0.9, 0.94911],
  ] as const)
    out.push(row(`light-5.11-709-${L}`, `BT.709 of ${L}`, b709, V, oetf709(L), '', 1e-6));
  for (const [L, V] of [
    [0.001, 0.01292],
    [0.01, 0.099853],
    [0.18, 0.461356],
    [0.5, 0.735357],
  ] as const)
    out.push(row(`light-5.11-srgb-${L}`, `sRGB of ${L}`, '[IEC-61966-2-1]', V, encodeSrgb(L), '', 1e-6));
  for (const [V, lb, L] of [
    [0.25, 0, 3.589682],
    [0.5, 0, 18.946457],
    [0.75, 0, 50.135694],
    [0.1, 0.1, 1.063786],
    [0.25, 0.1, 5.218497],
    [0.5, 0.1, 21.604911],
  ] as const)
    out.push(
      row(
        `light-5.11-1886-${V}-${lb}`,
        `BT.1886 of ${V}, black ${lb}`,
        '[BT.1886]',
        L,
        eotf1886(V, 100, lb),
        'cd/m²',
        1e-6,
      ),
    );
  out.push(
    row('light-5.3-u', 'black body 3200 K, u', '[CIE-15]', 0.243988, uvOf(xyzOfPlanck3200()).u, '', 2e-6),
  );
  return out;
}

const xyzOfPlanck3200 = (): XYZ => {
  const { x, y } = planckXy(3200);
  return [x, y, 1 - x - y];
};

/** Colour rendering and similarity of spectra: rows 21 and 23, and the table of illuminants. */
function fidelityRows(): CheckRow[] {
  const cri = 'CIE 13.3 worked example of F2, published; Ra of CIE 15 [CIE-13.3]';
  const out: CheckRow[] = [];
  const f2 = colourRendering(illuminant('FL2'));
  out.push(row('light-21-Ra', 'F2, Ra', cri, 64, f2.Ra, '', 0.5));
  [56, 77, 90, 57, 59, 67, 74, 33].forEach((R, i) => {
    out.push(row(`light-21-R${i + 1}`, `F2, R${i + 1}`, cri, R, f2.special[i]!, '', 0.5));
  });
  out.push(
    row('light-21-F11R9', 'F11, R9', cri, 25, colourRendering(illuminant('FL11')).special[8]!, '', 0.5),
  );
  const table: [IlluminantName, number, number][] = [
    ['FL4', 51.4, 50.6],
    ['FL7', 90.2, 86.5],
    ['FL11', 82.9, 36.8],
    ['FL12', 83.1, 33.6],
    ['LED-B1', 81.8, 78.2],
    ['LED-B3', 84.8, 72.3],
    ['HP1', 8.5, 10],
  ];
  const lib = 'open colour library on the CIE tables [CHECKS-LIGHT §5.2]';
  for (const [name, Ra, ssi] of table) {
    out.push(
      row(`light-5.2-${name}-Ra`, `${name}, Ra`, lib, Ra, colourRendering(illuminant(name)).Ra, '', 0.5),
    );
    out.push(
      row(
        `light-5.2-${name}-SSI`,
        `${name}, similarity`,
        lib,
        ssi,
        similarityToIdeal(illuminant(name)),
        '',
        0.2,
      ),
    );
  }
  const two = 'two independent implementations [SSI]';
  for (const [test, reference, v] of [
    [3200, 5600, 61.365],
    [5600, 3200, 58.46],
    [2700, 3200, 86.409],
    [2856, 3200, 90.862],
  ] as const)
    out.push(
      row(
        `light-23-${test}-${reference}`,
        `similarity of black body ${test} to ${reference} K`,
        two,
        v,
        similarity(
          (nm) => planckAt(test, nm),
          (nm) => planckAt(reference, nm),
        ),
        '',
        0.02,
      ),
    );
  return out;
}

/** The check rows of colour. */
export const rows = (): CheckRow[] => [
  ...observerRows(),
  ...temperatureRows(),
  ...lampRows(),
  ...differenceRows(),
  ...encodingRows(),
  ...fidelityRows(),
];
