/** Rain and haze lit from behind or from the front: what is read, what is told, and a cure that was looked at. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { airReading } from '../readings/airReading.ts';
import { exposureOf } from '../setup/develop.ts';
import { geometryOf } from '../setup/geometry.ts';
import { weightsOf } from '../setup/weights.ts';
import { applyEdits, type Edit } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import type { Shoot } from '../shoot/schema.ts';
import { airLight } from '../transport/airlight.ts';
import { emitterSet } from '../transport/emitter.ts';
import { plainTracer } from '../transport/plain.ts';
import { airTroubles } from './airTroubles.ts';
import type { SchemeContext } from './context.ts';

const opened = openShoot(readFileSync(join(import.meta.dirname, '../../shoots/slack-water.json'), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join('\n'));
const shed = opened.shoot;
/** What the air shows in an angle with nobody in it: no bounced light is needed for that. */
async function survey(shoot: Shoot, angle: string) {
  const g = geometryOf(shoot, { scene: 'slack', angle }, undefined, 'far');
  const { weights } = weightsOf(shoot, { scene: 'slack', angle });
  const { greyCdM2 } = exposureOf(g.rig.camera, shoot.exposureConstant);
  const tracer = plainTracer();
  await tracer.load(g.transport);
  const hits = await tracer.hits(g.view, 48, 27, { seed: 3, samples: 1 });
  const light = [];
  for (const layer of g.transport.layers)
    light.push(await airLight(tracer, g.view, hits, emitterSet(layer.emitters), { seed: 3 }));
  const c = { shoot, angle: g, weights, greyCdM2, lit: { air: light, hits } } as unknown as SchemeContext;
  return { air: airReading(g, weights, light, greyCdM2), troubles: airTroubles(c) };
}
const air = (of: Record<string, unknown>): Edit => ({ edit: 'setAir', args: { scene: 'slack', air: of } });
const alone = (lamp: string): Edit[] =>
  Object.keys(shed.scenes.slack!.rig.lamps)
    .filter((l) => l !== lamp)
    .map((l) => ({ edit: 'switchLamp', args: { scene: 'slack', lamp: l, on: false } }));
const made = (...edits: Edit[]): Shoot => applyEdits(shed, edits).shoot;

test('clear air reads nothing and is no trouble', async () => {
  const s = await survey(
    made(
      { edit: 'setAir', args: { scene: 'slack', air: { haze: { extinctionPerM: 0.02 } } } },
      { edit: 'setAir', args: { scene: 'slack' } },
    ),
    'W',
  );
  expect(s.air).toBeUndefined();
  expect(s.troubles.some((t) => t.kind === 'air-not-lit')).toBe(false);
});

test('smoke in the shed: the lamps beyond it show it, and twice as thick it shows nearly twice', async () => {
  const at = async (extinctionPerM: number) =>
    (await survey(made(air({ haze: { extinctionPerM } })), 'T')).air!;
  const [thin, thick] = [await at(0.002), await at(0.004)];
  expect(thin.ratioStops!).toBeGreaterThan(1);
  // Less the little more that is lost on the way: e^(−2 · 0.002 · some 8 m).
  const grown = (thick.behindCdM2 + thick.frontCdM2) / (thin.behindCdM2 + thin.frontCdM2);
  expect(grown).toBeGreaterThan(2 * Math.exp(-0.05));
  expect(grown).toBeLessThan(2);
});

test('one lamp beside the lens: haze from the front is told, with its ratio; behind, it is not', async () => {
  const lit = (to: [number, number, number]) =>
    made(
      air({ haze: { extinctionPerM: 0.05 } }),
      ...alone('L4'),
      { edit: 'moveLamp', args: { scene: 'slack', lamp: 'L4', to } },
      { edit: 'aimLamp', args: { scene: 'slack', lamp: 'L4', at: [4, 2.6, 1.4] } },
    );
  const front = await survey(lit([3.6, 0.3, 1.9]), 'T');
  expect(front.air!.ratioStops!).toBeLessThan(0);
  const told = front.troubles.find((t) => t.kind === 'air-not-lit')!;
  // By the law of haze 8.9 to one within a tenth [CHECKS-LIGHT §7.2].
  expect(told.says).toMatch(/haze is lit from the front in T.*9 times/);
  const back = await survey(lit([4.6, 5.2, 2.6]), 'T');
  expect(back.air!.ratioStops!).toBeGreaterThan(1);
  expect(back.troubles.some((t) => t.kind === 'air-not-lit')).toBe(false);
});

test('rain under a roof is not there; the trouble says that nothing lights it', async () => {
  const s = await survey(made(air({ falls: { kind: 'rain', mmPerH: 30 } }), ...alone('P1')), 'T');
  expect(s.air!.behindCdM2 + s.air!.frontCdM2).toBeLessThan(0.01);
  // Only the gap of the doors looks out.
  expect(s.troubles.filter((t) => t.severity > 2)).toEqual([]);
});

test('rain out of doors: a lamp beyond it shows it, one at the lens does not, and that is told', async () => {
  const lit = (to: [number, number, number]) => {
    const shoot = made(
      air({ falls: { kind: 'rain', mmPerH: 30 } }),
      ...alone('L4'),
      { edit: 'moveLamp', args: { scene: 'slack', lamp: 'L4', to } },
      { edit: 'aimLamp', args: { scene: 'slack', lamp: 'L4', at: [4, 14, 1.4] } },
      { edit: 'moveCamera', args: { scene: 'slack', angle: 'T', to: [4, 7, 1.5] } },
      { edit: 'aimCamera', args: { scene: 'slack', angle: 'T', at: [4, 14, 1.4] } },
    );
    return survey(shoot, 'T');
  };
  const [front, back] = [await lit([4.5, 6.6, 2.2]), await lit([6, 19, 3])];
  expect(front.troubles.find((t) => t.kind === 'air-not-lit')?.says).toMatch(/rain .*in T/);
  expect(back.air!.ratioStops!).toBeGreaterThan(3);
  expect(back.troubles.filter((t) => t.kind === 'air-not-lit')).toEqual([]);
});
