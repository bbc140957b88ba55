/** Shapes for a draft: panels cut into patches, boxes, bars, cylinders, turned shapes, curved sheets. */
import { add, cross, length, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { type Draft, inFrame, looking, newPatch, polygon, triangle, vertex } from './mesh.ts';

/** A rectangular opening of a panel, metres along its two sides. */
export interface Hole {
  u0: number;
  u1: number;
  v0: number;
  v1: number;
}

/** Ascending marks from 0 to `end` that contain every cut, no two further apart than `step`. */
export function marks(end: number, cuts: readonly number[], step: number): number[] {
  const fixed = [0, ...cuts.filter((c) => c > 1e-5 && c < end - 1e-5), end].sort((a, b) => a - b);
  const out = [0];
  for (let i = 1; i < fixed.length; i++) {
    const a = fixed[i - 1]!;
    const b = fixed[i]!;
    if (b - a < 1e-5) continue;
    const n = Math.max(1, Math.ceil((b - a) / step - 1e-3));
    for (let k = 1; k <= n; k++) out.push(k === n ? b : a + ((b - a) * k) / n);
  }
  return out;
}

/** How a panel is cut. */
export interface PanelOptions {
  patchM?: number;
  holes?: readonly Hole[];
  /** Patch of cell (i along u, j along v); absent: one of its own for each. */
  patchOf?: (i: number, j: number) => number;
}

/** A flat rectangle (or parallelogram) from `corner` along `u` and `v`, front toward u × v, one patch a cell. */
export function panel(
  d: Draft,
  corner: Vec3,
  u: Vec3,
  v: Vec3,
  slot: number,
  options: PanelOptions = {},
): void {
  const lu = length(u);
  const lv = length(v);
  if (lu < 1e-6 || lv < 1e-6) return;
  const step = options.patchM ?? d.patchM;
  const holes = options.holes ?? [];
  const us = marks(
    lu,
    holes.flatMap((h) => [h.u0, h.u1]),
    step,
  );
  const vs = marks(
    lv,
    holes.flatMap((h) => [h.v0, h.v1]),
    step,
  );
  const n = normalize(cross(u, v));
  const at = new Int32Array(us.length * vs.length).fill(-1);
  const corner3 = (i: number, j: number): number => {
    const k = j * us.length + i;
    if (at[k]! < 0) at[k] = vertex(d, add(corner, add(scale(u, us[i]! / lu), scale(v, vs[j]! / lv))), n);
    return at[k]!;
  };
  for (let j = 0; j + 1 < vs.length; j++)
    for (let i = 0; i + 1 < us.length; i++) {
      const mu = (us[i]! + us[i + 1]!) / 2;
      const mv = (vs[j]! + vs[j + 1]!) / 2;
      if (holes.some((h) => mu > h.u0 && mu < h.u1 && mv > h.v0 && mv < h.v1)) continue;
      const p = options.patchOf ? options.patchOf(i, j) : newPatch(d);
      const a = corner3(i, j);
      const b = corner3(i + 1, j);
      const c = corner3(i + 1, j + 1);
      const e = corner3(i, j + 1);
      triangle(d, a, b, c, slot, p);
      triangle(d, a, c, e, slot, p);
    }
}

/** A box's faces by the way they look. */
export type Face = 'x-' | 'x+' | 'y-' | 'y+' | 'z-' | 'z+';
const FACES: readonly Face[] = ['x-', 'x+', 'y-', 'y+', 'z+', 'z-'];

/** Up to this a side counts as thin, metres: no patch is made smaller than need be. */
const THIN_M = 0.15;
const ROD_M = 0.08;
/** A rim no wider than this shares the patch of the face beside it, metres. */
const RIM_M = 0.035;

/** How a box is cut, and which of its faces are drawn. */
export interface BoxOptions {
  patchM?: number;
  /** Slots of faces that differ. */
  faces?: Partial<Record<Face, number>>;
  /** Faces left out. */
  without?: readonly Face[];
}

/**
 * An upright box. Large faces are cut into patches. A bar (two thin sides) gets patches along it: one all round,
 * or two (three faces each) from 8 cm on. A board up to 3.5 cm thick: its rims go with its face. A box under 15 cm: one
 * patch a face, the small faces (under 36 cm²) together.
 */
export function box(d: Draft, lo: Vec3, hi: Vec3, slot: number, options: BoxOptions = {}): void {
  for (const f of boxFaces(d, lo, hi, slot, options)) panel(d, f.corner, f.u, f.v, f.slot, f.options);
}

/** A face of a box as a panel, with the patches that a box gives it. */
export interface BoxFace {
  corner: Vec3;
  u: Vec3;
  v: Vec3;
  slot: number;
  options: PanelOptions;
}

/** The drawn faces of a box; patches are handed out as they are asked for. */
export function* boxFaces(
  d: Draft,
  lo: Vec3,
  hi: Vec3,
  slot: number,
  options: BoxOptions = {},
): Generator<BoxFace> {
  const size: Vec3 = sub(hi, lo);
  const [sx, sy, sz] = size;
  if (!(sx > 0 && sy > 0 && sz > 0)) return;
  const step = options.patchM ?? d.patchM;
  const thin = size.filter((s) => s <= THIN_M + 1e-6).length;
  const long = sx >= sy && sx >= sz ? 0 : sy >= sz ? 1 : 2;
  // A bar's patches: [side][place along].
  const parts = Math.max(1, Math.ceil(size[long]! / step - 1e-6));
  const twoSided = size.filter((s, k) => k !== long && s >= ROD_M).length > 0;
  const bar =
    thin === 2
      ? [0, 1].map((side) =>
          side === 1 && !twoSided ? [] : Array.from({ length: parts }, () => newPatch(d)),
        )
      : undefined;
  const rest = thin === 3 ? newPatch(d) : 0;
  const drawn = FACES.filter((f) => !options.without?.includes(f));
  const axisOf = (f: Face): number => (f[0] === 'x' ? 0 : f[0] === 'y' ? 1 : 2);
  // A board's cells, by number along its two long axes; its first drawn large face hands them out.
  const flat = thin <= 1 ? size.findIndex((s) => s <= RIM_M) : -1;
  const cells = size.map((s) => Math.max(1, Math.ceil(s / step - 1e-6)));
  const board = flat >= 0 ? drawn.find((f) => axisOf(f) === flat) : undefined;
  const cell0 = d.patches;
  const [fa, fb] = [(flat + 1) % 3, (flat + 2) % 3];
  if (board) d.patches += cells[fa]! * cells[fb]!;
  const cellOf = (ia: number, ib: number): number => cell0 + ib * cells[fa]! + ia;
  for (const face of drawn) {
    const axis = axisOf(face);
    const front = face[1] === '+';
    const a = (axis + 1) % 3;
    const b = (axis + 2) % 3;
    const edge = (k: number): Vec3 => [0, 1, 2].map((i) => (i === k ? size[i]! : 0)) as unknown as Vec3;
    const corner = [0, 1, 2].map((i) => (i === axis && front ? hi[i]! : lo[i]!)) as unknown as Vec3;
    const [u, v, iu] = front ? [edge(a), edge(b), a] : [edge(b), edge(a), b];
    const o: PanelOptions = { patchM: step };
    if (board && (face === board || axis !== flat)) {
      if (face === board) o.patchOf = (i, j) => (iu === fa ? cellOf(i, j) : cellOf(j, i));
      else {
        const last = front ? cells[axis]! - 1 : 0;
        o.patchOf = (i, j) => {
          const k = iu === flat ? j : i;
          return axis === fa ? cellOf(last, k) : cellOf(k, last);
        };
      }
    } else if (bar) {
      const row = twoSided && !front ? bar[1]! : bar[0]!;
      o.patchOf =
        axis === long
          ? () => row[front ? parts - 1 : 0]!
          : (i, j) => row[Math.min(parts - 1, iu === long ? i : j)]!;
    } else if (thin === 3) {
      const own = size[a]! * size[b]! >= 0.0036 ? newPatch(d) : rest;
      o.patchOf = () => own;
    }
    yield { corner, u, v, slot: options.faces?.[face] ?? slot, options: o };
  }
}

/** A straight bar of rectangular section from `a` to `b`: `wide` across `side`, `deep` the other way, metres. */
export function bar(
  d: Draft,
  a: Vec3,
  b: Vec3,
  wide: number,
  deep: number,
  slot: number,
  side: Vec3 = [0, 0, 1],
): void {
  const f = looking(a, sub(b, a), side);
  inFrame(d, f, () => box(d, [-deep / 2, -wide / 2, 0], [deep / 2, wide / 2, length(sub(b, a))], slot));
}

/** How many patches go round a turned shape: one for a thin bar or a small plate. */
const around = (r: number, sides: number, step: number, level: boolean): number =>
  r < 0.055 || (level && r < 0.12) ? 1 : Math.min(sides, Math.max(2, Math.ceil((2 * Math.PI * r) / step)));

/** Sides of a round thing of radius `r` metres: enough that its outline reads as round. */
export const sidesFor = (r: number): number =>
  r < 0.006 ? 6 : r < 0.012 ? 8 : r < 0.05 ? 16 : r < 0.12 ? 24 : 36;

/** A straight round bar from `a` to `b`, closed; its radius may change to `r1` at `b`. */
export function cylinder(
  d: Draft,
  a: Vec3,
  b: Vec3,
  r0: number,
  slot: number,
  options: { r1?: number; sides?: number; cap?: number; patchM?: number; patch?: number } = {},
): void {
  const r1 = options.r1 ?? r0;
  const h = length(sub(b, a));
  const profile: [number, number][] = [
    [0, 0],
    [r0, 0],
    [r1, h],
    [0, h],
  ];
  inFrame(d, looking(a, sub(b, a)), () =>
    lathe(d, profile, slot, {
      sides: options.sides ?? sidesFor(Math.max(r0, r1)),
      slots: [options.cap ?? slot, slot, options.cap ?? slot],
      ...(options.patchM === undefined ? {} : { patchM: options.patchM }),
      ...(options.patch === undefined ? {} : { patch: options.patch }),
    }),
  );
}

/**
 * Turns a profile of (radius, height) points about the z axis. Points in order so that the front is on the right
 * of the way walked (out along the bottom, up the outside, in along the top). Corners stay sharp unless `smooth`.
 */
export function lathe(
  d: Draft,
  profile: readonly (readonly [number, number])[],
  slot: number,
  options: {
    sides?: number;
    slots?: readonly number[];
    smooth?: boolean;
    patchM?: number;
    patch?: number;
  } = {},
): void {
  const most = Math.max(...profile.map((p) => p[0]));
  const sides = options.sides ?? sidesFor(most);
  const step = options.patchM ?? d.patchM;
  const flat = profile.slice(1).map(([r, z], i) => {
    const [r0, z0] = profile[i]!;
    const l = Math.hypot(r - r0, z - z0) || 1;
    return [(z - z0) / l, -(r - r0) / l] as const;
  });
  // Patches run round in bands: short stretches of profile share one while they look much the same way.
  const total = profile
    .slice(1)
    .reduce((t, [r, z], i) => t + Math.hypot(r - profile[i]![0], z - profile[i]![1]), 0);
  const shared = options.patch ?? (most < 0.04 && total < 0.3 ? newPatch(d) : -1);
  let band = { first: -1, count: 1, run: Infinity, n: [0, 0] as readonly [number, number] };
  for (let i = 0; i + 1 < profile.length; i++) {
    const [r0, z0] = profile[i]!;
    const [r1, z1] = profile[i + 1]!;
    const l = Math.hypot(r1 - r0, z1 - z0);
    if (l < 1e-7) continue;
    const own = flat[i]!;
    const mean = (k: number): readonly [number, number] => {
      const other = options.smooth ? flat[k] : undefined;
      if (!other) return own;
      const x = own[0] + other[0];
      const y = own[1] + other[1];
      const m = Math.hypot(x, y) || 1;
      return [x / m, y / m];
    };
    const n0 = mean(i - 1);
    const n1 = mean(i + 1);
    const along = Math.max(1, Math.ceil(l / step - 1e-6));
    const begin = (): void => {
      const count = around(Math.max(r0, r1), sides, step, Math.abs(own[0]) < 0.3);
      band = { first: d.patches, count, run: 0, n: own };
      d.patches += count;
    };
    const bends = band.n[0] * own[0] + band.n[1] * own[1] < 0.5 && l > 0.03;
    if (shared < 0 && (bends || band.run + l > step)) begin();
    for (let k = 0; k < along; k++) {
      if (shared < 0 && k > 0) begin();
      band.run += l / along;
      const t0 = k / along;
      const t1 = (k + 1) / along;
      const ring = (t: number): number[] =>
        Array.from({ length: sides }, (_, s) => {
          const a = (2 * Math.PI * s) / sides;
          const r = r0 + (r1 - r0) * t;
          const nr = n0[0] + (n1[0] - n0[0]) * t;
          const nz = n0[1] + (n1[1] - n0[1]) * t;
          return vertex(
            d,
            [r * Math.cos(a), r * Math.sin(a), z0 + (z1 - z0) * t],
            normalize([nr * Math.cos(a), nr * Math.sin(a), nz]),
          );
        });
      const below = ring(t0);
      const above = ring(t1);
      const at0 = r0 + (r1 - r0) * t0 < 1e-7;
      const at1 = r0 + (r1 - r0) * t1 < 1e-7;
      for (let s = 0; s < sides; s++) {
        const e = (s + 1) % sides;
        const p = shared >= 0 ? shared : band.first + Math.floor((s * band.count) / sides);
        const m = options.slots?.[i] ?? slot;
        if (!at0) triangle(d, below[s]!, below[e]!, above[e]!, m, p);
        if (!at1) triangle(d, below[s]!, above[e]!, above[s]!, m, p);
      }
    }
  }
}

/** A round bar bent along `points` (mitres left open inside each other). */
export function pipe(d: Draft, points: readonly Vec3[], r: number, slot: number, sides?: number): void {
  const total = points.slice(1).reduce((t, p, i) => t + length(sub(p, points[i]!)), 0);
  const one = total <= d.patchM ? { patch: newPatch(d) } : {};
  for (let i = 1; i < points.length; i++)
    cylinder(d, points[i - 1]!, points[i]!, r, slot, { sides: sides ?? sidesFor(r), ...one });
}

/** A curved sheet of some thickness: `at(u, v)` for u, v in 0–1, thickness toward the back, closed at its rims. */
export function sheet(
  d: Draft,
  at: (u: number, v: number) => Vec3,
  nu: number,
  nv: number,
  thickM: number,
  slot: number,
  backSlot = slot,
): void {
  const grid: { p: Vec3; n: Vec3 }[] = [];
  const e = 1e-3;
  for (let j = 0; j <= nv; j++)
    for (let i = 0; i <= nu; i++) {
      const u = i / nu;
      const v = j / nv;
      const du = sub(at(Math.min(1, u + e), v), at(Math.max(0, u - e), v));
      const dv = sub(at(u, Math.min(1, v + e)), at(u, Math.max(0, v - e)));
      grid.push({ p: at(u, v), n: normalize(cross(du, dv)) });
    }
  const g = (i: number, j: number) => grid[j * (nu + 1) + i]!;
  const back = (q: { p: Vec3; n: Vec3 }): Vec3 => sub(q.p, scale(q.n, thickM));
  const front = grid.map((q) => vertex(d, q.p, q.n));
  const behind = grid.map((q) => vertex(d, back(q), scale(q.n, -1)));
  // Patches: as many cells together as fit; narrow rims go with the front.
  const run = (k: number, of: (t: number) => { p: Vec3 }): number => {
    let l = 0;
    for (let i = 1; i <= k; i++) l += length(sub(of(i).p, of(i - 1).p));
    return l;
  };
  const gu = Math.min(nu, Math.ceil(run(nu, (i) => g(i, nv >> 1)) / d.patchM));
  const gv = Math.min(nv, Math.ceil(run(nv, (j) => g(nu >> 1, j)) / d.patchM));
  const patch0 = d.patches;
  d.patches += 2 * gu * gv;
  const patchAt = (i: number, j: number): number =>
    patch0 + Math.floor((j * gv) / nv) * gu + Math.floor((i * gu) / nu);
  for (let j = 0; j < nv; j++)
    for (let i = 0; i < nu; i++) {
      const a = j * (nu + 1) + i;
      const b = a + 1;
      const c = b + nu + 1;
      const f = a + nu + 1;
      const p = patchAt(i, j);
      triangle(d, front[a]!, front[b]!, front[c]!, slot, p);
      triangle(d, front[a]!, front[c]!, front[f]!, slot, p);
      const q = p + gu * gv;
      triangle(d, behind[a]!, behind[c]!, behind[b]!, backSlot, q);
      triangle(d, behind[a]!, behind[f]!, behind[c]!, backSlot, q);
    }
  const rim = (a: { p: Vec3; n: Vec3 }, b: { p: Vec3; n: Vec3 }, patch: number) => {
    if (length(sub(a.p, b.p)) < 1e-6) return;
    polygon(d, [b.p, a.p, back(a), back(b)], slot, patch);
  };
  for (let i = 0; i < nu; i++) {
    rim(g(i, 0), g(i + 1, 0), patchAt(i, 0));
    rim(g(i + 1, nv), g(i, nv), patchAt(i, nv - 1));
  }
  for (let j = 0; j < nv; j++) {
    rim(g(0, j + 1), g(0, j), patchAt(0, j));
    rim(g(nu, j), g(nu, j + 1), patchAt(nu - 1, j));
  }
}

/** A bar of rectangular section (`wide` along `side`, `deep` across) bent along `points`, one closed body. */
export function sweep(
  d: Draft,
  points: readonly Vec3[],
  side: Vec3,
  wide: number,
  deep: number,
  slot: number,
): void {
  const n = points.length;
  const rings = points.map((p, i) => {
    const t = normalize(sub(points[Math.min(n - 1, i + 1)]!, points[Math.max(0, i - 1)]!));
    const s = normalize(sub(side, scale(t, side[0] * t[0] + side[1] * t[1] + side[2] * t[2])));
    const o = normalize(cross(t, s));
    const c = (a: number, b: number): Vec3 => add(p, add(scale(s, (a * wide) / 2), scale(o, (b * deep) / 2)));
    return [c(-1, -1), c(1, -1), c(1, 1), c(-1, 1)];
  });
  let patch = newPatch(d);
  let run = 0;
  for (let i = 1; i < n; i++) {
    const step = length(sub(points[i]!, points[i - 1]!));
    if (run > 0 && run + step > d.patchM) {
      patch = newPatch(d);
      run = 0;
    }
    run += step;
    for (let k = 0; k < 4; k++) {
      const e = (k + 1) % 4;
      polygon(d, [rings[i - 1]![k]!, rings[i - 1]![e]!, rings[i]![e]!, rings[i]![k]!], slot, patch);
    }
    if (i === 1) polygon(d, [...rings[0]!].reverse(), slot, patch);
    if (i === n - 1) polygon(d, rings[i]!, slot, patch);
  }
}
