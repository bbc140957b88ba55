import { expect, test } from 'vitest';
import { plainTracer } from '../transport/plain.ts';
import { rows } from './transport.ts';

test('published light in rooms, by the reference tracer', async () => {
  const all = await rows(plainTracer);
  expect(all.length).toBeGreaterThan(15);
  expect(all.filter((r) => !r.holds)).toEqual([]);
});
