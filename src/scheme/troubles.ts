/** All troubles of one angle, worst first, what is meant said so. */

import type { Solution } from '../power/solve.ts';
import type { AngleReading, Clipped } from '../readings/readAngle.ts';
import type { AngleGeometry, AngleWeights } from '../setup/angle.ts';
import type { Exposure } from '../setup/develop.ts';
import type { Shoot } from '../shoot/schema.ts';
import { airTroubles } from './airTroubles.ts';
import { clipTroubles } from './clipTroubles.ts';
import { hueTroubles } from './colourTroubles.ts';
import type { Lit, SchemeContext } from './context.ts';
import { dayTroubles } from './dayTroubles.ts';
import { underTroubles, zoneTroubles } from './faceTroubles.ts';
import { heatTroubles } from './heatTroubles.ts';
import { hiddenTroubles } from './hiddenTroubles.ts';
import { frameTroubles } from './inFrame.ts';
import { leadTroubles } from './leadTroubles.ts';
import { withMeant } from './meant.ts';
import { powerTroubles } from './powerTroubles.ts';
import { practicalTroubles } from './practicalTroubles.ts';
import { setTroubles } from './setTroubles.ts';
import { shadowTroubles } from './shadowTroubles.ts';
import { standTroubles } from './standTroubles.ts';
import { type Found, inOrder } from './trouble.ts';

export interface TroubleQuestion {
  shoot: Shoot;
  angle: AngleGeometry;
  weights: AngleWeights;
  reading: AngleReading;
  exposure: Exposure;
  /** By part, from the picture (`clippedParts`); empty while there is no picture. */
  clipped: ReadonlyMap<number, Clipped>;
  /** The picture with its light apart; absent: shadows and levels of flags are not looked for. */
  lit?: Lit;
  supply: Solution;
}

export function troublesOf(q: TroubleQuestion): Found[] {
  const { angle, reading, exposure } = q;
  const place = q.shoot.places[angle.rig.scene.place]!;
  const c: SchemeContext = {
    shoot: q.shoot,
    place,
    angle,
    weights: q.weights,
    marks: reading.marks,
    seen: reading.seen,
    glow: reading.glow,
    lensLx: reading.lensLx,
    spots: new Map(
      reading.spots.map((s) => [
        s.spot,
        {
          lx: s.lx,
          seen: s.seen,
          lamps: s.lamps.map((l) => ({ lamp: l.lamp, lx: l.directLx + l.bouncedLx })),
        },
      ]),
    ),
    clipped: q.clipped,
    lit: q.lit,
    camera: angle.rig.camera,
    shutterS: exposure.shutterS,
    eRefLx: exposure.eRefLx,
    greyCdM2: exposure.greyCdM2,
    stop: exposure.stop,
    clipStops: exposure.response.stopsAboveGrey,
    floorStops: exposure.response.stopsBelowGrey,
  };
  const where = { scene: angle.scene, angle: angle.angle };
  const found = [
    ...frameTroubles(c),
    ...hiddenTroubles(c),
    ...shadowTroubles(c),
    ...leadTroubles(c),
    ...zoneTroubles(c),
    ...underTroubles(c),
    ...clipTroubles(c),
    ...dayTroubles(c),
    ...practicalTroubles(c),
    ...hueTroubles(c),
    ...airTroubles(c),
    ...setTroubles(c),
    ...standTroubles(c),
    ...heatTroubles(c),
    ...powerTroubles({ shoot: q.shoot, where, solution: q.supply }),
  ];
  return inOrder(withMeant(found, angle.rig.angle.meant));
}

/** What the plan is asked for beside this: said wherever troubles are listed. */
export const NOT_LOOKED_FOR =
  'Not looked for: leads up stands and along beams, the boom of a shot that moves, light that haze scatters twice.';
