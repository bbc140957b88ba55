/** Killed in the middle of keeping, a dozen times here; a hundred in tests/killed.long.ts. */
import { expect, test } from 'vitest';
import { rngOf } from '../../src/maths/sampling.ts';
import { livesAndDeaths } from './killed.ts';

test.skipIf(process.platform !== 'linux' || process.arch !== 'x64')(
  'killed in mid-save a dozen times: never a broken shoot, never a kept edit lost',
  async () => {
    const lives = await livesAndDeaths(12, rngOf(7));
    for (const life of lives) expect(life.found).toBeGreaterThanOrEqual(life.said);
    // It was killed while it wrote, not after: some edits were on the disk before the page could say so.
    expect(lives.filter((life) => life.found > life.said).length).toBeGreaterThan(0);
    expect(lives.at(-1)!.said).toBeGreaterThan(50);
  },
  300_000,
);
