/** A microphone over the frame and the shadow it would throw, against similar triangles worked by hand. */
import { expect, test } from 'vitest';
import type { Vec3 } from '../maths/vec3.ts';
import { viewOf } from '../setup/view.ts';
import { holders, micOver } from './boom.ts';
import { boomTroubles } from './boomTroubles.ts';
import type { SchemeContext } from './context.ts';
import type { FrameLight, Looked } from './frameLight.ts';

// Camera 3 m before A, level at 1.5 m; half the frame 0.36 and 0.2 of the depth. A looks at the lens; wall 2 m behind.
const view = viewOf({ at: [0, -3, 1.5], lookAt: [0, 0, 1.5], focalMm: 25, sensorMm: [18, 10] });
const eyes: Vec3 = [0, 0, 1.6];
const place = {
  outline: [
    [-4, -5],
    [4, -5],
    [4, 2],
    [-4, 2],
  ],
  openings: {},
  furniture: {},
  rigging: {},
  northDeg: 90,
};

test('the microphone hangs at the least height that is clear of the frame', () => {
  // 0.3 m before the face it is 2.7 m from the lens: the edge is 1.5 + 0.54 m high, and 0.1 m is kept.
  const mic = micOver(view, eyes, -90)!;
  expect(mic.tip[1]).toBeCloseTo(-0.3, 6);
  expect(mic.tip[2]).toBeGreaterThanOrEqual(2.14 - 1e-9);
  expect(mic.tip[2]).toBeLessThan(2.14 + 0.05);
  // In a frame that goes up to 3.2 m over A nobody holds it overhead; nor under a ceiling of 2.3 m.
  const wide = viewOf({ at: [0, -9, 1.5], lookAt: [0, 0, 1.5], focalMm: 25, sensorMm: [18, 10] });
  expect(micOver(wide, eyes, -90)).toBeUndefined();
  expect(micOver(view, eyes, -90, 2.3)).toBeUndefined();
});

test('who holds it stands out of frame, clear of people and of the camera', () => {
  const mic = micOver(view, eyes, -90)!;
  const found = holders(place as never, view, mic, [eyes]);
  expect(found.length).toBeGreaterThan(3);
  for (const h of found) {
    // Beyond the frame's side planes where it is before the lens.
    const depth = h.at[1] + 3;
    if (depth > 0) expect(Math.abs(h.at[0])).toBeGreaterThan(0.36 * depth);
    expect(Math.hypot(h.at[0], h.at[1])).toBeGreaterThan(0.6);
  }
});

/** The wall behind A as far as it is in frame, every 2 cm, wholly lit by one lamp. */
function lit(lampAt: Vec3, sizeM: number): FrameLight {
  const places: Looked[] = [];
  for (let x = -1.79; x < 1.8; x += 0.02)
    for (let z = 0.51; z < 2.5; z += 0.02)
      places.push({
        at: [x, 2, z],
        totalLx: 100,
        luminance: 1,
        part: 0,
        x: (x + 1.8) / 3.6,
        y: (2.5 - z) / 2,
      });
  const bare = new Float64Array(places.length).fill(90);
  return {
    places,
    lamps: [{ id: 'L1', at: lampAt, sizeM, bare, got: bare }],
    each: 1 / places.length,
    wide: 0.02 / 3.6,
    high: 0.02 / 2,
  };
}
const context = (lampAt: Vec3): SchemeContext =>
  ({
    place,
    greyCdM2: 1,
    seen: new Map([[1, { share: 0.1 }]]),
    angle: {
      view,
      scene: 's',
      angle: 'CA',
      marks: [{ id: 'A', part: 1, eyes, facingDeg: -90 }],
      rig: {
        lamps: { L1: { number: '1', on: true } },
        scene: { marks: { A: { posture: 'standing' } } },
        angle: {},
      },
      lamps: [{ id: 'L1', at: lampAt, sizeM: 0.1 }],
      transport: { stage: { parts: [{ id: 'wall:0', words: 'the north wall' }] } },
    },
  }) as unknown as SchemeContext;
const found = (lampAt: Vec3, sizeM = 0.1) => boomTroubles(context(lampAt), lit(lampAt, sizeM));

test('a hard lamp over the camera throws it where similar triangles say', () => {
  const lamp: Vec3 = [0, -2.5, 2.6];
  const mic = micOver(view, eyes, -90)!;
  const [t] = found(lamp);
  expect(t!.kind).toBe('shadow');
  expect(t!.says).toMatch(/A microphone over A, 0\.55 m above the eyes.*thrown by 1 on the north wall/);
  // Its lower end, 2.2 m from the lamp, falls on the wall 4.5 m from it.
  const low = lamp[2] + ((mic.tip[2] - lamp[2]) * 4.5) / 2.2;
  // Its radius grows in the same measure.
  const wide = (0.05 * 4.5) / 2.2;
  const bottom = 2.5 - 2 * t!.frame!.bottom;
  expect(Math.abs(bottom - (low - wide))).toBeLessThan(0.05);
  const [left, right] = [3.6 * t!.frame!.left - 1.8, 3.6 * t!.frame!.right - 1.8];
  expect(Math.abs(right - left - 2 * wide)).toBeLessThan(0.06);
});

test('none from a lamp far round to the side, nor from a soft one, nor where another lamp fills it', () => {
  // From 3 m to the side the shadow goes 9.9 m along before it meets the wall.
  expect(found([-3, -1, 2.6])).toEqual([]);
  // Half-shadow 1.2 · 2.3 / 2.2 m against a microphone of 0.1 m.
  expect(found([0, -2.5, 2.6], 1.2)).toEqual([]);
  const weak = lit([0, -2.5, 2.6], 0.1);
  weak.lamps[0]!.bare.fill(20);
  expect(boomTroubles(context([0, -2.5, 2.6]), weak)).toEqual([]);
});
