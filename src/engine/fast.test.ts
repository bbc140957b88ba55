/** The fast tracer: held to the suite like any other, and ray for ray to the plain one. */
import { describe, expect, test, vi } from 'vitest';
import { compiled, SOURCES } from '../../scripts/wasm.ts';
import { constant } from '../colour/spectrum.ts';
import { rngOf } from '../maths/sampling.ts';
import { boxQuads, matte, type Quad, stageOf } from '../transport/box.ts';
import { firstHit, reaches, worldOf } from '../transport/intersect.ts';
import { describeTracer } from '../transport/suite.ts';
import { hit, type Tree, treeCost } from '../transport/tree.ts';
import * as bareModule from './bareModule.ts';
import * as build from './buildModule.ts';
import { fastTracer, fastWorldOf } from './fast.ts';
import { fastRays } from './fastRays.ts';
import * as raysModule from './raysModule.ts';
import * as sumsModule from './sumsModule.ts';

describeTracer('fast', fastTracer);

/** A constructor that fails as the browser's own does. */
const refusing = (name: string) =>
  function refused() {
    throw Object.assign(new Error('refused'), { name });
  };

test.each(SOURCES)(
  'the module that is kept of %s is what its source compiles to',
  async (name) => {
    const [kept] = Object.values({ rays: raysModule, build, sums: sumsModule, bare: bareModule }[name]);
    expect((await compiled(name)).replace(/'\s*\+\s*'/g, '')).toContain(kept);
  },
  60_000,
);

/** A room of crowded boxes, some of them moving, with a sheet and a pane in it. */
const rng = rngOf(4);
const bodies: Quad[] = Array.from({ length: 60 }, (_, i) => {
  const at = [0.2 + 3 * rng(), 0.2 + 3 * rng(), 0.2 + 2 * rng()] as const;
  return boxQuads(
    at,
    [at[0] + 0.3 * rng(), at[1] + 0.3 * rng(), at[2] + 0.3 * rng()],
    'out',
    matte(0.5),
    0.1,
    `body ${i}`,
  ).map((q) => ({ ...q, moving: i % 3 === 0 }));
}).flat();
const sheet = { name: 'sheet', reflectance: constant(0.3), kind: 'sheet' as const, straight: 0.4 };
const pane = { name: 'pane', reflectance: constant(0), kind: 'glass' as const };
const stage = stageOf([
  ...boxQuads([0, 0, 0], [4, 4, 3], 'in', matte(0.5), 0.5),
  ...bodies,
  { corner: [2, 0.5, 0.5], sideU: [0, 2, 0], sideV: [0, 0, 2], material: sheet, part: 'sheet' },
  { corner: [0.5, 2, 0.5], sideU: [2, 0, 0], sideV: [0, 0, 2], material: pane, part: 'pane', cells: [3, 3] },
]);

test('ray for ray as the plain trees: what is met, how far, and what comes through sheets and panes', () => {
  const plain = worldOf(stage);
  const fast = fastWorldOf(stage);
  expect(fast.rays).toBeDefined();
  let other = 0;
  let through = 0;
  const rays = 20_000;
  for (let i = 0; i < rays; i++) {
    const o = [0.1 + 3.8 * rng(), 0.1 + 3.8 * rng(), 0.1 + 2.8 * rng()] as const;
    const z = 2 * rng() - 1;
    const r = Math.sqrt(1 - z * z);
    const phi = 2 * Math.PI * rng();
    const d = [r * Math.cos(phi), r * Math.sin(phi), z] as const;
    const a = firstHit(plain, ...o, ...d, 1e9);
    const far = hit[0]!;
    const b = firstHit(fast, ...o, ...d, 1e9);
    // A ray along an edge may meet either side of it; not at another distance.
    if (a !== b) other++;
    expect(Math.abs(hit[0]! - far)).toBeLessThan(1e-4);
    const s = reaches(plain, ...o, ...d, 2);
    expect(reaches(fast, ...o, ...d, 2)).toBeCloseTo(s, 6);
    if (s > 0 && s < 1) through++;
  }
  expect(other).toBeLessThan(rays / 500);
  expect(through).toBeGreaterThan(100);
});

test('trees as good as the plain ones: every triangle in it once, as it was, at the same cost', () => {
  const plain = worldOf(stage);
  const fast = fastWorldOf(stage);
  for (const of of ['still', 'moving'] as const) {
    const [a, b] = [plain[of], fast[of]];
    const placed = (tree: Tree) =>
      [...tree.id]
        .map((t, i) => [t, tree.pass[i]!, ...tree.corner.subarray(i * 9, i * 9 + 9)])
        .sort((x, y) => x[0]! - y[0]!);
    expect(placed(b)).toEqual(placed(a));
    expect(b.bounds).toEqual(a.bounds);
    // Boxes a chance ray meets: the same heuristic in 32-bit floats may cut a few nodes elsewhere.
    expect(treeCost(b) / treeCost(a)).toBeCloseTo(1, 1);
  }
});

test('a tree of one triangle, of a pile of equal ones, and of none', () => {
  const one = stageOf([{ corner: [0, 0, 1], sideU: [2, 0, 0], sideV: [0, 2, 0], material: matte(0.5) }]);
  const pile = stageOf(
    Array.from({ length: 100 }, () => ({
      corner: [0, 0, 1] as const,
      sideU: [2, 0, 0] as const,
      sideV: [0, 2, 0] as const,
      material: matte(0.5),
      moving: true,
    })),
  );
  for (const some of [one, pile]) {
    const world = fastWorldOf(some);
    expect(firstHit(world, 0.4, 0.5, 0, 0, 0, 1, 1e9)).toBeGreaterThanOrEqual(0);
    expect(hit[0]).toBeCloseTo(1, 6);
    expect(firstHit(world, 0.4, 0.5, 0, 0, 0, -1, 1e9)).toBe(-1);
  }
});

test('stages in turn: each is asked, not the one before', () => {
  const small = fastWorldOf(stageOf(boxQuads([0, 0, 0], [1, 1, 1], 'in', matte(0.5))));
  const large = fastWorldOf(stageOf(boxQuads([0, 0, 0], [9, 9, 9], 'in', matte(0.5), 0.25)));
  for (let turn = 0; turn < 3; turn++) {
    firstHit(small, 0.5, 0.5, 0.5, 1, 0, 0, 1e9);
    expect(hit[0]).toBeCloseTo(0.5, 5);
    firstHit(large, 0.5, 0.5, 0.5, 1, 0, 0, 1e9);
    expect(hit[0]).toBeCloseTo(8.5, 5);
  }
});

describe('where there is no WebAssembly, or none with vectors, the plain trees answer', () => {
  test.each([
    ['none at all', undefined],
    ['refused by the page', { ...WebAssembly, Module: refusing('EvalError') }],
    ['no vectors', { ...WebAssembly, Module: refusing('CompileError') }],
  ])('%s', async (_, there) => {
    vi.stubGlobal('WebAssembly', there);
    vi.resetModules();
    try {
      expect(fastRays()).toBeUndefined();
      const { fastWorldOf: fresh } = await import('./fast.ts');
      const world = fresh(stage);
      expect(world.rays).toBeUndefined();
      expect(firstHit(world, 2, 2, 1.5, 0, 0, 1, 1e9)).toBe(
        firstHit(worldOf(stage), 2, 2, 1.5, 0, 0, 1, 1e9),
      );
    } finally {
      vi.unstubAllGlobals();
      vi.resetModules();
    }
  });
});
