/**
 * Lets a garment settle on a posed body: a sheet that hardly stretches, is a little larger than the body, bends with
 * reluctance and hangs. Position-based dynamics [PBD]: threads are put back to their length again and again; bending is held
 * back by smoothing. Slack, stiffness and limits by trial, no source. The cloth may not come nearer the body than it was drawn, nor slide far along it.
 */
import { type Finer, FOLD_STEP_M, finerPlaces, frameAt } from '../../src/stage/people/cloth.ts';
import { normalise, normalsInto } from '../../src/stage/people/skin.ts';

export interface Cloth {
  /** How much longer its threads are than the drawn surface. */
  slack: number;
  /** How far from the drawn surface it may hang off, and slide along it, metres. */
  offM: number;
  slideM: number;
  /** Reluctance to bend, 0 … 1 of a step. */
  bend: number;
  /** Passes by which the sheet spans hollows of the body before it settles. */
  span: number;
}

function normalsOf(f: Finer, p: Float32Array): Float32Array {
  const n = new Float32Array(p.length);
  normalsInto(n, p, f.triangles, 0, f.triangles.length / 3);
  normalise(n);
  return n;
}

/**
 * `rest`, `posed`: 3 × first, the garment's own vertices unposed and posed, with their normals; returns steps for
 * `fold`. `cloth` per slot of the garment.
 */
export function settle(
  f: Finer,
  rest: { p: Float32Array; n: Float32Array },
  posed: { p: Float32Array; n: Float32Array },
  cloth: (slot: number) => Cloth,
  chance: () => number,
  /** How freely it may hang at a rest place, 0–1: not at all where other cloth lies over it. */
  looseAt: (x: number, y: number, z: number, slot: number) => number,
): Int8Array {
  const r = finerPlaces(f, rest.p, rest.n);
  const x0 = finerPlaces(f, posed.p, posed.n);
  const n0 = normalsOf(f, x0);
  const count = f.count;

  // Which cloth each vertex is of, and how far it is from a hem.
  const of: Cloth[] = new Array(count);
  const uses = new Map<number, number>();
  const edge = (a: number, b: number) => (a < b ? a * 65536 + b : b * 65536 + a);
  for (let t = 0; t < f.slot.length; t++) {
    const c = cloth(f.slot[t]!);
    for (let k = 0; k < 3; k++) {
      const [a, b] = [f.triangles[3 * t + k]!, f.triangles[3 * t + ((k + 1) % 3)]!];
      of[a] = c;
      const e = edge(a, b);
      uses.set(e, (uses.get(e) ?? 0) + 1);
    }
  }
  const edges = [...uses.keys()].map((e): [number, number] => [Math.floor(e / 65536), e % 65536]);
  const hem = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  for (const [e, n] of uses)
    if (n === 1) {
      hem[Math.floor(e / 65536)] = 0;
      hem[e % 65536] = 0;
    }
  const long = (p: Float32Array, a: number, b: number) =>
    Math.hypot(p[3 * a]! - p[3 * b]!, p[3 * a + 1]! - p[3 * b + 1]!, p[3 * a + 2]! - p[3 * b + 2]!);
  for (let round = 0; round < 80; round++)
    for (const [a, b] of edges) {
      const d = long(r, a, b);
      if (hem[a]! > hem[b]! + d) hem[a] = hem[b]! + d;
      if (hem[b]! > hem[a]! + d) hem[b] = hem[a]! + d;
    }
  // Toward a hem the cloth is held: cuffs, collar, waist.
  const free = Float64Array.from(hem, (d) => 0.12 + 0.88 * Math.min(1, d / 0.06));
  const slotOf = new Uint8Array(count);
  for (let t = 0; t < f.slot.length; t++)
    for (let k = 0; k < 3; k++) slotOf[f.triangles[3 * t + k]!] = f.slot[t]!;
  for (let i = 0; i < count; i++) free[i]! *= looseAt(r[3 * i]!, r[3 * i + 1]!, r[3 * i + 2]!, slotOf[i]!);

  const restLong = edges.map(([a, b]) => long(r, a, b) * (1 + of[a]!.slack * Math.min(free[a]!, free[b]!)));
  const degree = new Uint16Array(count);
  for (const [a, b] of edges) {
    degree[a]!++;
    degree[b]!++;
  }
  const spanned = span(f, x0, n0, edges, degree, of, free);
  const n1 = normalsOf(f, spanned);
  const x = spanned.slice();
  for (let i = 0; i < count; i++) {
    const push = 0.002 * free[i]! * (chance() - 0.3);
    for (let k = 0; k < 3; k++) x[3 * i + k]! += push * n0[3 * i + k]!;
  }
  const v = new Float32Array(x.length);
  const dt = 1 / 120;
  const was = new Float32Array(x.length);
  for (let step = 0; step < 240; step++) {
    was.set(x);
    for (let i = 0; i < count; i++) {
      v[3 * i + 2]! -= 9.81 * dt;
      for (let k = 0; k < 3; k++) x[3 * i + k]! += v[3 * i + k]! * dt;
    }
    for (let pass = 0; pass < 8; pass++) {
      for (let e = 0; e < edges.length; e++) pull(x, edges[e]![0], edges[e]![1], restLong[e]!, 0.5);
      for (let i = 0; i < count; i++) hold(x, spanned, n1, i, of[i]!, free[i]!);
    }
    for (let pass = 0; pass < 3; pass++) smooth(x, x0, edges, degree, of);
    // Friction and air take most of the speed at each step: it settles, it does not flap.
    for (let i = 0; i < x.length; i++) v[i] = (0.9 * (x[i]! - was[i]!)) / dt;
  }

  // As steps in each vertex's own frame.
  const out = new Int8Array(3 * count);
  const frame = new Float64Array(6);
  for (let i = 0; i < count; i++) {
    frameAt(f, x0, n0, i, frame);
    const along = frame.subarray(0, 3);
    const side = frame.subarray(3, 6);
    const d = [x[3 * i]! - x0[3 * i]!, x[3 * i + 1]! - x0[3 * i + 1]!, x[3 * i + 2]! - x0[3 * i + 2]!];
    [[n0[3 * i]!, n0[3 * i + 1]!, n0[3 * i + 2]!], along, side].forEach((axis, k) => {
      const s = (d[0]! * axis[0]! + d[1]! * axis[1]! + d[2]! * axis[2]!) / FOLD_STEP_M;
      out[3 * i + k] = Math.max(-127, Math.min(127, Math.round(s)));
    });
  }
  return out;
}

