/** Laws of hands on the plan. Steps, walls and beams are geometry; nothing here is a figure of the trade. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { openShoot } from '../shoot/file.ts';
import { back, drag, drop, newHistory } from '../shoot/history.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { Ground } from './ground.ts';
import { type Hand, moved, type Taken, take } from './hands.ts';
import { pressed, type Run } from './keys.ts';
import { isWhole, nearer } from './paper.ts';
import { along, stepped, toHolder, toWalls } from './snap.ts';

const opened = openShoot(readFileSync('shoots/slack-water.json', 'utf8'));
if (!opened.ok) throw new Error(opened.message.join(' '));
const shoot = opened.shoot;
const place = shoot.places.shed!;
const scene = Object.keys(shoot.scenes)[0]!;

/** A pillar of a metre across at (6, 2), and nothing within 0.45 m of a wall, for any stand. */
const ground: Ground = {
  outline: place.outline,
  holders: Object.entries(place.rigging).map(([id, r]) => ({
    id,
    words: r.words ?? id,
    from: r.from,
    to: r.to,
  })),
  refuses: (support, at) => {
    if (support.kind !== 'stand') return [];
    const pillar = Math.hypot(at[0] - 6, at[1] - 2) < 0.5 + 0.45;
    const wall = place.outline.some(
      (a, i) => along(a, place.outline[(i + 1) % 4]!, [at[0], at[1]]).offM < 0.449,
    );
    return pillar ? [{ kind: 'foot', why: 'the pillar' }] : wall ? [{ kind: 'foot', why: 'the wall' }] : [];
  },
  restsOn: () => ({ heightM: 0 }),
  clamp: { kind: 'clamp', kit: 'clamp', bond: true },
  stand: { support: { kind: 'stand', kit: 'stand', footM: 0.45 }, lowestM: 1.1, highestM: 2.6 },
};
const onStand = (s: Shoot, at: [number, number, number]): Shoot => {
  const copy = structuredClone(s);
  const lamp = copy.scenes[scene]!.rig.lamps.L1!;
  lamp.at = at;
  lamp.support = { kind: 'stand', kit: 'stand', footM: 0.45 };
  return copy;
};
const taken = (s: Shoot, alone = false, angle = 'CA'): Taken => ({
  scene,
  angle,
  alone,
  rig: rigFor(s, { scene, angle }),
  ground,
  focusAt: (_lamp, half) => Math.max(0, Math.min(1, 1 - half / 60)),
});
const touch = (to: readonly [number, number], free = false, reachM = 0.15) => ({ to, free, reachM, upPx: 0 });
const placeIn = (h: Hand) => h.edits.find((e) => e.edit === 'moveLamp')!.args.to as number[];

/** Numbers from a seed, evenly in 0–1 (a multiplicative congruence, modulus 2³¹ − 1). */
const chance = (seed: number) => () => {
  seed = (seed * 48271) % 2147483647;
  return seed / 2147483647;
};

test('every step is a whole number of 5 cm unless it is free', () => {
  const rnd = chance(5);
  for (let i = 0; i < 200; i++) {
    const v = rnd() * 20 - 10;
    const n = stepped(v, false) / 0.05;
    expect(Math.abs(n - Math.round(n))).toBeLessThan(1e-9);
    expect(Math.abs(stepped(v, false) - v)).toBeLessThanOrEqual(0.025 + 1e-9);
    expect(Math.abs(stepped(v, true) - v)).toBeLessThanOrEqual(0.0005 + 1e-9);
  }
});

test('a foot drawn to a wall touches it; in a corner it touches both; far off it is left alone', () => {
  const to = toWalls(place.outline, [4, 0.55], 0.45, 0.15)!;
  expect(to).toEqual([4, 0.45]);
  expect(toWalls(place.outline, [8.5, 5], 0.45, 0.15)).toEqual([8.55, 5.05]);
  expect(toWalls(place.outline, [4, 2], 0.45, 0.15)).toBeUndefined();
  // From outside it touches from outside.
  expect(toWalls(place.outline, [4, -0.5], 0.45, 0.15)).toEqual([4, -0.45]);
});

