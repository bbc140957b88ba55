/** CRC-32: the check value usually printed for it, “123456789” → cbf43926 (from memory), and Node's own zlib. */
import { crc32 } from 'node:zlib';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { sealOf } from './seal.ts';

test('the seal is CRC-32 of the UTF-8', () => {
  expect(sealOf('123456789')).toBe('cbf43926');
  expect(sealOf('')).toBe('00000000');
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      expect(Number.parseInt(sealOf(text), 16)).toBe(crc32(Buffer.from(text)));
    }),
    { seed: 20, numRuns: 200 },
  );
});

test('one letter changed anywhere breaks it', () => {
  const text = 'A shoot that was written whole.';
  for (let i = 0; i < text.length; i++)
    expect(sealOf(`${text.slice(0, i)}~${text.slice(i + 1)}`)).not.toBe(sealOf(text));
});
