/** Everything that is read in one angle: marks, spots, what strikes the lens, what the frame sees. Pure. */

import { type AngleGeometry, type AngleWeights, lightsOf } from '../setup/angle.ts';
import { CONSTANT, slopeOf } from '../setup/causes.ts';
import type { Exposure } from '../setup/develop.ts';
import { sigmaBefore } from '../setup/learned.ts';
import { isDaylight } from '../shoot/rigFor.ts';
import type { Hits } from '../transport/tracer.ts';
import { withArticle } from './causeWords.ts';
import { type Cause, type Causes, doubt, sensitivity } from './doubt.ts';
import { findProbe, lampAt, xyzAt } from './lightAt.ts';
import { luminanceToward } from './luminance.ts';
import type { Measured } from './measure.ts';
import { readHere } from './meter.ts';
import { type MarkReading, readMark } from './readMark.ts';
import { pointSeen, type SeenPart, seenGlow, seenParts } from './seen.ts';

export interface SpotReading {
  spot: string;
  kind: string;
  lx: number;
  /** Against the incident key light of the angle’s best-lit seen face, stops; undefined: no such face. */
  underKeyStops: number | undefined;
  /** The surface itself over grey, its reflectance included; undefined: reflectance not told. */
  overGreyStops: number | undefined;
  bandStops: number;
  doubts: string[];
  /** A reading made here tells of the lamps that light it now. */
  metered: boolean;
  seen: boolean;
  lamps: { lamp: string; directLx: number; bouncedLx: number }[];
  xyz: [number, number, number];
}

export interface AngleReading {
  marks: MarkReading[];
  spots: SpotReading[];
  lensLx: Map<string, number>;
  seen: ReadonlyMap<number, SeenPart>;
  glow: Map<string, { share: number; luminance: number }>;
  quick: boolean;
  noiseStops: number;
}

/** Causes of doubt of a rig: kinds, heads, places, surfaces, the exposure constant; in words, as they were before any reading. */
export function causesOf(angle: AngleGeometry, weights: AngleWeights): Causes {
  const causes = new Map<string, Cause>();
  const put = (id: string, words: string) => causes.set(id, { words, sigmaStops: sigmaBefore(id) });
  for (const w of weights.lamps) {
    const { kind, head, place } = w.causes;
    const number = angle.rig.lamps[w.id]?.number ?? w.id;
    put(
      kind,
      sigmaBefore(kind) > 0.2 && !isDaylight(w.id)
        ? `what ${withArticle(w.kindWords)} of unknown make gives`
        : `what ${withArticle(w.kindWords)} gives`,
    );
    // What the sky sends comes from where it comes from; only its level is in doubt.
    if (isDaylight(w.id)) continue;
    put(head, `this very head, ${number}`);
    put(place, `where ${number} stands`);
  }
  put(weights.metered.surfaces, 'how light the surfaces are');
  put(CONSTANT, 'the exposure constant');
  return causes;
}

export function readAngle(
  angle: AngleGeometry,
  weights: AngleWeights,
  measured: Measured,
  exposure: Exposure,
  hits: Hits,
): AngleReading {
  const { names } = measured.plan;
  const seen = seenParts(hits);
  const byLayer = seenGlow(hits);
  const glow = new Map<string, { share: number; luminance: number }>();
  const lensLx = new Map<string, number>();
  const practicalInFrame = new Set<string>();
  for (const lamp of lightsOf(angle)) {
    for (const l of lamp.layers) {
      const g = byLayer.get(l);
      if (!g) continue;
      const before = glow.get(lamp.id) ?? { share: 0, luminance: 0 };
      // The surface's own luminance: a pixel wider than a thin tube would water it down.
      const own =
        Math.max(...angle.transport.layers[l]!.emitters.map((e) => luminanceToward(e, angle.view.eye))) ||
        g.luminance;
      glow.set(lamp.id, {
        share: Math.max(before.share, g.share),
        luminance: before.luminance + own * weights.layers[l]!.white[1],
      });
    }
    const i = findProbe(names, (n) => 'lens' in n && n.lens === lamp.id);
    lensLx.set(lamp.id, i < 0 ? 0 : lampAt(measured, weights, lamp.layers, i).directLx);
    if (angle.rig.lamps[lamp.id]?.practical && (glow.has(lamp.id) || seen.has(lamp.headPart)))
      practicalInFrame.add(lamp.id);
  }

  // Light at the named spots, and which lamp is a background's.
  const backgroundShare = new Map<string, number>();
  const spotLight = angle.spots.map((spot) => {
    const i = findProbe(names, (n) => 'spot' in n && n.spot === spot.id);
    const lamps = lightsOf(angle).map((lamp) => ({
      lamp: lamp.id,
      ...lampAt(measured, weights, lamp.layers, i),
    }));
    const lx = lamps.reduce((s, l) => s + l.directLx + l.bouncedLx, 0);
    const isSeen = pointSeen(angle.view, hits, spot.at);
    if (isSeen && lx > exposure.eRefLx / 64)
      for (const l of lamps)
        backgroundShare.set(
          l.lamp,
          Math.max(backgroundShare.get(l.lamp) ?? 0, (l.directLx + l.bouncedLx) / lx),
        );
    return { spot, i, lamps, lx, isSeen };
  });

  const causes = causesOf(angle, weights);
  const marks = angle.marks.map((mark) =>
    readMark(
      {
        angle,
        weights,
        measured,
        causes,
        eRefLx: exposure.eRefLx,
        stop: exposure.stop,
        practicalInFrame,
        backgroundShare,
      },
      mark,
    ),
  );
  const keyLx = Math.max(
    0,
    ...marks
      .filter((r) => {
        const mark = angle.marks.find((g) => g.id === r.mark)!;
        return mark.part >= 0 && seen.has(mark.part) && r.toward !== 'camera';
      })
      .map((r) => r.incidentLx),
  );
  const noise = new Map(causes);
  noise.set('noise', { words: 'noise of the picture', sigmaStops: measured.noiseStops });
  const spots = spotLight.map(({ spot, i, lamps, lx, isSeen }): SpotReading => {
    const parts = lamps.flatMap((l) => {
      const { causes: own } = weights.lamps.find((w) => w.id === l.lamp)!;
      return [
        { amount: l.directLx, scaledBy: slopeOf(own, weights.metered.surfaces, false) },
        { amount: l.bouncedLx, scaledBy: slopeOf(own, weights.metered.surfaces, true) },
      ];
    });
    const s = sensitivity(parts);
    s.set(CONSTANT, 1);
    s.set('noise', 1);
    return {
      spot: spot.id,
      kind: spot.kind,
      lx,
      underKeyStops: keyLx > 0 && lx > 0 ? Math.log2(keyLx / lx) : undefined,
      overGreyStops:
        spot.reflectance !== undefined && lx > 0
          ? Math.log2((spot.reflectance / 0.18) * (lx / exposure.eRefLx))
          : undefined,
      ...doubt(s, noise, weights.metered.joint),
      metered: readHere(weights, `spot:${spot.id}`, lamps),
      seen: isSeen,
      lamps,
      xyz: xyzAt(angle, measured, weights, i),
    };
  });
  return { marks, spots, lensLx, seen, glow, quick: measured.quick, noiseStops: measured.noiseStops };
}

