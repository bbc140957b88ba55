/** Vectors in space. Frame of every scene: x right (east), y up the plan (north), z up; metres. */
export type Vec3 = readonly [number, number, number];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const length = (a: Vec3): number => Math.hypot(a[0], a[1], a[2]);
export const distance = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
/** Unit vector along `a`; the zero vector stays zero. */
export const normalize = (a: Vec3): Vec3 => {
  const l = length(a);
  return l > 0 ? [a[0] / l, a[1] / l, a[2] / l] : [0, 0, 0];
};
export const mix = (a: Vec3, b: Vec3, t: number): Vec3 => [
  a[0] + (b[0] - a[0]) * t,
  a[1] + (b[1] - a[1]) * t,
  a[2] + (b[2] - a[2]) * t,
];

/** Two unit vectors that make a right-handed frame (u, v, n) with the unit vector n. */
export function frame(n: Vec3): { u: Vec3; v: Vec3 } {
  // Duff et al., "Building an Orthonormal Basis, Revisited", JCGT 6(1), 2017.
  const s = n[2] >= 0 ? 1 : -1;
  const a = -1 / (s + n[2]);
  const b = n[0] * n[1] * a;
  return { u: [1 + s * n[0] * n[0] * a, s * b, -s * n[0]], v: [b, s + n[1] * n[1] * a, -n[1]] };
}

/** Turns `p` about the vertical axis through the origin by `angle` radians, counter-clockwise seen from above. */
export const turnZ = (p: Vec3, angle: number): Vec3 => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return [p[0] * c - p[1] * s, p[0] * s + p[1] * c, p[2]];
};

/** Angle between two directions, radians; 0 if one is nothing. */
export const angleBetween = (a: Vec3, b: Vec3): number => {
  const l = length(a) * length(b);
  return l > 0 ? Math.acos(Math.max(-1, Math.min(1, dot(a, b) / l))) : 0;
};

export const DEG = Math.PI / 180;
