/** The PNG writer against the standard's own figures, and against another decoder in tests/browser/png.test.ts. */
import { inflateSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { crc32, writePng } from './png.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

test('check sum: the published value of "123456789", and that of an IEND chunk', () => {
  // CRC-32/ISO-HDLC check value, catalogue of parametrised CRC algorithms; IEND as in every PNG file [PNG 11.2.5].
  expect(crc32(bytes('123456789'))).toBe(0xcbf43926);
  expect(crc32(bytes('IEND'))).toBe(0xae426082);
});

test('a file is signature, head, one body, end; its pixels come back', () => {
  const [w, h] = [7, 5];
  let seed = 1;
  const rgb = Uint8Array.from({ length: 3 * w * h }, () => {
    seed = (seed * 48271) % 2147483647;
    return seed & 255;
  });
  const file = writePng(w, h, rgb);
  expect([...file.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
  const chunks: [string, Buffer][] = [];
  for (let at = 8; at < file.length; ) {
    const size = file.readUInt32BE(at);
    chunks.push([file.toString('latin1', at + 4, at + 8), file.subarray(at + 8, at + 8 + size)]);
    at += size + 12;
  }
  expect(chunks.map(([type]) => type)).toEqual(['IHDR', 'sRGB', 'IDAT', 'IEND']);
  expect([...chunks[0]![1]]).toEqual([0, 0, 0, w, 0, 0, 0, h, 8, 2, 0, 0, 0]);
  // Undo the filter [PNG 9.2, 9.4].
  const raw = inflateSync(chunks[2]![1]);
  const back = new Uint8Array(rgb.length);
  for (let y = 0; y < h; y++) {
    expect(raw[y * (3 * w + 1)]).toBe(4);
    for (let x = 0; x < 3 * w; x++) {
      const at = (dx: number, dy: number) =>
        x - dx < 0 || y - dy < 0 ? 0 : back[(y - dy) * 3 * w + x - dx]!;
      const [a, b, c] = [at(3, 0), at(0, 1), at(3, 1)];
      const p = a + b - c;
      const near = [a, b, c].reduce((best, v) => (Math.abs(p - v) < Math.abs(p - best) ? v : best));
      back[y * 3 * w + x] = raw[y * (3 * w + 1) + 1 + x]! + near;
    }
  }
  expect(back).toEqual(rgb);
});

test('a wrong number of bytes is refused', () => {
  expect(() => writePng(2, 2, new Uint8Array(11))).toThrow(/12 bytes/);
});
