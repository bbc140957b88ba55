/** A diffusion frame of the rig is lit by its lamp and lights the face in its turn. */
import { expect, test } from 'vitest';
import { applyEdit } from '../src/shoot/edits.ts';
import { lampAt, shootNamed, surveyed } from './demo.ts';

test('1 through a 1.2 m frame of full white: a tenth of what passes goes straight, the rest leaves the sheet as from a matte light', async () => {
  const shoot = shootNamed('kitchen');
  const L1 = shoot.scenes.rent!.rig.lamps.L1!;
  const A = [1.75, 1.6, 1.2];
  const d = L1.at.map((v, i) => A[i]! - v);
  const r = Math.hypot(...d);
  const x = 0.9;
  const framed = applyEdit(shoot, {
    edit: 'addFlag',
    args: {
      scene: 'rent',
      id: 'D1',
      flag: {
        kind: 'frame',
        sheet: 'full-white',
        at: L1.at.map((v, i) => v + (d[i]! / r) * x),
        facing: d,
        sizeM: [1.2, 1.2],
        angles: ['OB'],
      },
    },
  }).shoot;
  const bare = lampAt((await surveyed(shoot, ['OB'])).OB!, 'A', 'L1').directLx;
  const survey = (await surveyed(framed, ['OB'])).OB!;
  const soft = lampAt(survey, 'A', 'L1').directLx;
  expect(survey.angle.relayOf.length).toBeGreaterThan(0);
  // Transmittance 2^-1.5, a tenth of it straight: nine tenths leave the sheet within the matte law. By the point
  // formula L = E τ / π over the lit square from r − x, E spread evenly over what of the 60° beam meets the sheet.
  const tau = 2 ** -1.5;
  expect(soft).toBeGreaterThan(0.1 * tau * bare);
  expect(soft).toBeLessThan(0.8 * tau * bare);
  const atSheet = bare * (r / x) ** 2;
  const point = (atSheet * tau * 0.9 * 0.65) / Math.PI / (r - x) ** 2;
  expect(Math.abs(Math.log2((soft - 0.1 * tau * bare) / point))).toBeLessThan(1);
}, 120_000);
