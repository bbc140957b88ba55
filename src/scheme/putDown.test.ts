import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { leadsTo } from '../setup/gaps.ts';
import { BEAM_THINGS } from '../shoot/cloths.ts';
import { applyEdits } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import { roomAt } from '../shoot/rooms.ts';
import { THINGS } from '../shoot/things.ts';
import { boundsOf } from '../shoot/walls.ts';
import { BUILDERS } from '../stage/furniture.ts';
import { PATTERNS } from '../stage/patterns/patterns.ts';
import { putDown, searchPuttable } from './putDown.ts';

const opened = openShoot(readFileSync('shoots/kitchen.json', 'utf8'));
if (!opened.ok) throw new Error(opened.message.join());
const { shoot } = opened;
const [scene, sc] = Object.entries(shoot.scenes)[0]!;
const angle = Object.keys(sc.angles)[0]!;
const ref = { scene, angle };
const first = (text: string) => searchPuttable(shoot, scene, text)[0]!;

test('everything that the stage can build is found by typing its name', () => {
  const kinds = new Set(THINGS.map((t) => t.kind));
  // Parts of other things, not set down by themselves.
  const parts = new Set(['cylinder']);
  expect(Object.keys(BUILDERS).filter((k) => !kinds.has(k) && !parts.has(k))).toEqual([]);
  const cut = new Set(BEAM_THINGS.map((t) => t.pattern));
  expect(PATTERNS.filter((p) => !cut.has(p.kind))).toEqual([]);
  for (const t of BEAM_THINGS)
    expect(
      searchPuttable(shoot, scene, t.words, 20).some((f) => f.sort === 'beam' && f.id === t.id),
      t.words,
    ).toBe(true);
  for (const t of THINGS) {
    const found = searchPuttable(shoot, scene, t.words, 20);
    expect(
      found.some((f) => f.sort === 'thing' && f.id === t.id),
      t.words,
    ).toBe(true);
  }
});

describe('set down by a tap', () => {
  test.each([
    ['650 w fresnel', 'lamp'],
    ['half net', 'beam'],
    ['black cloth', 'beam'],
    ['silver', 'beam'],
    ['bed sheet', 'beam'],
    ['window gobo', 'beam'],
    ['slats', 'beam'],
    ['leafy branch', 'beam'],
    ['fridge', 'thing'],
    ['woman of 42', 'person'],
    ['one more room', 'room'],
    ['hallway', 'room'],
    ['window', 'opening'],
    ['french', 'opening'],
    ['doorway', 'opening'],
  ])('%s', (text, sort) => {
    const what = searchPuttable(shoot, scene, text).find((w) => w.sort === sort)!;
    const made = putDown(shoot, ref, what, [1.4, 1.3]);
    // Named edits that the document takes: a valid shoot comes out, with one thing more.
    const after = applyEdits(shoot, made.edits).shoot;
    const s = after.scenes[scene]!;
    const group = {
      lamp: s.rig.lamps,
      flag: s.rig.flags,
      furniture: after.places[s.place]!.furniture,
      mark: s.marks,
      room: after.places[s.place]!.rooms ?? {},
      opening: after.places[s.place]!.openings,
    };
    expect(group[made.ref.kind][made.ref.id]).toBeDefined();
  });

  test('a lamp of the kit that nobody burns is taken before another is supposed; it is aimed at a face', () => {
    const what = first('60 w household bulb');
    const once = applyEdits(shoot, putDown(shoot, ref, what, [1.2, 1.2]).edits).shoot;
    const lamps = Object.values(once.scenes[scene]!.rig.lamps);
    const heads = lamps.map((l) => l.head);
    expect(new Set(heads).size).toBe(heads.length);
    const numbers = lamps.map((l) => l.number);
    expect(new Set(numbers).size).toBe(numbers.length);
    const eyes = Object.values(sc.marks).map((m) => [...m.at, m.eyeM].join());
    expect(eyes).toContain(lamps.at(-1)!.aim.join());
  });

  test('a net tapped into a beam stands square to it: its face looks back along the line to the lamp', () => {
    const l = Object.values(sc.rig.lamps).find(
      (x) => x.on && Math.hypot(x.aim[0] - x.at[0], x.aim[1] - x.at[1]) > 1,
    )!;
    const tap: [number, number] = [(l.at[0] + l.aim[0]) / 2, (l.at[1] + l.aim[1]) / 2];
    const made = putDown(shoot, ref, first('half net'), tap);
    const flag = applyEdits(shoot, made.edits).shoot.scenes[scene]!.rig.flags[made.ref.id]!;
    const back = [0, 1, 2].map((k) => l.at[k]! - flag.at[k]!);
    const n = Math.hypot(...back);
    const cos = back.reduce((s, v, k) => s + (v / n) * flag.facing[k]!, 0);
    expect(cos).toBeGreaterThan(0.999);
    // Half way along, half way down (the tap is rounded to a centimetre).
    expect(Math.abs(flag.at[2] - (l.at[2] + l.aim[2]) / 2)).toBeLessThan(0.02);
  });

  test('a room tapped in beyond a wall is joined to it by an open doorway, one after the other', () => {
    // East of the kitchen, then a passage further on, then one that has no place left.
    const room = putDown(shoot, ref, first('one more room'), [5.5, 1.7]);
    const then = applyEdits(shoot, room.edits).shoot;
    const place = then.places[sc.place]!;
    const way = Object.values(place.openings).find((o) => leadsTo(place, o)?.id === room.ref.id)!;
    expect(way.fill).toBe('open');
    expect(roomAt(place, [5.5, 1.7])!.id).toBe(room.ref.id);
    const b = boundsOf(place.rooms![room.ref.id]!.outline);
    // Behind 12 cm of wall, of the size it says (the wall is 3.4 m long).
    expect(b.x0).toBeCloseTo(4.32, 6);
    expect([b.x1 - b.x0, b.y1 - b.y0].map((v) => +v.toFixed(3))).toEqual([3.2, 3.4]);
    const next = putDown(then, ref, first('passage'), [7.9, 1.7]);
    const two = applyEdits(then, next.edits).shoot.places[sc.place]!;
    expect(Object.keys(two.rooms!)).toHaveLength(2);
    const on = Object.values(two.openings).find((o) => leadsTo(two, o)?.id === next.ref.id)!;
    expect(on.room).toBe(room.ref.id);
  });

  test('what has no such name is not found', () => {
    expect(searchPuttable(shoot, scene, 'xylophone')).toEqual([]);
  });
});
