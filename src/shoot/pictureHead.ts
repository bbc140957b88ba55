/**
 * What a picture file says of itself in its first bytes: its kind and its size in pixels, without unpacking it. PNG:
 * signature, then IHDR with width and height, big-endian [PNG] 5.2, 11.2.1. JPEG: markers with lengths up to a frame header,
 * SOF0 … SOF15, height before width (T.81 B.2.2, from memory). WebP: RIFF, then VP8, VP8L or VP8X (RFC 9649, from memory).
 */
export interface PictureHead {
  kind: 'png' | 'jpeg' | 'webp';
  width: number;
  height: number;
}

const text = (b: Uint8Array, at: number, n: number): string => String.fromCharCode(...b.subarray(at, at + n));

/** Undefined: none of the three, or broken off. */
export function pictureHead(b: Uint8Array): PictureHead | undefined {
  const v = new DataView(b.buffer, b.byteOffset, b.byteLength);
  const sized = (kind: PictureHead['kind'], width: number, height: number) =>
    width > 0 && height > 0 ? { kind, width, height } : undefined;
  if (b.length >= 24 && v.getUint32(0) === 0x89504e47 && text(b, 12, 4) === 'IHDR')
    return sized('png', v.getUint32(16), v.getUint32(20));
  if (b.length >= 30 && text(b, 0, 4) === 'RIFF' && text(b, 8, 4) === 'WEBP') {
    const chunk = text(b, 12, 4);
    const u24 = (at: number) => b[at]! | (b[at + 1]! << 8) | (b[at + 2]! << 16);
    if (chunk === 'VP8X') return sized('webp', 1 + u24(24), 1 + u24(27));
    if (chunk === 'VP8L' && b[20] === 0x2f) {
      const bits = v.getUint32(21, true);
      return sized('webp', 1 + (bits & 0x3fff), 1 + ((bits >>> 14) & 0x3fff));
    }
    if (chunk === 'VP8 ')
      return sized('webp', v.getUint16(26, true) & 0x3fff, v.getUint16(28, true) & 0x3fff);
    return undefined;
  }
  if (b.length < 4 || b[0] !== 0xff || b[1] !== 0xd8) return undefined;
  for (let at = 2; at + 9 < b.length; ) {
    if (b[at] !== 0xff) return undefined;
    const marker = b[at + 1]!;
    if (marker === 0xff) at++;
    else if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc)
      return sized('jpeg', v.getUint16(at + 7), v.getUint16(at + 5));
    else at += 2 + v.getUint16(at + 2);
  }
  return undefined;
}
