/** Ways of leads, sections, questions, the plan's wedges: against sums by hand. */
import { expect, test } from 'vitest';
import { shootOf } from '../../tests/bookFacts.ts';
import { drawSection, strikes } from '../drawing/section.ts';
import { kitLampById } from '../light/kitlamps.ts';
import { leadRoute } from './leadRoute.ts';
import { planFacts } from './planFacts.ts';
import { questionsOf } from './questions.ts';
import { sectionsOf } from './section.ts';

const kitchen = shootOf('kitchen.json');
const shed = shootOf('slack-water.json');
const place = kitchen.places.kitchen!;

test('a lead goes along the walls, the shorter way round, never through the room', () => {
  const L1 = kitchen.scenes.rent!.rig.lamps.L1!;
  const route = leadRoute(place, place.supply.sockets.K2!.at, L1);
  // K2 at (4.10, 1.00) up the east wall; the lamp stands 0.35 m off it and as far off the north wall.
  const floor = 0.1 + 2.05 + 0.35;
  const climb = 0.3 + 0.6 * 2.2;
  expect(route.lengthM).toBeCloseTo((floor + climb) * 1.2, 1);
  expect(route.crosses).toEqual([]);
  for (const [x, y] of route.points) expect(x > 0 && x < 4.2 && y > 0 && y < 3.4).toBe(true);
});

test('a lead past an open door crosses it; out of doors it goes by an opening', () => {
  const lamp = { ...kitchen.scenes.rent!.rig.lamps.L2!, at: [0.4, 0.3, 2] as [number, number, number] };
  // From K1, west wall north of the door (2.3–3.1 m along it from the north), south past it.
  const route = leadRoute(place, [0.1, 2.4, 1.1], lamp);
  expect(route.crosses).toEqual(['door']);
  const yard = leadRoute(place, place.supply.sockets.K2!.at, kitchen.scenes.rent!.rig.lamps.L3!);
  expect(yard.crosses).toEqual([]);
  // The window is at y = 3.4 from x = 1.4 to 2.6.
  expect(yard.points.some(([x, y]) => Math.abs(y - 3.4) < 0.15 && x > 1.4 && x < 2.6)).toBe(true);
});

test('wedges on the plan are half the beam to each side of the axis', () => {
  const facts = planFacts(kitchen, { scene: 'rent', angle: 'OA' }, undefined, new Set());
  const optics = kitLampById('fresnel-300')!.optics;
  if (optics.kind !== 'focus') throw new Error();
  expect(facts.lamps.find((l) => l.id === 'L1')!.beamHalfDeg).toBeCloseTo(optics.flood.beamDeg / 2, 1);
});

test('sections are drawn for what comes through an opening or hangs, and for nothing else', () => {
  const of = (s: typeof shed, scene: string, angle: string) =>
    sectionsOf(s, { scene, angle }).map((x) => x.lamp.id);
  expect(of(kitchen, 'rent', 'OA')).toEqual(['L3']);
  expect(of(shed, 'slack', 'T')).toEqual(['L1', 'L2', 'L3']);
  const [yard] = sectionsOf(kitchen, { scene: 'rent', angle: 'OA' });
  expect(yard!.why).toBe('through window over the sink');
  // From (2.00, 5.60) south: the north wall is 2.20 m off, the south one 5.60 m.
  expect(yard!.walls.map((w) => +w.x.toFixed(3))).toEqual([2.2, 5.6]);
  expect(yard!.walls[0]!.opening).toMatchObject({ sillM: 1, headM: 2.1 });
  expect(yard!.groundM).toBe(-0.15);
});

test('a ray ends where it strikes: by hand, through the window and on the floor', () => {
  const [f] = sectionsOf(kitchen, { scene: 'rent', angle: 'OA' });
  const [x0, z0] = f!.lamp.at;
  // Through the middle of the pane (2.20 m on, 1.55 m up): down 1.25 m in 2.20 m, so on the floor after 4.93 m.
  const through = strikes(f!, [2.2, 1.55 - 2.8]);
  expect(through[0] - x0).toBeCloseTo((2.8 * 2.2) / 1.25, 2);
  expect(through[1]).toBeCloseTo(0, 9);
  // Over the head of the window: it stays on the wall.
  const over = strikes(f!, [2.2, 2.3 - 2.8]);
  expect(over[0] - x0).toBeCloseTo(2.2, 6);
  expect(over[1]).toBeCloseTo(z0 - 0.5, 6);
  expect(drawSection(f!).marks.length).toBeGreaterThan(8);
  // Outside it is the ground that stops it, at the floor's level too (the slip of the boat shed).
  const slip = sectionsOf(shed, { scene: 'slack', angle: 'T' }).find((s) => s.lamp.id === 'L3')!;
  expect(strikes(slip, [0.1, -1])[1]).toBeCloseTo(0, 9);
});

test('what nobody told is asked for, in the words of the region; what was told is not', () => {
  const asked = questionsOf(kitchen).map((q) => q.ask);
  expect(asked).toContain('ring 30 A: what kind of breaker or fuse?');
  expect(asked).toContain('How is the supply earthed?');
  expect(asked).not.toContain('How high is the ceiling?');
  const us = structuredClone(kitchen);
  us.places.kitchen!.supply.region = 'na';
  expect(questionsOf(us).map((q) => q.ask)).toContain('How is the supply grounded?');
  const told = structuredClone(kitchen);
  told.places.kitchen!.supply.circuits.ring!.device = 'mcb-b';
  expect(questionsOf(told).map((q) => q.ask)).not.toContain('ring 30 A: what kind of breaker or fuse?');
});
