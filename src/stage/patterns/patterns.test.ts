/** Cards against solid geometry: areas by counting and by Euclid, closed all round, holes apart and inside. */
import { describe, expect, test } from 'vitest';
import { buildFlag } from '../flag.ts';
import { measure } from '../measure.ts';
import { meets, signedArea, type Vec2 } from '../outline.ts';
import { openShare, type PatternSpec, piecesOf } from '../patternBody.ts';
import { PATTERNS } from './patterns.ts';

const card = (pattern: PatternSpec, w: number, h: number) =>
  measure(
    buildFlag({
      id: 'C',
      words: 'card',
      kind: 'flag',
      at: [1, 2, 1.5],
      facing: [0.3, -1, 0.2],
      sizeM: [w, h],
      pattern,
    }),
  );
const turnsLeft = (p: readonly Vec2[]): boolean =>
  p.every((b, i) => {
    const a = p[(i + p.length - 1) % p.length]!;
    const c = p[(i + 1) % p.length]!;
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > -1e-9;
  });

describe.each(PATTERNS.map((p) => [p.kind, p] as const))('%s', (kind, pattern) => {
  test.each([
    [0.6, 0.6],
    [1.2, 0.5],
    [0.2, 0.9],
  ])('%s m × %s m: convex pieces inside the card, holes clear of each other, a closed body', (w, h) => {
    const made = piecesOf({ kind }, w, h);
    const pieces = 'holes' in made ? made.holes : made.bodies;
    expect(pieces.length).toBeGreaterThan(0);
    for (const p of pieces) {
      expect(turnsLeft(p)).toBe(true);
      for (const [x, y] of p) {
        expect(Math.abs(x)).toBeLessThanOrEqual(w / 2 + 1e-9);
        expect(Math.abs(y)).toBeLessThanOrEqual(h / 2 + 1e-9);
      }
    }
    if ('holes' in made)
      for (let i = 0; i < pieces.length; i++)
        for (let j = 0; j < i; j++) expect(meets(pieces[i]!, pieces[j]!)).toBe(false);
    const m = card({ kind }, w, h);
    // Every face looks outward: the sum of all area vectors vanishes, and there is a volume.
    expect(m.gapM2).toBeLessThan(1e-6);
    expect(m.volumeM3).toBeGreaterThan(0);
    // Volume over thickness is the card's own area, by the divergence theorem and not by the holes' own list. Corners are
    // kept in steps of 1.2e-7 m, so 2 mm of thickness to some 1e-4.
    const share = openShare({ kind }, w, h);
    if ('holes' in made) expect(1 - m.volumeM3 / 0.002 / (w * h)).toBeCloseTo(share, 3);
    expect(share).toBeGreaterThan(0.02);
    expect(share).toBeLessThan(0.95);
  });

  test('has every measure it asks for, and each changes it', () => {
    const shape = (detail: Record<string, number>) => JSON.stringify(piecesOf({ kind, detail }, 0.6, 0.5));
    const whole = shape({});
    for (const [name, usual] of Object.entries(pattern.usual)) {
      const other = name === 'turnDeg' ? 30 : name.endsWith('M') ? usual * 0.6 + 0.005 : usual + 2;
      expect(shape({ [name]: other }), name).not.toBe(whole);
    }
    expect(shape({ unheardOf: 1 })).toBe(whole);
  });
});

test('panes, slats, a slot and a round hole have the open share one works out by hand', () => {
  // 0.8 × 1.0 m, rim 5 cm, two across and three up with bars of 4 cm: panes (0.7 − 0.04)/2 by (0.9 − 0.08)/3.
  const window = { kind: 'panes', detail: { across: 2, up: 3, barM: 0.04, rimM: 0.05 } };
  expect(openShare(window, 0.8, 1)).toBeCloseTo((6 * 0.33 * (0.82 / 3)) / 0.8, 9);
  // Slots of 3 cm every 5 cm in 0.94 m less the rims: 19 of them, each 0.54 − two tapes of 1 cm wide.
  const blind = { kind: 'slats', detail: { slatM: 0.02, gapM: 0.03, tapes: 2, tapeM: 0.01, rimM: 0.03 } };
  expect(openShare(blind, 0.6, 1)).toBeCloseTo((19 * 0.03 * 0.52) / 0.6, 9);
  const slot = { kind: 'slot', detail: { wideM: 0.3, tallM: 0.05, turnDeg: 20 } };
  expect(openShare(slot, 0.6, 0.4)).toBeCloseTo((0.3 * 0.05) / 0.24, 9);
  // A regular polygon of 72 sides: ½ n r² sin(2π/n).
  const round = { kind: 'round', detail: { diameterM: 0.3 } };
  expect(openShare(round, 0.5, 0.5)).toBeCloseTo((36 * 0.0225 * Math.sin(Math.PI / 36)) / 0.25, 9);
});

test('the same number cuts the same leaves, another number others', () => {
  const of = (seed: number) => JSON.stringify(piecesOf({ kind: 'leaves', detail: { seed } }, 0.6, 0.6));
  expect(of(1)).toBe(of(1));
  expect(of(2)).not.toBe(of(1));
});

test('a pattern nobody knows is a whole card', () => {
  expect(card({ kind: 'nobody-knows' }, 0.5, 0.4).volumeM3).toBeCloseTo(0.5 * 0.4 * 0.002, 6);
  expect(
    signedArea([
      [0, 0],
      [1, 0],
      [0, 1],
    ]),
  ).toBeCloseTo(0.5, 9);
});
