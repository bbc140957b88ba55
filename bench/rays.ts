/** Rays a second, one thread: our tree against three-mesh-bvh on the same triangles with the same rays. */

// @ts-expect-error three carries no types of its own.
import { BufferAttribute, BufferGeometry, DoubleSide, Ray } from 'three';
import { MeshBVH, SAH } from 'three-mesh-bvh';
import { fastWorldOf } from '../src/engine/fast.ts';
import { rngOf } from '../src/maths/sampling.ts';
import type { AngleGeometry } from '../src/setup/angle.ts';
import { firstHit, reaches, type World } from '../src/transport/intersect.ts';
import { hit } from '../src/transport/tree.ts';
import { cpuSeconds, type Line, lineOf } from './measure.ts';

const COUNT = 60_000;
const ROUNDS = 7;

/** 6 numbers a ray: origin, unit direction; and how far it may go. */
interface Rays {
  count: number;
  of: Float64Array;
  far: Float64Array;
}

export async function rayLines(angle: AngleGeometry): Promise<Line[]> {
  const { stage } = angle.transport;
  const world = fastWorldOf(stage);
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(stage.positions, 3));
  geometry.setIndex(new BufferAttribute(stage.indices.slice(), 1));
  // Its best tree for single rays.
  const library = new MeshBVH(geometry, { strategy: SAH });

  const kinds = raysOf(angle, world);
  const ray = new Ray();
  const at = (r: Rays, i: number) => {
    const k = 6 * i;
    ray.origin.set(r.of[k]!, r.of[k + 1]!, r.of[k + 2]!);
    ray.direction.set(r.of[k + 3]!, r.of[k + 4]!, r.of[k + 5]!);
  };
  const ours = {
    first: (r: Rays): number => {
      let met = 0;
      const { of } = r;
      for (let k = 0; k < of.length; k += 6)
        if (firstHit(world, of[k]!, of[k + 1]!, of[k + 2]!, of[k + 3]!, of[k + 4]!, of[k + 5]!, 1e9) >= 0)
          met++;
      return met;
    },
    any: (r: Rays): number => {
      let met = 0;
      const { of, far } = r;
      for (let i = 0, k = 0; k < of.length; i++, k += 6)
        if (reaches(world, of[k]!, of[k + 1]!, of[k + 2]!, of[k + 3]!, of[k + 4]!, of[k + 5]!, far[i]!) < 1)
          met++;
      return met;
    },
  };
  const theirs = {
    first: (r: Rays): number => {
      let met = 0;
      for (let i = 0; i < r.count; i++) {
        at(r, i);
        if (library.raycastFirst(ray, DoubleSide)) met++;
      }
      return met;
    },
    any: (r: Rays): number => {
      let met = 0;
      for (let i = 0; i < r.count; i++) {
        at(r, i);
        if (library.raycastFirst(ray, DoubleSide, 0, r.far[i]! - 5e-4)) met++;
      }
      return met;
    },
  };

  const lines: Line[] = [];
  for (const [name, rays] of Object.entries(kinds)) {
    const way = name === 'shadow' ? 'any' : 'first';
    // Once for warmth, and to see that both speak of the same thing.
    const [a, b] = [ours[way](rays), theirs[way](rays)];
    if (Math.abs(a - b) > 2e-3 * rays.count) throw new Error(`${name} rays: ours meet ${a}, theirs ${b}`);
    const rounds = [];
    for (let i = 0; i < ROUNDS; i++) {
      const mine = await cpuSeconds(() => ours[way](rays));
      const other = await cpuSeconds(() => theirs[way](rays));
      rounds.push({ ours: rays.count / mine / 1e6, theirs: rays.count / other / 1e6 });
    }
    lines.push(
      lineOf(`${name} rays, one thread, against three-mesh-bvh`, 'million a second', 'more', rounds),
    );
  }
  return lines;
}

/** Rays from the camera; from what they meet, by the cosine law; from there to the lamps. */
function raysOf({ view, lamps }: AngleGeometry, world: World): Record<string, Rays> {
  const rng = rngOf(5);
  const empty = (): Rays => ({ count: COUNT, of: new Float64Array(6 * COUNT), far: new Float64Array(COUNT) });
  const kinds = { camera: empty(), bounce: empty(), shadow: empty() };
  const { positions, indices } = world.stage;
  for (let i = 0; i < COUNT; ) {
    const [x, y] = [(2 * rng() - 1) * view.tanH, (2 * rng() - 1) * view.tanV];
    const d = [0, 1, 2].map((c) => view.forward[c]! + x * view.right[c]! + y * view.up[c]!);
    const l = Math.hypot(...d);
    const [dx, dy, dz] = d.map((v) => v / l) as [number, number, number];
    const [ex, ey, ez] = view.eye;
    const t = firstHit(world, ex, ey, ez, dx, dy, dz, 1e9);
    if (t < 0) continue;
    const far = hit[0]!;
    kinds.camera.of.set([ex, ey, ez, dx, dy, dz], 6 * i);
    const corner = (k: number) => [0, 1, 2].map((c) => positions[3 * indices[3 * t + k]! + c]!);
    const [a, b, c] = [corner(0), corner(1), corner(2)] as [number[], number[], number[]];
    const e = a.map((v, k) => b[k]! - v);
    const f = a.map((v, k) => c[k]! - v);
    let n = [e[1]! * f[2]! - e[2]! * f[1]!, e[2]! * f[0]! - e[0]! * f[2]!, e[0]! * f[1]! - e[1]! * f[0]!];
    const size = Math.hypot(...n) * (n[0]! * dx + n[1]! * dy + n[2]! * dz > 0 ? -1 : 1);
    n = n.map((v) => v / size);
    const p = [ex + far * dx, ey + far * dy, ez + far * dz].map((v, k) => v + 1e-4 * n[k]!);
    // The cosine law: a point of the unit sphere set on the normal's tip.
    const z = 2 * rng() - 1;
    const turn = 2 * Math.PI * rng();
    const r = Math.sqrt(1 - z * z);
    const w = [n[0]! + r * Math.cos(turn), n[1]! + r * Math.sin(turn), n[2]! + z];
    const lw = Math.hypot(...w) || 1;
    kinds.bounce.of.set([...p, ...w.map((v) => v / lw)], 6 * i);
    const lamp = lamps[i % lamps.length]!;
    const to = lamp.at.map((v, k) => v + 0.02 * lamp.axis[k]! - p[k]!);
    const dist = Math.hypot(...to);
    kinds.shadow.of.set([...p, ...to.map((v) => v / dist)], 6 * i);
    kinds.shadow.far[i] = dist;
    i++;
  }
  return kinds;
}
