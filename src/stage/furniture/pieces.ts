/** Every piece that stands in a file of its own: one line each. */
import { basin } from './basin.ts';
import { bath } from './bath.ts';
import { bench, benchSeat } from './bench.ts';
import { car } from './car.ts';
import { counter } from './counter.ts';
import { crate } from './crate.ts';
import { desk } from './desk.ts';
import { facade } from './facade.ts';
import { fireplace } from './fireplace.ts';
import { batten, bulkhead, heater, radiator, rug } from './fittings.ts';
import { hedge, potPlant, tree } from './green.ts';
import { innerWall } from './innerWall.ts';
import { hurricane, oilLamp } from './lantern.ts';
import { lavatory } from './lavatory.ts';
import { mirror, picture } from './mirror.ts';
import { bin, bollard, fence, lampPost, pavement, puddle } from './outdoors.ts';
import { piano } from './piano.ts';
import type { Piece } from './piece.ts';
import { standardLamp, tableLamp } from './shadelamp.ts';
import { flight, landing, railing } from './stair.ts';
import { stool } from './stool.ts';
import { television } from './television.ts';
import { washer } from './washer.ts';
import { wheelchair } from './wheelchair.ts';
import { blind, curtains, net, roller } from './windowDress.ts';

export const PIECES: readonly Piece[] = [
  washer,
  counter,
  basin,
  bench,
  benchSeat,
  wheelchair,
  desk,
  stool,
  crate,
  hurricane,
  oilLamp,
  standardLamp,
  tableLamp,
  flight,
  landing,
  railing,
  curtains,
  net,
  blind,
  roller,
  mirror,
  picture,
  facade,
  innerWall,
  car,
  tree,
  hedge,
  potPlant,
  fence,
  lampPost,
  bollard,
  puddle,
  pavement,
  bin,
  bulkhead,
  batten,
  radiator,
  rug,
  heater,
  bath,
  lavatory,
  fireplace,
  television,
  piano,
];
