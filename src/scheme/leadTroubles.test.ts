/** Leads in frame and across walks: lengths by hand in an empty room, where everything on the floor is seen. */
import { expect, test } from 'vitest';
import { viewOf } from '../setup/view.ts';
import type { Place, RigLamp } from '../shoot/schema.ts';
import type { SchemeContext } from './context.ts';
import { leadRoute } from './leadRoute.ts';
import { leadTroubles } from './leadTroubles.ts';

const place = {
  outline: [
    [0, 0],
    [4, 0],
    [4, 4],
    [0, 4],
  ],
  openings: {},
  furniture: {},
  rigging: {},
  supply: { sockets: { K1: { at: [0, 2, 0.3], words: 'K1' }, K2: { at: [2, 4, 0.3], words: 'K2' } } },
} as unknown as Place;

const lamp = (at: [number, number, number], more: Record<string, unknown> = {}): RigLamp =>
  ({
    number: '1',
    on: true,
    at,
    aim: [2, 2, 1],
    support: { kind: 'stand' },
    feed: { socket: 'K1', leads: [{ kit: 'five' }] },
    ...more,
  }) as unknown as RigLamp;

/** A room seen by a camera that nothing hides anything from. */
function seenBy(
  camera: { at: [number, number, number]; lookAt: [number, number, number]; focalMm: number },
  lamps: Record<string, RigLamp>,
  marks: Record<string, unknown> = {},
  floorCdM2 = 1,
): SchemeContext {
  const view = viewOf({ ...camera, sensorMm: [20, 12] });
  return {
    place,
    shoot: { kit: { leads: { five: { lengthM: 5 } } } },
    angle: { view, scene: 's', angle: 'W', rig: { lamps, scene: { marks }, angle: {} } },
    greyCdM2: 1,
    lit: {
      hits: {
        width: 1,
        height: 1,
        pixelStart: Uint32Array.of(0, 1),
        depth: Float32Array.of(1e6),
      },
      xyz: Float32Array.of(0, floorCdM2, 0),
    },
  } as unknown as SchemeContext;
}

// Straight down from 3 m, half the frame 10/40 and 6/40 of the depth: 2.99 m over the lead, 0.7475 to each side.
const above = { at: [2, 2, 3], lookAt: [2, 2, 0], focalMm: 40 } as const;
const overhead = { ...above, at: [...above.at], lookAt: [...above.lookAt] } as {
  at: [number, number, number];
  lookAt: [number, number, number];
  focalMm: number;
};

test('a lead over open floor is in frame for as long as it lies in it', () => {
  // From K1 straight out to x = 1.9: in frame from 2 − 0.7475 on.
  const [t] = leadTroubles(seenBy(overhead, { L1: lamp([1.9, 2, 2]) }));
  expect(t!.kind).toBe('lead-in-frame');
  expect(t!.severity).toBe(2);
  expect(t!.size).toBeGreaterThan(1.9 - 1.2525 - 0.05);
  expect(t!.size).toBeLessThan(1.9 - 1.2525 + 0.05);
  expect(t!.says).toMatch(/^The lead of 1 from K1 is in frame: 0\.[67] m over open floor/);
  // Where it shows: from the left edge of the frame to the lamp, across the middle.
  expect(t!.frame!.left).toBeLessThan(0.04);
  expect(t!.frame!.right).toBeCloseTo((1.9 - 1.2525) / 1.495, 1);
});

test('out of frame, taped, of the story, in the dark, hung from a beam: no trouble', () => {
  const none = (l: RigLamp, floor = 1) =>
    expect(leadTroubles(seenBy(overhead, { L1: l }, {}, floor))).toEqual([]);
  none(lamp([1.2, 2, 2]));
  none(lamp([1.9, 2, 2], { feed: { socket: 'K1', leads: [], taped: true } }));
  none(lamp([1.9, 2, 2], { practical: true }));
  none(lamp([1.9, 2, 2], { feed: undefined }));
  none(lamp([1.9, 2, 2]), 2 ** -4);
  none(lamp([1.9, 2, 2], { support: { kind: 'clamp' } }));
});

