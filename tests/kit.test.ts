/** The kit in words and the lamps, gels and sheets that light is reckoned with are the same things. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { DIFFUSIONS } from '../src/light/diffusion.ts';
import { gels } from '../src/light/gels.ts';
import { KIT_LAMPS } from '../src/light/kitlamps.ts';
import { KIT, kitKind } from '../src/shoot/kit.ts';
import type { Shoot } from '../src/shoot/schema.ts';
import { BUILDERS } from '../src/stage/furniture.ts';

const ids = (part: string) => KIT.filter((k) => k.part === part).map((k) => k.id);

test('every lamp that can be reckoned can be found, in the same words, and no other', () => {
  expect(ids('lamps').sort()).toEqual(KIT_LAMPS.map((l) => l.id).sort());
  for (const l of KIT_LAMPS) expect(kitKind(l.id)!.words).toBe(l.words);
});

test('every gel and diffusion likewise', () => {
  const known = [...gels(), ...DIFFUSIONS];
  expect(ids('sheets').sort()).toEqual([...known.map((s) => s.id), 'egg-crate'].sort());
  for (const s of known) expect(kitKind(s.id)!.words).toBe(s.words);
});

const dir = join(import.meta.dirname, '../shoots');
for (const file of readdirSync(dir).filter((f) => f.endsWith('.json')))
  test(`${file} asks for nothing that nobody knows`, () => {
    const shoot = JSON.parse(readFileSync(join(dir, file), 'utf8')) as Shoot;
    for (const [part, group] of Object.entries(shoot.kit))
      for (const thing of Object.values(group as Record<string, { kind: string }>))
        expect(kitKind(thing.kind), thing.kind).toMatchObject({ part });
    const have = Object.values(shoot.kit.sheets).map((s) => s.kind);
    for (const scene of Object.values(shoot.scenes)) {
      // There are as many of each as the rig uses at once.
      const used = new Map<string, number>();
      for (const lamp of Object.values(scene.rig.lamps)) {
        for (const sheet of lamp.sheets) expect(have).toContain(sheet);
        for (const thing of [lamp.head, lamp.support.kit, ...(lamp.feed?.leads ?? []).map((l) => l.kit)])
          if (thing !== undefined) used.set(thing, (used.get(thing) ?? 0) + 1);
      }
      const { lamps, supports, leads } = shoot.kit;
      for (const [thing, n] of used)
        expect(n, thing).toBeLessThanOrEqual(lamps[thing] ? 1 : (supports[thing] ?? leads[thing])!.count);
    }
    for (const place of Object.values(shoot.places))
      for (const f of [...Object.values(place.furniture), ...Object.values(place.outside?.furniture ?? {})])
        expect(Object.keys(BUILDERS), f.kind).toContain(f.kind);
  });
