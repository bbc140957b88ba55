/** Where the chosen one could stand: the map of the floor, traced once for each place, face and rig; then weights alone. */
import { floorGrid } from '../../readings/standGrid.ts';
import { directionsOf, faceShade, standLight, standMap } from '../../readings/standMap.ts';
import { exposureOf } from '../../setup/develop.ts';
import { geometryOf } from '../../setup/geometry.ts';
import { constantOf } from '../../setup/learned.ts';
import { facingOf, personOn } from '../../setup/people.ts';
import { weightsOf } from '../../setup/weights.ts';
import { rigFor } from '../../shoot/rigFor.ts';
import type { AbortSignalLike } from '../../transport/tracer.ts';
import type { Wanted } from '../messages.ts';
import { lightFrames } from './angle.ts';
import { fieldOf, roomFor } from './field.ts';
import { geometryKeyOf } from './keys.ts';
import { load, type Means, SEED } from './means.ts';
import type { Shown } from './shown.ts';

/** Points of the floor this far apart, metres; farther in a hall, so that there are no more than so many. */
const STEP_M = 0.25;
const MOST_POINTS = 900;

export async function sendStands(on: Means, s: Shown, w: Wanted, signal: AbortSignalLike): Promise<void> {
  const { stand } = w;
  const scene = w.shoot.scenes[s.ref.scene]!;
  const mark = stand && scene.marks[stand.mark];
  if (!stand || !mark || stand.angle !== s.ref.angle) return;
  // The place without that person.
  const bare = structuredClone(w.shoot);
  const gone = bare.scenes[s.ref.scene]!.marks[stand.mark]!;
  delete gone.person;
  gone.at = [0, 0];
  gone.eyeM = 1.6;
  gone.facings = [0];
  const facingDeg = facingOf(mark, s.rig.angle.facings?.[stand.mark]);
  const bareKey = geometryKeyOf(bare, rigFor(bare, s.ref), s.ref);
  const who = JSON.stringify([
    stand.mark,
    mark.person,
    mark.posture,
    mark.eyeM,
    mark.cut,
    mark.wears,
    facingDeg,
  ]);
  const key = `${bareKey}|${who}`;

  if (on.stood?.key !== key) {
    on.say({ kind: 'stands', turn: w.turn, angle: s.ref.angle, mark: stand.mark, map: undefined });
    const geometry = geometryOf(bare, s.ref, on.people, 'medium');
    const ghost: Shown = {
      ...s,
      geometry,
      weighed: weightsOf(bare, s.ref),
      meters: undefined,
      lit: new Map(),
    };
    await lightFrames(on, ghost, w, signal);
    const room = await roomFor(on, ghost, signal);
    const fields = [];
    for (let l = 0; l < ghost.geometry.transport.layers.length; l++)
      fields.push(await fieldOf(on, ghost, l, signal));
    await load(on, ghost);
    const place = scene.place;
    let stepM = STEP_M;
    let grid = floorGrid(w.shoot.places[place]!, stepM);
    while (grid.points.length > MOST_POINTS) {
      stepM *= 1.25;
      grid = floorGrid(w.shoot.places[place]!, stepM);
    }
    const options = { seed: SEED, signal };
    const light = await standLight(
      on.tracer,
      ghost.geometry,
      grid,
      { eyeM: mark.eyeM, facingDeg },
      { room, fields },
      options,
    );
    const figure = on.people && personOn(stand.mark, mark, facingDeg, undefined, 'medium', on.people);
    const own = s.geometry.marks.find((m) => m.id === stand.mark);
    const shade =
      figure &&
      own &&
      (await faceShade(
        on.tracer,
        { ...own, faceGrid: figure.faceGrid },
        figure.body,
        directionsOf(ghost.geometry, light),
        { signal },
      ));
    on.stood = { key, light, shade, sentFor: '' };
  }
  const { stood } = on;
  const geometry = s.geometry;
  const eRefLx = exposureOf(s.rig.camera, constantOf(w.shoot)).eRefLx;
  const { weights } = s.weighed;
  const sentFor = JSON.stringify([
    eRefLx,
    weights.layers.map((l) => [l.white[1], l.bounceGain, l.matrix[18]]),
  ]);
  if (stood.sentFor === sentFor) return;
  stood.sentFor = sentFor;
  const map = standMap(geometry, weights, stood.light, eRefLx, stood.shade);
  on.say({ kind: 'stands', turn: w.turn, angle: s.ref.angle, mark: stand.mark, map });
}
