/** Flags that rigs hang from the start, looked at with all the light there is: what they are for, they do. */
import { expect, test } from 'vitest';
import { peopleData } from '../../tests/demo.ts';
import { applyEdits } from '../shoot/edits.ts';
import { newShoot, SCENE_ID } from '../shoot/newShoot.ts';
import type { RigFlag, Shoot } from '../shoot/schema.ts';
import { tellLamp } from '../shoot/tell.ts';
import { plainTracer } from '../transport/plain.ts';
import { startingRigs } from './startingRigs.ts';
import { surveyAngle } from './survey.ts';
import { usualAngles } from './usualAngles.ts';

let room = newShoot({ region: 'uk', widthM: 6, depthM: 5, heightM: 2.7, how: 'table', people: 2 });
for (const kind of ['fresnel-300', 'fresnel-650', 'open-face-800'])
  room = applyEdits(room, tellLamp(room, kind, 1)).shoot;
room = applyEdits(room, usualAngles(room, SCENE_ID).edits).shoot;

test.each(startingRigs(room, SCENE_ID).rigs)(
  '$name: without its flags a lens is struck, with them none is',
  async (rig) => {
    const hung = rig.edits.flatMap((e) =>
      e.edit === 'addFlag' ? [(e.args as unknown as { flag: RigFlag }).flag] : [],
    );
    const bare = applyEdits(
      room,
      rig.edits.filter((e) => e.edit !== 'addFlag'),
    ).shoot;
    const whole = applyEdits(room, rig.edits).shoot;
    for (const angle of new Set(hung.flatMap((f) => f.angles ?? []))) {
      const flares = async (shoot: Shoot) =>
        (
          await surveyAngle(plainTracer(), shoot, { scene: SCENE_ID, angle }, peopleData(), {
            seed: 7,
            width: 96,
            height: 54,
            quick: true,
            detail: 'far',
            cures: false,
          })
        ).troubles.filter((t) => t.kind === 'flare');
      expect((await flares(bare)).length, angle).toBeGreaterThan(0);
      expect(await flares(whole), angle).toEqual([]);
    }
  },
);
