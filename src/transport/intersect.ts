/**
 * The stage as rays meet it: two trees (what stands still, the little that moves), materials as flat arrays,
 * and the surface at a hit.
 */
import { atSamples, SAMPLE_NM, SAMPLES } from '../colour/spectrum.ts';
import { glassTransmittance } from '../light/glass.ts';
import type { Relief } from '../stage/relief.ts';
import type { Material, Stage } from '../stage/stage.ts';
import { clearOf } from './air.ts';
import { alphaOf } from './brdf.ts';
import { SHARE_TT } from './fibre.ts';
import type { Tree } from './tree.ts';
import { buildTree, closestHit, hit, joinTrees, passage, refitTree, treeCost } from './tree.ts';

export const OPAQUE = 0;
export const MIRROR = 1;
export const GLASS = 2;
export const SHEET = 3;
const KINDS: Record<Material['kind'], number> = {
  opaque: OPAQUE,
  mirror: MIRROR,
  glass: GLASS,
  sheet: SHEET,
};

/** Material number of a probe: an ideal white matte receiver. */
export const PROBE = 65535;
/** Patch number of a surface without one. */
export const NO_PATCH = 4294967295;
/** Added to the number of a patch that a link met near by. */
export const NEAR = 2147483648;

/** Shadow rays end this short of the emitter, metres: a body nearer to it than that does not shade it. */
export const GAP = 5e-4;

/** Materials as rays use them. */
export interface Stuff {
  kind: Uint8Array;
  /** 12 per material: diffuse (mirror: specular) reflectance at the sample wavelengths. */
  rho: Float64Array;
  /** One number for it: weighted by the eye's response. */
  neutral: Float64Array;
  /** Gloss: normal reflectance (0 = none) and alpha. */
  f0: Float64Array;
  alpha: Float64Array;
  /** 12 per material: colour of its gloss; 1 where it is no metal. */
  lobe: Float64Array;
  /** Ribbons that stand for hairs: `Material.fibre.through`; else -1. */
  through: Float64Array;
  /** What is finer than triangles, where a material has it. */
  relief: (Relief | undefined)[];
  /** Sheets: share straight through. Panes: tint as one number. Else 0. */
  straight: Float64Array;
}

/** The eye's response at the sample wavelengths, sum 1: a Gaussian fit to V(λ) [WYMAN-2013], within 2 % of peak. */
const EYE = (() => {
  const v = SAMPLE_NM.map((nm) => Math.exp(-285.4 * (nm / 1000 - 0.559) ** 2));
  const sum = v.reduce((a, b) => a + b, 0);
  return v.map((x) => x / sum);
})();
export const byEye = (twelve: Float64Array): number => twelve.reduce((sum, x, i) => sum + x * EYE[i]!, 0);

/** What light a hair's colour leaves; -1: no hair. */
export const throughOf = (m: Material): number => m.fibre?.through ?? -1;

function stuffOf(materials: readonly Material[]): Stuff {
  const n = materials.length;
  const stuff: Stuff = {
    kind: new Uint8Array(n),
    rho: new Float64Array(n * SAMPLES),
    neutral: new Float64Array(n),
    f0: new Float64Array(n),
    alpha: new Float64Array(n).fill(1),
    lobe: new Float64Array(n * SAMPLES).fill(1),
    through: Float64Array.from(materials, throughOf),
    relief: materials.map((m) => m.relief),
    straight: new Float64Array(n),
  };
  materials.forEach((m, i) => {
    const rho = atSamples(m.reflectance);
    stuff.kind[i] = KINDS[m.kind];
    stuff.rho.set(rho, i * SAMPLES);
    stuff.neutral[i] = byEye(rho);
    if (m.gloss && m.gloss.f0 > 0 && m.kind === 'opaque') {
      stuff.f0[i] = m.gloss.f0;
      stuff.alpha[i] = alphaOf(m.gloss.roughness);
      if (m.gloss.tint) stuff.lobe.set(atSamples(m.gloss.tint), i * SAMPLES);
    }
    if (m.kind === 'sheet') stuff.straight[i] = m.straight ?? 0;
    if (m.kind === 'glass') stuff.straight[i] = m.tint ? byEye(atSamples(m.tint)) : 1;
  });
  return stuff;
}

