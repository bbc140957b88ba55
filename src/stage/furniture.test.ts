/** Furniture against the measures of two published scenes (S01 kitchen, S13 boat shed) and against its own box. */
import { expect, test } from 'vitest';
import { DEG, type Vec3 } from '../maths/vec3.ts';
import { PIECES } from './furniture/pieces.ts';
import type { FurnitureSpec } from './furniture/work.ts';
import { BUILDERS, buildFurniture, buildThing } from './furniture.ts';
import { corners, measure, meet } from './measure.ts';

const thing = (kind: string, sizeM: Vec3, over: Partial<FurnitureSpec> = {}): FurnitureSpec => ({
  id: kind,
  words: kind,
  kind,
  at: [0, 0, 0],
  sizeM,
  finish: { reflectance: 0.3 },
  ...over,
});

/** Ordinary sizes, metres. */
const SIZES: Record<string, Vec3> = {
  box: [0.8, 0.5, 0.4],
  cylinder: [0.4, 0.4, 0.9],
  post: [0.1, 0.1, 3.8],
  table: [0.7, 0.9, 0.74],
  chair: [0.44, 0.42, 0.85],
  worktop: [2, 0.6, 0.04],
  cupboard: [0.8, 0.3, 0.6],
  'base-unit': [0.3, 0.58, 0.86],
  cooker: [0.6, 0.6, 0.9],
  'sink-unit': [1.2, 0.58, 0.86],
  fridge: [0.5, 0.58, 0.86],
  book: [0.3, 0.21, 0.015],
  'pendant-shade': [0.3, 0.3, 0.24],
  'boat-hull': [3.6, 1.2, 1.1],
  trestle: [0.12, 0.9, 0.45],
  workbench: [0.6, 2, 0.9],
  drum: [0.56, 0.56, 0.55],
  'plank-stack': [2.8, 0.5, 0.6],
  mast: [3.5, 0.1, 0.1],
  gantry: [2.15, 0.15, 4.3],
  'smoke-machine': [0.34, 0.22, 0.25],
  'sheet-cover': [2.86, 0.56, 0.03],
  bed: [2, 1.4, 0.9],
  sofa: [0.9, 1.9, 0.8],
  shelves: [0.8, 0.3, 1.8],
  ...Object.fromEntries(PIECES.map((p) => [p.kind, p.sizeM])),
};
/** What may stick out of its box, metres: handles, a tap, splayed feet, the falls of a sheet. */
const OUT: Record<string, number> = {
  cupboard: 0.04,
  'base-unit': 0.04,
  fridge: 0.04,
  cooker: 0.04,
  'sink-unit': 0.3,
  trestle: 0.1,
  'sheet-cover': 0.2,
  ...Object.fromEntries(PIECES.map((p) => [p.kind, p.outM ?? 0])),
};

test('every kind fills its box, no patch is wider than 30 cm, and all normals are unit and face their side', () => {
  expect(Object.keys(SIZES).sort()).toEqual(Object.keys(BUILDERS).sort());
  for (const [kind, size] of Object.entries(SIZES)) {
    const { body, notes } = buildThing(thing(kind, size));
    expect(notes).toEqual([]);
    const m = measure(body);
    const out = (OUT[kind] ?? 0) + 1e-4;
    for (let c = 0; c < 3; c++) {
      const lo = c === 2 ? 0 : -size[c]! / 2;
      const hi = c === 2 ? size[2]! : size[c]! / 2;
      expect(m.lo[c]!, `${kind} ${c}`).toBeGreaterThan(lo - out);
      expect(m.hi[c]!, `${kind} ${c}`).toBeLessThan(hi + out);
      // It also reaches its sides, within 2 cm.
      expect(m.lo[c]!, `${kind} ${c}`).toBeLessThan(lo + 0.021);
      expect(m.hi[c]!, `${kind} ${c}`).toBeGreaterThan(hi - 0.021);
    }
    expect(m.widestPatchM, kind).toBeLessThanOrEqual(PIECES.find((p) => p.kind === kind)?.patchM ?? 0.3);
    expect(m.worstNormal, kind).toBeGreaterThan(0.6);
    let off = 0;
    for (let v = 0; v < body.normals.length; v += 3) {
      const l = Math.hypot(body.normals[v]!, body.normals[v + 1]!, body.normals[v + 2]!);
      off = Math.max(off, Math.abs(l - 1));
    }
    expect(off, kind).toBeLessThan(1e-5);
    expect(body.indices.every((i) => i < body.positions.length / 3)).toBe(true);
    expect(body.positions.every(Number.isFinite)).toBe(true);
  }
});

test('an unknown kind is a plain box, and is said', () => {
  const { body, notes } = buildThing(thing('harmonium', [1, 0.5, 1]));
  expect(measure(body).volumeM3).toBeCloseTo(0.5, 6);
  expect(notes[0]).toContain('harmonium');
});

test('odd sizes build too: nothing is NaN and nothing explodes', () => {
  for (const kind of Object.keys(BUILDERS))
    for (const size of [
      [0.1, 0.1, 0.1],
      [4, 0.2, 0.1],
      [0.2, 3, 2.5],
    ] as Vec3[]) {
      const { body } = buildThing(thing(kind, size));
      expect(body.positions.every(Number.isFinite), kind).toBe(true);
      expect(
        body.positions.every((v) => Math.abs(v) < 6),
        kind,
      ).toBe(true);
    }
});