test('what comes to a beam hangs on its middle line, between its ends, in steps along it', () => {
  const held = toHolder(ground.holders, [1.58, 3.33], 0.15, false)!;
  expect(held.holder.id).toBe('beam1');
  expect(held.at).toEqual([1.5, 3.35, 3.6]);
  expect(toHolder(ground.holders, [1.58, 9], 0.15, false)).toBeUndefined();
  expect(toHolder(ground.holders, [2, 3], 0.15, false)).toBeUndefined();
});

test('a stand never comes to rest where it cannot, by whatever way the hand goes', () => {
  const rnd = chance(11);
  for (let run = 0; run < 60; run++) {
    const s = onStand(shoot, [3, 3, 2]);
    let hand = take({ kind: 'lamp', id: 'L1' }, [3, 3], {
      ...taken(s),
      ground: { ...ground, clamp: undefined },
    })!;
    for (let i = 0; i < 25; i++) {
      const to = [rnd() * 9, rnd() * 5.5] as const;
      hand = moved(hand, touch(to, rnd() < 0.3));
      const { here } = hand.carrying!;
      expect(ground.refuses(here.support, here.at)).toEqual([]);
      // It stops only where it says why, and then nearer to the hand than it would be by staying behind.
      const stopped = Math.hypot(here.at[0] - to[0], here.at[1] - to[1]) > 0.25;
      if (stopped) expect(hand.refused?.why).toMatch(/pillar|wall/);
    }
  }
});

test('where it cannot stand it says why and stays at the last place at which it can', () => {
  const s = onStand(shoot, [4.5, 2, 2]);
  let hand = take({ kind: 'lamp', id: 'L1' }, [4.5, 2], {
    ...taken(s),
    ground: { ...ground, clamp: undefined },
  })!;
  hand = moved(hand, touch([6, 2]));
  expect(hand.refused).toEqual({ at: [6, 2], why: 'the pillar' });
  expect(placeIn(hand)).toEqual([5.05, 2, 2]);
  // A hand that goes on to clear floor takes it there, over what was in the way.
  hand = moved(hand, touch([7.5, 2]));
  expect(hand.refused).toBeUndefined();
  expect(placeIn(hand)).toEqual([7.5, 2, 2]);
});

test('a stand dropped on a beam is clamped to it; taken off again it is on its stand', () => {
  const s = onStand(shoot, [3, 3, 2.9]);
  let hand = take({ kind: 'lamp', id: 'L1' }, [3, 3], taken(s))!;
  hand = moved(hand, touch([3.95, 3.1]));
  expect(placeIn(hand)).toEqual([4, 3.1, 2.9]);
  expect(hand.edits[1]).toEqual({
    edit: 'setSupport',
    args: {
      scene,
      lamp: 'L1',
      support: { kind: 'clamp', kit: 'clamp', on: 'beam2', dropM: 0.7, bond: true },
    },
  });
  expect(hand.says).toBe('clamped to the middle tie beam');
  hand = moved(hand, touch([3, 2.5]));
  expect(hand.edits).toEqual([{ edit: 'moveLamp', args: { scene, lamp: 'L1', to: [3, 2.5, 2.9] } }]);
});

test('a clamped lamp slides along its beam and, off it, takes a stand that is free, or says that none is', () => {
  let hand = take({ kind: 'lamp', id: 'L1' }, [1.5, 4.5], taken(shoot))!;
  hand = moved(hand, touch([1.9, 3.02]));
  expect(hand.edits).toEqual([{ edit: 'moveLamp', args: { scene, lamp: 'L1', to: [1.5, 3, 2.9] } }]);
  hand = moved(hand, touch([2.7, 3]));
  expect(placeIn(hand)).toEqual([2.7, 3, 2.6]);
  expect(hand.edits[1]!.args.support).toEqual({ kind: 'stand', kit: 'stand', footM: 0.45 });

  const none = { ...taken(shoot), ground: { ...ground, stand: undefined } };
  hand = moved(take({ kind: 'lamp', id: 'L1' }, [1.5, 4.5], none)!, touch([2.7, 3]));
  expect(hand.refused?.why).toMatch(/nothing there to clamp it to, and no stand/);
  expect(placeIn(hand).slice(0, 2)).toEqual([1.5, 4.5]);
});

