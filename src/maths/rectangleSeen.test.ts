/** A rectangle seen: its solid angle by the textbook's formula and by brute force, and directions that lie evenly. */
import { expect, test } from 'vitest';
import { pickSeen, placeSeen, rectangleSeen, seeRectangle } from './rectangleSeen.ts';

/** Of a rectangle a × b square before a point at its corner, at the distance h: a formula of any textbook, from memory. */
const fromCorner = (a: number, b: number, h: number) =>
  Math.atan((a * b) / (h * Math.sqrt(a * a + b * b + h * h)));

const cases: [number, number, number, number, number][] = [
  [0, 2, 0, 1, 1],
  [-1, 3, -0.5, 0.7, 0.02],
  [0.5, 4.5, 0.2, 1.8, 0.003],
  [-3, -1, 1, 2, 2],
  [-2, 2, -1, 1, 9],
];

test.each(cases)(
  'solid angle of %f … %f × %f … %f at %f: corners added and taken away',
  (x0, x1, y0, y1, h) => {
    const of = (x: number, y: number) => Math.sign(x * y) * fromCorner(Math.abs(x), Math.abs(y), h);
    const want = of(x1, y1) - of(x0, y1) - of(x1, y0) + of(x0, y0);
    expect(Math.abs(seeRectangle(rectangleSeen(), x0, x1, y0, y1, h) / want - 1)).toBeLessThan(1e-9);
  },
);

test.each(cases)(
  'places of %f … %f × %f … %f at %f lie evenly over it, stratum by stratum',
  (x0, x1, y0, y1, h) => {
    const seen = rectangleSeen();
    const whole = seeRectangle(seen, x0, x1, y0, y1, h);
    // The corners of a cell of the unit square bound a cell of the sphere: each is a sixty-fourth of the whole.
    const n = 8;
    const part = rectangleSeen();
    for (let i = 0; i < n; i++) {
      pickSeen(seen, i / n, 0);
      const from = placeSeen.x;
      pickSeen(seen, (i + 1) / n, 0);
      const to = placeSeen.x;
      expect(to).toBeGreaterThan(from);
      // A slice of the first number is a rectangle again.
      expect(Math.abs((n * seeRectangle(part, from, to, y0, y1, h)) / whole - 1)).toBeLessThan(1e-6);
    }
    // In a slice the density is even as well: ∫ f dω by picks and by places of even area.
    const cosine = (x: number, y: number) => h / Math.sqrt(x * x + y * y + h * h);
    let picked = 0;
    let summed = 0;
    const m = 400;
    for (let i = 0; i < m; i++)
      for (let j = 0; j < m; j++) {
        pickSeen(seen, (i + 0.5) / m, (j + 0.5) / m);
        picked += (cosine(placeSeen.x, placeSeen.y) * whole) / m ** 2;
        if (h < 0.1) continue;
        const x = x0 + ((i + 0.5) / m) * (x1 - x0);
        const y = y0 + ((j + 0.5) / m) * (y1 - y0);
        summed += (cosine(x, y) ** 2 / (x * x + y * y + h * h)) * (((x1 - x0) * (y1 - y0)) / m ** 2);
      }
    if (h >= 0.1) expect(Math.abs(picked / summed - 1)).toBeLessThan(1e-4);
    expect(picked).toBeLessThan(Math.PI);
  },
);
