/** The shell of a room against prisms, and the rooms of two scenes against their published measures. */
import { expect, test } from 'vitest';
import { rngOf } from '../maths/sampling.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { add, normalize, sub } from '../maths/vec3.ts';
import { measure, meet } from './measure.ts';
import { setOut, signedArea, type Vec2 } from './outline.ts';
import { buildRoom, type OpeningSpec, type RoomSpec } from './room.ts';

/** 20 µm along at most 50 m of edges. */
const LAPS_M2 = 1e-3;
const grey = { reflectance: 0.5 };
const room = (outline: readonly Vec2[], rest: Partial<RoomSpec> = {}): RoomSpec => ({
  outline,
  ceilingM: 2.4,
  floor: grey,
  walls: grey,
  openings: {},
  ...rest,
});
const oblong: Vec2[] = [
  [0, 0],
  [4.2, 0],
  [4.2, 3.4],
  [0, 3.4],
];
const ell: Vec2[] = [
  [0, 0],
  [5, 0],
  [5, 2],
  [2.2, 2],
  [2.2, 4.1],
  [0, 4.1],
];
const slanted: Vec2[] = [
  [0.3, 0.1],
  [4.4, -0.6],
  [5.1, 2.9],
  [2.3, 4.4],
  [-0.5, 2.7],
];

test('floor, walls and ceiling are one closed shell: its volume is outer less inner prism', () => {
  for (const outline of [oblong, ell, slanted]) {
    for (const groundM of [undefined, -0.15, 0.3]) {
      const spec = room(outline, groundM === undefined ? {} : { outside: { groundM, ground: grey } });
      const shell = buildRoom(spec).bodies.filter((b) => b.part.id !== 'outside:ground');
      const m = measure(shell);
      const inside = signedArea(outline) * 2.4;
      const outer = signedArea(setOut(outline, 0.2)) * (2.4 + 0.2 + 0.2 - Math.min(0, groundM ?? 0));
      // Inside faces lap 20 µm at corners: area × that stays open on paper.
      expect(m.gapM2).toBeLessThan(LAPS_M2);
      expect(Math.abs(m.volumeM3 - (outer - inside))).toBeLessThan(5 * LAPS_M2);
      expect(m.worstNormal).toBeGreaterThan(0.9999);
    }
  }
});

test('openings take their volume out of the wall, with and without a ceiling', () => {
  const openings: Record<string, OpeningSpec> = {
    door: { kind: 'door', wall: 3, fromM: 2.3, toM: 3.1, sillM: 0, headM: 2, fill: 'open' },
    window: { kind: 'window', wall: 2, fromM: 1.6, toM: 2.8, sillM: 1, headM: 2.1, fill: 'open' },
  };
  const shell = measure(buildRoom(room(oblong, { openings })).bodies);
  const plain = measure(buildRoom(room(oblong)).bodies);
  expect(shell.gapM2).toBeLessThan(LAPS_M2);
  expect(plain.volumeM3 - shell.volumeM3).toBeCloseTo(0.2 * (0.8 * 2 + 1.2 * 1.1), 3);
  // Walls lose the hole on both faces and gain its four reveals.
  const wall = (o: Record<string, OpeningSpec>) =>
    measure(buildRoom(room(oblong, { openings: o })).bodies.find((b) => b.part.id === 'wall:2')!).areaM2;
  expect(wall(openings) - wall({})).toBeCloseTo(-2 * 1.2 * 1.1 + 0.2 * 2 * (1.2 + 1.1), 4);
  const { ceilingM: _, ...open } = room(oblong, { openings });
  const roofless = measure(buildRoom(open).bodies);
  expect(roofless.gapM2).toBeLessThan(LAPS_M2);
  const foot = signedArea(setOut(oblong, 0.2));
  expect(roofless.volumeM3).toBeCloseTo(foot * 3.2 - 4.2 * 3.4 * 3 - 0.2 * (0.8 * 2 + 1.2 * 1.1), 2);
});

