/** Small stages made by hand, for tests and checks of transport: quads cut into patches, boxes, rooms. */
import type { Spectrum } from '../colour/spectrum.ts';
import { constant } from '../colour/spectrum.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { cross, normalize } from '../maths/vec3.ts';
import type { Material, Part, Stage } from '../stage/stage.ts';
import { probes } from './points.ts';
import type { Emitter, Layer } from './scene.ts';
import type { SurfacePoints } from './tracer.ts';

/** One flat four-sided piece: corner and two sides; its front is where `sideU × sideV` points. */
export interface Quad {
  corner: Vec3;
  sideU: Vec3;
  sideV: Vec3;
  material: Material;
  /** Cells along u and v, each a patch. Default 1 × 1. */
  cells?: readonly [number, number];
  part?: string;
  moving?: boolean;
}

export const matte = (
  rho: number | Spectrum,
  name = `matte ${typeof rho === 'number' ? rho : ''}`,
): Material => ({
  name,
  reflectance: typeof rho === 'number' ? constant(rho) : rho,
  kind: 'opaque',
});

let made = 0;

/** Puts quads together as a stage; the still ones come first. */
export function stageOf(quads: readonly Quad[], key = `box ${made++}`): Stage {
  const ordered = [...quads.filter((q) => !q.moving), ...quads.filter((q) => q.moving)];
  const positions: number[] = [];
  const normals: number[] = [];
  const indices: number[] = [];
  const material: number[] = [];
  const partOf: number[] = [];
  const patch: number[] = [];
  const materials: Material[] = [];
  const parts: Part[] = [];
  let patches = 0;
  let stillTriangles = 0;
  let stillPatches = 0;
  for (const quad of ordered) {
    let m = materials.indexOf(quad.material);
    if (m < 0) m = materials.push(quad.material) - 1;
    const id = quad.part ?? `wall:${parts.length}`;
    let part = parts.findIndex((p) => p.id === id);
    if (part < 0) {
      part = parts.push({ id, words: id, kind: 'furniture', moving: quad.moving ?? false }) - 1;
    }
    const [nu, nv] = quad.cells ?? [1, 1];
    const n = normalize(cross(quad.sideU, quad.sideV));
    const first = positions.length / 3;
    for (let j = 0; j <= nv; j++) {
      for (let i = 0; i <= nu; i++) {
        for (let x = 0; x < 3; x++) {
          positions.push(quad.corner[x]! + (quad.sideU[x]! * i) / nu + (quad.sideV[x]! * j) / nv);
        }
        normals.push(...n);
      }
    }
    for (let j = 0; j < nv; j++) {
      for (let i = 0; i < nu; i++) {
        const a = first + j * (nu + 1) + i;
        indices.push(a, a + 1, a + nu + 2, a, a + nu + 2, a + nu + 1);
        material.push(m, m);
        partOf.push(part, part);
        patch.push(patches, patches);
        patches++;
      }
    }
    if (!quad.moving) {
      stillTriangles = indices.length / 3;
      stillPatches = patches;
    }
  }
  return {
    positions: Float32Array.from(positions),
    normals: Float32Array.from(normals),
    indices: Uint32Array.from(indices),
    material: Uint16Array.from(material),
    part: Uint16Array.from(partOf),
    patch: Uint32Array.from(patch),
    patchCount: patches,
    stillTriangles,
    stillPatches,
    materials,
    parts,
    faces: {},
    key,
    stillKey: `${key} still`,
    shapeKey: `${key} shape`,
  };
}

/** The six sides of a box from (x0, y0, z0) to (x1, y1, z1), facing in (a room) or out (a body). */
export function boxQuads(
  low: Vec3,
  high: Vec3,
  facing: 'in' | 'out',
  material: Material | { floor: Material; ceiling: Material; walls: Material },
  cell = Infinity,
  part?: string,
): Quad[] {
  const of = 'floor' in material ? material : { floor: material, ceiling: material, walls: material };
  const [x, y, z] = [high[0] - low[0], high[1] - low[1], high[2] - low[2]];
  const side = (corner: Vec3, u: Vec3, v: Vec3, stuff: Material, name: string): Quad => {
    const cells: [number, number] = [
      Math.max(1, Math.round(Math.hypot(...u) / cell)),
      Math.max(1, Math.round(Math.hypot(...v) / cell)),
    ];
    const base = { corner, material: stuff, part: part ?? name };
    return facing === 'in'
      ? { ...base, sideU: u, sideV: v, cells }
      : { ...base, sideU: v, sideV: u, cells: [cells[1], cells[0]] };
  };
  return [
    side(low, [x, 0, 0], [0, y, 0], of.floor, 'floor'),
    side([low[0], low[1], high[2]], [0, y, 0], [x, 0, 0], of.ceiling, 'ceiling'),
    side(low, [0, y, 0], [0, 0, z], of.walls, 'wall:west'),
    side([high[0], low[1], low[2]], [0, 0, z], [0, y, 0], of.walls, 'wall:east'),
    side(low, [0, 0, z], [x, 0, 0], of.walls, 'wall:south'),
    side([low[0], high[1], low[2]], [x, 0, 0], [0, 0, z], of.walls, 'wall:north'),
  ];
}

/** A stage with nothing near: one black tile a kilometre down. */
export const nowhere = (): Stage =>
  stageOf([{ corner: [0, 0, -1000], sideU: [1, 0, 0], sideV: [0, 1, 0], material: matte(0) }], 'nowhere');

/** A layer of the given emitters. */
export const lamp = (id: string, ...emitters: Emitter[]): Layer => ({
  id,
  lamp: id,
  emitters,
  key: `${id} ${JSON.stringify(emitters)}`,
  ownParts: [],
});

export const probeAt = (list: readonly (readonly [position: Vec3, normal: Vec3])[]): SurfacePoints =>
  probes(list.map(([position, normal]) => ({ position, normal })));

export const meanAt = (values: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum / values.length;
};

/** `count` points evenly over the inside of a box's six sides, with the side's number (as `boxQuads`) and lifted. */
export function pointsInside(
  low: Vec3,
  high: Vec3,
  count: number,
  rng: () => number,
): { at: [Vec3, Vec3][]; side: number[] } {
  const size = [0, 1, 2].map((i) => high[i]! - low[i]!) as [number, number, number];
  const areas = [
    size[0] * size[1],
    size[0] * size[1],
    size[1] * size[2],
    size[1] * size[2],
    size[0] * size[2],
    size[0] * size[2],
  ];
  const normals: Vec3[] = [
    [0, 0, 1],
    [0, 0, -1],
    [1, 0, 0],
    [-1, 0, 0],
    [0, 1, 0],
    [0, -1, 0],
  ];
  const whole = areas.reduce((a, b) => a + b, 0);
  const at: [Vec3, Vec3][] = [];
  const side: number[] = [];
  for (let i = 0; i < count; i++) {
    // Stratified over the unfolded box.
    let want = ((i + rng()) / count) * whole;
    let k = 0;
    while (k < 5 && want > areas[k]!) want -= areas[k++]!;
    const n = normals[k]!;
    const p = [0, 1, 2].map((x) =>
      n[x] === 0 ? low[x]! + rng() * size[x]! : (n[x]! > 0 ? low[x]! : high[x]!) + 1e-4 * n[x]!,
    );
    at.push([p as unknown as Vec3, n]);
    side.push(k);
  }
  return { at, side };
}
