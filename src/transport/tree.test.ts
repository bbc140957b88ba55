// @ts-expect-error three carries no types of its own.
import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import { expect, test } from 'vitest';
import { rngOf } from '../maths/sampling.ts';
import type { Tree } from './tree.ts';
import { buildTree, closestHit, EMPTY, hit, joinTrees, passage, refitTree, treeCost } from './tree.ts';

/** Triangles strewn about: some large, some small, some flat against an axis, some without area. */
function soup(count: number, seed: number): { positions: Float32Array; indices: Uint32Array } {
  const rng = rngOf(seed);
  const positions = new Float32Array(count * 9);
  for (let t = 0; t < count; t++) {
    const size = rng() < 0.1 ? 2 : 0.2;
    const centre = [rng() * 4, rng() * 4, rng() * 3];
    const flat = Math.floor(rng() * 6);
    for (let c = 0; c < 3; c++) {
      for (let x = 0; x < 3; x++) {
        positions[t * 9 + c * 3 + x] = centre[x]! + (x === flat ? 0 : (rng() - 0.5) * size);
      }
    }
    if (t % 97 === 0) positions.copyWithin(t * 9 + 6, t * 9, t * 9 + 3);
  }
  return { positions, indices: Uint32Array.from({ length: count * 3 }, (_, i) => i) };
}

function* rays(count: number, seed: number): Generator<[number, number, number, number, number, number]> {
  const rng = rngOf(seed);
  for (let i = 0; i < count; i++) {
    const d = [rng() * 2 - 1, rng() * 2 - 1, rng() * 2 - 1];
    // Every eighth along an axis.
    if (i % 8 === 0) d.fill(0)[i % 3] = i % 16 === 0 ? 1 : -1;
    const l = Math.hypot(...d);
    yield [rng() * 4, rng() * 4, rng() * 3, d[0]! / l, d[1]! / l, d[2]! / l];
  }
}

const { positions, indices } = soup(3000, 1);
const whole = buildTree(positions, indices, 0, 3000, () => 0);
// The library's tree sorts the index in place.
const geometry = new BufferGeometry();
geometry.setAttribute('position', new BufferAttribute(positions, 3));
geometry.setIndex(new BufferAttribute(indices.slice(), 1));
const library = new MeshBVH(geometry);

test('first hits are those of a general library (three-mesh-bvh)', () => {
  const ray = new Ray();
  let hits = 0;
  let apart = 0;
  for (const [x, y, z, dx, dy, dz] of rays(6000, 2)) {
    ray.origin.copy(new Vector3(x, y, z));
    ray.direction.copy(new Vector3(dx, dy, dz));
    const theirs = library.raycastFirst(ray, DoubleSide);
    const ours = closestHit(whole, x, y, z, dx, dy, dz, 1e9);
    if (theirs) hits++;
    // A ray along a border may go either way: at most a handful in thousands.
    if ((theirs === null) !== ours < 0 || (theirs && Math.abs(theirs.distance - hit[0]!) > 1e-4)) apart++;
  }
  expect(hits).toBeGreaterThan(3000);
  expect(apart).toBeLessThanOrEqual(2);
});

test('barycentrics give the point that was hit', () => {
  for (const [x, y, z, dx, dy, dz] of rays(500, 3)) {
    const t = closestHit(whole, x, y, z, dx, dy, dz, 1e9);
    if (t < 0) continue;
    const [d, u, v] = [hit[0]!, hit[1]!, hit[2]!];
    [x + d * dx, y + d * dy, z + d * dz].forEach((at, k) => {
      const [a, b, c] = [0, 3, 6].map((o) => positions[t * 9 + o + k]!) as [number, number, number];
      expect((1 - u - v) * a + u * b + v * c).toBeCloseTo(at, 4);
    });
  }
});

test('trees joined answer as one tree; a shadow ray is stopped exactly where something is hit', () => {
  const joined = joinTrees([
    buildTree(positions, indices, 0, 10, () => 0),
    buildTree(positions, indices, 10, 1, () => 0),
    buildTree(positions, indices, 11, 0, () => 0),
    buildTree(positions, indices, 11, 2000, () => 0),
    buildTree(positions, indices, 2011, 989, () => 0),
  ]);
  for (const [x, y, z, dx, dy, dz] of rays(3000, 4)) {
    for (const far of [1e9, 0.3]) {
      const a = closestHit(whole, x, y, z, dx, dy, dz, far);
      const t = hit[0];
      const b = closestHit(joined, x, y, z, dx, dy, dz, far);
      expect(b).toBe(a);
      if (a >= 0) expect(hit[0]).toBe(t);
      expect(passage(joined, x, y, z, dx, dy, dz, far, () => 1)).toBe(a < 0 ? 1 : 0);
    }
  }
});

