/** The walls of a room in plan: where along them a point is, what they are called, what stands clear of them. */

/** Metres, x east, y north. */
export type Point = readonly [number, number];
export type Outline = readonly Point[];

export interface OnWall {
  wall: number;
  /** From the wall's first corner, metres. */
  alongM: number;
  /** Of the point from the wall, metres. */
  offM: number;
}

/** Wall i runs from corner i to corner i + 1. */
export function ends(outline: Outline, wall: number): [Point, Point] {
  const n = outline.length;
  return [outline[wall % n]!, outline[(wall + 1) % n]!];
}

export function wallLengthM(outline: Outline, wall: number): number {
  const [a, b] = ends(outline, wall);
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** The point that far along a wall, `inM` into the room from its face. */
export function atWall(outline: Outline, wall: number, alongM: number, inM = 0): [number, number] {
  const [a, b] = ends(outline, wall);
  const l = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [ux, uy] = [(b[0] - a[0]) / l, (b[1] - a[1]) / l];
  // Corners run counter-clockwise: the room lies to the left.
  return [a[0] + ux * alongM - uy * inM, a[1] + uy * alongM + ux * inM];
}

/** The way a wall looks into the room, degrees, 0 = east, counter-clockwise. */
export function inwardDeg(outline: Outline, wall: number): number {
  const [a, b] = ends(outline, wall);
  return (Math.atan2(b[0] - a[0], -(b[1] - a[1])) * 180) / Math.PI;
}

export function nearestWall(outline: Outline, p: Point): OnWall {
  let best: OnWall = { wall: 0, alongM: 0, offM: Number.POSITIVE_INFINITY };
  outline.forEach((a, wall) => {
    const b = outline[(wall + 1) % outline.length]!;
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (l === 0) return;
    const alongM = Math.max(
      0,
      Math.min(l, ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / l),
    );
    const x = a[0] + ((b[0] - a[0]) * alongM) / l;
    const y = a[1] + ((b[1] - a[1]) * alongM) / l;
    const offM = Math.hypot(p[0] - x, p[1] - y);
    if (offM < best.offM) best = { wall, alongM, offM };
  });
  return best;
}

/** Whether a point is on the floor. */
export function onFloor(outline: Outline, p: Point): boolean {
  let odd = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [xi, yi] = outline[i]!;
    const [xj, yj] = outline[j]!;
    if (yi > p[1] !== yj > p[1] && p[0] < ((xj - xi) * (p[1] - yi)) / (yj - yi) + xi) odd = !odd;
  }
  return odd;
}

/** Floor area, square metres; negative where the corners run clockwise. */
export const areaM2 = (outline: Outline): number =>
  outline.reduce((sum, [x, y], i) => {
    const [x1, y1] = outline[(i + 1) % outline.length]!;
    return sum + (x * y1 - x1 * y) / 2;
  }, 0);

export const boundsOf = (outline: Outline): { x0: number; y0: number; x1: number; y1: number } => ({
  x0: Math.min(...outline.map((p) => p[0])),
  y0: Math.min(...outline.map((p) => p[1])),
  x1: Math.max(...outline.map((p) => p[0])),
  y1: Math.max(...outline.map((p) => p[1])),
});

const side = (a: Point, b: Point, p: Point): number =>
  (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);

/** Whether two lines cross between their ends. */
export const cross = (a: Point, b: Point, p: Point, q: Point): boolean =>
  side(a, b, p) * side(a, b, q) < 0 && side(p, q, a) * side(p, q, b) < 0;

/** Whether the line between two points meets a wall. */
export const throughWall = (outline: Outline, a: Point, b: Point): boolean =>
  outline.some((p, i) => cross(a, b, p, outline[(i + 1) % outline.length]!));

/** Corners tapped one by one, made fit to be a floor: counter-clockwise, none twice; or why they cannot be. */
export function tidyOutline(corners: Outline): [number, number][] | string {
  const kept: [number, number][] = [];
  for (const [x, y] of corners) {
    const last = kept.at(-1);
    if (!last || Math.hypot(x - last[0], y - last[1]) > 0.05) kept.push([+x.toFixed(3), +y.toFixed(3)]);
  }
  while (kept.length > 1 && Math.hypot(kept[0]![0] - kept.at(-1)![0], kept[0]![1] - kept.at(-1)![1]) <= 0.05)
    kept.pop();
  if (kept.length < 3) return 'A room needs three corners at least.';
  const n = kept.length;
  for (let i = 0; i < n; i++)
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      if (cross(kept[i]!, kept[i + 1]!, kept[j]!, kept[(j + 1) % n]!))
        return `Wall ${i + 1} would cross wall ${j + 1}: tap the corners in the order one walks round them.`;
    }
  const area = areaM2(kept);
  if (Math.abs(area) < 0.5) return 'These corners enclose less than half a square metre.';
  return area < 0 ? kept.reverse() : kept;
}

const COMPASS = ['east', 'north-east', 'north', 'north-west', 'west', 'south-west', 'south', 'south-east'];
/** “north”, “south-west”: a direction in degrees, 0 = +x, counter-clockwise; `northDeg`: bearing of +y from north. */
export const compassWord = (deg: number, northDeg = 0): string =>
  COMPASS[((Math.round((deg - northDeg) / 45) % 8) + 8) % 8]!;

/** Where a wall lies, seen from the room. */
export const wallWord = (outline: Outline, wall: number, northDeg = 0): string =>
  compassWord(inwardDeg(outline, wall) + 180, northDeg);
