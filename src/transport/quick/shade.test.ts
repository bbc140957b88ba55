/** Quick shadows against geometry: a straight edge across a disc hides a segment of the circle, whatever its width. */
import { expect, test } from 'vitest';
import { lamp, matte, probeAt, type Quad, stageOf } from '../box.ts';
import { emitterSet } from '../emitter.ts';
import { plainTracer } from '../plain.ts';
import type { Tracer } from '../tracer.ts';
import { bareAt, glossTable, standFor } from './bare.ts';
import { ask, foundAt, shareOf } from './places.ts';
import { glance } from './quick.ts';
import { shade } from './shade.ts';
import { look, spot } from './stillLife.ts';

/** Lamp 3 m over the floor, looking down; a blade at `bladeM` hides all that is left of x = 0. */
const LAMP_M = 3;
const stageWith = (bladeM: number) => {
  const floor: Quad = { corner: [-2, -2, 0], sideU: [4, 0, 0], sideV: [0, 4, 0], material: matte(0.4) };
  const blade: Quad = {
    corner: [-4, -4, bladeM],
    sideU: [4, 0, 0],
    sideV: [0, 8, 0],
    material: matte(0),
    part: 'blade',
  };
  return stageOf([floor, blade]);
};

/** Share of a disc of radius r that lies right of a line at c from its middle: a segment of the circle. */
function segment(c: number, r: number): number {
  if (c <= -r) return 1;
  if (c >= r) return 0;
  return 0.5 - (c * Math.sqrt(r * r - c * c) + r * r * Math.asin(c / r)) / (Math.PI * r * r);
}

/** Radius of the lamp and height of the blade, and so the width of the penumbra, in pixels of 4 mm. */
for (const [name, radiusM, bladeM] of [
  ['about a pixel wide', 0.05, 0.12],
  ['four pixels wide', 0.05, 0.45],
  ['twenty pixels wide', 0.12, 0.75],
  ['fifty pixels wide', 0.2, 1],
] as const) {
  test(`a penumbra ${name}: shares within .05 rms beside the edge, and the dark stays dark`, async () => {
    const stage = stageWith(bladeM);
    const layer = lamp('L', spot([0, 0, LAMP_M], [0, 0, 0], radiusM, 1000, 1));
    const tracer = plainTracer();
    await tracer.load({ stage, layers: [layer] });
    // From the side under the blade and beyond it, so that it hides nothing.
    const view = look([1.2, -0.9, 0.5], [0, 0, 0], 0.26);
    const hits = await tracer.hits(view, 240, 135, { seed: 1 });
    const set = emitterSet(layer.emitters);
    const n = hits.points.count;
    const bare = { diffuse: new Float32Array(n), gloss: new Float32Array(n) };
    bareAt(set, standFor(set), glossTable(stage.materials), hits.points, 0, n, bare);
    const share = await shade(tracer, set, hits, glance(view, hits).fine, bare.diffuse, { seed: 3 });
    let square = 0;
    let count = 0;
    let leaks = 0;
    let dark = 0;
    for (let i = 0; i < n; i++) {
      if (hits.part[i] !== 0 || Math.abs(hits.points.position[i * 3 + 2]!) > 0.01) continue;
      const x = hits.points.position[i * 3]!;
      // Where the line from here over the blade's edge meets the lamp's plane.
      const c = x * (1 - LAMP_M / bladeM);
      const want = segment(c, radiusM);
      const halfM = (radiusM * bladeM) / (LAMP_M - bladeM);
      if (Math.abs(x) > 2 * halfM + 0.02) continue;
      square += (share[i]! - want) ** 2;
      count++;
      // A centimetre (two pixels and more) into the full shadow: a twentieth of the lamp's light would show there.
      if (x < -halfM - 0.01) {
        dark++;
        if (share[i]! > 0.05) leaks++;
      }
    }
    expect(count).toBeGreaterThan(500);
    expect(dark).toBeGreaterThan(100);
    expect(Math.sqrt(square / count)).toBeLessThan(0.05);
    expect(leaks / dark).toBeLessThan(0.01);
  });
}

const squareLamp = emitterSet([
  {
    shape: { kind: 'rectangle', centre: [0, 0, 5], axis: [0, 0, -1], up: [0, 1, 0], widthM: 1, heightM: 1 },
    beam: { kind: 'isotropic', cd: 100 },
  },
]);
const tile = probeAt(
  Array.from(
    { length: 16 },
    () =>
      [
        [0, 0, 0],
        [0, 0, 1],
      ] as const,
  ),
);
const turns = Uint32Array.from({ length: 16 }, (_, t) => t);

/** Asks a square lamp of side 1 m from sixteen points, one of each turn; `passes`: what becomes of a ray by its end. */
async function asked(rays: number, passes: (x: number, y: number) => boolean) {
  const found = foundAt(16);
  const tracer = {
    passes: async (_: Float32Array, to: Float32Array) =>
      Float32Array.from({ length: to.length / 3 }, (_, r) => Number(passes(to[3 * r]!, to[3 * r + 1]!))),
  } as unknown as Tracer;
  await ask(tracer, squareLamp, tile, turns, Uint8Array.from(turns), 0, rays, found, { seed: 1 });
  return found;
}

test('a tile of sixteen points asks one place in every cell of five grids on the lamp', async () => {
  for (const across of [1, 2, 4, 8, 16]) {
    const cells = new Set<number>();
    await asked(1, (x, y) => {
      cells.add(Math.floor((x + 0.5) * across) * 16 + Math.floor(((y + 0.5) * 16) / across));
      return true;
    });
    expect(cells.size).toBe(16);
  }
});

test("a point's own eight rays: a straight edge across the lamp to a tenth of it rms, where chance gives .15", async () => {
  let square = 0;
  let count = 0;
  for (let angle = 0; angle < Math.PI; angle += Math.PI / 12) {
    const [ax, ay] = [Math.cos(angle), Math.sin(angle)];
    for (const at of [-0.3, -0.1, 0.1, 0.3]) {
      const found = await asked(8, (x, y) => x * ax + y * ay > at);
      // The area beyond the line, by a fine grid.
      let beyond = 0;
      for (let i = 0; i < 100; i++)
        for (let j = 0; j < 100; j++)
          if (((i + 0.5) / 100 - 0.5) * ax + ((j + 0.5) / 100 - 0.5) * ay > at) beyond += 1e-4;
      for (const t of turns) square += (shareOf(found, t) - beyond) ** 2;
      count += 16;
    }
  }
  expect(Math.sqrt(square / count)).toBeLessThan(0.1);
});
