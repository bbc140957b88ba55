/** Writes pictures as PNG: 8 bits a channel, RGB, sRGB. [PNG] */
import { deflateSync } from 'node:zlib';

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});
/** The standard's check sum of a chunk (node's own came with 20.15 and 22.2 only). [PNG D] */
export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const b of bytes) c = TABLE[(c ^ b) & 255]! ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

function chunk(type: string, body: Uint8Array): Buffer {
  const out = Buffer.alloc(body.length + 12);
  out.writeUInt32BE(body.length, 0);
  out.write(type, 4, 'latin1');
  out.set(body, 8);
  out.writeUInt32BE(crc32(out.subarray(4, body.length + 8)), body.length + 8);
  return out;
}

/** The Paeth predictor: of left, above and above-left the one nearest to left + above − above-left. */
function paeth(a: number, b: number, c: number): number {
  const p = a + b - c;
  const pa = Math.abs(p - a);
  const pb = Math.abs(p - b);
  const pc = Math.abs(p - c);
  return pa <= pb && pa <= pc ? a : pb <= pc ? b : c;
}

/**
 * A PNG file of `rgb`: 3 × width × height bytes, sRGB encoded, top row first. Rows are filtered by the Paeth predictor,
 * which suits pictures of rooms.
 */
export function writePng(width: number, height: number, rgb: Uint8Array): Buffer {
  if (rgb.length !== 3 * width * height)
    throw new RangeError(`a ${width} × ${height} picture has ${3 * width * height} bytes, not ${rgb.length}`);
  const stride = 3 * width;
  const filtered = new Uint8Array((stride + 1) * height);
  for (let y = 0; y < height; y++) {
    const from = y * stride;
    const to = y * (stride + 1);
    filtered[to] = 4;
    for (let x = 0; x < stride; x++) {
      const a = x >= 3 ? rgb[from + x - 3]! : 0;
      const b = y > 0 ? rgb[from + x - stride]! : 0;
      const c = x >= 3 && y > 0 ? rgb[from + x - stride - 3]! : 0;
      filtered[to + 1 + x] = rgb[from + x]! - paeth(a, b, c);
    }
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 2, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from(SIGNATURE),
    chunk('IHDR', head),
    chunk('sRGB', Uint8Array.of(0)),
    chunk('IDAT', deflateSync(filtered, { level: 6 })),
    chunk('IEND', new Uint8Array(0)),
  ]);
}
