/** Finishes as materials. */
import { expect, test } from 'vitest';
import { materialOf } from './finish.ts';

test('a finish that passes light is a sheet, and never gives back more than it gets', () => {
  const net = materialOf({ words: 'net', reflectance: 0.35, passes: 0.5 });
  expect(net.kind).toBe('sheet');
  expect(net.straight).toBe(0.5);
  expect(materialOf({ reflectance: 0.7, passes: 0.6 }).straight).toBeCloseTo(0.3, 12);
  expect(materialOf({ reflectance: 0.7, passes: 0 }).kind).toBe('opaque');
});