test('what panes and sheets pass is multiplied, each once', () => {
  // Three sheets and a pane across the x axis, halves meeting on the ray's own line.
  const list: number[] = [];
  for (const x of [1, 2, 3, 4]) list.push(x, -1, -1, x, 1, -1, x, 1, 1, x, -1, -1, x, 1, 1, x, -1, 1);
  const flat = Float32Array.from(list);
  const order = Uint32Array.from({ length: 24 }, (_, i) => i);
  const tree = buildTree(flat, order, 0, 8, (t) => (t < 6 ? 0.5 : -0.8));
  const pane = (cosine: number) => 0.9 * cosine;
  expect(passage(tree, 0, 0.2, 0.1, 1, 0, 0, 10, pane)).toBeCloseTo(0.125 * 0.8 * 0.9, 6);
  expect(passage(tree, 0, 0.2, 0.1, 1, 0, 0, 2.5, pane)).toBeCloseTo(0.25, 6);
  expect(passage(tree, 0, -0.3, 0.1, 0.8, 0.6, 0, 2, pane)).toBeCloseTo(0.5, 6);
});

test('no triangles, one triangle, many in one place', () => {
  const none = buildTree(positions, indices, 0, 0, () => 0);
  expect(none.root).toBe(EMPTY);
  expect(closestHit(none, 0, 0, 0, 1, 0, 0, 1e9)).toBe(-1);
  expect(joinTrees([none, none]).root).toBe(EMPTY);
  const same = Float32Array.from({ length: 9 * 500 }, (_, i) => [0, 0, 1, 1, 0, 1, 0, 1, 1][i % 9]!);
  const index = Uint32Array.from({ length: 1500 }, (_, i) => i);
  const pile: Tree = buildTree(same, index, 0, 500, () => 0);
  expect(closestHit(pile, 0.2, 0.2, 0, 0, 0, 1, 1e9)).toBeGreaterThanOrEqual(0);
  expect(hit[0]).toBeCloseTo(1, 6);
});

test('a closed mesh lets no ray slip between its triangles', () => {
  // A ball of flat pieces about the origin, seen from inside, rays at its very corners and edges among them.
  const n = 24;
  const ball: number[] = [];
  const index: number[] = [];
  for (let j = 0; j <= n; j++) {
    for (let i = 0; i < 2 * n; i++) {
      const th = (Math.PI * j) / n;
      const ph = (Math.PI * i) / n;
      ball.push(3 * Math.sin(th) * Math.cos(ph), 2 * Math.sin(th) * Math.sin(ph), 4 * Math.cos(th));
    }
  }
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < 2 * n; i++) {
      const a = j * 2 * n + i;
      const b = j * 2 * n + ((i + 1) % (2 * n));
      index.push(a, a + 2 * n, b + 2 * n, a, b + 2 * n, b);
    }
  }
  const points = Float32Array.from(ball);
  const tree = buildTree(points, Uint32Array.from(index), 0, index.length / 3, () => 0);
  let missed = 0;
  for (let i = 0; i < points.length; i += 3) {
    const q = (i + 3) % points.length;
    for (const w of [0, 0.5, 0.25]) {
      const d = [0, 1, 2].map((k) => points[i + k]! * (1 - w) + points[q + k]! * w);
      const l = Math.hypot(...d);
      if (
        l > 0.1 &&
        closestHit(tree, 0.01, -0.02, 0.03, (d[0]! - 0.01) / l, (d[1]! + 0.02) / l, (d[2]! - 0.03) / l, 1e9) <
          0
      )
        missed++;
    }
  }
  expect(missed).toBe(0);
});

test('a tree fitted anew to moved triangles answers as one built for them, and knows when it is worn', () => {
  const built = buildTree(positions, indices, 0, 3000, () => 0);
  const rng = rngOf(9);
  const shift = (by: number) => {
    const moved = positions.slice();
    for (let t = 0; t < 3000; t++) {
      const d = [rng() - 0.5, rng() - 0.5, rng() - 0.5];
      for (let k = 0; k < 9; k++) moved[t * 9 + k]! += 0.7 + by * d[k % 3]!;
    }
    return moved;
  };
  const moved = shift(0.1);
  const fitted = refitTree(built, moved, indices, 0, 0);
  const anew = buildTree(moved, indices, 0, 3000, () => 0);
  for (const [x, y, z, dx, dy, dz] of rays(2000, 5)) {
    const a = closestHit(anew, x, y, z, dx, dy, dz, 1e9);
    expect(closestHit(fitted, x, y, z, dx, dy, dz, 1e9)).toBe(a);
  }
  expect(treeCost(fitted) / treeCost(built)).toBeLessThan(1.5);
  expect(treeCost(refitTree(built, shift(5), indices, 0, 0)) / treeCost(built)).toBeGreaterThan(2);
});
