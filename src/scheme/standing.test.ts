/** Where a lamp cannot be: geometry of the demo's own rooms, worked by hand. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { openShoot } from '../shoot/file.ts';
import { groundOf } from './ground.ts';
import { cannotStand } from './standing.ts';

const opened = openShoot(readFileSync('shoots/slack-water.json', 'utf8'));
if (!opened.ok) throw new Error(opened.message.join(' '));
const { shoot } = opened;
const place = shoot.places.shed!;
const stand = { kind: 'stand', footM: 0.45 } as const;
const why = (at: [number, number, number], support: Parameters<typeof cannotStand>[1] = stand) =>
  cannotStand(place, support, at, { heightM: [1.1, 2.6] }).map((r) => r.why);

test('a foot keeps its radius from a wall, on either side of it', () => {
  // The west wall is x = 0; a foot of 0.45 m at x = 0.4 runs 5 cm into it.
  expect(why([0.4, 4.9, 2])).toEqual(['its foot (0.45 m radius) meets the wall']);
  expect(why([3, 2, 2])).toEqual([]);
  // Outside, the wall's own thickness comes on top.
  const thick = place.wallM ?? 0.2;
  expect(why([-(0.45 + thick) + 0.04, 4.9, 2])).toHaveLength(1);
  expect(why([-(0.45 + thick) - 0.01, 4.9, 2])).toEqual([]);
});

test('furniture by its name; the ceiling; the reach of the stand', () => {
  expect(why([7, 2.6, 2])[0]).toMatch(/its foot .* meets .*(drum|barrel)/);
  expect(why([3, 2, 3.75]).join()).toMatch(/under a ceiling of 3\.80 m/);
  expect(why([3, 2, 3]).join()).toMatch(/no higher than 2\.60 m/);
  expect(why([3, 2, 0.5]).join()).toMatch(/no lower than 1\.10 m/);
});

test('a clamp needs something within its drop pipe and arm', () => {
  const clamp = { kind: 'clamp', dropM: 0.7 } as const;
  expect(why([1.5, 4.5, 2.9], clamp)).toEqual([]);
  expect(why([2.75, 2, 1], clamp)).toEqual(['there is nothing within reach to clamp it to']);
});

test('what is left of the kit: three clamps are all in use, two stands are free; the drum carries a foot', () => {
  const ground = groundOf(shoot, { scene: Object.keys(shoot.scenes)[0]!, angle: 'T' });
  expect(ground.clamp).toBeUndefined();
  expect(ground.stand?.support).toEqual({ kind: 'stand', kit: 'stand', footM: 0.45 });
  expect(ground.restsOn([7, 2.6])).toEqual({ on: 'drum', heightM: 0.55 });
  expect(ground.restsOn([3, 2])).toEqual({ heightM: 0 });
});
