/** Readings, troubles and supply as plain data for other programs: what `rushlight tell --json` prints. */

import type { WhiteBalance } from '../camera/whitebalance.ts';
import type { Solution } from '../power/solve.ts';
import { castOf } from '../readings/balance.ts';
import { clockWords } from '../readings/bearing.ts';
import type { SpotReading } from '../readings/readAngle.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { CameraSettings, Shoot } from '../shoot/schema.ts';
import { earnedWords, ranked } from './earns.ts';
import type { Survey } from './survey.ts';
import type { Trouble } from './trouble.ts';

const to = (v: number | undefined, digits: number): number | undefined =>
  v === undefined || !Number.isFinite(v) ? undefined : Number(v.toFixed(digits));

const settingsOf = (c: CameraSettings) => ({
  class: c.class,
  ei: c.ei,
  fps: c.fps,
  shutter: c.shutter,
  stop: c.stop,
  ndDensity: c.ndDensity ?? 0,
  whiteBalance: c.whiteBalance,
});

/** What is told of an angle wherever it was worked out: a survey holds it, and so does what the screen read last. */
export interface Read {
  camera: CameraSettings;
  marks: readonly MarkReading[];
  spots: readonly SpotReading[];
  quick: boolean;
  noiseStops: number;
  savingStop: number;
  balance: Pick<WhiteBalance, 'cctK' | 'duv'>;
  troubles: readonly Trouble[];
  notes: string[];
}

const castIn = (balance: Read['balance']) => (xyz: readonly [number, number, number] | undefined) => {
  const c = xyz && castOf(xyz, balance);
  return c && { cctK: to(c.cctK, 0), mired: to(c.mired, 0), duv: to(c.duv, 4) };
};

/** Readings and troubles of one angle. */
export function readTold(ref: AngleRef, s: Read) {
  const cast = castIn(s.balance);
  return {
    scene: ref.scene,
    angle: ref.angle,
    settings: settingsOf(s.camera),
    quick: s.quick,
    noiseStops: to(s.noiseStops, 3),
    savingStop: to(s.savingStop, 2),
    marks: s.marks.map((m) => ({
      mark: m.mark,
      toward: m.toward,
      incidentLx: to(m.incidentLx, 1),
      towardCameraLx: to(m.towardCameraLx, 1),
      askedT: to(m.askedT, 2),
      overStops: to(m.overStops, 2),
      bandStops: to(m.bandStops, 2),
      doubts: m.doubts,
      ratioStops: to(m.ratioStops, 2),
      ratio: to(m.ratio, 2),
      ratioBandStops: to(m.ratioBandStops, 2),
      convention: m.convention,
      keyToRest: to(m.keyToRest, 2),
      backOverKeyStops: to(m.backOverKeyStops, 2),
      litOverGreyStops: to(m.litOverGreyStops, 2),
      shadeOverGreyStops: to(m.shadeOverGreyStops, 2),
      litSide: m.litSide,
      /** Colour of the light on each side against the camera's balance. */
      litCast: cast(m.litXyz),
      shadeCast: cast(m.shadeXyz),
      lamps: m.lamps.map((l) => ({
        lamp: l.lamp,
        directLx: to(l.directLx, 1),
        bouncedLx: to(l.bouncedLx, 1),
        lx: to(l.lx, 1),
        role: l.role,
        azimuthDeg: to(l.azimuthDeg, 1),
        side: l.side,
        elevationDeg: to(l.elevationDeg, 1),
        distanceM: to(l.distanceM, 3),
        clock: l.clock,
        where: clockWords(l.clock),
        overStops: to(l.overStops, 2),
      })),
    })),
    spots: s.spots.map((p) => ({
      spot: p.spot,
      kind: p.kind,
      lx: to(p.lx, 1),
      underKeyStops: to(p.underKeyStops, 2),
      overGreyStops: to(p.overGreyStops, 2),
      bandStops: to(p.bandStops, 2),
      doubts: p.doubts,
      seen: p.seen,
      lamps: p.lamps.map((l) => ({
        lamp: l.lamp,
        directLx: to(l.directLx, 1),
        bouncedLx: to(l.bouncedLx, 1),
      })),
    })),
    troubles: s.troubles.map((t) => ({
      kind: t.kind,
      lamp: t.lamp,
      subject: t.subject,
      severity: t.severity,
      says: t.says,
      at: t.at ? { x: to(t.at[0], 3), y: to(t.at[1], 3), z: to(t.at[2], 3) } : undefined,
      meant: t.meant ?? false,
      cures: t.cures,
    })),
    notes: s.notes,
  };
}

