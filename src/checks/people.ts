/**
 * Do our heads take a key light as heads do? Angles at which the classic patterns appear on two of them, against
 * the computed reference head and the arithmetic of the nose shadow; ±10° as that source itself allows.
 */
import type { PeopleData } from '../stage/people/decode.ts';
import { FACE_CELL_M } from '../stage/people/faceGrid.ts';
import { buildPerson } from '../stage/people/person.ts';
import { headLight, type Light, type Lit } from './peopleLight.ts';
import { type CheckRow, row } from './row.ts';

const TOY = 'reference head, computed, ±10° [CHECKS-CAMERA §4.3]';
/** The reference head, a ball with a wedge for a nose, has it at 60 to 70; heads of this data before us at 50 and 60. */
const REAL =
  'lit test on heads of the same data: island at 50 and 60, none at 70, ±10° [CHECKS-CAMERA §4.3 method]';
const ARITHMETIC = 'nose-shadow arithmetic on this head [CHECKS-CAMERA §4.2]';
const EYE_M = 1.6;

/** First angle from `from` to `to` (degrees) where it is so; NaN when nowhere. */
function first(from: number, to: number, step: number, so: (deg: number) => boolean): number {
  for (let a = from; a <= to; a += step) if (so(a)) return a;
  return Number.NaN;
}

/** Middle of the azimuths (5° steps, 40 … 80) with a lit island on the far cheek; NaN without one. */
function islandMiddle(at: (az: number) => Lit): number {
  const seen: number[] = [];
  for (let az = 40; az <= 80; az += 5) if (at(az).islandMm2 > 0) seen.push(az);
  return seen.length ? (seen[0]! + seen[seen.length - 1]!) / 2 : Number.NaN;
}

function headRows(data: PeopleData, person: string, words: string): CheckRow[] {
  const mesh = buildPerson(data, {
    person,
    posture: 'standing',
    at: [0, 0, 0],
    facingDeg: 90,
    eyeHeightM: EYE_M,
    detail: 'near',
  });
  // A face is not its own mirror image, the reference head is: each row is the mean of a key from either side.
  const light = headLight(mesh, EYE_M);
  const fromRight: Light = (az, el) => light(az, el, false);
  const mean = (of: (light: Light) => number) => (of(light) + of(fromRight)) / 2;
  const id = (s: string) => `people-${person}-${s}`;
  const p = mesh.points;
  const out = p.noseTip.position[1] - p.noseBase.position[1];
  const drop = p.noseTip.position[2] - p.upperLip.position[2];
  const lipEl = (Math.atan(drop / out) * 180) / Math.PI;
  const front = light(0, 45);
  return [
    row(
      id('butterfly'),
      `${words}, key in front, el 45: nose shadow off the middle of the head, where the tip of the nose is`,
      'light in the upright plane through the nose: its shadow hangs straight down',
      1000 * p.noseTip.position[0],
      front.noseShadowAsideMm ?? Number.NaN,
      'mm',
      // Half a cell of the grid that it is read on.
      500 * FACE_CELL_M,
    ),
    row(
      id('lip'),
      `${words}, key in front: elevation at which the nose shadow reaches the upper lip`,
      ARITHMETIC,
      lipEl,
      mean((light) => first(30, 80, 2, (el) => !light(0, el).lipLit)),
      '°',
      10,
    ),
    row(
      id('eyes-go'),
      `${words}, key in front: elevation at which the eyes lose half their light (between 45 and 60)`,
      TOY,
      52.5,
      mean((light) => first(40, 75, 2.5, (el) => light(0, el).nearEye < 0.5)),
      '°',
      10,
    ),
    row(
      id('eyes-gone'),
      `${words}, key in front, el 75: eyes lit`,
      TOY,
      0,
      mean((light) => light(0, 75).nearEye),
      '1',
      0.15,
    ),
    row(
      id('loop'),
      `${words}, az 30 el 30, a loop: light on the far cheek, no island`,
      TOY,
      1,
      mean((light) => (light(30, 30).islandMm2 > 0 ? 0 : light(30, 30).farCheek)),
      '1',
      0.15,
    ),
    row(
      id('far-eye'),
      `${words}, el 30: azimuth at which the far eye goes dark (45 to 55)`,
      TOY,
      50,
      mean((light) => first(30, 80, 5, (az) => light(az, 30).farEye < 0.5)),
      '°',
      10,
    ),
    row(
      id('triangle-0'),
      `${words}, el 0: middle of the azimuths with the triangle (50 to 55)`,
      TOY,
      52.5,
      mean((light) => islandMiddle((az) => light(az, 0))),
      '°',
      10,
    ),
    row(
      id('triangle-30'),
      `${words}, el 30: middle of the azimuths with the triangle (50 to 60)`,
      REAL,
      55,
      mean((light) => islandMiddle((az) => light(az, 30))),
      '°',
      10,
    ),
    row(
      id('triangle-45'),
      `${words}, el 45: the triangle appears within the trade's 45 to 75`,
      'craft books named in [CHECKS-CAMERA §4.1]',
      60,
      mean((light) => islandMiddle((az) => light(az, 45))),
      '°',
      15,
    ),
    row(
      id('split'),
      `${words}, el 0: azimuth at which at most .05 of the far half is lit`,
      TOY,
      80,
      mean((light) => first(60, 100, 5, (az) => light(az, 0).farHalf <= 0.05)),
      '°',
      10,
    ),
    row(
      id('back'),
      `${words}, az 135 el 30: near cheek lit`,
      TOY,
      0,
      mean((light) => light(135, 30).nearCheek),
      '1',
      0.15,
    ),
  ];
}

/** Rows for a man and a woman. Takes some seconds. */
export function rows(data: PeopleData): CheckRow[] {
  return [...headRows(data, 'man-34', 'man of 34'), ...headRows(data, 'woman-28', 'woman of 28')];
}
