/** Everything read in an angle, and the troubles in it, told to the page. */

import { airReading } from '../../readings/airReading.ts';
import { balanceOf } from '../../readings/balance.ts';
import { wrap } from '../../readings/bearing.ts';
import { meterPoints } from '../../readings/meter.ts';
import {
  type AngleReading,
  type Clipped,
  clippedParts,
  readAngle,
  savingStop,
} from '../../readings/readAngle.ts';
import { earnsInAngle } from '../../scheme/earns.ts';
import { keyOf as troubleKey, untried } from '../../scheme/trouble.ts';
import { troublesOf } from '../../scheme/troubles.ts';
import { type AngleGeometry, lightsOf } from '../../setup/angle.ts';
import { type Exposure, exposureOf } from '../../setup/develop.ts';
import { constantOf } from '../../setup/learned.ts';
import type { Hits } from '../../transport/tracer.ts';
import type { AngleResult, Wanted } from '../messages.ts';
import { GONE, hitsNow } from './hitsNow.ts';
import { stateKeyOf } from './keys.ts';
import { type Means, rays } from './means.ts';
import { measuredOf } from './meters.ts';
import type { Lit, Shown } from './shown.ts';

export function sendReading(on: Means, s: Shown, w: Wanted): void {
  const measured = measuredOf(s);
  if (!measured || s.meters?.bouncedKey === undefined) return;
  const exposure = exposureOf(s.rig.camera, constantOf(w.shoot));
  const { weights, supply, notes } = s.weighed;
  const hits = hitsNow(s);
  const reading: AngleReading = readAngle(s.geometry, weights, measured, exposure, hits);
  const clipped =
    s.last && w.only === undefined ? clippedIn(s.last, hits, exposure) : new Map<number, never>();
  const balanced = balanceOf(s.geometry, weights, measured);
  const light = s.last?.light;
  // While a hand is at it, what only a picture tells can wait.
  const lit =
    s.last && light && !w.busy && light.length === s.geometry.transport.layers.length
      ? {
          ...{ hits, xyz: s.last.xyz, direct: light.map((l) => l.direct.diffuse) },
          ...(hits.air ? { air: light.map((l) => l.direct.air) } : {}),
        }
      : undefined;
  const air =
    lit?.air && w.only === undefined
      ? airReading(s.geometry, weights, lit.air, exposure.greyCdM2)
      : undefined;
  const cured = on.cured.get(stateKeyOf(w.shoot, s.ref));
  let troubles: AngleResult['troubles'] = [];
  const shadows = lit ? [] : s.found.filter((t) => t.kind === 'shadow');
  try {
    s.found = troublesOf({
      shoot: w.shoot,
      angle: s.geometry,
      weights,
      reading,
      exposure,
      clipped,
      supply,
      ...(lit && w.only === undefined ? { lit } : {}),
    }).concat(shadows);
    troubles = s.found.map((t) => {
      const known = cured?.troubles.get(troubleKey(t));
      const plain = untried(t);
      if (known) return { ...plain, cures: known.cures, tried: true };
      return { ...plain, tried: t.severity < 1 || t.meant !== undefined };
    });
  } catch (error) {
    on.say({ kind: 'failed', turn: w.turn, angle: s.ref.angle, words: `troubles: ${error}` });
  }
  const whites: AngleResult['whites'] = {};
  for (const lamp of lightsOf(s.geometry)) {
    const sum: [number, number, number] = [0, 0, 0];
    for (const l of lamp.layers) for (let c = 0; c < 3; c++) sum[c]! += weights.layers[l]!.white[c]!;
    whites[lamp.id] = sum;
  }
  const spared = new Set(
    troubles.filter((t) => t.kind === 'clipped' && t.meant !== undefined && t.lamp).map((t) => t.lamp!),
  );
  const glowStops: AngleResult['glowStops'] = {};
  for (const [lamp, g] of reading.glow)
    if (g.luminance > 0) glowStops[lamp] = Math.log2(g.luminance / exposure.greyCdM2);
  const { balance } = balanced;
  on.say({
    kind: 'read',
    turn: w.turn,
    rays: rays(on),
    result: {
      ref: s.ref,
      marks: reading.marks,
      facesSeen: facesSeen(s.geometry, reading),
      spots: reading.spots,
      meters: meterPoints(s.geometry, weights, measured),
      lamps: weights.lamps,
      glowStops,
      supply,
      exposure: {
        eRefLx: exposure.eRefLx,
        stop: exposure.stop,
        clipStops: exposure.response.stopsAboveGrey,
        floorStops: exposure.response.stopsBelowGrey,
      },
      balance: {
        cctK: balance.cctK,
        duv: balance.duv,
        clamped: balance.clamped,
        matrix: [...balance.matrix],
      },
      whites,
      ...(air ? { air } : {}),
      troubles,
      free: cured?.free ?? [],
      savingStop: savingStop(
        reading,
        clipped,
        exposure,
        { lamps: spared, parts: new Set() },
        new Set(Object.keys(s.rig.lamps).filter((id) => s.rig.lamps[id]!.practical)),
      ),
      quick: measured.quick,
      noiseStops: measured.noiseStops,
      notes: [...s.geometry.notes, ...notes, ...balanced.notes],
    },
  });
  if (w.earns && !w.busy)
    on.say({
      kind: 'earned',
      turn: w.turn,
      angle: s.ref.angle,
      earned: earnsInAngle({
        shoot: w.shoot,
        ref: s.ref,
        angle: s.geometry,
        weights,
        measured,
        exposure,
        hits,
        reading,
        supply,
        facesSeen: facesSeen(s.geometry, reading),
      }),
    });
}

/** Counted once for each picture: many readings come between two. */
function clippedIn(lit: Lit, hits: Hits, exposure: Exposure): ReadonlyMap<number, Clipped> {
  const of = `${exposure.greyCdM2}|${exposure.response.stopsAboveGrey}`;
  if (lit.clipped?.of !== of || lit.clipped.hits !== hits) {
    const parts = clippedParts(hits, lit.xyz, exposure);
    parts.delete(GONE);
    lit.clipped = { of, hits, parts };
  }
  return lit.clipped.parts;
}

/** Marks whose face this angle sees: in frame, and not turned more than 110° from the lens. */
export function facesSeen(g: AngleGeometry, reading: AngleReading): string[] {
  return g.marks
    .filter((m) => {
      const seen = reading.seen.get(m.part);
      if (m.part < 0 || !seen || seen.share < 0.004) return false;
      const to = (Math.atan2(g.view.eye[1] - m.eyes[1], g.view.eye[0] - m.eyes[0]) * 180) / Math.PI;
      return Math.abs(wrap(to - m.facingDeg)) < 110;
    })
    .map((m) => m.id);
}