test('no ray leaves a room without openings, not even along its edges', () => {
  const next = rngOf(7);
  for (const outline of [oblong, ell, slanted]) {
    const { bodies } = buildRoom(room(outline));
    const centre: Vec3 = [1.2, 1.1, 1.2];
    const inner = setOut(outline, 1e-4);
    for (let k = 0; k < 300; k++) {
      // Aim at random points, and at points of the edges between floor, walls and ceiling.
      const i = Math.floor(next() * outline.length);
      const a = outline[i]!;
      const b = outline[(i + 1) % outline.length]!;
      const t = next();
      const target: Vec3 =
        k % 3 === 0
          ? [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, k % 2 ? 0 : 2.4]
          : k % 3 === 1
            ? [a[0], a[1], 2.4 * t]
            : add(centre, normalize([next() - 0.5, next() - 0.5, next() - 0.5]));
      const way = normalize(sub(target, centre));
      const hit = meet(bodies, centre, way);
      expect(hit).toBeDefined();
      const [x, y, z] = [0, 1, 2].map((c) => centre[c]! + way[c]! * hit!.t) as unknown as Vec3;
      expect(z > -1e-3 && z < 2.401).toBe(true);
      // Stopped on the inner skin, not only by the outer one.
      expect(inside(inner, [x, y])).toBe(true);
    }
  }
});

function inside(p: readonly Vec2[], q: Vec2): boolean {
  let odd = false;
  for (let i = 0; i < p.length; i++) {
    const a = p[i]!;
    const b = p[(i + 1) % p.length]!;
    if (a[1] > q[1] !== b[1] > q[1] && q[0] < a[0] + ((q[1] - a[1]) * (b[0] - a[0])) / (b[1] - a[1]))
      odd = !odd;
  }
  return odd;
}

test('a hole is as wide and high as told, to a millimetre', () => {
  const window: OpeningSpec = {
    kind: 'window',
    wall: 2,
    fromM: 1.6,
    toM: 2.8,
    sillM: 1,
    headM: 2.1,
    fill: 'open',
  };
  const { bodies } = buildRoom(room(oblong, { openings: { window } }));
  // Wall 2 runs west from (4.2, 3.4): the hole is x 1.4–2.6.
  const free = (x: number, z: number) => meet(bodies, [x, 1, z], [0, 1, 0]) === undefined;
  for (const z of [1.001, 1.5, 2.099]) {
    expect(free(1.401, z)).toBe(true);
    expect(free(2.599, z)).toBe(true);
    expect(free(1.399, z)).toBe(false);
    expect(free(2.601, z)).toBe(false);
  }
  expect(free(2, 0.999)).toBe(false);
  expect(free(2, 2.101)).toBe(false);
});

test('a shut door and a glazed window close their openings; panes are glass', () => {
  const openings: Record<string, OpeningSpec> = {
    door: { kind: 'door', wall: 0, fromM: 0.5, toM: 1.4, sillM: 0, headM: 2, fill: 'shut' },
    window: { kind: 'window', wall: 1, fromM: 1, toM: 2.2, sillM: 0.9, headM: 2, fill: 'glass' },
    ajar: { kind: 'door', wall: 3, fromM: 1, toM: 1.8, sillM: 0, headM: 2, fill: 'open', leafDeg: 90 },
  };
  const { bodies, notes } = buildRoom(room(oblong, { openings }));
  expect(notes).toEqual([]);
  const next = rngOf(3);
  for (let k = 0; k < 100; k++) {
    const door = meet(bodies, [0.9, 2, 1], sub([0.55 + 0.8 * next(), 0, 0.05 + 1.9 * next()], [0.9, 2, 1]));
    expect(door!.body.part.id).toBe('opening:door');
  }
  const pane = meet(bodies, [2, 1.6, 1.4], [1, 0, 0])!;
  expect(pane.body.materials[pane.body.material[pane.triangle]!]!.kind).toBe('glass');
  // Bars 6 cm wide around it.
  const bar = meet(bodies, [2, 1.05, 1.4], [1, 0, 0])!;
  expect(bar.body.materials[bar.body.material[bar.triangle]!]!.kind).toBe('opaque');
  // The leaf stands at right angles to wall 3 (x = 0), hinged at its first edge: y = 3.4 − 1.
  const leaf = measure(bodies.find((b) => b.part.id === 'opening:ajar')!);
  expect(leaf.lo[0]).toBeGreaterThan(-0.001);
  expect(leaf.hi[0]).toBeCloseTo(0.8 - 0.008, 3);
  expect(leaf.lo[1]).toBeGreaterThan(2.4 - 0.1);
  expect(leaf.hi[1]).toBeLessThan(2.45);
});

