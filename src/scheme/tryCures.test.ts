/** What is offered against a trouble, in which order and with which words; and what "all that cost nothing" comes to. */
import { expect, test } from 'vitest';
import type { Told } from './afterEdit.ts';
import { type Found, type Idea, keyOf, type TroubleKind } from './trouble.ts';
import { freeTogether, type Trier, tryAll, withCures } from './tryCures.ts';

const idea = (act: string, args: Record<string, unknown> = {}, needs?: string): Idea => ({
  edit: 'moveLamp',
  args: { lamp: act, ...args },
  act,
  scope: '',
  ...(needs ? { needs } : {}),
});
const found = (
  kind: TroubleKind,
  lamp: string,
  severity: number,
  ideas: readonly Idea[] = [],
  size = 1,
): Found => ({
  ...{ kind, lamp, severity, size },
  says: `${kind} of ${lamp}.`,
  short: `${lamp} has ${kind}`,
  ideas: () => [...ideas],
});

/** An angle without people in it: troubles are all there is to tell. */
const told = (list: readonly Found[], keyStops = 0): Told => {
  const mark = { mark: 'A', lamps: [], overStops: keyStops };
  return {
    angle: { marks: [{ id: 'A', part: 0 }], rig: { lamps: {} } },
    reading: { marks: [mark], seen: new Map([[0, {}]]) },
    eRefLx: 100,
    found: [...list],
  } as unknown as Told;
};

/** Acts come to what the table says: troubles after them, and what they do to the face. */
function world(
  now: readonly Found[],
  acts: Record<string, { after: (t: readonly Found[]) => readonly Found[]; keyStops?: number }>,
): Trier & { asked: string[][] } {
  const asked: string[][] = [];
  const before = told(now);
  const ofAll = async (ideas: readonly Idea[]) => {
    asked.push(ideas.map((i) => i.act));
    let list = now;
    let stops = 0;
    for (const i of ideas) {
      list = acts[i.act]!.after(list);
      stops += acts[i.act]!.keyStops ?? 0;
    }
    return { before, after: told(list, stops), elsewhere: [] };
  };
  const known = { angle: before.angle } as unknown as Trier['known'];
  return { known, asked, of: (i) => ofAll([i]), ofAll };
}
const without =
  (...gone: Found[]) =>
  (list: readonly Found[]) =>
    list.filter((t) => !gone.some((g) => keyOf(g) === keyOf(t)));
const instead = (gone: Found, come: Found) => (list: readonly Found[]) => [...without(gone)(list), come];

test('a cure that makes a worse trouble is offered behind every other one, and its sentence says so', async () => {
  const clip = found('clipped', '1', 2, [idea('sheet'), idea('stand'), idea('reel'), idea('none')]);
  const lost = found('under', '2', 3);
  const over = found('circuit-over', 'board', 3);
  const trial = world([clip], {
    // The cheapest of all, were it not for what comes.
    sheet: { after: instead(clip, lost) },
    stand: { after: without(clip), keyStops: -0.9 },
    reel: { after: instead(clip, over) },
    none: { after: (l) => l },
  });
  const { cures } = await withCures(clip, trial);
  // What helps nothing is not offered, nor what puts people at risk.
  expect(cures.map((c) => c.act)).toEqual(['stand', 'sheet']);
  expect(cures[1]!.says).toBe('sheet, but worse: 2 has under.');
  expect(cures[1]!.free).toBe(false);
  expect(cures[0]!.says).toBe('stand (key on A −0.9).');
});

test('as grave a trouble is said without the word; what is lessened says what is left', async () => {
  const flare = found('flare', '1', 2, [idea('a'), idea('b')], 10);
  const trial = world([flare], {
    a: { after: instead(flare, found('shadow', '1', 2)) },
    b: { after: () => [found('flare', '1', 2, [], 5)] },
  });
  const { cures } = await withCures(flare, trial);
  expect(cures.map((c) => c.says).sort()).toEqual(['a, but 1 has shadow.', 'b; 1 has flare still, less.']);
});

test('all that cost nothing: free ones only, one act a lamp, none for what another ends, and no new trouble together', async () => {
  const t1 = found('lamp-in-frame', '1', 3, [idea('raise', { lamp: '1' })]);
  const t2 = found('flare', '1', 2, [idea('turn', { lamp: '1' })]);
  const t3 = found('flare', '2', 2, [idea('board', { lamp: '2' }, 'a flag')]);
  const t4 = found('clipped', '3', 1.5, [idea('dim', { lamp: '3' })]);
  const t5 = found('hues', '4', 1, [idea('swap', { lamp: '4' })]);
  const t6 = found('shadow', '5', 1, [idea('slide', { lamp: '5' })]);
  const now = [t1, t2, t3, t4, t5, t6];
  const clash = found('stand-in-frame', '5', 2);
  const trial = world(now, {
    raise: { after: without(t1, t2) },
    turn: { after: without(t2) },
    board: { after: without(t3) },
    // Costs the face more than a sixth of a stop.
    dim: { after: without(t4), keyStops: -0.3 },
    swap: { after: without(t5) },
    // By itself it makes nothing; beside the other one it does.
    slide: { after: (l) => (l.includes(t5) ? without(t6)(l) : [...without(t6)(l), clash]) },
  });
  const troubles = await tryAll(now, trial);
  expect(troubles.map((t) => t.cures[0]!.free)).toEqual([true, true, false, false, true, true]);
  trial.asked.length = 0;
  const free = await freeTogether(troubles, trial);
  expect(free.map((c) => c.act)).toEqual(['raise', 'swap']);
  // Tried together, and again without the last.
  expect(trial.asked).toEqual([
    ['raise', 'swap', 'slide'],
    ['raise', 'swap'],
  ]);
});

test('together they may cost a face no more than one may', async () => {
  const t = ['1', '2'].map((lamp) => found('flare', lamp, 2, [idea(`turn ${lamp}`, { lamp })]));
  const trial = world(t, {
    'turn 1': { after: without(t[0]!), keyStops: -0.1 },
    'turn 2': { after: without(t[1]!), keyStops: -0.1 },
  });
  const free = await freeTogether(await tryAll(t, trial), trial);
  expect(free.map((c) => c.act)).toEqual(['turn 1']);
});

test('what is meant is left as it is', async () => {
  const meant = { ...found('clipped', 'P', 2, [idea('out')]), meant: 'the tube blows out' };
  const trial = world([meant], { out: { after: without(meant) } });
  const troubles = await tryAll([meant], trial);
  expect(troubles[0]!.cures).toEqual([]);
  expect(await freeTogether(troubles, trial)).toEqual([]);
  expect(trial.asked).toEqual([]);
});
