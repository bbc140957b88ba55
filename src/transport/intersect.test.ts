import { expect, test } from 'vitest';
import type { Stage } from '../stage/stage.ts';
import { lamp, matte, stageOf } from './box.ts';
import { surface, surfaceAt, worldOf } from './intersect.ts';
import { plainTracer } from './plain.ts';

/** A ball of radius 1 about the origin with smooth normals, `n` bands from pole to pole. */
function ball(n: number): Stage {
  const base = stageOf([{ corner: [90, 90, -90], sideU: [1, 0, 0], sideV: [0, 1, 0], material: matte(0.5) }]);
  const positions = [...base.positions];
  const normals = [...base.normals];
  const indices = [...base.indices];
  const first = positions.length / 3;
  for (let j = 0; j <= n; j++) {
    for (let i = 0; i <= 2 * n; i++) {
      const th = (Math.PI * j) / n;
      const ph = (Math.PI * i) / n;
      const p = [Math.sin(th) * Math.cos(ph), Math.sin(th) * Math.sin(ph), Math.cos(th)];
      positions.push(...p);
      normals.push(...p);
    }
  }
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < 2 * n; i++) {
      const q = first + j * (2 * n + 1) + i;
      indices.push(q, q + 2 * n + 1, q + 2 * n + 2, q, q + 2 * n + 2, q + 1);
    }
  }
  const m = indices.length / 3;
  return {
    ...base,
    positions: Float32Array.from(positions),
    normals: Float32Array.from(normals),
    indices: Uint32Array.from(indices),
    material: new Uint16Array(m),
    part: new Uint16Array(m),
    patch: new Uint32Array(m),
    stillTriangles: m,
    key: `ball ${n}`,
    stillKey: `ball ${n}`,
  };
}

// A round ball lit from far off is lit by the cosine up to its terminator: Lambert's law. Facets must not show.
test('a coarse ball is shaded as a round one, thanks to the lift at the terminator', async () => {
  const stage = ball(16);
  const tracer = plainTracer();
  const far = lamp('far', {
    shape: { kind: 'sphere', centre: [0, -600, 800], axis: [0, 0, -1], up: [0, 1, 0], radiusM: 0.5 },
    beam: { kind: 'isotropic', cd: 1e6 },
  });
  await tracer.load({ stage, layers: [far] });
  const view = {
    eye: [0, -3, 0],
    forward: [0, 1, 0],
    right: [1, 0, 0],
    up: [0, 0, 1],
    tanH: 0.34,
    tanV: 0.34,
  } as const;
  const { points } = await tracer.hits(view, 60, 60, { seed: 1, samples: 1 });
  const { diffuse } = await tracer.direct(points, 0, { seed: 1, samples: 1 });
  // The same points put back on the facets.
  const flat = {
    ...points,
    position: points.position.map((x, i) => {
      const p = i - (i % 3);
      const [nx, ny, nz] = [points.position[p]!, points.position[p + 1]!, points.position[p + 2]!];
      const r = Math.hypot(nx, ny, nz);
      // Radius of the facet's plane along this direction is at most 1: the lifted points lie outside it.
      return (x / r) * Math.min(r, facetRadius(stage, nx / r, ny / r, nz / r) + 1e-5);
    }),
  };
  const unlifted = (await tracer.direct(flat, 0, { seed: 1, samples: 1 })).diffuse;
  let off = 0;
  let offFlat = 0;
  let n = 0;
  for (let p = 0; p < points.count; p++) {
    const cos = points.normal[p * 3 + 1]! * -0.6 + points.normal[p * 3 + 2]! * 0.8;
    if (points.position[p * 3 + 1]! > 2 || cos < 0.02 || cos > 0.3) continue;
    n++;
    off += (diffuse[p]! - cos) ** 2;
    offFlat += (unlifted[p]! - cos) ** 2;
  }
  expect(n).toBeGreaterThan(100);
  // Of the full light; and without the lift it is several times worse, so the test can see the difference.
  expect(Math.sqrt(off / n)).toBeLessThan(0.005);
  expect(Math.sqrt(offFlat / n)).toBeGreaterThan(4 * Math.sqrt(off / n));
});

/** Distance from the middle of the ball to its facets along a unit direction. */
function facetRadius(stage: Stage, x: number, y: number, z: number): number {
  const { positions: p, indices } = stage;
  let best = 1;
  for (let t = 2; t < indices.length / 3; t++) {
    const [a, b, c] = [0, 1, 2].map((k) => {
      const v = indices[t * 3 + k]! * 3;
      return [p[v]!, p[v + 1]!, p[v + 2]!];
    }) as [number[], number[], number[]];
    const inside = [
      [a, b],
      [b, c],
      [c, a],
    ].every(
      ([u, v]) =>
        (u![1]! * v![2]! - u![2]! * v![1]!) * x +
          (u![2]! * v![0]! - u![0]! * v![2]!) * y +
          (u![0]! * v![1]! - u![1]! * v![0]!) * z >=
        -1e-7,
    );
    if (!inside) continue;
    const e = b.map((w, k) => w - a[k]!);
    const f = c.map((w, k) => w - a[k]!);
    const n = [e[1]! * f[2]! - e[2]! * f[1]!, e[2]! * f[0]! - e[0]! * f[2]!, e[0]! * f[1]! - e[1]! * f[0]!];
    const along = n[0]! * x + n[1]! * y + n[2]! * z;
    if (Math.abs(along) > 1e-9)
      best = Math.min(best, (n[0]! * a[0]! + n[1]! * a[1]! + n[2]! * a[2]!) / along);
  }
  return best;
}

test('the surface is the same seen from either side, but for the side', () => {
  const stage = ball(8);
  surfaceAt(stage, 20, 0.3, 0.3, 0.1, -0.2, -1);
  const front = [...surface];
  surfaceAt(stage, 20, 0.3, 0.3, -0.1, 0.2, 1);
  const back = [...surface];
  for (let k = 3; k < 9; k++) expect(back[k]).toBeCloseTo(-front[k]!, 12);
  for (let k = 9; k < 12; k++) expect(back[k]).toBe(front[k]);
  // Out of the ball the lift is up to the tangent planes; within it there is none but the hair's breadth.
  const height = (s: number[]) => Math.hypot(...[0, 1, 2].map((k) => s[k]! - s[9 + k]!));
  expect(Math.max(height(front), height(back))).toBeGreaterThan(1e-3);
  expect(Math.min(height(front), height(back))).toBeLessThan(1e-4);
});

test('what has not changed is not built again', () => {
  const still = ball(8);
  const one = worldOf(still);
  expect(worldOf(still, one)).toBe(one);
  const other = worldOf({ ...still, key: 'other' }, one);
  expect(other.still).toBe(one.still);
  expect(worldOf({ ...still, key: 'other', stillKey: 'other' }, one).still).not.toBe(one.still);
});