test('S01: light from the yard meets nothing but the pane; the room measures as told', () => {
  const openings: Record<string, OpeningSpec> = {
    window: { kind: 'window', wall: 2, fromM: 1.6, toM: 2.8, sillM: 1, headM: 2.1, fill: 'glass' },
  };
  const { bodies } = buildRoom(
    room(oblong, { openings, outside: { groundM: -0.15, ground: { reflectance: 0.2 } } }),
  );
  // L3 (2.0, 5.6, 2.8) to C (2.0, 2.55, 1.58): passes the wall's inner plane at z 1.92.
  const from: Vec3 = [2, 5.6, 2.8];
  const way = sub([2, 2.55, 1.58], from);
  const first = meet(bodies, from, way)!;
  expect(first.body.materials[first.body.material[first.triangle]!]!.kind).toBe('glass');
  const beyond = from.map((c, k) => c + way[k]! * (first.t + 1e-6)) as unknown as Vec3;
  const rest = meet(bodies, beyond, way)!;
  expect(first.t + rest.t).toBeGreaterThan(1);
  // 65 m² of inside surface.
  const skin = bodies.filter((b) => /^(floor|ceiling|wall)/.test(b.part.id));
  let area = 0;
  for (const b of skin) {
    for (let t = 0; t < b.material.length; t++) {
      const one = measure({
        ...b,
        indices: b.indices.slice(t * 3, t * 3 + 3),
        material: b.material.slice(t, t + 1),
        patch: b.patch.slice(t, t + 1),
      });
      const within = [0, 1, 2].every((c) => one.lo[c]! > -1e-4 && one.hi[c]! < [4.2, 3.4, 2.4][c]! + 1e-4);
      if (within) area += one.areaM2;
    }
  }
  expect(area).toBeCloseTo(2 * 4.2 * 3.4 + 2 * (4.2 + 3.4) * 2.4 - 1.2 * 1.1, 2);
});

test('S13: the cold blade through the door gap lies where it was worked out', () => {
  const shed: Vec2[] = [
    [0, 0],
    [9, 0],
    [9, 5.5],
    [0, 5.5],
  ];
  const openings: Record<string, OpeningSpec> = {
    gap: { kind: 'gap', wall: 2, fromM: 4.65, toM: 5.15, sillM: 0, headM: 2.4, fill: 'open' },
  };
  const { bodies } = buildRoom(room(shed, { ceilingM: 3.8, openings, wallM: 0.02 }));
  const from: Vec3 = [4.2, 9.4, 4];
  const reaches = (x: number, y: number, z: number) => meet(bodies, from, sub([x, y, z], from))!.t > 0.9999;
  // At y 3.8 the blade is x 3.70–4.42 and z up to 1.70 (boards 2 cm thick take 1 cm off the top).
  expect(reaches(3.71, 3.8, 0.5)).toBe(true);
  expect(reaches(3.69, 3.8, 0.5)).toBe(false);
  expect(reaches(4.41, 3.8, 0.5)).toBe(true);
  expect(reaches(4.43, 3.8, 0.5)).toBe(false);
  expect(reaches(4.05, 3.8, 1.68)).toBe(true);
  expect(reaches(4.05, 3.8, 1.72)).toBe(false);
  // Faces of A and B are clear of it.
  expect(reaches(3.3, 2.6, 1.6)).toBe(false);
  expect(reaches(4.7, 2.6, 1.68)).toBe(false);
});

test('patches: rooms at 15–25 cm, a hall a little larger; each triangle has one', () => {
  const small = buildRoom(room(oblong)).bodies.filter((b) => /^(ceiling)/.test(b.part.id));
  expect(measure(small).widestPatchM).toBeLessThanOrEqual(0.2501);
  expect(measure(small).patches).toBe(17 * 14);
  const hall: Vec2[] = [
    [0, 0],
    [9, 0],
    [9, 5.5],
    [0, 5.5],
  ];
  const big = buildRoom(room(hall, { ceilingM: 3.8 })).bodies;
  expect(measure(big.filter((b) => b.part.id === 'ceiling')).widestPatchM).toBeLessThan(0.3);
  for (const b of big) {
    expect(b.patch.length).toBe(b.indices.length / 3);
    const { patches } = measure(b);
    expect(b.patch.every((p) => p < patches)).toBe(true);
  }
});

