/**
 * Fewer triangles on the same vertices: half-edge collapse by quadric error [GARLAND-1997], summed over several
 * people so that one list serves all. Vertices keep their numbers; borders and changes of slot are kept in place.
 */

/** `shapes`: 3 × n places each. `weight`: importance per vertex. Returns triangles and slots per wanted count. */
export function simplify(
  triangles: ArrayLike<number>,
  slots: ArrayLike<number>,
  shapes: Float64Array[],
  weight: (v: number) => number,
  wanted: number[],
): { tris: number[]; slots: number[] }[] {
  const n = shapes[0]!.length / 3;
  const m = triangles.length / 3;
  const tri = Int32Array.from(triangles);
  const alive = new Uint8Array(m).fill(1);
  const around: Set<number>[] = Array.from({ length: n }, () => new Set<number>());
  for (let t = 0; t < m; t++) for (let k = 0; k < 3; k++) around[tri[3 * t + k]!]!.add(t);
  const quadric = shapes.map(() => new Float64Array(10 * n));

  const addPlane = (s: number, v: number, a: number, b: number, c: number, d: number, w: number) => {
    const q = quadric[s]!;
    const o = 10 * v;
    q[o]! += w * a * a;
    q[o + 1]! += w * a * b;
    q[o + 2]! += w * a * c;
    q[o + 3]! += w * a * d;
    q[o + 4]! += w * b * b;
    q[o + 5]! += w * b * c;
    q[o + 6]! += w * b * d;
    q[o + 7]! += w * c * c;
    q[o + 8]! += w * c * d;
    q[o + 9]! += w * d * d;
  };
  const edgeUse = new Map<number, number[]>();
  for (let t = 0; t < m; t++)
    for (let k = 0; k < 3; k++) {
      const [a, b] = [tri[3 * t + k]!, tri[3 * t + ((k + 1) % 3)]!];
      const key = a < b ? a * n + b : b * n + a;
      const list = edgeUse.get(key);
      if (list) list.push(t);
      else edgeUse.set(key, [t]);
    }
  shapes.forEach((at, s) => {
    for (let t = 0; t < m; t++) {
      const [a, b, c] = [3 * tri[3 * t]!, 3 * tri[3 * t + 1]!, 3 * tri[3 * t + 2]!];
      const u = [0, 1, 2].map((k) => at[b + k]! - at[a + k]!) as [number, number, number];
      const v = [0, 1, 2].map((k) => at[c + k]! - at[a + k]!) as [number, number, number];
      const x = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
      const l = Math.hypot(...x) || 1e-12;
      const [p, q, r] = [x[0]! / l, x[1]! / l, x[2]! / l];
      const d = -(p * at[a]! + q * at[a + 1]! + r * at[a + 2]!);
      for (let k = 0; k < 3; k++) addPlane(s, tri[3 * t + k]!, p, q, r, d, l / 6);
      // A border or a change of slot: a plane through the edge, upright on the triangle.
      for (let k = 0; k < 3; k++) {
        const [i, j] = [tri[3 * t + k]!, tri[3 * t + ((k + 1) % 3)]!];
        const use = edgeUse.get(i < j ? i * n + j : j * n + i)!;
        if (use.length === 2 && slots[use[0]!] === slots[use[1]!]) continue;
        const e = [0, 1, 2].map((c2) => at[3 * j + c2]! - at[3 * i + c2]!) as [number, number, number];
        const y = [e[1] * r - e[2] * q, e[2] * p - e[0] * r, e[0] * q - e[1] * p];
        const yl = Math.hypot(...y) || 1e-12;
        const [yp, yq, yr] = [y[0]! / yl, y[1]! / yl, y[2]! / yl];
        const yd = -(yp * at[3 * i]! + yq * at[3 * i + 1]! + yr * at[3 * i + 2]!);
        const w = 3 * (e[0] ** 2 + e[1] ** 2 + e[2] ** 2);
        addPlane(s, i, yp, yq, yr, yd, w);
        addPlane(s, j, yp, yq, yr, yd, w);
      }
    }
  });
  const cost = (v: number, w: number): number => {
    let sum = 0;
    shapes.forEach((at, s) => {
      const q = quadric[s]!;
      const [x, y, z] = [at[3 * w]!, at[3 * w + 1]!, at[3 * w + 2]!];
      for (const o of [10 * v, 10 * w])
        sum +=
          q[o]! * x * x +
          2 * q[o + 1]! * x * y +
          2 * q[o + 2]! * x * z +
          2 * q[o + 3]! * x +
          q[o + 4]! * y * y +
          2 * q[o + 5]! * y * z +
          2 * q[o + 6]! * y +
          q[o + 7]! * z * z +
          2 * q[o + 8]! * z +
          q[o + 9]!;
    });
    // Long edges cost a little, so that flat parts stay even.
    let far = 0;
    for (let k = 0; k < 3; k++) far += (shapes[0]![3 * v + k]! - shapes[0]![3 * w + k]!) ** 2;
    return (Math.max(0, sum) + 1e-4 * far) * weight(v);
  };
  const neighbours = (v: number): Set<number> => {
    const out = new Set<number>();
    for (const t of around[v]!)
      for (let k = 0; k < 3; k++) if (tri[3 * t + k] !== v) out.add(tri[3 * t + k]!);
    return out;
  };
  const allowed = (v: number, w: number): boolean => {
    const nv = neighbours(v);
    const nw = neighbours(w);
    let shared = 0;
    for (const x of nv) if (nw.has(x)) shared++;
    let common = 0;
    for (const t of around[v]!) if (around[w]!.has(t)) common++;
    if (shared !== common) return false;
    for (const at of shapes)
      for (const t of around[v]!) {
        if (around[w]!.has(t)) continue;
        const c = [0, 1, 2].map((k) => tri[3 * t + k]!);
        const normal = (ids: number[]) => {
          const [a, b, d] = ids.map((i) => [at[3 * i]!, at[3 * i + 1]!, at[3 * i + 2]!]) as [
            number[],
            number[],
            number[],
          ];
          const u = [0, 1, 2].map((k) => b[k]! - a[k]!) as [number, number, number];
          const x = [0, 1, 2].map((k) => d[k]! - a[k]!) as [number, number, number];
          return [u[1] * x[2] - u[2] * x[1], u[2] * x[0] - u[0] * x[2], u[0] * x[1] - u[1] * x[0]];
        };
        const before = normal(c);
        const after = normal(c.map((i) => (i === v ? w : i)));
        const lb = Math.hypot(...before);
        const la = Math.hypot(...after);
        if (la < 1e-9) return false;
        if (before[0]! * after[0]! + before[1]! * after[1]! + before[2]! * after[2]! < 0.3 * lb * la)
          return false;
      }
    return true;
  };

  // A heap of candidate collapses with stale entries skipped.
  const stamp = new Int32Array(n);
  const heap: { c: number; v: number; w: number; s: number; sw: number }[] = [];
  const push = (v: number, w: number) => {
    const item = { c: cost(v, w), v, w, s: stamp[v]!, sw: stamp[w]! };
    let i = heap.push(item) - 1;
    while (i > 0) {
      const p = (i - 1) >> 1;
      if (heap[p]!.c <= item.c) break;
      heap[i] = heap[p]!;
      i = p;
    }
    heap[i] = item;
  };
  const pop = () => {
    const top = heap[0]!;
    const last = heap.pop()!;
    if (heap.length) {
      let i = 0;
      for (;;) {
        let c = 2 * i + 1;
        if (c >= heap.length) break;
        if (c + 1 < heap.length && heap[c + 1]!.c < heap[c]!.c) c++;
        if (heap[c]!.c >= last.c) break;
        heap[i] = heap[c]!;
        i = c;
      }
      heap[i] = last;
    }
    return top;
  };
  for (let v = 0; v < n; v++) for (const w of neighbours(v)) push(v, w);
  let count = m;
  const out: { tris: number[]; slots: number[] }[] = [];
  const keep = () => {
    const tris: number[] = [];
    const s: number[] = [];
    for (let t = 0; t < m; t++)
      if (alive[t]) {
        tris.push(tri[3 * t]!, tri[3 * t + 1]!, tri[3 * t + 2]!);
        s.push(slots[t]!);
      }
    out.push({ tris, slots: s });
  };
  for (const want of wanted) {
    while (count > want && heap.length) {
      const { v, w, s, sw } = pop();
      if (stamp[v] !== s || stamp[w] !== sw || !around[v]!.size || !allowed(v, w)) continue;
      for (const t of [...around[v]!]) {
        if (around[w]!.has(t)) {
          alive[t] = 0;
          count--;
          for (let k = 0; k < 3; k++) around[tri[3 * t + k]!]!.delete(t);
        } else {
          for (let k = 0; k < 3; k++) if (tri[3 * t + k] === v) tri[3 * t + k] = w;
          around[w]!.add(t);
        }
      }
      around[v]!.clear();
      stamp[v]!++;
      for (const q of quadric) for (let k = 0; k < 10; k++) q[10 * w + k]! += q[10 * v + k]!;
      stamp[w]!++;
      for (const x of neighbours(w)) {
        push(x, w);
        push(w, x);
      }
    }
    keep();
  }
  return out;
}
