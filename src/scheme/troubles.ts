/** All troubles of one angle, worst first, what is meant said so. */

import type { Solution } from '../power/solve.ts';
import type { AngleReading, Clipped } from '../readings/readAngle.ts';
import type { AngleGeometry, AngleWeights } from '../setup/angle.ts';
import type { Exposure } from '../setup/develop.ts';
import { kindOf } from '../setup/lamps.ts';
import type { Shoot } from '../shoot/schema.ts';
import { clipTroubles } from './clipTroubles.ts';
import type { SchemeContext } from './context.ts';
import { dayTroubles } from './dayTroubles.ts';
import { underTroubles, zoneTroubles } from './faceTroubles.ts';
import { frameTroubles } from './inFrame.ts';
import { withMeant } from './meant.ts';
import { powerTroubles } from './powerTroubles.ts';
import { setTroubles } from './setTroubles.ts';
import { standTroubles } from './standTroubles.ts';
import { inOrder, type Trouble } from './trouble.ts';

export interface TroubleQuestion {
  shoot: Shoot;
  angle: AngleGeometry;
  weights: AngleWeights;
  reading: AngleReading;
  exposure: Exposure;
  /** By part, from the picture (`clippedParts`); empty while there is no picture. */
  clipped: ReadonlyMap<number, Clipped>;
  supply: Solution;
}

export function troublesOf(q: TroubleQuestion): Trouble[] {
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
    spots: new Map(reading.spots.map((s) => [s.spot, { lx: s.lx, seen: s.seen }])),
    clipped: q.clipped,
    eRefLx: exposure.eRefLx,
    stop: exposure.stop,
    clipStops: exposure.response.stopsAboveGrey,
    floorStops: exposure.response.stopsBelowGrey,
  };
  const wattsOf = (id: string) => kindOf(q.shoot.kit.lamps[angle.rig.lamps[id]!.head])?.watts ?? 0;
  const found = [
    ...frameTroubles(c),
    ...zoneTroubles(c),
    ...underTroubles(c),
    ...clipTroubles(c),
    ...dayTroubles(c),
    ...setTroubles(c),
    ...standTroubles(c, wattsOf),
    ...powerTroubles(q.shoot, { scene: angle.scene, angle: angle.angle }, q.supply),
  ];
  return inOrder(withMeant(found, angle.rig.angle.meant));
}
