/** Flat polygons seen from above, metres, counter-clockwise: area, ears, setting out, clipping. */
export type Vec2 = readonly [number, number];

/** Area, m²; below zero if the corners run clockwise. */
export function signedArea(p: readonly Vec2[]): number {
  let s = 0;
  for (let i = 0; i < p.length; i++) {
    const a = p[i]!;
    const b = p[(i + 1) % p.length]!;
    s += a[0] * b[1] - b[0] * a[1];
  }
  return s / 2;
}

const side = (a: Vec2, b: Vec2, p: Vec2): number =>
  (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);

/** Convex pieces of a simple polygon: itself if it is convex, else triangles by cutting ears. */
export function convexPieces(outline: readonly Vec2[]): Vec2[][] {
  const n = outline.length;
  const bends = outline.every((b, i) => side(outline[(i + n - 1) % n]!, b, outline[(i + 1) % n]!) >= -1e-9);
  if (bends) return [[...outline]];
  const left = [...outline];
  const out: Vec2[][] = [];
  while (left.length > 3) {
    const m = left.length;
    let cut = -1;
    for (let i = 0; i < m && cut < 0; i++) {
      const a = left[(i + m - 1) % m]!;
      const b = left[i]!;
      const c = left[(i + 1) % m]!;
      if (side(a, b, c) <= 1e-12) continue;
      const inside = left.some(
        (p) =>
          p !== a && p !== b && p !== c && side(a, b, p) >= 0 && side(b, c, p) >= 0 && side(c, a, p) >= 0,
      );
      if (!inside) cut = i;
    }
    // A polygon that crosses itself has no ear: leave the rest as it is.
    if (cut < 0) break;
    out.push([left[(cut + m - 1) % m]!, left[cut]!, left[(cut + 1) % m]!]);
    left.splice(cut, 1);
  }
  out.push(left);
  return out;
}

/** Whether all of `points` lie left of the line from `a` to `b`, or on it. */
function reaches(a: Vec2, b: Vec2, points: readonly Vec2[]): boolean {
  const least = -1e-9 * Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2);
  for (const p of points) if (side(a, b, p) < least) return false;
  return true;
}

/** The part of a convex polygon left of the line from `a` to `b`. */
export function clipLeft(p: readonly Vec2[], a: Vec2, b: Vec2): Vec2[] {
  const out: Vec2[] = [];
  const l = Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2);
  for (let i = 0; i < p.length; i++) {
    const c = p[i]!;
    const e = p[(i + 1) % p.length]!;
    const sc = side(a, b, c) / l;
    const se = side(a, b, e) / l;
    if (sc >= -1e-9) out.push(c);
    if ((sc > 1e-9 && se < -1e-9) || (sc < -1e-9 && se > 1e-9)) {
      const t = sc / (sc - se);
      out.push([c[0] + (e[0] - c[0]) * t, c[1] + (e[1] - c[1]) * t]);
    }
  }
  return out.length >= 3 && Math.abs(signedArea(out)) > 1e-10 ? out : [];
}

/** The part of a convex polygon inside an upright rectangle. */
export const clipToBox = (p: readonly Vec2[], x0: number, y0: number, x1: number, y1: number): Vec2[] => {
  const corners: Vec2[] = [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
  // Most cells of a grid lie wholly inside.
  if (p.every((a, i) => reaches(a, p[(i + 1) % p.length]!, corners))) return corners;
  let q: Vec2[] = [...p];
  for (let i = 0; i < 4 && q.length; i++) q = clipLeft(q, corners[i]!, corners[(i + 1) % 4]!);
  return q;
};

/** Convex pieces of `p` (convex) that lie outside `hole` (convex). */
export function subtract(p: readonly Vec2[], hole: readonly Vec2[]): Vec2[][] {
  const out: Vec2[][] = [];
  let rest: Vec2[] = [...p];
  for (let i = 0; i < hole.length && rest.length; i++) {
    const a = hole[i]!;
    const b = hole[(i + 1) % hole.length]!;
    const outside = clipLeft(rest, b, a);
    if (outside.length) out.push(outside);
    rest = clipLeft(rest, a, b);
  }
  return out;
}

/** Do two convex polygons overlap? (Separating axes; a common edge is no overlap.) */
export function meets(p: readonly Vec2[], q: readonly Vec2[]): boolean {
  for (const [a, b] of [
    [p, q],
    [q, p],
  ] as const)
    for (let i = 0; i < a.length; i++) {
      const from = a[i]!;
      const to = a[(i + 1) % a.length]!;
      if (b.every((c) => side(from, to, c) <= 1e-12)) return false;
    }
  return true;
}

/** The outline set out by `by` metres on every side, corners mitred (a mitre is at most four times as long). */
export function setOut(outline: readonly Vec2[], by: number): Vec2[] {
  const n = outline.length;
  return outline.map((p, i) => {
    const a = outline[(i + n - 1) % n]!;
    const b = outline[(i + 1) % n]!;
    const out = (from: Vec2, to: Vec2): Vec2 => {
      const l = Math.hypot(to[0] - from[0], to[1] - from[1]);
      return [(to[1] - from[1]) / l, -(to[0] - from[0]) / l];
    };
    const m = out(a, p);
    const k = out(p, b);
    const c = Math.max(0.125, 1 + m[0] * k[0] + m[1] * k[1]);
    return [p[0] + ((m[0] + k[0]) / c) * by, p[1] + ((m[1] + k[1]) / c) * by];
  });
}

/** Convex hull, counter-clockwise (Andrew's monotone chain); corners that turn by less than 1e-6 m² are dropped. */
export function hull(points: readonly Vec2[]): Vec2[] {
  const p = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (q: Vec2[]): Vec2[] => {
    const out: Vec2[] = [];
    for (const c of q) {
      while (out.length >= 2 && side(out[out.length - 2]!, out[out.length - 1]!, c) <= 1e-6) out.pop();
      out.push(c);
    }
    out.pop();
    return out;
  };
  return p.length < 3 ? p : [...half(p), ...half([...p].reverse())];
}
