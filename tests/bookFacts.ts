/**
 * Facts of a book without a ray traced: the geometry as it is, light by inverse square of candela on the axis. The
 * figures are plausible, no more; the tests that use them look at paper, not at light.
 */
import { readFileSync } from 'node:fs';
import type { BookFacts } from '../src/book/facts.ts';
import { keyOf } from '../src/book/facts.ts';
import type { Picture } from '../src/book/page.ts';
import { writePng } from '../src/cli/png.ts';
import { axisCd } from '../src/light/beam.ts';
import { beamOfLamp } from '../src/light/kitlamps.ts';
import { bearing, clock } from '../src/readings/bearing.ts';
import type { MarkReading } from '../src/readings/readMark.ts';
import type { Read } from '../src/scheme/read.ts';
import { kindOf } from '../src/setup/lamps.ts';
import { supplyOf } from '../src/setup/weights.ts';
import { openShoot } from '../src/shoot/file.ts';
import { type AngleRef, anglesOf, rigFor } from '../src/shoot/rigFor.ts';
import type { Shoot } from '../src/shoot/schema.ts';

export function shootOf(name: string): Shoot {
  const opened = openShoot(readFileSync(new URL(`../shoots/${name}`, import.meta.url), 'utf8'));
  if (!opened.ok) throw new Error(opened.message.join('\n'));
  return opened.shoot;
}

function madeRead(shoot: Shoot, ref: AngleRef): Read {
  const rig = rigFor(shoot, ref);
  const marks = Object.entries(rig.scene.marks).filter(
    ([, m]) => !m.present || m.present.includes(ref.angle),
  );
  const readings = marks.map(([id, m]): MarkReading => {
    const eyes = [m.at[0], m.at[1], m.eyeM] as const;
    const lamps = Object.entries(rig.lamps).map(([lamp, l]) => {
      const kind = kindOf(shoot.kit.lamps[l.head]);
      const b = bearing([...eyes], m.facings[0]!, [...l.at]);
      const lx = kind && l.on ? (axisCd(beamOfLamp(kind, l.focus)) * l.level) / b.distanceM ** 2 / 20 : 0;
      return {
        ...b,
        lamp,
        directLx: lx,
        bouncedLx: lx / 10,
        lx: lx * 1.1,
        overStops: Math.log2(lx / 125),
        role: b.azimuthDeg > 100 ? ('back' as const) : ('fill' as const),
        clock: clock([...eyes], [...rig.angle.at], [...l.at]),
      };
    });
    const sum = lamps.reduce((s, l) => s + l.lx, 0);
    return {
      mark: id,
      toward: lamps[0]?.lamp ?? 'camera',
      incidentLx: sum,
      towardCameraLx: sum / 2,
      askedT: 2.8 * Math.sqrt(sum / 125),
      overStops: Math.log2(sum / 125),
      bandStops: 0.6,
      doubts: [],
      ratioStops: 2,
      ratio: 4,
      ratioBandStops: 0.4,
      convention: '',
      face: undefined,
      keyToRest: undefined,
      backOverKeyStops: undefined,
      litOverGreyStops: 0,
      shadeOverGreyStops: -2,
      litSide: 'left',
      litXyz: undefined,
      shadeXyz: undefined,
      metered: false,
      lamps,
    };
  });
  return {
    ref,
    marks: readings,
    facesSeen: readings.map((r) => r.mark),
    spots: Object.entries(rig.scene.spots).map(([id, s]) => ({
      spot: id,
      kind: s.kind,
      lx: 40,
      underKeyStops: 2.1,
      overGreyStops: -1.6,
      bandStops: 0.5,
      doubts: [],
      seen: true,
      lamps: [],
      xyz: [38, 40, 30],
      metered: false,
    })),
    lamps: [],
    supply: supplyOf(shoot, ref),
    exposure: { eRefLx: 125, stop: rig.camera.stop },
    balance: { cctK: 3600, duv: 0, matrix: [1, 0, 0, 0, 1, 0, 0, 0, 1] },
    whites: {},
    troubles: [
      {
        ...{ kind: 'lamp-in-frame', lamp: 'L1', severity: 2, size: 1, cures: [], tried: true },
        says: 'The head of 1 is in frame.',
        short: 'the head of 1 is in frame',
      },
      {
        ...{ kind: 'under', severity: 1, size: 3.4, cures: [], tried: true },
        says: 'A sits 3.4 stops under grey on the shadow side.',
        short: 'A is 3.4 stops under',
      },
    ],
    savingStop: 2.8,
    quick: true,
    noiseStops: 0.06,
    notes: [],
  };
}

const grey: Picture = {
  png: Uint8Array.from(writePng(32, 18, new Uint8Array(3 * 32 * 18).fill(120))),
  width: 32,
  height: 18,
  note: 'computed; a quick picture, from few rays',
};

export function bookFacts(shoot: Shoot, more: Partial<BookFacts> = {}): BookFacts {
  const angles = anglesOf(shoot);
  return {
    shoot,
    angles,
    reads: new Map(angles.map((ref) => [keyOf(ref), madeRead(shoot, ref)])),
    pictures: Object.fromEntries(angles.map((ref) => [keyOf(ref), grey])),
    outlines: () => () => undefined,
    paper: 'a4',
    date: '26 Nov 2026',
    version: { number: 3, word: 'k7f2' },
    ...more,
  };
}
