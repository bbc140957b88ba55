import { readdirSync } from 'node:fs';
import { expect, test } from 'vitest';
import { shootOf } from '../../tests/bookFacts.ts';
import { cutList, cutTotals, ROLL_M } from './cutList.ts';
import { kitList } from './kitList.ts';

const shoots = readdirSync(new URL('../../shoots/', import.meta.url)).filter((f) => f.endsWith('.json'));
const group = (s: ReturnType<typeof shootOf>, words: string) =>
  kitList(s).groups.find((g) => g.words === words)!;

test.each(shoots)('%s: leads cover every feed of the scene that needs most, and one more', (name) => {
  const shoot = shootOf(name);
  const used = Object.values(shoot.scenes).map(
    (s) =>
      Object.values(s.rig.lamps).reduce((n, l) => n + (l.feed?.leads.length ?? 0), 0) +
      Object.values(s.rig.multiways).reduce((n, m) => n + m.leads.length, 0),
  );
  const lines = group(shoot, 'Leads').lines;
  expect(lines.at(-1)!.words).toBe('one lead more than needed');
  const counted = lines.slice(0, -1).reduce((n, l) => n + l.needed, 0);
  expect(counted).toBeGreaterThanOrEqual(Math.max(...used));
  expect(lines.reduce((n, l) => n + l.needed, 0)).toBe(counted + 1);
  if (used.length === 1) expect(counted).toBe(used[0]);
});

test('kitchen, by hand: two stands and a tall one, three bags, one tungsten bulb to spare, 25 a day', () => {
  const shoot = shootOf('kitchen.json');
  const stands = group(shoot, 'Stands, clamps, arms').lines;
  expect(stands.map((l) => [l.words, l.needed, l.held])).toEqual([
    ['light stand', 2, 2],
    ['tall stand', 1, 1],
  ]);
  const practice = kitList(shoot).groups.find((g) => !g.counted)!;
  expect(practice.words).toContain('no source');
  expect(practice.lines.find((l) => l.words === 'sandbag')!.needed).toBe(3);
  expect(practice.lines.find((l) => l.words === 'spare bulb')!.needed).toBe(1);
  expect(kitList(shoot).perDay).toBe(25);
});

test('boat shed, by hand: three clamps, arms and flags at the peak of two an angle', () => {
  const shoot = shootOf('slack-water.json');
  const holds = group(shoot, 'Stands, clamps, arms').lines;
  expect(holds.find((l) => l.words === 'clamp with drop pipe and bond')!.needed).toBe(3);
  expect(holds.find((l) => l.words === 'flag arm')!.needed).toBe(2);
  const flags = group(shoot, 'Flags, boards, frames').lines;
  expect(flags.find((l) => l.words.includes('0.25 × 0.25'))).toMatchObject({ needed: 2, held: 2 });
});

test('what the kit lacks is short, what it does not tell is not taken for nothing', () => {
  const shoot = structuredClone(shootOf('kitchen.json'));
  shoot.kit.supports.stand!.count = 1;
  delete shoot.kit.leads.spare;
  const scene = Object.values(shoot.scenes)[0]!;
  delete scene.rig.lamps.L3!.support.kit;
  const stands = group(shoot, 'Stands, clamps, arms').lines;
  expect(stands.find((l) => l.words === 'light stand')).toMatchObject({ needed: 2, held: 1 });
  expect(stands.find((l) => l.words === 'stand')).toMatchObject({ needed: 1, held: undefined });
  expect(group(shoot, 'Leads').lines.at(-1)).toMatchObject({ held: 0 });
});

test('cut list, by hand: boat shed', () => {
  const shoot = shootOf('slack-water.json');
  const cuts = cutList(shoot);
  // 800 W open-face: housing 0.21 × 0.24 m, 6 cm on every side, up to 5 cm: 0.35 × 0.40.
  const cto = cuts.find((c) => c.sheet === 'half-cto' && c.forWhat.startsWith('lamp 1'))!;
  expect(cto.kind).toBe('gel');
  expect([cto.widthM, cto.heightM]).toEqual([expect.closeTo(0.35, 9), expect.closeTo(0.4, 9)]);
  expect(cuts.find((c) => c.sheet === 'light-frost')).toMatchObject({
    kind: 'diffusion',
    count: 1,
    angles: [],
  });
  // Two pieces of half CTO side by side across the roll: as long as the shorter side of the larger.
  const total = cutTotals(shoot, cuts).find((t) => t.sheet === 'half-cto')!;
  expect(total).toMatchObject({ pieces: 2, held: 2 });
  expect(total.rollM).toBe(0.5);
});

test('a crate is not cut; every piece fits its roll', () => {
  for (const name of shoots) {
    const shoot = shootOf(name);
    const cuts = cutList(shoot);
    expect(cuts.some((c) => /crate/.test(c.sheet))).toBe(false);
    for (const t of cutTotals(shoot, cuts)) {
      const area = cuts
        .filter((c) => c.sheet === t.sheet)
        .reduce((s, c) => s + c.count * c.widthM * c.heightM, 0);
      expect(t.rollM * ROLL_M).toBeGreaterThanOrEqual(area);
    }
  }
});
