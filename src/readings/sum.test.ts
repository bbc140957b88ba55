/** The sum in words: its steps come to the very weight that the light is put together with, and to the distance law. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { weightsOf } from '../setup/weights.ts';
import { applyEdits } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import { rigFor } from '../shoot/rigFor.ts';
import { withArticle } from './causeWords.ts';
import { lampSum } from './sum.ts';

const opened = openShoot(readFileSync(new URL('../../shoots/kitchen.json', import.meta.url), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join('\n'));
const scene = 'rent';
const ref = { scene, angle: 'OA' };

test('volts, scrim, gel and reading: step by step to the weight itself', () => {
  const shoot = applyEdits(opened.shoot, [
    { edit: 'setSheets', args: { scene, lamp: 'L1', sheets: ['half-cto'] } },
    { edit: 'setScrims', args: { scene, lamp: 'L1', scrims: ['half', 'full'] } },
    { edit: 'setLevel', args: { scene, lamp: 'L1', level: 0.8 } },
    { edit: 'readHead', args: { head: 'fresnel300', reading: { kind: 'lux', lux: 180, distanceM: 3 } } },
  ]).shoot;
  const lamp = rigFor(shoot, ref).lamps.L1!;
  const { weights } = weightsOf(shoot, ref);
  const w = weights.lamps.find((l) => l.id === 'L1')!;
  const white = weights.layers[0]!.white[1];
  // On its axis at 2 m: the kind's flood candela over d², times the weight of its one layer.
  const d = [0, 1, 2].map((i) => lamp.aim[i]! - lamp.at[i]!);
  const r = Math.hypot(...d);
  const eyes = [0, 1, 2].map((i) => lamp.at[i]! + (2 * d[i]!) / r) as [number, number, number];
  const sum = lampSum(lamp, shoot.kit.lamps[lamp.head], w, eyes, (2400 / 4) * white)!;
  expect(sum.cd).toBeCloseTo(2400, 6); // fresnel-300 flooded, as the kit has it
  expect(sum.distanceM).toBeCloseTo(2, 9);
  expect(sum.bareLx).toBeCloseTo(600, 6);
  expect(sum.restStops).toBeCloseTo(0, 3);
  expect(sum.steps.map((s) => s.words)).toEqual([
    'volts and dimmer',
    'half scrim',
    'full scrim',
    'half cto',
    'as measured',
  ]);
  // A half scrim takes half a stop, a full one a stop [CHECKS-CAMERA §6.3].
  expect(sum.steps[1]!.stops).toBeCloseTo(-0.5, 1);
  expect(sum.steps[2]!.stops).toBeCloseTo(-1, 1);
  // Twice as far off, two stops less.
  const far = [0, 1, 2].map((i) => lamp.at[i]! + (4 * d[i]!) / r) as [number, number, number];
  expect(lampSum(lamp, shoot.kit.lamps[lamp.head], w, far, (2400 / 16) * white)!.bareLx).toBeCloseTo(150, 6);
});

test('nothing is summed of a lamp that is out, turned away or unknown', () => {
  const lamp = rigFor(opened.shoot, ref).lamps.L1!;
  const w = weightsOf(opened.shoot, ref).weights.lamps[0]!;
  expect(lampSum(lamp, opened.shoot.kit.lamps[lamp.head], w, [2, 1.6, 1.2], 0)).toBeUndefined();
  expect(lampSum(lamp, undefined, w, [2, 1.6, 1.2], 9)).toBeUndefined();
  expect(
    lampSum(lamp, opened.shoot.kit.lamps[lamp.head], { ...w, lightFactor: 0 }, [2, 1.6, 1.2], 9),
  ).toBeUndefined();
});

test('an 800 W, a 650 W', () => {
  expect(
    ['800 W open-face', '650 W fresnel', 'LED panel', '1 kW fresnel', '18 W tube'].map(withArticle),
  ).toEqual(['an 800 W open-face', 'a 650 W fresnel', 'an LED panel', 'a 1 kW fresnel', 'an 18 W tube']);
});
