/** Killed in the middle of keeping a hundred times (tests/browser/killed.ts). */
import { expect, test } from 'vitest';
import { rngOf } from '../src/maths/sampling.ts';
import { livesAndDeaths } from './browser/killed.ts';

test.skipIf(process.platform !== 'linux' || process.arch !== 'x64')(
  'killed in mid-save a hundred times: never a broken shoot, never a kept edit lost',
  async () => {
    const lives = await livesAndDeaths(100, rngOf(23));
    expect(lives).toHaveLength(101);
    for (const life of lives) expect(life.found).toBeGreaterThanOrEqual(life.said);
    expect(lives.filter((life) => life.found > life.said).length).toBeGreaterThan(10);
    expect(lives.at(-1)!.said).toBeGreaterThan(500);
  },
  900_000,
);
