/** Points that lie on hair. */
import { fibre } from './fibre.ts';
import { liftAt } from './intersect.ts';
import type { SurfacePoints } from './tracer.ts';

/** Does point `p` lie on hair? */
export const onHair = (points: SurfacePoints, p: number): boolean => {
  const g = points.grain;
  return g !== undefined && (g[p * 3] !== 0 || g[p * 3 + 1] !== 0 || g[p * 3 + 2] !== 0);
};

/** Where a ray from point `p` of a hair along d begins: on that side of its ribbon. */
export const start = new Float64Array(3);
export function startAt(points: SurfacePoints, p: number, dx: number, dy: number, dz: number): void {
  const { position: x, faceNormal: f } = points;
  const o = p * 3;
  const front = dx * f[o]! + dy * f[o + 1]! + dz * f[o + 2]! >= 0;
  const back = front ? 0 : 2 * liftAt(x[o]!, x[o + 1]!, x[o + 2]!);
  for (let k = 0; k < 3; k++) start[k] = x[o + k]! - back * f[o + k]!;
}

/** `fibre` at point `p` of a list, light from unit l. */
export function fibreAt(
  points: SurfacePoints,
  p: number,
  lx: number,
  ly: number,
  lz: number,
  clear: number,
  rho: number,
): void {
  const { grain, normal: n, toEye: e } = points;
  const o = p * 3;
  const g = grain!;
  fibre(
    g[o]!,
    g[o + 1]!,
    g[o + 2]!,
    n[o]!,
    n[o + 1]!,
    n[o + 2]!,
    lx,
    ly,
    lz,
    e[o]!,
    e[o + 1]!,
    e[o + 2]!,
    clear,
    rho,
  );
}