test('what the hand takes is what moves: a cheated lamp is its angle’s, its dashed place the rig’s', () => {
  const s = structuredClone(shoot);
  s.scenes[scene]!.angles.CA!.cheats.L1 = { at: [1.5, 3, 2.9] };
  const cheated = moved(take({ kind: 'lamp', id: 'L1' }, [1.5, 3], taken(s))!, touch([1.5, 2.5]));
  expect(cheated.edits[0]!.args).toEqual({ scene, angle: 'CA', lamp: 'L1', to: [1.5, 2.5, 2.9] });
  const rig = moved(take({ kind: 'rigPlace', id: 'L1' }, [1.5, 4.5], taken(s, true))!, touch([1.5, 4]));
  expect(rig.edits[0]!.args).toEqual({ scene, lamp: 'L1', to: [1.5, 4, 2.9] });
  // Its aim is still the rig's, because the angle does not cheat it.
  const aim = moved(take({ kind: 'aim', id: 'L1' }, [4.7, 2.6], taken(s))!, touch([6, 1]));
  expect(aim.edits[0]!.args.angle).toBeUndefined();
});

test('an aim near a mark is at its eyes; the wedge swings about the lamp by what the hand swings', () => {
  const at = moved(take({ kind: 'aim', id: 'L1' }, [4.7, 2.6], taken(shoot))!, touch([3.4, 2.7]));
  expect(at.edits[0]).toEqual({ edit: 'aimLamp', args: { scene, lamp: 'L1', mark: 'A' } });
  const l = shoot.scenes[scene]!.rig.lamps.L1!;
  const far = Math.hypot(l.aim[0] - l.at[0], l.aim[1] - l.at[1]);
  const a0 = Math.atan2(l.aim[1] - l.at[1], l.aim[0] - l.at[0]);
  const from = [l.at[0] + Math.cos(a0), l.at[1] + Math.sin(a0)] as const;
  const to = [l.at[0] + Math.cos(a0 + 0.5), l.at[1] + Math.sin(a0 + 0.5)] as const;
  const hand = moved(take({ kind: 'wedge', id: 'L1' }, from, taken(shoot))!, touch(to, true));
  const aim = hand.edits[0]!.args.at as number[];
  expect(Math.hypot(aim[0]! - l.at[0], aim[1]! - l.at[1])).toBeCloseTo(far, 2);
  expect(Math.atan2(aim[1]! - l.at[1], aim[0]! - l.at[0]) - a0).toBeCloseTo(0.5, 2);
});

test('a lens edge under the hand is the focal length whose half-angle is there: f = w / (2 tan α)', () => {
  const a = shoot.scenes[scene]!.angles.CA!;
  const axis = Math.atan2(a.lookAt[1] - a.at[1], a.lookAt[0] - a.at[0]);
  const half = Math.atan(a.sensorMm[0] / (2 * 35));
  const to = [a.at[0] + 2 * Math.cos(axis + half), a.at[1] + 2 * Math.sin(axis + half)] as const;
  const hand = moved(take({ kind: 'lens', id: 'CA' }, [0, 0], taken(shoot))!, touch(to));
  expect(hand.edits[0]).toEqual({ edit: 'setLens', args: { scene, angle: 'CA', focalMm: 35 } });
});

test('a drag is one step, whatever it went through, and back brings the shoot as it was', () => {
  let h = newHistory(shoot);
  let hand = take({ kind: 'lamp', id: 'L1' }, [1.5, 4.5], taken(shoot))!;
  for (const to of [
    [1.5, 4],
    [2.7, 3],
    [3.9, 3],
    [1.6, 2],
  ] as const) {
    hand = moved(hand, touch(to));
    h = drag(h, hand.edits);
  }
  h = drop(h);
  expect(h.done).toHaveLength(1);
  expect(h.shoot).not.toEqual(shoot);
  expect(back(h).shoot).toEqual(shoot);
  // There and back again is no step at all.
  let g = newHistory(shoot);
  hand = take({ kind: 'lamp', id: 'L1' }, [1.5, 4.5], taken(shoot))!;
  for (const to of [
    [1.5, 4],
    [1.5, 4.5],
  ] as const) {
    hand = moved(hand, touch(to));
    g = drag(g, hand.edits);
  }
  expect(drop(g).done).toHaveLength(0);
});

