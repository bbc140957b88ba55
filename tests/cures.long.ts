/** Every cure of every trouble of the demos, made for real and looked at by the full survey: it keeps its word. */
import { expect, test } from 'vitest';
import { applyEdits } from '../src/shoot/edits.ts';
import { anglesOf } from '../src/shoot/rigFor.ts';
import { keptItsWord } from './cureWord.ts';
import { shootNamed, surveyed } from './demo.ts';

for (const name of ['slack-water', 'kitchen']) {
  const shoot = shootNamed(name);
  for (const { angle } of anglesOf(shoot))
    test(`${name} ${angle}: all cures keep their word`, async () => {
      const { troubles } = (await surveyed(shoot, [angle]))[angle]!;
      const looked = new Map<string, typeof troubles>();
      const broken: string[] = [];
      for (const t of troubles)
        for (const cure of t.cures) {
          const key = JSON.stringify([cure.edit, cure.args]);
          let after = looked.get(key);
          if (!after) {
            const cured = applyEdits(shoot, [cure]).shoot;
            after = (await surveyed(cured, [angle], { cures: false, quick: true }))[angle]!.troubles;
            looked.set(key, after);
          }
          broken.push(...keptItsWord(troubles, t, cure, after));
        }
      expect(broken).toEqual([]);
    });
}
