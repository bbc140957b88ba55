/** A flag that keeps a lamp off the lens: how big, where, and what it must stay clear of. */
import { GLASS_RADIUS_M, hoodShadesBeyond as shadesBeyond } from '../light/veil.ts';
import { add, distance, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { onFrame } from '../setup/view.ts';
import type { View } from '../transport/scene.ts';
import { halfDiagonal } from '../transport/veil.ts';

/** Beyond this angle from the lens axis the hood shades the glass wholly, radians. */
export const hoodShadesBeyond = (view: View): number => shadesBeyond(halfDiagonal(view));

export interface LensFlag {
  at: Vec3;
  facing: Vec3;
  /** Edge of the square that shades the whole glass, metres; and the next size one owns. */
  neededM: number;
  sizeM: number;
  fromLensM: number;
  /** Clear of the frame line by, metres (negative: it would be seen). */
  clearOfFrameM: number;
}

const SIZES_M = [0.1, 0.15, 0.2, 0.25, 0.3, 0.45, 0.6, 0.9, 1.2];

/**
 * A square flag on the line from lamp to lens: edge W = A + (S − A) x / D shades the glass of diameter A
 * from a lamp of size S at distance D when it hangs x from the lens [CHECKS-CAMERA §5]. Chosen: the smallest x that
 * stays clear of the frame and of what `blocks` says is in the way of (a lamp's line to a face, a head).
 */
export function lensFlag(
  view: View,
  lamp: Vec3,
  lampSizeM: number,
  spoils: (at: Vec3, sizeM: number) => boolean,
): LensFlag | undefined {
  const D = distance(lamp, view.eye);
  const A = 2 * GLASS_RADIUS_M;
  const toLamp = normalize(sub(lamp, view.eye));
  let found: LensFlag | undefined;
  for (let x = 0.4; x < Math.min(D - 0.3, 4); x += 0.1) {
    const neededM = A + ((lampSizeM - A) * x) / D;
    const sizeM = SIZES_M.find((s) => s >= neededM);
    if (sizeM === undefined) continue;
    const at = add(view.eye, scale(toLamp, x));
    const clearOfFrameM = clearance(view, at, toLamp, sizeM);
    const flag = { at, facing: toLamp, neededM, sizeM, fromLensM: x, clearOfFrameM };
    if (clearOfFrameM < 0.01 || spoils(at, sizeM)) continue;
    found = flag;
    break;
  }
  return found;
}

/** Distance of the nearest corner of a square at `at` from the frame's pyramid, metres; negative inside. */
function clearance(view: View, at: Vec3, facing: Vec3, sizeM: number): number {
  const up0: Vec3 = Math.abs(facing[2]) > 0.99 ? [0, 1, 0] : [0, 0, 1];
  const u = normalize([
    up0[1] * facing[2] - up0[2] * facing[1],
    up0[2] * facing[0] - up0[0] * facing[2],
    up0[0] * facing[1] - up0[1] * facing[0],
  ]);
  const v: Vec3 = [
    facing[1] * u[2] - facing[2] * u[1],
    facing[2] * u[0] - facing[0] * u[2],
    facing[0] * u[1] - facing[1] * u[0],
  ];
  // The square is out of the picture when all its corners lie beyond one side plane of the pyramid.
  const corners = [-1, 1].flatMap((a) =>
    [-1, 1].map((b) => add(at, add(scale(u, (a * sizeM) / 2), scale(v, (b * sizeM) / 2)))),
  );
  const sides: Vec3[] = [
    sub(view.right, scale(view.forward, view.tanH)),
    sub(scale(view.right, -1), scale(view.forward, view.tanH)),
    sub(view.up, scale(view.forward, view.tanV)),
    sub(scale(view.up, -1), scale(view.forward, view.tanV)),
  ];
  let best = Number.NEGATIVE_INFINITY;
  for (const side of sides) {
    const n = normalize(side);
    const nearest = Math.min(...corners.map((c) => dot(sub(c, view.eye), n)));
    best = Math.max(best, nearest);
  }
  return onFrame(view, at).depthM <= 0 ? Math.max(best, 0.05) : best;
}