test('keys do what hands do: a run of presses is one hand, whose steps add up', () => {
  const key = (run: Run | undefined, k: string, more = {}) =>
    pressed(run, { kind: 'lamp', id: 'L4' }, { key: k, shift: false, alt: false, ...more }, taken(shoot));
  let run = key(undefined, 'ArrowLeft');
  run = key(run, 'ArrowLeft');
  run = key(run, 'ArrowUp');
  expect(placeIn(run!.hand).slice(0, 2)).toEqual([6.9, 2.65]);
  run = key(run, 'ArrowUp', { shift: true });
  expect(placeIn(run!.hand).slice(0, 2)).toEqual([6.9, 2.66]);
  // A finer press, another grip: a run of its own.
  run = key(run, '.');
  run = key(run, '.');
  expect(run!.hand.edits).toEqual([{ edit: 'focusLamp', args: { scene, lamp: 'L4', focus: 0.1 } }]);
  expect(key(undefined, 'x')).toBeUndefined();
});

test('a key that meets a wall stops there, and the press back leaves it at once', () => {
  const s = onStand(shoot, [0.6, 3, 2]);
  const t = { ...taken(s), ground: { ...ground, clamp: undefined } };
  const key = (run: Run | undefined, k: string) =>
    pressed(run, { kind: 'lamp', id: 'L1' }, { key: k, shift: false, alt: false }, t);
  let run: Run | undefined;
  for (let i = 0; i < 9; i++) run = key(run, 'ArrowLeft');
  expect(placeIn(run!.hand)[0]).toBe(0.45);
  expect(run!.hand.refused?.why).toBe('the wall');
  run = key(run, 'ArrowRight');
  expect(placeIn(run!.hand)[0]).toBe(0.5);
});

test('nearer about a point leaves that point where it is; never further than the whole', () => {
  const whole = { x: 0, y: 0, w: 9, h: 6 };
  const near = nearer(whole, whole, [4, 2], 2);
  expect(near.w).toBeCloseTo(4.5, 12);
  expect((4 - near.x) / near.w).toBeCloseTo(4 / 9, 12);
  expect((2 - near.y) / near.h).toBeCloseTo(2 / 6, 12);
  expect(isWhole(nearer(near, whole, [8, 5], 0.1), whole)).toBe(true);
});

test('a window slides along its wall and round the corner, in steps; keys raise and widen it, a door is swung', () => {
  const before = place.openings.door!;
  const ref = { kind: 'opening', id: 'door' } as const;
  const at: [number, number] = [place.outline[1]![0], 1];
  const slid = moved(take(ref, at, taken(shoot))!, { to: [at[0], 1.52], upPx: 0, free: false, reachM: 0.1 });
  const s = drop(drag(newHistory(shoot), slid.edits)).shoot;
  expect(s.places.shed!.openings.door!.fromM).toBeCloseTo(before.fromM + 0.5, 6);
  // Off along the north wall.
  const north = place.outline[2]![1];
  const round = moved(slid, { to: [6.5, north], upPx: 0, free: false, reachM: 0.1 });
  expect(drop(drag(newHistory(shoot), round.edits)).shoot.places.shed!.openings.door!.wall).toBe(2);

  const keys = (list: readonly string[]) => {
    let run: Run | undefined;
    for (const key of list) run = pressed(run, ref, { key, shift: false, alt: false }, taken(shoot))!;
    return {
      run: run!,
      opening: drop(drag(newHistory(shoot), run!.hand.edits)).shoot.places.shed!.openings.door!,
    };
  };
  expect(keys(['ArrowUp', 'ArrowUp']).opening.fromM).toBeCloseTo(before.fromM + 0.1, 6);
  const wider = keys(['.', '.']).opening;
  expect(wider.toM - wider.fromM).toBeCloseTo(before.toM - before.fromM + 0.1, 6);
  expect(keys(['[', '[', ']']).opening).toMatchObject({ fill: 'open', leafDeg: 5 });
  expect(keys(['[', ']']).run.hand.edits).toHaveLength(1);
  expect(keys(['PageUp']).opening.sillM).toBeCloseTo(before.sillM + 0.05, 6);
  // Under the floor it does not go, and the run goes on from where it stopped.
  const stopped = keys(['PageDown', 'PageDown', 'PageUp']);
  expect(stopped.opening.sillM).toBeCloseTo(before.sillM + 0.05, 6);
  expect(
    pressed(undefined, ref, { key: 'PageDown', shift: false, alt: false }, taken(shoot))!.hand.refused!.why,
  ).toMatch(/under the floor/);
});