test('along the foot of a wall it is a note: tape hides it', () => {
  // K2 in the north wall, the lamp in the south-west corner: the frame looks at the north-west one.
  const corner = { at: [1, 3, 3], lookAt: [0.4, 3.6, 0], focalMm: 20 } as typeof overhead;
  const l = lamp([0.3, 0.5, 2], { feed: { socket: 'K2', leads: [{ kit: 'five' }] } });
  const [t] = leadTroubles(seenBy(corner, { L1: l }));
  expect(t!.severity).toBe(1);
  expect(t!.says).toMatch(/along the foot of a wall/);
  expect(t!.says).not.toMatch(/open floor/);
});

test('cures: the other socket where its way is out of frame, with the lead that is missing; tape always', () => {
  const c = seenBy(overhead, { L1: lamp([1.9, 2, 2]) });
  const ideas = leadTroubles(c)[0]!.ideas();
  expect(ideas.map((i) => i.act)).toContain('Tape the lead of 1 down and cover it where it shows');
  // By K2, round the north wall and the west one, the last leg is the same: not offered.
  expect(ideas.some((i) => i.act.startsWith('Plug'))).toBe(false);
  // 1.7 m from the north wall it may come from there.
  const other = leadTroubles(seenBy(overhead, { L1: lamp([2, 2.05, 2]) }));
  expect(other[0]!.ideas().every((i) => i.edit === 'setFeed')).toBe(true);
});

test('a way round that another angle looks at is offered with that said', () => {
  // From K1 south along the west wall and east to under the lamp, 4 m; the frame sees 0.9 m of the west wall's foot.
  const down = { at: [0.6, 1, 3], lookAt: [0.6, 1, 0], focalMm: 40 } as typeof overhead;
  const c = seenBy(down, { L1: lamp([2, 0.5, 2]) });
  const [t] = leadTroubles(c);
  expect(t!.severity).toBe(1);
  expect(t!.size).toBeGreaterThan(0.8);
  expect(t!.size).toBeLessThan(1);
  const right = () => t!.ideas().find((i) => /round to the right/.test(i.act))!.act;
  // 12 m round, slack and climb to it: more than the five metres there are.
  expect(right()).not.toMatch(/may see it/);
  expect(t!.ideas().find((i) => /round to the right/.test(i.act))!.needs).toMatch(/more lead$/);
  // The other angle looks along the north wall.
  (c.angle.rig.scene as { angles: unknown }).angles = {
    W: {},
    E: { at: [2, 1, 1.5], lookAt: [2, 3.9, 0.2], focalMm: 25, sensorMm: [20, 12] },
  };
  expect(right()).toMatch(/; E may see it then$/);
});

test('told which way round, a lead goes that way: left and right as one faces the wall', () => {
  const l = lamp([3.6, 2, 2]);
  const way = (w?: 'left' | 'right') =>
    leadRoute(place, [0, 2, 0.3], w ? { ...l, feed: { ...l.feed!, way: w } } : l).points;
  // Facing the west wall, left is south.
  expect(Math.max(...way('left').map((p) => p[1]))).toBeLessThan(2.2);
  expect(Math.min(...way('right').map((p) => p[1]))).toBeGreaterThan(1.8);
  // Both ways round are as long here: 2 + 4 + 2.
  const long = (p: (readonly [number, number])[]) =>
    p.slice(1).reduce((s, q, i) => s + Math.hypot(q[0] - p[i]![0], q[1] - p[i]![1]), 0);
  expect(long(way('left'))).toBeCloseTo(long(way('right')), 6);
});

test('a lead across the walk of one person from mark to mark; not where it lies beside it', () => {
  const marks = (b: [number, number]) => ({
    A1: { person: 'ann', at: [1, 1] },
    A2: { person: 'ann', at: b },
    B: { person: 'ben', at: [3, 3] },
  });
  const far = { at: [9, 9, 1], lookAt: [19, 9, 1], focalMm: 40 } as typeof overhead;
  const found = (b: [number, number]) => leadTroubles(seenBy(far, { L1: lamp([1.9, 2, 2]) }, marks(b)));
  expect(found([1, 3])[0]!.says).toMatch(/across the way of ann from A1 to A2/);
  expect(found([3, 1])).toEqual([]);
});
