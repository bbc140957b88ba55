/**
 * A rectangle as seen from a point: the solid angle it fills, and directions spread evenly over that [URENA-2013].
 * Near a large rectangle places spread over its area are far from even: most of the light comes from a few of them.
 */

/**
 * How a rectangle is seen, as numbers: 0, 1 and 2, 3 where it begins and ends along its sides, from the foot of the point
 * on its plane; 4 distance of the plane; 5, 6 z of the unit normals of the planes through the point and its lower and
 * upper side; 7 angle at which the count of u begins; 8 solid angle, steradian.
 */
export type RectangleSeen = Float64Array;
export const rectangleSeen = (): RectangleSeen => new Float64Array(9);

/** Fills `seen`; returns the solid angle. The distance counts as a nanometre at least. */
export function seeRectangle(
  seen: RectangleSeen,
  x0: number,
  x1: number,
  y0: number,
  y1: number,
  distance: number,
): number {
  const h = Math.max(1e-9, distance);
  const h2 = h * h;
  // The four planes through the point and a side: z of their unit normals, and the angles between neighbours.
  const low = -y0 / Math.sqrt(h2 + y0 * y0);
  const right = x1 / Math.sqrt(h2 + x1 * x1);
  const high = y1 / Math.sqrt(h2 + y1 * y1);
  const left = -x0 / Math.sqrt(h2 + x0 * x0);
  const begin = 2 * Math.PI - Math.acos(-high * left) - Math.acos(-left * low);
  seen[0] = x0;
  seen[1] = x1;
  seen[2] = y0;
  seen[3] = y1;
  seen[4] = h;
  seen[5] = low;
  seen[6] = high;
  seen[7] = begin;
  seen[8] = Math.max(0, Math.acos(-low * right) + Math.acos(-right * high) - begin);
  return seen[8]!;
}

/** Where `pickSeen` landed: along the sides, from the foot. */
export const placeSeen = { x: 0, y: 0 };

/** Picks a place by two numbers in [0, 1): evenly over the solid angle. */
export function pickSeen(seen: RectangleSeen, u: number, v: number): void {
  const h = seen[4]!;
  // The slice up to which a share u of the angle lies.
  const angle = u * seen[8]! + seen[7]!;
  const f = (Math.cos(angle) * seen[5]! - seen[6]!) / Math.sin(angle);
  const c = Math.min(1, 1 / Math.sqrt(f * f + seen[5]! * seen[5]!)) * (f > 0 ? 1 : -1);
  const x = Math.min(seen[1]!, Math.max(seen[0]!, (c * h) / Math.sqrt(Math.max(1e-30, 1 - c * c))));
  // In the slice, evenly in the sine.
  const d2 = x * x + h * h;
  const from = seen[2]! / Math.sqrt(d2 + seen[2]! * seen[2]!);
  const to = seen[3]! / Math.sqrt(d2 + seen[3]! * seen[3]!);
  const sine = from + v * (to - from);
  placeSeen.x = x;
  placeSeen.y = Math.min(
    seen[3]!,
    Math.max(seen[2]!, (sine * Math.sqrt(d2)) / Math.sqrt(Math.max(1e-30, 1 - sine * sine))),
  );
}
