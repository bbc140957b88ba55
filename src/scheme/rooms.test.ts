/** A house of two rooms on paper and underfoot: plan, side section, leads by the door, stands, faults told in words. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { drawPlan } from '../drawing/plan.ts';
import { drawSection } from '../drawing/section.ts';
import { applyEdits, type Edit } from '../shoot/edits.ts';
import { openShoot, saveShoot } from '../shoot/file.ts';
import { faults } from '../shoot/references.ts';
import { resized, wallStops } from '../shoot/rooms.ts';
import type { Place, RigLamp, Shoot } from '../shoot/schema.ts';
import { tellOpening, tellSocket } from '../shoot/tell.ts';
import { leadRoute } from './leadRoute.ts';
import { planFacts } from './planFacts.ts';
import { footHits } from './room.ts';
import { sectionsOf } from './section.ts';
import { cannotStand } from './standing.ts';

const opened = openShoot(readFileSync('shoots/kitchen.json', 'utf8'));
if (!opened.ok) throw new Error(opened.message.join());
const ref = { scene: 'rent', angle: 'W1' };
const paint = { reflectance: 0.6 };
/** The passage behind the kitchen's door: 1.2 m wide behind 15 cm of wall, 2.3 m high; the door in the west wall at y 0.3–1.1. */
const passage = {
  name: 'passage',
  outline: [
    [-1.35, 0],
    [-0.15, 0],
    [-0.15, 3.4],
    [-1.35, 3.4],
  ],
  ceilingM: 2.3,
  floor: paint,
  walls: paint,
};
const shoot = applyEdits(opened.shoot, [
  { edit: 'setOtherRoom', args: { place: 'kitchen', id: 'passage', room: passage } },
  {
    edit: 'setSocket',
    args: { place: 'kitchen', id: 'P9', socket: { circuit: 'ring', at: [-1.3, 3, 0.3], kind: 'uk-double' } },
  },
] as Edit[]).shoot;
const place = shoot.places.kitchen!;
const lampAt = (at: [number, number, number], kind: RigLamp['support']['kind'] = 'stand'): RigLamp => ({
  ...Object.values(shoot.scenes.rent!.rig.lamps)[0]!,
  at,
  aim: [2, 1.6, 1.2],
  support: { kind },
});

test('the file keeps rooms, and what a newer program wrote in one', () => {
  const text = saveShoot(shoot).replace('"name": "passage"', '"name": "passage", "dampness": 3');
  const again = openShoot(text);
  expect(again.ok).toBe(true);
  if (!again.ok) return;
  const room = again.shoot.places.kitchen!.rooms!.passage as unknown as Record<string, unknown>;
  expect(room.dampness).toBe(3);
  expect(saveShoot(again.shoot)).toContain('"dampness": 3');
});

describe('what cannot be is told', () => {
  const withRoom = (room: object): string[] =>
    faults({
      ...shoot,
      places: { kitchen: { ...place, rooms: { passage: { ...passage, ...room } } } as unknown as Place },
    });
  test.each([
    ['clockwise', { outline: [...passage.outline].reverse() }, /room passage: its outline runs clockwise/],
    [
      'over the kitchen’s floor',
      {
        outline: [
          [1, 1],
          [3, 1],
          [3, 2],
          [1, 2],
        ],
      },
      /share floor/,
    ],
    [
      'wall on wall',
      {
        outline: [
          [-1, 0],
          [0, 0],
          [0, 3],
          [-1, 3],
        ],
      },
      /wall without thickness/,
    ],
  ] as const)('%s', (_, room, says) => expect(withRoom(room).join()).toMatch(says));
  test('an opening in a room that is not there', () => {
    const strange: Shoot = structuredClone(shoot);
    strange.places.kitchen!.openings.door!.room = 'attic';
    expect(faults(strange).join()).toMatch(/opening door: there is no room attic/);
  });
  test('taken away, its openings go with it', () => {
    const [window] = tellOpening(place, 'kitchen', 'window', [-1.3, 1]);
    const then = applyEdits(shoot, [window!]).shoot;
    const id = Object.keys(then.places.kitchen!.openings).find((o) => !place.openings[o]) ?? 'window';
    expect(then.places.kitchen!.openings[id]!.room).toBe('passage');
    const gone = applyEdits(then, [
      { edit: 'setOtherRoom', args: { place: 'kitchen', id: 'passage' } },
    ] as Edit[]).shoot;
    expect(gone.places.kitchen!.rooms).toBeUndefined();
    expect(Object.values(gone.places.kitchen!.openings).some((o) => o.room)).toBe(false);
  });
});