/** The same with what only a survey knows. */
export function angleTold(ref: AngleRef, s: Survey) {
  const { quick, noiseStops, marks, spots, lensLx } = s.reading;
  const { camera } = s.angle.rig;
  const { savingStop, balance, troubles, notes } = s;
  const cast = castIn(balance);
  const read = { camera, quick, noiseStops, marks, spots, savingStop, balance, troubles, notes };
  return {
    ...readTold(ref, read),
    balance: {
      cctK: to(s.balance.cctK, 0),
      duv: to(s.balance.duv, 4),
      askedK: to(s.balance.askedK, 0),
      clamped: s.balance.clamped,
    },
    /** Each lamp's light, sheets and volts in, against the camera's balance. */
    casts: s.angle.lamps.map((l) => {
      const white = s.weights.layers[l.layers[0]!]!.white;
      return { lamp: l.id, ...cast(white) };
    }),
    /** What haze, rain or snow adds to the picture, by the side its lamps stand on. */
    ...(s.air
      ? {
          air: {
            behindCdM2: to(s.air.behindCdM2, 3),
            frontCdM2: to(s.air.frontCdM2, 3),
            ratioStops: to(s.air.ratioStops, 2),
            overGreyStops: to(s.air.overGreyStops, 2),
            lawRatio: to(s.air.lawRatio, 1),
            lamps: s.air.lamps.map((l) => ({
              lamp: l.lamp,
              behindCdM2: to(l.behindCdM2, 3),
              frontCdM2: to(l.frontCdM2, 3),
            })),
          },
        }
      : {}),
    lens: Object.fromEntries([...lensLx].map(([lamp, lx]) => [lamp, to(lx, 1)])),
  };
}

export function powerTold(s: Solution, lamps: Survey['weights']['lamps']) {
  return {
    circuits: s.circuits.map((c) => ({
      circuit: c.id,
      currentA: to(c.nominalCurrentA, 2),
      solvedA: to(c.currentA, 2),
      ratingA: c.ratingA,
      limitA: to(c.limitA, 2),
      level: c.level,
      verdict: c.verdict,
    })),
    devices: s.devices.map((d) => ({
      device: d.id,
      words: d.words,
      currentA: to(d.nominalCurrentA, 2),
      solvedA: to(d.currentA, 2),
      ratingA: d.ratingA,
      limitA: to(d.limitA, 2),
      level: d.level,
      verdict: d.verdict,
    })),
    lamps: lamps.map((l) => ({
      lamp: l.id,
      volts: to(l.volts, 2),
      currentA: to(l.currentA, 3),
      lightFactor: to(l.lightFactor, 4),
      cctK: to(l.cctK, 0),
      outCctK: to(l.outCctK, 0),
      outDuv: to(l.outDuv, 4),
    })),
    notChecked: s.notChecked,
  };
}

/** What each lamp earns over the angles asked, most first: stops lost without it. Absent: not asked. */
function earnsTold(angles: readonly { ref: AngleRef; survey: Survey }[]) {
  const list = angles.flatMap((a) =>
    a.survey.earned ? [{ angle: `${a.ref.scene} ${a.ref.angle}`, earned: a.survey.earned }] : [],
  );
  if (list.length === 0) return undefined;
  const loads = angles[0]!.survey.supply.loads;
  return ranked(list, (id) => loads.find((l) => l.id === id)?.nominalCurrentA).map((e) => ({
    lamp: e.lamp,
    stops: to(e.stops, 2),
    amps: to(e.amps, 2),
    stopsPerAmp: to(e.stopsPerAmp, 2),
    angles: e.byAngle.map((a) => ({
      angle: a.angle,
      stops: to(a.earned.lostStops, 2),
      says: earnedWords(a.earned),
    })),
  }));
}

/** The whole answer. */
export function told(shoot: Shoot, angles: readonly { ref: AngleRef; survey: Survey }[]) {
  const first = angles[0];
  return {
    format: 'rushlight-readings',
    shoot: shoot.title,
    settings: first ? settingsOf(first.survey.angle.rig.scene.camera) : undefined,
    cRef: shoot.exposureConstant,
    quick: angles.some((a) => a.survey.reading.quick),
    angles: angles.map((a) => angleTold(a.ref, a.survey)),
    earns: earnsTold(angles),
    power: first ? powerTold(first.survey.supply, first.survey.weights.lamps) : undefined,
  };
}