/** A part of the stage over the clip: share of the frame, greatest stops over grey, and the middle of the place. */
export interface Clipped {
  share: number;
  overGreyStops: number;
  at: readonly [number, number, number];
  /** Bounds on the frame, 0–1 from left and top. */
  box: { left: number; top: number; right: number; bottom: number };
}

/** By part of the stage: what of it is over the clip; lamps seen themselves are left out. */
export function clippedParts(hits: Hits, xyz: Float32Array, exposure: Exposure): Map<number, Clipped> {
  const sums = new Map<
    number,
    { pixels: number; overGreyStops: number; x: number; y: number; z: number; box: Clipped['box'] }
  >();
  const limit = exposure.greyCdM2 * 2 ** exposure.response.stopsAboveGrey;
  const pixels = hits.width * hits.height;
  const glowing = new Set(hits.glow.pixel);
  for (let p = 0; p < pixels; p++) {
    const Y = xyz[3 * p + 1]!;
    if (!(Y > limit) || glowing.has(p)) continue;
    const first = hits.pixelStart[p]!;
    if (first === hits.pixelStart[p + 1]) continue;
    const c = sums.get(hits.part[first]!) ?? {
      ...{ pixels: 0, overGreyStops: -99, x: 0, y: 0, z: 0 },
      box: { left: 1, top: 1, right: 0, bottom: 0 },
    };
    c.pixels++;
    const px = p % hits.width;
    const py = (p - px) / hits.width;
    c.box.left = Math.min(c.box.left, px / hits.width);
    c.box.top = Math.min(c.box.top, py / hits.height);
    c.box.right = Math.max(c.box.right, (px + 1) / hits.width);
    c.box.bottom = Math.max(c.box.bottom, (py + 1) / hits.height);
    c.overGreyStops = Math.max(c.overGreyStops, Math.log2(Y / exposure.greyCdM2));
    c.x += hits.points.position[3 * first]!;
    c.y += hits.points.position[3 * first + 1]!;
    c.z += hits.points.position[3 * first + 2]!;
    sums.set(hits.part[first]!, c);
  }
  return new Map(
    [...sums].map(([part, c]) => [
      part,
      {
        share: c.pixels / pixels,
        overGreyStops: c.overGreyStops,
        at: [c.x / c.pixels, c.y / c.pixels, c.z / c.pixels],
        box: c.box,
      },
    ]),
  );
}

/**
 * The T-stop that saves every highlight not meant to go: how far to close from the set stop so that nothing
 * outside `spared` (lamps and parts meant to blow out) is over the clip. The set stop if nothing is.
 */
export function savingStop(
  reading: AngleReading,
  clipped: ReadonlyMap<number, Clipped>,
  exposure: Exposure,
  spared: { lamps: ReadonlySet<string>; parts: ReadonlySet<number> },
  practical: ReadonlySet<string>,
): number {
  let over = 0;
  // Smaller than a five-thousandth of the frame is a glint.
  for (const [part, c] of clipped)
    if (!spared.parts.has(part) && c.share >= 1 / 5000)
      over = Math.max(over, c.overGreyStops - exposure.response.stopsAboveGrey);
  // A lamp that should not be seen at all is a trouble of the frame, not something to expose for.
  for (const [lamp, g] of reading.glow)
    if (!spared.lamps.has(lamp) && practical.has(lamp) && g.luminance > 0)
      over = Math.max(over, Math.log2(g.luminance / exposure.greyCdM2) - exposure.response.stopsAboveGrey);
  return exposure.stop * 2 ** (over / 2);
}