/** Numbers per triangle of a shape: three corners, and what shadow rays meet (`Tree.pass`). */
export const SHAPE = 10;

/** Triangles `first` … `end - 1` (at least one) as a shape, with `first` behind them. */
function shapeOf(stage: Stage, first: number, end: number, pass: (t: number) => number): Float32Array {
  const shape = new Float32Array((end - first) * SHAPE + 1);
  shape[shape.length - 1] = first;
  const { indices, positions } = stage;
  for (let t = first, o = 0; t < end; t++, o += SHAPE) {
    for (let c = 0; c < 3; c++) {
      const v = indices[t * 3 + c]! * 3;
      shape[o + c * 3] = positions[v]!;
      shape[o + c * 3 + 1] = positions[v + 1]!;
      shape[o + c * 3 + 2] = positions[v + 2]!;
    }
    shape[o + 9] = pass(t);
  }
  return shape;
}

/** Builds the tree of a stage's triangles `first` … `end - 1`, at least one, whose shape is known. */
export type Build = (stage: Stage, first: number, end: number, shape: Float32Array) => Tree;

const plainBuild: Build = ({ positions, indices }, first, end, shape) =>
  buildTree(positions, indices, first, end - first, (t) => shape[(t - first) * SHAPE + 9]!);

/** A tree of one moving part, kept while the part does not move. */
interface Grown {
  /** As by `shapeOf`. */
  shape: Float32Array;
  tree: Tree;
  /** `treeCost` when it was built. */
  built: number;
}

/** A tree fitted anew to moved triangles is kept while it costs at most this much more than when it was built. */
const WORN = 1.25;

/** The tree of a part that has moved or changed: fitted anew if that pays, else built anew. */
function grow(
  stage: Stage,
  first: number,
  end: number,
  shape: Float32Array,
  build: Build,
  old?: Grown,
): Grown {
  if (old && old.shape.length === shape.length && samePass(old.shape, shape)) {
    const tree = refitTree(old.tree, stage.positions, stage.indices, first, old.shape[shape.length - 1]!);
    if (treeCost(tree) <= WORN * old.built) return { shape, tree, built: old.built };
  }
  const tree = build(stage, first, end, shape);
  return { shape, tree, built: treeCost(tree) };
}

function samePass(a: Float32Array, b: Float32Array): boolean {
  for (let i = 9; i < a.length; i += SHAPE) if (a[i] !== b[i]) return false;
  return true;
}

/** A faster way through a world's trees than tree.ts. */
export interface Rays {
  /** As `firstHit`. */
  first(
    world: World,
    ox: number,
    oy: number,
    oz: number,
    dx: number,
    dy: number,
    dz: number,
    tMax: number,
  ): number;
  /** Share of light that gets as far as `far`; below 0: there is glass in the way, ask the trees. */
  passes(
    world: World,
    ox: number,
    oy: number,
    oz: number,
    dx: number,
    dy: number,
    dz: number,
    far: number,
  ): number;
  /** `passes` for rays `begin` … `end - 1` from points to targets, 3 numbers each, less GAP at the end; into `out`. */
  passesAll(
    world: World,
    from: Float32Array,
    to: Float32Array,
    begin: number,
    end: number,
    out: Float32Array,
  ): void;
}

export interface World {
  stage: Stage;
  stuff: Stuff;
  still: Tree;
  moving: Tree;
  /** For the next `worldOf`. */
  grown: Map<string, Grown>;
  rays?: Rays;
}

const passOf = (stuff: Stuff, material: number): number => {
  const kind = stuff.kind[material]!;
  // What goes through a hair goes much the same way on.
  const hair = stuff.through[material]!;
  if (hair > 0) return SHARE_TT * hair;
  return kind === GLASS ? -stuff.straight[material]! : kind === SHEET ? stuff.straight[material]! : 0;
};

const NOTHING = new Float32Array(0);

