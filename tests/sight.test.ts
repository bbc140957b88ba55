/**
 * Colours of the page against what eyes can do: contrast by WCAG's own formula [WCAG-2.2], lamps' colours as dichromats
 * see them [MACHADO-2009] and CIEDE2000 by another library (colorjs.io).
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import Color from 'colorjs.io';
import { expect, test } from 'vitest';
import { lampColour, lampDash, lampDoubled } from '../src/app/identity.ts';
import { shootNamed } from './demo.ts';

const css = readFileSync(join(import.meta.dirname, '../src/app/look.css'), 'utf8');
/** Colours of a mode; day lies over set. */
function tokens(selector: string): Record<string, string> {
  const block = css.slice(css.indexOf(`${selector} {`)).split('}')[0]!;
  return Object.fromEntries([...block.matchAll(/--([\w-]+): (#[0-9a-f]{6})/g)].map((m) => [m[1], m[2]]));
}
const set = tokens(':root');
const MODES = { set, day: { ...set, ...tokens(':root[data-mode="day"]') } };

/** Relative luminance and contrast ratio [WCAG-2.2], success criterion 1.4.3. */
const luminance = (hex: string): number =>
  [0.2126, 0.7152, 0.0722].reduce((sum, k, i) => {
    const c = Number.parseInt(hex.slice(1 + 2 * i, 3 + 2 * i), 16) / 255;
    return sum + k * (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
  }, 0);
function contrast(a: string, b: string): number {
  const [hi, lo] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (hi + 0.05) / (lo + 0.05);
}

test('the formula gives the standard’s own ends: 21:1 black on white, 1:1 of itself', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  expect(contrast('#777777', '#777777')).toBe(1);
  // #767676 is the lightest grey that passes AA on white, as web authors know it (common practice, no source).
  expect(contrast('#767676', '#ffffff')).toBeGreaterThan(4.5);
  expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5);
});

for (const [mode, c] of Object.entries(MODES)) {
  test(`${mode}: every text colour on every ground it may stand on, 4.5:1 or more`, () => {
    const low: string[] = [];
    for (const text of ['ink', 'ink2', 'ink3', 'ember', 'trouble'])
      for (const ground of ['wall', 'card', 'raise']) {
        const ratio = contrast(c[text]!, c[ground]!);
        if (ratio < 4.5) low.push(`${text} on ${ground}: ${ratio.toFixed(2)}`);
      }
    expect(low).toEqual([]);
  });

  test(`${mode}: lamps' numbers on their colours 4.5:1, lamps' edges on every ground 3:1`, () => {
    const low: string[] = [];
    for (const n of [1, 2, 3, 4]) {
      const on = contrast(c['on-lamp']!, c[`lamp${n}`]!);
      if (on < 4.5) low.push(`number ${n}: ${on.toFixed(2)}`);
      for (const ground of ['wall', 'card', 'raise']) {
        const edge = contrast(c[`lamp${n}`]!, c[ground]!);
        if (edge < 3) low.push(`edge of ${n} on ${ground}: ${edge.toFixed(2)}`);
      }
    }
    const word = contrast(c['on-trouble']!, c.trouble!);
    if (word < 4.5) low.push(`word on trouble: ${word.toFixed(2)}`);
    expect(low).toEqual([]);
  });
}

/** Full dichromacy in linear RGB at severity 1 [MACHADO-2009]. */
const EYES: Record<string, readonly number[]> = {
  usual: [1, 0, 0, 0, 1, 0, 0, 0, 1],
  protan: [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  deutan: [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  tritan: [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
};
function seenBy(hex: string, m: readonly number[]): Color {
  const [r, g, b] = new Color(hex).to('srgb-linear').coords.map(Number) as [number, number, number];
  const row = (i: number) => Math.max(0, Math.min(1, m[3 * i]! * r + m[3 * i + 1]! * g + m[3 * i + 2]! * b));
  return new Color('srgb-linear', [row(0), row(1), row(2)]);
}
/** Told apart side by side without looking twice (judgement): ten units. */
const APART = 10;

for (const [mode, c] of Object.entries(MODES))
  test(`${mode}: two lamps are told apart by colour for every eye, or else by their line; always by number`, () => {
    const hex = (identity: number) => c[/--(\w+)/.exec(lampColour(identity))![1]!]!;
    const alike: string[] = [];
    for (let i = 1; i <= 8; i++)
      for (let j = i + 1; j <= 8; j++) {
        const line = lampDash(i) !== lampDash(j) || lampDoubled(i) !== lampDoubled(j);
        expect(line, `lines of ${i} and ${j}`).toBe(true);
        for (const [eye, m] of Object.entries(EYES)) {
          const apart = seenBy(hex(i), m).deltaE(seenBy(hex(j), m), '2000');
          if (apart < APART && (j - i) % 4 !== 0) alike.push(`${i} and ${j} for ${eye}: ${apart.toFixed(1)}`);
        }
      }
    // The first four by colour alone, whatever the eye; the second four are the first again, doubled.
    expect(alike).toEqual([]);
  });

test('no two lamps of a rig bear one number', () => {
  for (const name of ['slack-water', 'kitchen'])
    for (const scene of Object.values(shootNamed(name).scenes)) {
      const numbers = Object.values(scene.rig.lamps).map((l) => l.number);
      expect(new Set(numbers).size).toBe(numbers.length);
    }
});