test('the plan draws both rooms, the doorway open in both walls, and the room’s name', () => {
  const drawing = drawPlan(planFacts(shoot, ref, undefined, new Set()));
  const walls = drawing.marks.filter((m) => m.kind === 'line' && m.ref?.kind === 'wall');
  const lengthOf = (of: (id: string) => boolean): number =>
    walls.reduce((s, m) => {
      if (m.kind !== 'line' || !of(m.ref!.id)) return s;
      const [a, b] = [m.points[0]!, m.points[1]!];
      return s + Math.hypot(b[0] - a[0], b[1] - a[1]);
    }, 0);
  // Round the passage 2 × (1.2 + 3.4) m less the doorway of 0.8 m; round the kitchen its door and window gone.
  expect(lengthOf((id) => id.startsWith('passage:'))).toBeCloseTo(9.2 - 0.8, 6);
  expect(lengthOf((id) => !id.includes(':'))).toBeCloseTo(15.2 - 0.8 - 1.2, 6);
  expect(drawing.marks.some((m) => m.kind === 'words' && m.text === 'passage')).toBe(true);
  expect(drawing.bounds.x0).toBeLessThanOrEqual(-1.35);
});

test('a lead from the passage goes by the door: as long as one would measure along floor and walls', () => {
  const route = leadRoute(place, [-1.3, 3, 0.3], lampAt([2, 0.5, 1.5]));
  expect(route.crosses).toContain('door');
  // Through the doorway at y 0.3–1.1, both faces.
  const at = (x: number) =>
    route.points.find((p) => Math.abs(p[0] - x) < 0.12 && Math.abs(p[1] - 0.7) < 0.05);
  expect(at(0)).toBeDefined();
  expect(at(-0.15)).toBeDefined();
  // Straight it would be 4.1 m over the floor; the walls' foot makes it longer.
  const straight = Math.hypot(3.3, 2.5);
  expect(route.lengthM).toBeGreaterThan(straight * 1.2);
  expect(route.lengthM).toBeLessThan(20);
  // No leg crosses a wall but in the doorway.
  for (let i = 1; i < route.points.length; i++) {
    const [a, b] = [route.points[i - 1]!, route.points[i]!];
    expect(wallStops(place, [a[0], a[1], 0.01], [b[0], b[1], 0.01])).toBe(false);
  }
});

test('told another width, a room keeps the side it is joined by', () => {
  const wider = resized(place, 'passage', 2, 3);
  expect(Math.max(...wider.map((p) => p[0]))).toBeCloseTo(-0.15, 9);
  expect(Math.min(...wider.map((p) => p[0]))).toBeCloseTo(-2.15, 9);
  expect(Math.max(...wider.map((p) => p[1])) - Math.min(...wider.map((p) => p[1]))).toBeCloseTo(3, 9);
});

test('sight and light pass the doorway, not the wall beside it', () => {
  expect(wallStops(place, [-0.8, 0.7, 1.5], [2, 0.7, 1.5])).toBe(false);
  expect(wallStops(place, [-0.8, 0.7, 2.2], [2, 0.7, 2.2])).toBe(true);
  expect(wallStops(place, [-0.8, 2.5, 1.5], [2, 2.5, 1.5])).toBe(true);
});

test('stands, ceilings and sockets are those of the room one is in', () => {
  // In the passage, at the wall between, before the doorway, under the lower ceiling.
  expect(footHits(place, -0.75, 2, 0.4)).toBeUndefined();
  expect(footHits(place, -0.4, 2, 0.4)).toBe('the wall');
  expect(footHits(place, -0.3, 0.7, 0.35)).toBeUndefined();
  expect(cannotStand(place, { kind: 'stand', footM: 0.4 }, [-0.75, 2, 2.35]).map((r) => r.kind)).toEqual([
    'ceiling',
  ]);
  expect(cannotStand(place, { kind: 'stand', footM: 0.4 }, [-0.75, 2, 1.8])).toEqual([]);
  const told = tellSocket(place, 'kitchen', [-1.2, 1.5]).at(-1)!.args as { socket: { at: number[] } };
  expect(told.socket.at[0]).toBeLessThan(-1.3);
});

test('the section through the door shows both walls open and each room’s own ceiling', () => {
  const cut = applyEdits(shoot, [
    { edit: 'moveLamp', args: { scene: 'rent', lamp: 'L1', to: [-0.9, 0.6, 2] } },
    { edit: 'aimLamp', args: { scene: 'rent', lamp: 'L1', at: [2, 0.8, 1.2] } },
    { edit: 'setSupport', args: { scene: 'rent', lamp: 'L1', support: { kind: 'hung' } } },
  ] as Edit[]).shoot;
  const s = sectionsOf(cut, ref).find((x) => x.lamp.id === 'L1')!;
  const doors = s.walls.filter((w) => w.opening);
  expect(doors.map((w) => w.opening!.headM)).toEqual([2, 2]);
  expect(doors[1]!.x - doors[0]!.x).toBeCloseTo(0.15, 2);
  const over = (x: number) =>
    s.ceiling!.reduce((b, p) => (Math.abs(p[0] - x) < Math.abs(b[0] - x) ? p : b))[1];
  expect(over(0)).toBeCloseTo(2.3, 6);
  expect(over(2)).toBeCloseTo(2.4, 6);
  expect(s.why).toMatch(/through/);
  expect(drawSection(s).marks.length).toBeGreaterThan(5);
});