/** Builds the trees, taking over from `before` whatever has not changed: the still half, parts that stayed. */
export function worldOf(stage: Stage, before?: World, build: Build = plainBuild): World {
  if (before && before.stage.key === stage.key && before.stage === stage) return before;
  const stuff = stuffOf(stage.materials);
  const pass = (t: number): number => passOf(stuff, stage.material[t]!);
  const still =
    before && before.stage.stillKey === stage.stillKey
      ? before.still
      : stage.stillTriangles > 0
        ? build(stage, 0, stage.stillTriangles, shapeOf(stage, 0, stage.stillTriangles, pass))
        : plainBuild(stage, 0, 0, NOTHING);

  // One tree per run of triangles of a moving part; only those whose corners differ are built again.
  const grown = new Map<string, Grown>();
  const trees: Tree[] = [];
  /** Runs met so far of each part. */
  const runs = new Map<string, number>();
  const total = stage.indices.length / 3;
  for (let first = stage.stillTriangles; first < total; ) {
    const part = stage.part[first]!;
    let end = first + 1;
    while (end < total && stage.part[end] === part) end++;
    const shape = shapeOf(stage, first, end, pass);
    const id = stage.parts[part]?.id ?? `${part}`;
    const nth = (runs.get(id) ?? 0) + 1;
    runs.set(id, nth);
    const name = `${id}/${nth}`;
    const old = before?.grown.get(name);
    const one = old && sameNumbers(old.shape, shape) ? old : grow(stage, first, end, shape, build, old);
    grown.set(name, one);
    trees.push(one.tree);
    first = end;
  }
  return { stage, stuff, still, moving: joinTrees(trees), grown };
}

