/** The shed's window: the line from the lens to his eyes meets the frame, not the glass; aside it goes through. */
import { expect, test } from 'vitest';
import { peopleData, shootNamed } from '../../tests/demo.ts';
import { geometryOf } from '../setup/geometry.ts';
import { applyEdit } from '../shoot/edits.ts';
import type { Shoot } from '../shoot/schema.ts';
import { plainTracer } from '../transport/plain.ts';
import type { SchemeContext } from './context.ts';
import { hiddenTroubles } from './hiddenTroubles.ts';

const shed = shootNamed('seed-potatoes');
const tracer = plainTracer();

async function hiddenIn(shoot: Shoot, angle: string) {
  const g = geometryOf(shoot, { scene: 'dusk', angle }, peopleData(), 'far');
  await tracer.load(g.transport);
  const hits = await tracer.hits(g.view, 192, 108, { seed: 3, samples: 1 });
  const c = { shoot, angle: g, place: shoot.places[g.rig.scene.place]!, lit: { hits } };
  return hiddenTroubles(c as unknown as SchemeContext);
}

test('whoever the lens looks at and does not see is told, with what hides him and which way the lens must go', async () => {
  // From (3.7, 0.85) to his eyes at (1.75, 1.2) the wall at x = 2.4 is met at y = 1.083, 17 mm inside the opening that
  // ends at 1.1: within any frame that holds a pane.
  const { at, lookAt } = shed.scenes.dusk!.angles.C3!;
  const y = at[1] + ((at[0] - 2.4) / (at[0] - lookAt[0])) * (lookAt[1] - at[1]);
  expect(y).toBeCloseTo(1.083, 3);
  const [told, ...more] = await hiddenIn(shed, 'C3');
  expect(more).toEqual([]);
  expect(told).toMatchObject({ kind: 'face-hidden', subject: 'A' });
  expect(told!.says).toMatch(/dusty window/);
  const first = told!.ideas().filter((i) => /south/.test(i.act))[0]!;
  const moved = applyEdit(shed, first as never).shoot;
  expect(await hiddenIn(moved, 'C3')).toEqual([]);
});

test('a face in plain sight, a back and a lens that looks elsewhere are no trouble', async () => {
  expect(await hiddenIn(shed, 'C2')).toEqual([]);
  const turned = applyEdit(shed, { edit: 'turnMark', args: { scene: 'dusk', mark: 'A', byDeg: 120 } }).shoot;
  expect(await hiddenIn(turned, 'C2')).toEqual([]);
  const away = applyEdit(shed, {
    edit: 'aimCamera',
    args: { scene: 'dusk', angle: 'C3', at: [1.75, 0.2, 1.15] },
  }).shoot;
  expect(await hiddenIn(away, 'C3')).toEqual([]);
});