test('S01: table, chairs and sink stand as told', () => {
  const table = buildThing(thing('table', [0.7, 0.9, 0.74], { at: [2.3, 1.6, 0] })).body;
  const m = measure(table);
  [1.95, 1.15, 0].forEach((v, c) => {
    expect(m.lo[c]!).toBeCloseTo(v, 5);
  });
  [2.65, 2.05, 0.74].forEach((v, c) => {
    expect(m.hi[c]!).toBeCloseTo(v, 5);
  });
  // Chair A faces east: seat x 1.38–1.80 at z 0.45, back x 1.36–1.40 to z 0.85; B is turned half round.
  const seat = (turnDeg: number, at: Vec3) =>
    buildThing(thing('chair', [0.44, 0.42, 0.85], { at, turnDeg, detail: { seatM: 0.45 } })).body;
  const down = (b: ReturnType<typeof seat>, x: number) => 2 - meet([b], [x, 1.6, 2], [0, 0, -1])!.t;
  const a = seat(0, [1.58, 1.6, 0]);
  const b = seat(180, [3.02, 1.6, 0]);
  expect(down(a, 1.7)).toBeCloseTo(0.45, 4);
  expect(down(a, 1.38)).toBeCloseTo(0.845, 2);
  expect(down(b, 2.9)).toBeCloseTo(0.45, 4);
  expect(down(b, 3.22)).toBeCloseTo(0.845, 2);
  // Worktop z 0.90 with the bowl x 1.75–2.25 open over steel.
  const { bodies } = buildFurniture([
    thing('worktop', [2, 0.6, 0.04], { at: [1.9, 3.1, 0.86] }),
    thing('sink-unit', [1.2, 0.58, 0.86], {
      at: [2, 3.1, 0],
      detail: { bowlFromM: 0.35, bowlToM: 0.85 },
      finishes: { bowl: { words: 'steel', reflectance: 0.5 } },
    }),
  ]);
  const over = (x: number, y: number) => {
    const hit = meet(bodies, [x, y, 2], [0, 0, -1])!;
    return { z: 2 - hit.t, name: hit.body.materials[hit.body.material[hit.triangle]!]!.name };
  };
  expect(over(1.2, 3.1)).toMatchObject({ name: 'a surface' });
  expect(over(1.2, 3.1).z).toBeCloseTo(0.9, 4);
  for (const x of [1.77, 2, 2.23]) {
    expect(over(x, 3).name).toBe('steel');
    expect(over(x, 3).z).toBeCloseTo(0.73, 2);
  }
  expect(over(1.68, 3).name).toBe('a surface');
});

test('S01: the shade hides the bare filament beyond 40° from straight down', () => {
  const { body } = buildThing(thing('pendant-shade', [0.3, 0.3, 0.24], { at: [2.3, 1.6, 1.57] }));
  const filament: Vec3 = [2.3, 1.6, 1.75];
  for (let k = 0; k < 36; k++) {
    const a = (k * 10 + 3) * DEG;
    const way = (deg: number): Vec3 => [
      Math.sin(deg * DEG) * Math.cos(a),
      Math.sin(deg * DEG) * Math.sin(a),
      -Math.cos(deg * DEG),
    ];
    expect(meet([body], filament, way(39))).toBeUndefined();
    expect(meet([body], filament, way(40.5))).toBeDefined();
    expect(meet([body], filament, way(90))).toBeDefined();
    expect(meet([body], filament, way(160))).toBeDefined();
  }
});

test('S13: the hull has its keel, planking, ribs and gunwale where the scene has them', () => {
  const { body } = buildThing(
    thing('boat-hull', [3.6, 1.2, 1.1], {
      at: [7, 4.5, 0.45],
      detail: {
        keelM: 0.45,
        plankedToM: 0.75,
        gunwaleM: 1.55,
        ribEveryM: 0.3,
        ribM: 0.045,
        plankedWidthM: 0.8,
      },
      finishes: {
        planking: { words: 'planking', reflectance: 0.12 },
        ribs: { words: 'ribs', reflectance: 0.12 },
      },
    }),
  );
  const m = measure(body);
  [5.2, 3.9, 0.45].forEach((v, c) => {
    expect(m.lo[c]!).toBeCloseTo(v, 2);
  });
  [8.8, 5.1, 1.55].forEach((v, c) => {
    expect(m.hi[c]!).toBeCloseTo(v, 2);
  });
  // Planking: z 0.45–0.75, y 4.1–4.9.
  const planks = [Infinity, -Infinity, Infinity, -Infinity];
  for (let t = 0; t < body.material.length; t++) {
    if (body.materials[body.material[t]!]!.name !== 'planking') continue;
    for (const p of corners(body, t)) {
      planks[0] = Math.min(planks[0]!, p[1]);
      planks[1] = Math.max(planks[1]!, p[1]);
      planks[2] = Math.min(planks[2]!, p[2]);
      planks[3] = Math.max(planks[3]!, p[2]);
    }
  }
  [4.1, 4.9, 0.45, 0.75].forEach((v, k) => {
    expect(planks[k]!).toBeCloseTo(v, 1);
  });
  expect(planks[3]!).toBeLessThan(0.765);
  // A level line at z 1.2 just inside the south side meets a rib 0.045 wide every 0.30 m amidships.
  const seen: [number, number][] = [];
  let inside = false;
  for (let x = 6.2; x < 7.8; x += 0.0025) {
    const hit = meet([body], [x, 4.5, 1.2], [0, -1, 0]) !== undefined;
    if (hit && !inside) seen.push([x, x]);
    if (hit) seen.at(-1)![1] = x;
    inside = hit;
  }
  // 1.6 m hold five or six.
  expect([5, 6]).toContain(seen.length);
  seen.forEach(([from, to], k) => {
    expect(to - from).toBeCloseTo(0.0425, 2);
    if (k) expect(from - seen[k - 1]![0]).toBeCloseTo(0.3, 2);
  });
});
