/** Openings: kept in their walls and clear of each other; what hangs at one goes with it. Geometry, no figures of the trade. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { applyEdit, applyEdits } from './edits.ts';
import { openShoot } from './file.ts';
import { act, back, newHistory } from './history.ts';
import { HANGINGS, hungAt } from './hung.ts';
import { drawn, freeWall, hang, OPENING_KINDS, tellOpeningOf, wallUp } from './moreOpenings.ts';
import { misfit, onPlan, withLeaf } from './openings.ts';
import type { Opening, Place, Shoot } from './schema.ts';
import { nearestWall } from './walls.ts';

const opened = openShoot(readFileSync(new URL('../../shoots/kitchen.json', import.meta.url), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join('\n'));
const shoot: Shoot = opened.shoot;
const placeOf = (s: Shoot): Place => s.places.kitchen!;
const windowOf = (s: Shoot): Opening => placeOf(s).openings.window!;
const set = (s: Shoot, changes: Partial<Opening>) =>
  applyEdit(s, {
    edit: 'setOpening',
    args: { place: 'kitchen', id: 'window', opening: { ...windowOf(s), ...changes } },
  }).shoot;

test('what cannot be is refused in a sentence: past the wall, over the ceiling, under the floor, over another', () => {
  expect(() => set(shoot, { toM: 40 })).toThrow(/past the end of its wall/);
  expect(() => set(shoot, { headM: 9 })).toThrow(/above its wall/);
  expect(() => set(shoot, { sillM: -0.2 })).toThrow(/under the floor/);
  expect(() => set(shoot, { toM: windowOf(shoot).fromM })).toThrow(/wide at least/);
  const { door } = placeOf(shoot).openings;
  expect(() => set(shoot, { wall: door!.wall, fromM: door!.fromM, toM: door!.toM })).toThrow(
    /lie over the door/,
  );
  // One over the other in the same wall is another matter.
  const high = {
    ...windowOf(shoot),
    wall: door!.wall,
    fromM: door!.fromM,
    toM: door!.toM,
    sillM: 2.05,
    headM: 2.3,
  };
  expect(misfit(placeOf(shoot), 'window', high)).toBeUndefined();
});

test('what is in it is told without its hole being asked about; a leaf shut, swung and taken off', () => {
  const shut = withLeaf(windowOf(shoot), 0);
  expect(shut.fill).toBe('shut');
  expect(withLeaf(shut, 40)).toMatchObject({ fill: 'open', leafDeg: 40 });
  expect(withLeaf(shut, 300).leafDeg).toBe(170);
  expect('leafDeg' in withLeaf(withLeaf(shut, 40), 0)).toBe(false);
});

test('slid over another opening it stops beside it, on the nearer side', () => {
  const kind = OPENING_KINDS.find((k) => k.id === 'small-window')!;
  const there = onPlan(placeOf(shoot), windowOf(shoot))!;
  const made = tellOpeningOf(placeOf(shoot), 'kitchen', kind, there.middle);
  if (typeof made === 'string') throw new Error(made);
  const two = applyEdits(shoot, made.edits).shoot;
  const own = placeOf(two).openings[made.id]!;
  const other = windowOf(two);
  expect(own.wall).toBe(other.wall);
  expect(Math.min(Math.abs(own.toM - other.fromM), Math.abs(own.fromM - other.toM))).toBeLessThan(1e-6);
  const moved = applyEdit(two, {
    edit: 'moveOpening',
    args: { place: 'kitchen', id: made.id, fromM: other.fromM + 0.8 },
  }).shoot;
  expect(placeOf(moved).openings[made.id]!.fromM).toBeCloseTo(other.toM, 6);
});

test('every kind that can be typed is set into a free wall, none over another, until the walls are full', () => {
  let s = shoot;
  for (const kind of OPENING_KINDS) {
    const place = placeOf(s);
    const at = freeWall(place);
    expect(nearestWall(place.outline, at).offM).toBeLessThan(0.01);
    const made = tellOpeningOf(place, 'kitchen', kind, at);
    if (typeof made === 'string') continue;
    s = applyEdits(s, made.edits).shoot;
    expect(misfit(placeOf(s), made.id, placeOf(s).openings[made.id]!)).toBeUndefined();
  }
  expect(Object.keys(placeOf(s).openings).length).toBeGreaterThan(6);
  // A wall without room says so.
  let full = s;
  for (let i = 0; i < 40; i++) {
    const made = tellOpeningOf(placeOf(full), 'kitchen', OPENING_KINDS[0]!, [2, 0]);
    if (typeof made === 'string') return void expect(made).toMatch(/no room/);
    full = applyEdits(full, made.edits).shoot;
  }
  throw new Error('a wall took forty windows');
});

test('what is hung at a window is found there again, each kind by itself, and taken down by the same press', () => {
  for (const h of HANGINGS) {
    const up = applyEdits(shoot, hang(placeOf(shoot), 'kitchen', windowOf(shoot), h.kind)).shoot;
    expect(
      hungAt(placeOf(up), windowOf(up)).map((x) => x.is.kind),
      h.kind,
    ).toEqual([h.kind]);
    const door = placeOf(up).openings.door!;
    expect(hungAt(placeOf(up), door)).toEqual([]);
    const down = applyEdits(up, hang(placeOf(up), 'kitchen', windowOf(up), h.kind)).shoot;
    expect(placeOf(down).furniture).toEqual(placeOf(shoot).furniture);
  }
});

test('curtains go where their window goes, round a corner too, and grow with it; one step back is the way back', () => {
  const up = applyEdits(shoot, hang(placeOf(shoot), 'kitchen', windowOf(shoot), 'curtains')).shoot;
  const before = hungAt(placeOf(up), windowOf(up))[0]!.furniture;
  const history = act(newHistory(up), {
    edit: 'moveOpening',
    args: { place: 'kitchen', id: 'window', wall: 1, fromM: 1 },
  });
  const there = hungAt(placeOf(history.shoot), windowOf(history.shoot));
  expect(there).toHaveLength(1);
  // From the wall that looks south to the one that looks west.
  expect((((there[0]!.furniture.turnDeg! - before.turnDeg!) % 360) + 360) % 360).toBeCloseTo(270, 6);
  const off = nearestWall(placeOf(up).outline, [there[0]!.furniture.at[0], there[0]!.furniture.at[1]]);
  expect(off.wall).toBe(1);
  expect(off.offM).toBeCloseTo(nearestWall(placeOf(up).outline, [before.at[0], before.at[1]]).offM, 2);
  expect(back(history).shoot).toEqual(up);

  const wide = set(up, { toM: windowOf(up).toM + 0.3, headM: windowOf(up).headM + 0.1 });
  const grown = hungAt(placeOf(wide), windowOf(wide))[0]!.furniture;
  expect(grown.sizeM[0]).toBeCloseTo(before.sizeM[0] + 0.3, 6);
  expect(grown.sizeM[2]).toBeCloseTo(before.sizeM[2] + 0.1, 6);
  expect(placeOf(applyEdits(wide, wallUp(placeOf(wide), 'kitchen', 'window')).shoot).furniture).toEqual(
    placeOf(shoot).furniture,
  );
});

test('how far it is drawn keeps to what the stage can build', () => {
  const up = applyEdits(shoot, hang(placeOf(shoot), 'kitchen', windowOf(shoot), 'blind')).shoot;
  const { id, furniture, is } = hungAt(placeOf(up), windowOf(up))[0]!;
  const [down, tilt] = is.measures;
  const s = applyEdits(up, [drawn('kitchen', id, furniture, down!, 7)]).shoot;
  expect(placeOf(s).furniture[id]!.detail).toMatchObject({ downShare: 1 });
  const t = applyEdits(s, [drawn('kitchen', id, placeOf(s).furniture[id]!, tilt!, -20)]).shoot;
  expect(placeOf(t).furniture[id]!.detail).toMatchObject({ downShare: 1, tiltDeg: -20 });
});
