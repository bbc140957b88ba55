/** What is under a pointer: the finest first, the nearest among equals. */
import { expect, test } from 'vitest';
import type { DrawMark } from './display.ts';
import { type Grips, thingUnder, under } from './grips.ts';

const square = (x: number, y: number, h = 0.1): [number, number][] => [
  [x - h, y - h],
  [x + h, y - h],
  [x + h, y + h],
  [x - h, y + h],
];
const marks: DrawMark[] = [
  {
    kind: 'area',
    points: [
      [0, 0],
      [5, -2],
      [5, 2],
    ],
    tone: 'beam:1',
    ref: { kind: 'wedge', id: 'L1' },
  },
  {
    kind: 'line',
    points: [
      [0, 0],
      [5, 2],
    ],
    tone: 'lamp:1',
    weight: 'light',
    ref: { kind: 'beam', id: 'L1' },
  },
  { kind: 'area', points: square(0, 0), tone: 'lamp:1', ref: { kind: 'lamp', id: 'L1' } },
  {
    kind: 'circle',
    centre: [0, 0],
    radiusM: 0.45,
    tone: 'faint',
    dash: 'dot',
    ref: { kind: 'lamp', id: 'L1' },
  },
  { kind: 'area', points: square(3, 0, 0.2), tone: 'person', ref: { kind: 'mark', id: 'A' } },
  {
    kind: 'line',
    points: [
      [3, 0],
      [3.6, 0],
    ],
    tone: 'person',
    weight: 'light',
    ref: { kind: 'facing', id: 'A' },
  },
];
const grips = (chosen?: Grips['chosen'], points: Grips['points'] = []): Grips => ({
  marks,
  chosen,
  points,
  words: [{ ref: { kind: 'height', id: 'L1' }, box: { x: 0.2, y: 0.4, w: 1, h: 0.3 } }],
});
const lamp = { kind: 'lamp', id: 'L1' } as const;

test('a body under the pointer, or nearly', () => {
  expect(under(grips(), [0.05, 0], 0.1)).toEqual(lamp);
  expect(under(grips(), [0, -0.17], 0.1)).toEqual(lamp);
  expect(under(grips(), [3.1, 0.1], 0.1)).toEqual({ kind: 'mark', id: 'A' });
  // The dotted foot alone is no grip.
  expect(under(grips(), [-0.4, 0], 0.1)).toBeUndefined();
});

test('the figure of a height comes before the body, a chosen aim before what lies under it', () => {
  expect(under(grips(), [0.5, 0.5], 0.1)).toEqual({ kind: 'height', id: 'L1' });
  const aim = { ref: { kind: 'aim', id: 'L1' } as const, at: [3, 0] as const };
  expect(under(grips(lamp, [aim]), [3.02, 0], 0.1)).toEqual({ kind: 'aim', id: 'L1' });
});

test('an edge where it is clear of its root; the wedge only of what is chosen', () => {
  expect(under(grips(), [2.5, 1.02], 0.1)).toEqual({ kind: 'beam', id: 'L1' });
  expect(under(grips(), [4, -0.8], 0.1)).toBeUndefined();
  expect(under(grips(lamp), [4, -0.8], 0.1)).toEqual({ kind: 'wedge', id: 'L1' });
  expect(under(grips({ kind: 'lamp', id: 'L2' }), [4, -0.8], 0.1)).toBeUndefined();
});

test('openings: a tap on the wall chooses, a further tap what lies over it; taken only once chosen', () => {
  const hole = (id: string, y: number): DrawMark => ({
    kind: 'line',
    points: [
      [0, y],
      [1, y],
    ],
    tone: 'glass',
    weight: 'medium',
    ref: { kind: 'opening', id },
  });
  const curtains: DrawMark = {
    kind: 'line',
    points: [
      [0, 2.85],
      [1, 2.85],
      [1, 2.95],
      [0, 2.95],
      [0, 2.85],
    ],
    tone: 'furniture',
    weight: 'light',
    ref: { kind: 'furniture', id: 'curtains' },
  };
  const plan = [curtains, hole('low', 3), hole('high', 3)];
  const low = { kind: 'opening', id: 'low' } as const;
  const high = { kind: 'opening', id: 'high' } as const;
  // On the wall the opening, on the cloth the curtains, further off nothing.
  expect(thingUnder(plan, [0.5, 3.03], 0.05)).toEqual(low);
  expect(thingUnder(plan, [0.5, 2.9], 0.05)).toEqual({ kind: 'furniture', id: 'curtains' });
  expect(thingUnder(plan, [0.5, 3.2], 0.05)).toBeUndefined();
  expect(thingUnder(plan, [0.5, 3.2], 0.05, undefined, 0.25)).toEqual(low);
  expect(thingUnder(plan, [0.5, 3.03], 0.05, low)).toEqual(high);
  expect(thingUnder(plan, [0.5, 3.03], 0.05, high)).toEqual(low);
  const g = (chosen?: Grips['chosen']): Grips => ({ marks: plan, chosen, points: [], words: [] });
  expect(under(g(), [0.5, 3], 0.1)).toBeUndefined();
  expect(under(g(high), [0.5, 3], 0.1)).toEqual(high);
  // A beam's edge that passes by: nearer to the hole than to the edge the hole is meant.
  const beam: DrawMark = {
    kind: 'line',
    points: [
      [0.5, 0],
      [0.5, 3.1],
    ],
    tone: 'lamp:1',
    weight: 'light',
    ref: { kind: 'beam', id: 'L1' },
  };
  const crossed = { ...g(), marks: [...plan, beam] };
  expect(under(crossed, [0.55, 3], 0.1)).toBeUndefined();
  expect(under(crossed, [0.5, 2.8], 0.1)).toEqual({ kind: 'beam', id: 'L1' });
});
