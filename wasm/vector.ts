/** Four 32-bit floats at a time, by short names: what every module of this folder adds, takes away and multiplies. */

// @ts-expect-error: decorator
@inline
export function add(a: v128, b: v128): v128 {
  return f32x4.add(a, b);
}
// @ts-expect-error: decorator
@inline
export function sub(a: v128, b: v128): v128 {
  return f32x4.sub(a, b);
}
// @ts-expect-error: decorator
@inline
export function mul(a: v128, b: v128): v128 {
  return f32x4.mul(a, b);
}
