/** Reads an 8-bit, non-interlaced PNG (RGB or RGBA) into RGBA bytes. Only what the bake needs. [PNG] */
import { inflateSync } from 'node:zlib';

export interface Image {
  width: number;
  height: number;
  /** 4 × w × h bytes, top row first. */
  rgba: Uint8Array;
}

export function readPng(file: Uint8Array): Image {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  let at = 8;
  let width = 0;
  let height = 0;
  let channels = 0;
  const parts: Uint8Array[] = [];
  while (at < file.length) {
    const size = view.getUint32(at);
    const type = String.fromCharCode(...file.subarray(at + 4, at + 8));
    const body = file.subarray(at + 8, at + 8 + size);
    if (type === 'IHDR') {
      width = view.getUint32(at + 8);
      height = view.getUint32(at + 12);
      const [depth, colour, , , interlace] = [body[8], body[9], body[10], body[11], body[12]];
      if (depth !== 8 || interlace !== 0 || (colour !== 2 && colour !== 6))
        throw new Error('unexpected PNG kind');
      channels = colour === 6 ? 4 : 3;
    } else if (type === 'IDAT') parts.push(body);
    at += size + 12;
  }
  const raw = inflateSync(Buffer.concat(parts));
  const stride = width * channels;
  const rgba = new Uint8Array(width * height * 4);
  const row = new Uint8Array(stride);
  const above = new Uint8Array(stride);
  for (let y = 0; y < height; y++) {
    const filter = raw[y * (stride + 1)]!;
    for (let x = 0; x < stride; x++) {
      const a = x >= channels ? row[x - channels]! : 0;
      const b = above[x]!;
      const c = x >= channels ? above[x - channels]! : 0;
      let guess = 0;
      if (filter === 1) guess = a;
      else if (filter === 2) guess = b;
      else if (filter === 3) guess = (a + b) >> 1;
      else if (filter === 4) {
        const p = a + b - c;
        const [pa, pb, pc] = [Math.abs(p - a), Math.abs(p - b), Math.abs(p - c)];
        guess = pa <= pb && pa <= pc ? a : pb <= pc ? b : c;
      }
      row[x] = (raw[y * (stride + 1) + 1 + x]! + guess) & 255;
    }
    for (let x = 0; x < width; x++)
      for (let k = 0; k < 4; k++) rgba[(y * width + x) * 4 + k] = k < channels ? row[x * channels + k]! : 255;
    above.set(row);
  }
  return { width, height, rgba };
}