test('what cannot be built is said', () => {
  const { notes, bodies } = buildRoom(
    room(oblong, {
      openings: {
        a: { kind: 'gap', wall: 9, fromM: 0, toM: 1, sillM: 0, headM: 2, fill: 'open' },
        b: { kind: 'gap', wall: 0, fromM: 1, toM: 2, sillM: 0, headM: 2, fill: 'open' },
        c: { kind: 'gap', wall: 0, fromM: 1.5, toM: 3, sillM: 0, headM: 2, fill: 'open' },
        d: { kind: 'gap', wall: 1, fromM: 3, toM: 4, sillM: 0, headM: 2, fill: 'open' },
      },
    }),
  );
  expect(notes).toHaveLength(3);
  expect(measure(bodies).gapM2).toBeLessThan(LAPS_M2);
  expect(
    buildRoom(
      room([
        [0, 0],
        [1, 0],
      ]),
    ).bodies,
  ).toEqual([]);
});

test('under sloping ceilings the shell stays closed, as large as prisms make it, and no ray leaves it', () => {
  // 5 m long (walls 0 and 2), 4 m deep; both long sides rise at 45° from 1.2 m to a flat part at 2.4 m.
  const attic: Vec2[] = [
    [0, 0],
    [5, 0],
    [5, 4],
    [0, 4],
  ];
  const slopes = [0, 2].map((wall) => ({ wall, eavesM: 1.2, pitchDeg: 45 }));
  const openings: Record<string, OpeningSpec> = {
    // In the gable, its upper corner under the slope: 1.2 + 0.6 m at 0.6 m from the eaves.
    window: { kind: 'window', wall: 1, fromM: 0.6, toM: 1.6, sillM: 0.9, headM: 2.2, fill: 'open' },
  };
  const build = (o: typeof openings) => buildRoom(room(attic, { slopes, openings: o }));
  const { bodies, notes } = build({});
  expect(notes).toEqual([]);
  const m = measure(bodies);
  expect(m.gapM2).toBeLessThan(LAPS_M2);
  expect(m.worstNormal).toBeGreaterThan(0.9999);
  // Section inside: 4 × 2.4 less two corners of ½ 1.2². Outside 4.4 wide, lid 0.4 over it, eaves 1.2 − 0.2 + 0.4.
  const inner = 5 * (4 * 2.4 - 1.2 ** 2);
  const outer = 5.4 * (4.4 * 2.8 - (2.8 - 1.4) ** 2 + 4.4 * 0.2);
  expect(Math.abs(m.volumeM3 - (outer - inner))).toBeLessThan(5 * LAPS_M2);
  const ceiling = measure(bodies.find((b) => b.part.id === 'ceiling')!);
  expect(ceiling.areaM2).toBeCloseTo(5 * (4 - 2.4) + 2 * 5 * 1.2 * Math.SQRT2, 2);
  expect(ceiling.widestPatchM).toBeLessThan(0.27);
  const cut = build(openings);
  expect(cut.notes).toEqual(['window: was cut to fit its wall.']);
  expect(m.volumeM3 - measure(cut.bodies).volumeM3).toBeCloseTo(0.2 * 1 * (1.8 - 0.9), 2);
  const next = rngOf(11);
  for (let k = 0; k < 600; k++) {
    // Half of them along the edges where slope meets wall and flat.
    const y = k % 4 === 0 ? 0 : k % 4 === 1 ? 1.2 : 0;
    const target: Vec3 =
      k % 2 === 0 ? [5 * next(), y, y ? 2.4 : 1.2] : [5 * Math.round(next()), 4 * next(), 0.3 + 2 * next()];
    const hit = meet(bodies, [2.3, 1.9, 1], normalize(sub(target, [2.3, 1.9, 1])));
    expect(hit).toBeDefined();
    const z = 1 + normalize(sub(target, [2.3, 1.9, 1]))[2] * hit!.t;
    expect(z).toBeLessThan(2.401);
    expect(hit!.t).toBeLessThan(Math.hypot(2.71, 2.11, 1.5));
  }
});