function sameNumbers(a: Float32Array, b: Float32Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** Number of the first triangle along a unit direction within `tMax` metres, or -1; fills `hit`. */
export function firstHit(
  world: World,
  ox: number,
  oy: number,
  oz: number,
  dx: number,
  dy: number,
  dz: number,
  tMax: number,
): number {
  if (world.rays) return world.rays.first(world, ox, oy, oz, dx, dy, dz, tMax);
  const a = closestHit(world.still, ox, oy, oz, dx, dy, dz, tMax);
  const t = a < 0 ? tMax : hit[0]!;
  const u = hit[1]!;
  const v = hit[2]!;
  const b = closestHit(world.moving, ox, oy, oz, dx, dy, dz, t);
  if (b >= 0) return b;
  hit[0] = t;
  hit[1] = u;
  hit[2] = v;
  return a;
}

const panePassed = (cosine: number): number => glassTransmittance(cosine);

/** Share of light that gets from a point along a unit direction to an emitter `distance` metres away. */
export function reaches(
  world: World,
  ox: number,
  oy: number,
  oz: number,
  dx: number,
  dy: number,
  dz: number,
  distance: number,
): number {
  const far = distance - GAP;
  const air = world.stage.air;
  const clear = air ? clearOf(air, distance) : 1;
  if (world.rays) {
    const share = world.rays.passes(world, ox, oy, oz, dx, dy, dz, far);
    if (share >= 0) return clear * share;
  }
  const share = clear * passage(world.moving, ox, oy, oz, dx, dy, dz, far, panePassed);
  return share === 0 ? 0 : share * passage(world.still, ox, oy, oz, dx, dy, dz, far, panePassed);
}

/** The same for rays `begin` … `end - 1`, from points to targets, 3 numbers each; into `out`. */
export function reachesAll(
  world: World,
  from: Float32Array,
  to: Float32Array,
  begin: number,
  end: number,
  out: Float32Array,
): void {
  const { air } = world.stage;
  world.rays?.passesAll(world, from, to, begin, end, out);
  for (let i = begin, o = begin * 3; i < end; i++, o += 3) {
    // Known by now, unless there is glass or air in the way.
    if (world.rays && (out[i]! === 0 || (out[i]! > 0 && !air))) continue;
    const dx = to[o]! - from[o]!;
    const dy = to[o + 1]! - from[o + 1]!;
    const dz = to[o + 2]! - from[o + 2]!;
    const d = Math.sqrt(dx * dx + dy * dy + dz * dz);
    if (world.rays && air && out[i]! > 0) out[i]! *= clearOf(air, d);
    else out[i] = d > 0 ? reaches(world, from[o]!, from[o + 1]!, from[o + 2]!, dx / d, dy / d, dz / d, d) : 1;
  }
}

/** How far points are lifted off a surface, metres, for coordinates of this size: 10 to 20 steps of 32-bit floats. */
export const liftAt = (x: number, y: number, z: number): number =>
  1e-5 + 4e-6 * (Math.abs(x) + Math.abs(y) + Math.abs(z));

/**
 * The surface last met: 0–2 point lifted clear of the surface on the ray's side; 3–5 face normal and 6–8 shading
 * normal on that side; 9–11 the point itself.
 */
export const surface = new Float64Array(12);

/**
 * Fills `surface` for triangle `t` at barycentrics (u, v), seen along the unit direction d. Where the normals are
 * smooth the point is lifted to the mean of the corners' tangent planes [HANIKA-2021], so that a coarse mesh
 * throws no jagged terminator.
 */
export function surfaceAt(
  stage: Stage,
  t: number,
  u: number,
  v: number,
  dx: number,
  dy: number,
  dz: number,
): void {
  const { positions, normals, indices } = stage;
  const a = indices[t * 3]! * 3;
  const b = indices[t * 3 + 1]! * 3;
  const c = indices[t * 3 + 2]! * 3;
  const w = 1 - u - v;
  const ax = positions[a]!;
  const ay = positions[a + 1]!;
  const az = positions[a + 2]!;
  const bx = positions[b]!;
  const by = positions[b + 1]!;
  const bz = positions[b + 2]!;
  const cx = positions[c]!;
  const cy = positions[c + 1]!;
  const cz = positions[c + 2]!;

  // Face normal, turned to the ray's side.
  const e1x = bx - ax;
  const e1y = by - ay;
  const e1z = bz - az;
  const e2x = cx - ax;
  const e2y = cy - ay;
  const e2z = cz - az;
  let fx = e1y * e2z - e1z * e2y;
  let fy = e1z * e2x - e1x * e2z;
  let fz = e1x * e2y - e1y * e2x;
  const side = fx * dx + fy * dy + fz * dz > 0 ? -1 : 1;
  const fl = side / Math.sqrt(fx * fx + fy * fy + fz * fz);
  fx *= fl;
  fy *= fl;
  fz *= fl;

  // Shading normal, turned to the same side.
  let nx = w * normals[a]! + u * normals[b]! + v * normals[c]!;
  let ny = w * normals[a + 1]! + u * normals[b + 1]! + v * normals[c + 1]!;
  let nz = w * normals[a + 2]! + u * normals[b + 2]! + v * normals[c + 2]!;
  const nl2 = nx * nx + ny * ny + nz * nz;
  let flip = 1;
  if (nl2 > 1e-12) {
    flip = nx * fx + ny * fy + nz * fz < 0 ? -1 : 1;
    const k = flip / Math.sqrt(nl2);
    nx *= k;
    ny *= k;
    nz *= k;
  } else {
    nx = fx;
    ny = fy;
    nz = fz;
  }

  const x = w * ax + u * bx + v * cx;
  const y = w * ay + u * by + v * cy;
  const z = w * az + u * bz + v * cz;
  let lx = 0;
  let ly = 0;
  let lz = 0;
  if (nx * fx + ny * fy + nz * fz < 0.9999999) {
    // Lift toward each corner's tangent plane, weighted by nearness.
    let h = flip * ((x - ax) * normals[a]! + (y - ay) * normals[a + 1]! + (z - az) * normals[a + 2]!);
    if (h < 0) {
      h *= w * flip;
      lx -= h * normals[a]!;
      ly -= h * normals[a + 1]!;
      lz -= h * normals[a + 2]!;
    }
    h = flip * ((x - bx) * normals[b]! + (y - by) * normals[b + 1]! + (z - bz) * normals[b + 2]!);
    if (h < 0) {
      h *= u * flip;
      lx -= h * normals[b]!;
      ly -= h * normals[b + 1]!;
      lz -= h * normals[b + 2]!;
    }
    h = flip * ((x - cx) * normals[c]! + (y - cy) * normals[c + 1]! + (z - cz) * normals[c + 2]!);
    if (h < 0) {
      h *= v * flip;
      lx -= h * normals[c]!;
      ly -= h * normals[c + 1]!;
      lz -= h * normals[c + 2]!;
    }
  }
  const lift = liftAt(x, y, z);
  surface[0] = x + lx + fx * lift;
  surface[1] = y + ly + fy * lift;
  surface[2] = z + lz + fz * lift;
  surface[3] = fx;
  surface[4] = fy;
  surface[5] = fz;
  surface[6] = nx;
  surface[7] = ny;
  surface[8] = nz;
  surface[9] = x;
  surface[10] = y;
  surface[11] = z;
}