/** A sheet that bends with reluctance has no fold narrower than a few threads: what differs from all round is taken in. */
function smooth(
  x: Float32Array,
  x0: Float32Array,
  edges: readonly (readonly [number, number])[],
  degree: Uint16Array,
  of: readonly Cloth[],
): void {
  const sum = new Float32Array(x.length);
  for (const [a, b] of edges)
    for (let k = 0; k < 3; k++) {
      sum[3 * a + k]! += x[3 * b + k]! - x0[3 * b + k]!;
      sum[3 * b + k]! += x[3 * a + k]! - x0[3 * a + k]!;
    }
  for (let i = 0; i < degree.length; i++)
    for (let k = 0; k < 3; k++) {
      const d = x[3 * i + k]! - x0[3 * i + k]!;
      x[3 * i + k]! += of[i]!.bend * (sum[3 * i + k]! / degree[i]! - d);
    }
}

/** Bridges hollows: where the mean of the neighbours lies outside the surface the sheet goes there, never inward. */
function span(
  f: Finer,
  x0: Float32Array,
  n0: Float32Array,
  edges: readonly (readonly [number, number])[],
  degree: Uint16Array,
  of: readonly Cloth[],
  free: Float64Array,
): Float32Array {
  const x = x0.slice();
  const passes = Math.max(...of.map((c) => c.span));
  let n = n0;
  for (let pass = 0; pass < passes; pass++) {
    if (pass % 10 === 9) n = normalsOf(f, x);
    const sum = new Float32Array(x.length);
    for (const [a, b] of edges)
      for (let k = 0; k < 3; k++) {
        sum[3 * a + k]! += x[3 * b + k]!;
        sum[3 * b + k]! += x[3 * a + k]!;
      }
    for (let i = 0; i < degree.length; i++) {
      if (pass >= of[i]!.span) continue;
      const d = [0, 1, 2].map((k) => sum[3 * i + k]! / degree[i]! - x[3 * i + k]!);
      if (d[0]! * n[3 * i]! + d[1]! * n[3 * i + 1]! + d[2]! * n[3 * i + 2]! <= 0) continue;
      for (let k = 0; k < 3; k++) {
        const off = x[3 * i + k]! + 0.8 * free[i]! * d[k]! - x0[3 * i + k]!;
        x[3 * i + k] = x0[3 * i + k]! + Math.max(-0.068, Math.min(0.068, off));
      }
    }
  }
  return x;
}

function pull(x: Float32Array, a: number, b: number, wanted: number, share: number): void {
  const [i, j] = [3 * a, 3 * b];
  const [dx, dy, dz] = [x[j]! - x[i]!, x[j + 1]! - x[i + 1]!, x[j + 2]! - x[i + 2]!];
  const l = Math.hypot(dx, dy, dz) || 1e-9;
  const s = (share * (l - wanted)) / l;
  x[i]! += s * dx;
  x[i + 1]! += s * dy;
  x[i + 2]! += s * dz;
  x[j]! -= s * dx;
  x[j + 1]! -= s * dy;
  x[j + 2]! -= s * dz;
}

/** Not into the body, not too far off it, not far along it. */
function hold(x: Float32Array, x0: Float32Array, n0: Float32Array, v: number, c: Cloth, free: number): void {
  const i = 3 * v;
  const d = [x[i]! - x0[i]!, x[i + 1]! - x0[i + 1]!, x[i + 2]! - x0[i + 2]!];
  const n = [n0[i]!, n0[i + 1]!, n0[i + 2]!];
  let off = d[0]! * n[0]! + d[1]! * n[1]! + d[2]! * n[2]!;
  const t = d.map((q, k) => q - off * n[k]!);
  off = Math.max(-0.002, Math.min(c.offM * free, off));
  const slide = Math.hypot(t[0]!, t[1]!, t[2]!);
  const s = slide > c.slideM * free ? (c.slideM * free) / slide : 1;
  for (let k = 0; k < 3; k++) x[i + k] = x0[i + k]! + off * n[k]! + s * t[k]!;
}
