/** Hairs as flat ribbons along points on a sheet. */
import type { Collector } from './collector.ts';
import type { Sheet } from './decode.ts';

/** A number 0–1 that belongs to an integer, the same on every machine. */
export function chance(n: number): number {
  let x = Math.imul(n ^ 0x9e3779b9, 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return ((x ^ (x >>> 16)) >>> 0) / 4294967296;
}

export function hairs(
  out: Collector,
  sheet: Sheet,
  p: Float32Array,
  n: Float32Array,
  rest: Float32Array,
  use: 'hair' | 'brow' | 'lash',
  slot: number,
  detail: 'near' | 'medium' | 'far',
): void {
  void [out, sheet, p, n, rest, use, slot, detail];
}
