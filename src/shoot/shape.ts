/** A thing's own shape as it is kept: corners in steps of 1/65535 of its box, triangles by part, both as base64. */
import { z } from 'zod';
import { toBase64 } from './gltf.ts';

/** So many at most are kept of one thing: about as many as a head in close-up has. */
export const KEPT_TRIANGLES = 6000;
const base64 = z.string().regex(/^[A-Za-z0-9+/]*={0,2}$/, 'base64');

export const Shape = z.looseObject({
  corners: base64
    .max(600_000)
    .describe('three unsigned 16-bit numbers a corner, little-endian: shares of the box'),
  triangles: base64
    .max(300_000)
    .describe('three unsigned 16-bit numbers a triangle, little-endian, part by part'),
  parts: z
    .array(z.looseObject({ part: z.string().max(40), triangles: z.number().int().min(0).max(100_000) }))
    .min(1)
    .max(64)
    .describe('named as in `finishes`'),
});
export type Shape = z.infer<typeof Shape>;

const words16 = (list: ArrayLike<number>): string => {
  const bytes = new Uint8Array(2 * list.length);
  const v = new DataView(bytes.buffer);
  for (let i = 0; i < list.length; i++) v.setUint16(2 * i, list[i]!, true);
  return toBase64(bytes);
};

/** Corners within `from` … `from + size` metres; triangles by part. At most 65,535 corners. */
export function packed(
  positions: ArrayLike<number>,
  from: readonly number[],
  size: readonly number[],
  parts: readonly { part: string; indices: ArrayLike<number> }[],
): Shape {
  const corners = Array.from(positions, (v, i) =>
    Math.round(65535 * Math.min(1, Math.max(0, (v - from[i % 3]!) / size[i % 3]!))),
  );
  return {
    corners: words16(corners),
    triangles: words16(parts.flatMap((p) => Array.from(p.indices))),
    parts: parts.map((p) => ({ part: p.part, triangles: p.indices.length / 3 })),
  };
}
