/** Photometric files: odd ones are read, broken ones say what is wrong. Values: src/checks/light.ts rows 16, 17. */
import { expect, test } from 'vitest';
import { DEG } from '../maths/vec3.ts';
import { fluxLm, intensityCd } from './beam.ts';
import { parseEulumdat } from './eulumdat.ts';
import { parseLm63 } from './lm63.ts';
import { foldC, intensityAtC, tableFluxLm, tableIntensityCd, zonalFluxLm } from './photometry.ts';

const data = '1 1000 1 3 1 1 2 -0.2 0 0\n1 1 50\n0 45 90\n0\n1000 500 0\n';

test('lower case, a blank after the colon, a byte-order mark, keywords with [MORE]', () => {
  const p = parseLm63(`\uFEFFiesna: lm-63-2002\r\n[LAMP] one\r\n[MORE] two\r\n tilt = none\r\n${data}`);
  if (!p.ok) throw new Error(p.error);
  expect(p.file.version).toBe('2002');
  expect(p.file.keywords).toEqual({ LAMP: 'one two' });
  expect(p.file.lampLm).toBe(1000);
  expect(p.file.opening).toEqual({ diameterM: 0.2 });
  expect(p.file.warnings).toEqual([]);
});

test('an unknown first line is 1986; -1 lumens is absolute; feet become metres', () => {
  const p = parseLm63('a label\nTILT=NONE\n1 -1 1 3 1 1 1 1 2 0\n1 1 50\n0 45 90\n0\n1000 500 0');
  if (!p.ok) throw new Error(p.error);
  expect(p.file.version).toBe('1986');
  expect(p.file.lampLm).toBeUndefined();
  expect(p.file.opening.widthM).toBeCloseTo(0.3048, 9);
});

test('TILT=INCLUDE is read past', () => {
  const p = parseLm63(`IESNA91\nTILT=INCLUDE\n1\n3\n0 45 90\n1 1 1\n${data}`);
  if (!p.ok) throw new Error(p.error);
  expect(p.file.table.cd[0]).toBe(1000);
  expect(p.file.warnings).toHaveLength(1);
});

test('broken files say what is wrong', () => {
  const error = (text: string): string => {
    const p = parseLm63(text);
    return p.ok ? 'no error' : p.error;
  };
  expect(error('nothing')).toContain('TILT');
  expect(error('TILT=NONE\n1 1000 1 3 1 1 2 0 0 0\n1 1 50\n0 45 ninety')).toContain("'ninety'");
  expect(error('TILT=NONE\n1 1000 1 3 1 1 2 0 0 0\n1 1 50\n0 45 90\n0\n1000 500')).toContain('ends before');
  expect(error('TILT=NONE\n1 1000 1 3 1 7 2 0 0 0\n1 1 50\n0 45 90\n0\n1 1 1')).toContain('type 7');
  expect(error('TILT=NONE\n1 1000 1 3 1 1 2 0 0 0\n1 1 50\n0 90 45\n0\n1 1 1')).toContain('ascend');
  expect(error('TILT=NONE\n1 1000 1 0 1 1 2 0 0 0\n1 1 50')).toContain('counts');
});

test('planes fold by symmetry and join round the circle', () => {
  expect(foldC([0, 45, 90], 200)).toBe(20);
  expect(foldC([0, 90, 180], 270)).toBe(90);
  expect(foldC([90, 180, 270], 0)).toBe(180);
  expect(foldC([90, 180, 270], 300)).toBe(240);
  const open = {
    type: 'C',
    verticalDeg: [0, 90],
    horizontalDeg: [0, 120, 240],
    cd: Float64Array.from([9, 3, 9, 6, 9, 12]),
  } as const;
  expect(intensityAtC(open, 300, 90)).toBeCloseTo(7.5, 9);
  expect(intensityAtC(open, 180, 90)).toBeCloseTo(9, 9);
  expect(intensityAtC(open, 0, 100)).toBe(0);
});

