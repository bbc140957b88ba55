/** Curves through the few points that a turned thing is drawn with. */

/** The same profile with `steps` stretches between every two points, on a curve through all of them (Catmull and Rom's). */
export function curved(points: readonly (readonly [number, number])[], steps = 3): [number, number][] {
  const at = (i: number) => points[Math.max(0, Math.min(points.length - 1, i))]!;
  const out: [number, number][] = [];
  for (let i = 0; i + 1 < points.length; i++) {
    const [a, b, c, e] = [at(i - 1), at(i), at(i + 1), at(i + 2)];
    for (let k = 0; k < steps; k++) {
      const t = k / steps;
      const one = (n: 0 | 1): number =>
        b[n] +
        0.5 *
          t *
          (c[n] - a[n] + t * (2 * a[n] - 5 * b[n] + 4 * c[n] - e[n] + t * (3 * (b[n] - c[n]) + e[n] - a[n])));
      // No radius below none, none beyond what was drawn between the two.
      const r = Math.max(0, Math.min(Math.max(b[0], c[0]) * 1.06, one(0)));
      out.push([r, one(1)]);
    }
  }
  out.push([...points.at(-1)!]);
  return out;
}
