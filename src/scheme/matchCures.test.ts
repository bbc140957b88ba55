/**
 * Cheats of a close-up are traced before they are offered: what is said of them is what the same cut says once they are
 * made. Laws of the program itself; nothing here is a figure of the trade.
 */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { SpotReading } from '../readings/readAngle.ts';
import type { MarkReading } from '../readings/readMark.ts';
import { openShoot } from '../shoot/file.ts';
import type { Shoot } from '../shoot/schema.ts';
import { MATCH, type MatchRead, nearerOf } from './match.ts';
import { nearerTried } from './matchCures.ts';
import type { Found } from './trouble.ts';
import type { Tried, Trier } from './tryCures.ts';

const opened = openShoot(readFileSync(new URL('../../shoots/kitchen.json', import.meta.url), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join('\n'));
const shoot: Shoot = opened.shoot;
const lampIn = Object.keys(shoot.scenes.rent!.rig.lamps)[0]!;

const face = (overStops: number, mark = 'A'): MarkReading => ({
  ...{ mark, toward: lampIn, incidentLx: 330, towardCameraLx: 250, askedT: 2.8, overStops, bandStops: 0.4 },
  ...{
    doubts: [],
    metered: false,
    ratioStops: 2,
    ratio: 4,
    ratioBandStops: 0.3,
    convention: '',
    keyToRest: 4,
  },
  ...{ backOverKeyStops: -0.5, litOverGreyStops: 0.5, shadeOverGreyStops: -1.5, litSide: 'left' },
  litXyz: [1, 1, 1],
  shadeXyz: [1, 1, 1],
  face: undefined,
  lamps: [
    {
      ...{
        lamp: lampIn,
        azimuthDeg: 40,
        elevationDeg: 30,
        side: 'left',
        distanceM: 2,
        directLx: 300 * 2 ** overStops,
      },
      ...{ bouncedLx: 20, lx: 320, overStops, role: 'key', clock: 8 },
    },
  ],
});
const spotId = Object.keys(shoot.scenes.rent!.spots)[0]!;
const spot = (underKeyStops: number): SpotReading =>
  ({
    ...{ spot: spotId, kind: 'wall', lx: 50, underKeyStops, overGreyStops: -underKeyStops, bandStops: 0.4 },
    ...{ doubts: [], metered: false, seen: true, lamps: [], xyz: [1, 1, 1] },
  }) as SpotReading;
const read = (angle: string, marks: MarkReading[], under = 2): MatchRead => ({
  ...{ ref: { scene: 'rent', angle }, marks, facesSeen: marks.map((m) => m.mark), spots: [spot(under)] },
  ...{ eRefLx: 300, balance: { cctK: 3200, duv: 0 }, lamps: [] },
});
const told = (marks: MarkReading[], under = 2, found: Partial<Found>[] = []) => ({
  angle: { marks: marks.map((m, i) => ({ id: m.mark, part: i })), rig: shoot.scenes.rent!.rig },
  reading: { marks, spots: [spot(under)], seen: new Map(marks.map((_, i) => [i, {}])) },
  ...{ eRefLx: 300, balance: { cctK: 3200, duv: 0 }, found },
});
/** Trying comes to what the test says it comes to. */
const trial = (before: ReturnType<typeof told>, after: ReturnType<typeof told> | undefined) => {
  const asked: unknown[] = [];
  const of = async (ideas: unknown) => {
    asked.push(ideas);
    return after && ({ before, after, elsewhere: [] } as unknown as Tried);
  };
  const known = { angle: { rig: { lamps: shoot.scenes.rent!.rig.lamps } } };
  return { trier: { known, of, ofAll: of } as unknown as Trier, asked };
};
const wide = read('W1', [face(0.1)]);
const close = read('OA', [face(1.4)]);

test('the key is a stop and more over: the cheat is offered with what it truly made of the cut', async () => {
  const asked = nearerOf(shoot, wide, close, 'A');
  if (typeof asked === 'string') throw new Error(asked);
  expect(asked.edits.length).toBeGreaterThan(0);
  // Of this angle alone.
  for (const e of asked.edits) expect(e.args.angle ?? (e.args as { flag?: object }).flag).toBeDefined();
  const t = trial(told([face(1.4)]), told([face(0.3)]));
  const [made, stop] = await nearerTried(shoot, wide, close, MATCH, t.trier);
  // The lamp, and the lens by as many thirds: each was tried.
  expect(t.asked).toHaveLength(2);
  expect(stop).toMatchObject({
    says: expect.stringMatching(/^Stop down to T/),
    edits: [{ edit: 'setCamera' }],
  });
  expect(made).toMatchObject({
    of: 'A',
    edits: asked.edits,
    becomes: ['key 1.3 stops over: then within'],
    but: [],
  });
  // Half way is nearer too, and what is left is said.
  const half = trial(told([face(1.4)]), told([face(0.9)]));
  const [less] = await nearerTried(shoot, wide, close, MATCH, half.trier);
  expect(less).toMatchObject({ becomes: ['key 1.3 stops over: then 0.8 stops over'] });
});

test('one that brings it no nearer, that cannot be done, or that could hurt is not offered, and says why', async () => {
  const same = trial(told([face(1.4)]), told([face(1.4)]));
  expect((await nearerTried(shoot, wide, close, MATCH, same.trier))[0]).toMatchObject({
    why: expect.stringMatching(/brings it no nearer/),
  });
  const not = trial(told([face(1.4)]), undefined);
  expect((await nearerTried(shoot, wide, close, MATCH, not.trier))[0]).toMatchObject({
    why: expect.stringMatching(/cannot be done/),
  });
  const hot = { kind: 'heat-near', severity: 3, size: 1, short: '1 is 0.2 m from the curtain' } as const;
  const harm = trial(told([face(1.4)]), told([face(0.1)], 2, [hot]));
  expect((await nearerTried(shoot, wide, close, MATCH, harm.trier))[0]).toMatchObject({
    why: expect.stringMatching(/makes 1 is 0\.2 m from the curtain/),
  });
});

test('what it costs elsewhere stands in the same offer: the background, another face, a new trouble', async () => {
  const two = [read('W1', [face(0.1), face(0, 'B')]), read('OA', [face(1.4), face(0, 'B')])] as const;
  const flare = { kind: 'flare', severity: 2, size: 1, short: '1 shines into the lens' } as const;
  const t = trial(told([face(1.4), face(0, 'B')]), told([face(0), face(0.9, 'B')], 2.6, [flare]));
  const [made] = await nearerTried(shoot, two[0], two[1], MATCH, t.trier);
  if (!made || 'why' in made) throw new Error(JSON.stringify(made));
  expect(made.but).toEqual([
    'B: key 0.9 stops over',
    `${spotId}: 0.6 stops darker against the face`,
    '1 shines into the lens',
  ]);
  expect(made.price).toContain('key on B +0.9');
});

test('within the tolerance nothing is tried', async () => {
  const t = trial(told([face(0)]), told([face(0)]));
  expect(await nearerTried(shoot, wide, read('OA', [face(0)]), MATCH, t.trier)).toEqual([]);
  expect(t.asked).toEqual([]);
});