test('one beam told as type B and as type C gives the same light', () => {
  const cosine = (dir: readonly number[]): number => 1000 * Math.max(0, dir[2]!) ** 4;
  const angles = Array.from({ length: 91 }, (_, i) => -90 + 2 * i);
  const b = {
    type: 'B' as const,
    verticalDeg: angles,
    horizontalDeg: angles,
    cd: Float64Array.from(
      angles.flatMap((h) => angles.map((v) => cosine([0, 0, Math.cos(h * DEG) * Math.cos(v * DEG)]))),
    ),
  };
  const gammas = Array.from({ length: 91 }, (_, i) => i);
  const c = {
    type: 'C' as const,
    verticalDeg: gammas,
    horizontalDeg: [0],
    cd: Float64Array.from(gammas, (g) => cosine([0, 0, Math.cos(g * DEG)])),
  };
  for (const [x, y] of [
    [0, 0],
    [0.3, 0.2],
    [-0.5, 0.4],
    [0.1, -0.7],
  ] as const) {
    const dir = [x, y, Math.sqrt(1 - x * x - y * y)] as const;
    expect(tableIntensityCd(b, dir) / tableIntensityCd(c, dir)).toBeCloseTo(1, 2);
    expect(tableIntensityCd({ ...b, type: 'A' }, dir) / tableIntensityCd(c, dir)).toBeCloseTo(1, 2);
  }
  expect(tableFluxLm(b) / tableFluxLm(c)).toBeCloseTo(1, 3);
  expect(fluxLm({ kind: 'table', table: c })).toBeCloseTo((2 * Math.PI * 1000) / 5, -1);
  expect(intensityCd({ kind: 'table', table: c, gain: 2 }, [0, 0, 1])).toBe(2000);
});

/** An EULUMDAT text with the given symmetry and planes; gamma 0, 45, 90 … with Lambertian cd/klm unless told. */
function ldt(symmetry: number, mc: number, rows: number[][], gammas: number[], lm = '1000'): string {
  return [
    'x',
    '1',
    `${symmetry}`,
    `${mc}`,
    `${mc > 1 ? 360 / mc : 0}`,
    `${gammas.length}`,
    '0',
    'r',
    'n',
    'no',
    'f',
    'd',
    '500',
    '0',
    '10',
    '500',
    '0',
    '0',
    '0',
    '0',
    '0',
    '100',
    '100',
    '1,0',
    '0',
    '1',
    '1',
    't',
    lm,
    '',
    '',
    '10',
    ...Array.from({ length: 10 }, () => '0'),
    ...Array.from({ length: mc }, (_, i) => `${(360 / mc) * i}`),
    ...gammas.map(String),
    ...rows.flat().map((v) => v.toString().replace('.', ',')),
  ].join('\r\n');
}

test('a Lambertian EULUMDAT file gives all its lumens, in every symmetry', () => {
  const gammas = Array.from({ length: 19 }, (_, i) => 5 * i);
  const plane = gammas.map((g) => (1000 / Math.PI) * Math.cos(g * DEG));
  for (const [symmetry, mc, planes] of [
    [1, 1, 1],
    [0, 8, 8],
    [2, 8, 5],
    [3, 8, 5],
    [4, 8, 3],
  ] as const) {
    const p = parseEulumdat(
      ldt(
        symmetry,
        mc,
        Array.from({ length: planes }, () => plane),
        gammas,
        '2000',
      ),
    );
    if (!p.ok) throw new Error(p.error);
    expect(zonalFluxLm(p.file.table)).toBeCloseTo(2000, 6);
    expect(p.file.warnings).toEqual([]);
  }
});

test('symmetry about C90–C270: planes stand where they were stored', () => {
  // Stored from C270 through C0 to C90: one number each at gamma 90.
  const p = parseEulumdat(
    ldt(
      3,
      4,
      [
        [1, 270],
        [1, 360],
        [1, 90],
      ],
      [0, 90],
    ),
  );
  if (!p.ok) throw new Error(p.error);
  expect(intensityAtC(p.file.table, 270, 90)).toBe(270);
  expect(intensityAtC(p.file.table, 0, 90)).toBe(360);
  expect(intensityAtC(p.file.table, 180, 90)).toBe(360);
  expect(intensityAtC(p.file.table, 90, 90)).toBe(90);
});

test('short and broken EULUMDAT', () => {
  const short = parseEulumdat(ldt(1, 1, [[100]], [0, 45, 90]));
  if (!short.ok) throw new Error(short.error);
  expect(short.file.warnings.join()).toContain('shorter');
  const broken = parseEulumdat(ldt(7, 1, [[100, 50, 0]], [0, 45, 90]));
  expect(broken.ok ? '' : broken.error).toContain('Symmetry 7');
  expect(parseEulumdat('hello').ok).toBe(false);
});
