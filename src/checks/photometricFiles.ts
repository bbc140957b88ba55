/** Small photometric files of our own making, with known results [CHECKS-LIGHT §4]. */

/** A: rotational, Lambertian by 15°. */
export const LM63_A = `IESNA:LM-63-2002
[TEST] self-made
TILT=NONE
1 -1 1 7 1 1 2 0 0 0
1 1 100
0 15 30 45 60 75 90
0
1000 965.926 866.025 707.107 500 258.819 0
`;

/** B: two planes of symmetry. */
export const LM63_B = `IESNA:LM-63-2002
TILT=NONE
1 -1 1 4 3 1 2 0 0 0
1 1 100
0 30 60 90
0 45 90
1000 800 300 0
1000 600 200 0
1000 400 100 0
`;

/** Table 100, multiplier 1.5, ballast 0.9, second factor 0.95; the version line goes before it. */
export const LM63_SCALING = `TILT=NONE
1 1000 1.5 2 1 1 2 0 0 0
0.9 0.95 100
0 90
0
100 0
`;

/** A rotational EULUMDAT file: 250 cd/klm at γ 0, 3350 lm. */
export const EULUMDAT_SAMPLE = [
  'self-made',
  '1',
  '1',
  '1',
  '0',
  '3',
  '45',
  'no report',
  'test lamp',
  'number',
  'file',
  'date',
  ...['600', '0', '100', '500', '0', '0', '0', '0', '0'],
  '100',
  '60,5',
  '1',
  '0',
  '1',
  ...['1', 'tube', '3350', '4000 K', '1B', '36'],
  ...Array.from({ length: 10 }, () => '0.5'),
  '0',
  ...['0', '45', '90'],
  ...['250', '176.776695', '0'],
  '',
].join('\r\n');
