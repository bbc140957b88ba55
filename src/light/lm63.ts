/**
 * LM-63 photometric files (.ies), versions 1986 to 2019 [LM-63-2002], as read in public descriptions
 * [CHECKS-LIGHT §4.1]. Forgiving where writers are careless, plain where a file cannot be used.
 */
import type { IntensityTable } from './photometry.ts';

export type Lm63Version = '1986' | '1991' | '1995' | '2002' | '2019';

export interface PhotometricFile {
  table: IntensityTable;
  /** Keywords by name, without brackets. */
  keywords: Record<string, string>;
  /** Lumens the intensities belong to; undefined: absolute photometry. */
  lampLm?: number;
  watts?: number;
  /** Luminous opening, metres; a round one has `diameterM`. */
  opening: { widthM?: number; lengthM?: number; heightM?: number; diameterM?: number };
  version: string;
  /** What looked odd and was taken anyway. */
  warnings: string[];
}

export type Parsed = { ok: true; file: PhotometricFile } | { ok: false; error: string };

const VERSIONS: [RegExp, Lm63Version][] = [
  [/^IESNA91/i, '1991'],
  [/^IESNA:\s*LM-63-1986/i, '1986'],
  [/^IESNA:\s*LM-63-1991/i, '1991'],
  [/^IESNA:\s*LM-63-1995/i, '1995'],
  [/^IESNA:\s*LM-63-2002/i, '2002'],
  [/^IES:\s*LM-63-2019/i, '2019'],
];

const FOOT = 0.3048;

const ascending = (list: readonly number[]): boolean => list.every((v, i) => i === 0 || v > list[i - 1]!);

/** Reads the text of an LM-63 file. Candela come out scaled by multiplier and ballast factor(s), linear, once. */
export function parseLm63(text: string): Parsed {
  const warnings: string[] = [];
  // Split into lines whatever ends them; find the version and the TILT line.
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
  let version: Lm63Version = '1986';
  let start = 0;
  for (const [pattern, v] of VERSIONS) {
    if (pattern.test((lines[0] ?? '').trim())) {
      version = v;
      start = 1;
    }
  }
  const tiltLine = lines.findIndex((l, i) => i >= start && /^\s*TILT\s*=/i.test(l));
  if (tiltLine < 0) return { ok: false, error: 'There is no TILT line: this is not an LM-63 file.' };
  // Read keywords; [MORE] continues the one before.
  const keywords: Record<string, string> = {};
  let last = '';
  for (const line of lines.slice(start, tiltLine)) {
    const m = /^\s*\[([^\]]+)\]\s*(.*)$/.exec(line);
    if (m === null) continue;
    const name = m[1]!.trim().toUpperCase();
    if (name === 'MORE' && last !== '') keywords[last] += ` ${m[2]!.trim()}`;
    else {
      keywords[name] = m[2]!.trim();
      last = name;
    }
  }
  // The rest is numbers, separated by blanks, tabs, commas or ends of lines.
  const tokens = lines
    .slice(tiltLine + 1)
    .join(' ')
    .split(/[\s,]+/)
    .filter((t) => t !== '');
  let at = 0;
  let bad: string | undefined;
  const next = (what: string): number => {
    const t = tokens[at++];
    const v = t === undefined ? Number.NaN : Number(t);
    if (!Number.isFinite(v)) {
      bad ??= t === undefined ? `The file ends before ${what}.` : `'${t}' stands where ${what} is due.`;
      return 0;
    }
    return v;
  };
  const tilt = lines[tiltLine]!.split('=')[1]!.trim().toUpperCase();
  if (tilt === 'INCLUDE') {
    next('the lamp position of TILT');
    const pairs = next('the number of tilt angles');
    for (let i = 0; i < 2 * pairs && bad === undefined; i++) next('the tilt table');
    warnings.push('The tilt table was read past: light is as for the lamp as measured.');
  } else if (tilt !== 'NONE') {
    warnings.push(`The tilt file '${tilt}' is not at hand; taken as none.`);
  }
  const lamps = next('the number of lamps');
  const lumens = next('lumens per lamp');
  const multiplier = next('the candela multiplier');
  const nv = next('the number of vertical angles');
  const nh = next('the number of horizontal angles');
  const type = next('the photometric type');
  const units = next('the units type');
  const width = next('the width');
  const length = next('the length');
  const height = next('the height');
  const ballast = next('the ballast factor');
  const second = next('the second factor');
  const watts = next('the input watts');
  if (bad !== undefined) return { ok: false, error: bad };
  if (!Number.isInteger(nv) || !Number.isInteger(nh) || nv < 2 || nh < 1 || nv * nh > 4e6)
    return { ok: false, error: `The counts of angles, ${nv} and ${nh}, cannot be right.` };
  if (type !== 1 && type !== 2 && type !== 3)
    return { ok: false, error: `Photometric type ${type} is not 1, 2 or 3.` };
  if (units !== 1 && units !== 2)
    return { ok: false, error: `Units type ${units} is neither 1 (feet) nor 2 (metres).` };
  const verticalDeg = Array.from({ length: nv }, () => next('a vertical angle'));
  const horizontalDeg = Array.from({ length: nh }, () => next('a horizontal angle'));
  const scale = multiplier * ballast * (version === '1986' || version === '1991' ? second : 1);
  const cd = Float64Array.from({ length: nv * nh }, () => next('a candela value') * scale);
  if (bad !== undefined) return { ok: false, error: bad };
  if (!ascending(verticalDeg) || !ascending(horizontalDeg))
    return { ok: false, error: 'The angles do not ascend.' };
  // Say what is odd.
  if (at < tokens.length) warnings.push(`${tokens.length - at} numbers after the end were left out.`);
  if (cd.some((v) => v < 0)) warnings.push('Some intensities are negative.');
  if (!(multiplier > 0) || !(ballast > 0)) warnings.push('A multiplier is zero or negative.');
  if (![0, 90, -90].includes(verticalDeg[0]!)) warnings.push(`Vertical angles begin at ${verticalDeg[0]}.`);
  const unit = units === 1 ? FOOT : 1;
  const opening = openingOf(version, width * unit, length * unit, height * unit);
  if (Math.max(Math.abs(width), Math.abs(length)) * unit > 5)
    warnings.push('The lamp is over 5 m: feet or metres?');
  return {
    ok: true,
    file: {
      table: { type: type === 1 ? 'C' : type === 2 ? 'B' : 'A', verticalDeg, horizontalDeg, cd },
      keywords,
      ...(lumens < 0 ? {} : { lampLm: lamps * lumens }),
      ...(watts > 0 ? { watts } : {}),
      opening,
      version,
      warnings,
    },
  };
}

/** Negative numbers mean round: the magnitude is a diameter. */
function openingOf(version: Lm63Version, w: number, l: number, h: number): PhotometricFile['opening'] {
  const out: PhotometricFile['opening'] = {};
  if (w < 0 && (l < 0 || l === 0 || version === '1986' || version === '1991')) out.diameterM = Math.abs(w);
  else if (l < 0 && w === 0) out.diameterM = Math.abs(l);
  else {
    if (w !== 0) out.widthM = Math.abs(w);
    if (l !== 0) out.lengthM = Math.abs(l);
  }
  if (h !== 0) out.heightM = Math.abs(h);
  return out;
}
