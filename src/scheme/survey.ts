/** One angle looked at whole: built, traced, weighed, read, and its troubles found. For terminal, tests, paper. */

import type { WhiteBalance } from '../camera/whitebalance.ts';
import type { Solution } from '../power/solve.ts';
import { type AirReading, airReading } from '../readings/airReading.ts';
import { balanceOf } from '../readings/balance.ts';
import { lightOnFaces } from '../readings/faces.ts';
import { holdMeters } from '../readings/hold.ts';
import { type Measured, probePlan } from '../readings/measure.ts';
import { type AngleReading, clippedParts, readAngle, savingStop } from '../readings/readAngle.ts';
import type { AngleGeometry, AngleWeights } from '../setup/angle.ts';
import { type Exposure, exposureOf } from '../setup/develop.ts';
import { geometryOf } from '../setup/geometry.ts';
import { constantOf } from '../setup/learned.ts';
import { relayed, withRelays } from '../setup/relays.ts';
import { weightsOf } from '../setup/weights.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { PeopleData } from '../stage/people/person.ts';
import { paletteOf, picture } from '../transport/quick/picture.ts';
import {
  fieldOf,
  type LayerField,
  type LayerLight,
  probeLinks,
  quickLayer,
  quickProbes,
  roomOf,
  sightOf,
} from '../transport/quick/quick.ts';
import type { AbortSignalLike, Hits, Tracer } from '../transport/tracer.ts';
import { throughLens } from '../transport/veil.ts';
import { type EarnedInAngle, earnsInAngle, facesSeenBy } from './earns.ts';
import { type Trouble, untried } from './trouble.ts';
import { troublesOf } from './troubles.ts';
import { type Trier, trier, tryAll } from './tryCures.ts';

export interface Survey {
  angle: AngleGeometry;
  weights: AngleWeights;
  supply: Solution;
  exposure: Exposure;
  balance: WhiteBalance;
  measured: Measured;
  /** What haze, rain or snow shows; absent: clear air. */
  air?: AirReading;
  reading: AngleReading;
  hits: Hits;
  /** 3 × width × height, Y in cd/m²: the quick picture. */
  xyz: Float32Array;
  troubles: Trouble[];
  /** T-stop that saves every highlight not meant to go. */
  savingStop: number;
  /** What each lamp earns here, where it was asked for. */
  earned?: EarnedInAngle[];
  notes: string[];
}

export interface SurveyOptions {
  seed: number;
  width?: number;
  height?: number;
  /** How finely people are built; 'near' for pictures. */
  detail?: 'near' | 'medium' | 'far';
  /** False: troubles without cures, which take a small picture each to try. */
  cures?: boolean;
  /** Readings from the quick field instead of paths. */
  quick?: boolean;
  /** Wanted noise of readings, stops, and the most paths for it. */
  noiseStops?: number;
  maxPaths?: number;
  /** Strike each lamp in turn too: no ray more. */
  earns?: boolean;
  /** What else is to be tried against this angle while its light is at hand. */
  use?: (trial: Trier) => Promise<void>;
  signal?: AbortSignalLike;
  progress?: (share: number) => void;
}

/** What quick readings are taken to be off by, one sigma: the grain of links and patches (measured on the demos). */
const QUICK_NOISE_STOPS = 0.06;

export async function surveyAngle(
  tracer: Tracer,
  shoot: Shoot,
  ref: AngleRef,
  people: PeopleData | undefined,
  options: SurveyOptions,
): Promise<Survey> {
  const { seed, signal } = options;
  const common = { seed, ...(signal ? { signal } : {}) };
  const bare = geometryOf(shoot, ref, people, options.detail);
  const angle = await withRelays(tracer, bare, common);
  const { weights: own, supply, notes } = weightsOf(shoot, ref);
  const weights = relayed(angle, own);
  const exposure = exposureOf(angle.rig.camera, constantOf(shoot));
  await tracer.load(angle.transport);
  options.progress?.(0.05);

  // The quick picture: what is seen, what clips.
  const { stage, layers } = angle.transport;
  const hits = await tracer.hits(angle.view, options.width ?? 480, options.height ?? 270, {
    ...common,
    samples: 4,
  });
  const room = await roomOf(tracer, stage, common);
  const sight = await sightOf(tracer, room, angle.view, hits, common);
  const light: LayerLight[] = [];
  const fields: LayerField[] = [];
  for (const [l, layer] of layers.entries()) {
    fields.push(await fieldOf(tracer, room, layer, l, common));
    light.push(await quickLayer(tracer, room, sight, fields[l]!, { ...common, layer: l }));
    options.progress?.(0.05 + (0.35 * (l + 1)) / layers.length);
  }
  const xyz = picture(hits, sight.coarse, paletteOf(stage, hits, sight.coarse), light, weights.layers);

  // The meters.
  let measured: Measured;
  if (options.quick) {
    const plan = probePlan(angle);
    const links = await probeLinks(tracer, room, plan.points, common);
    const at: Measured['layers'] = [];
    for (const [l, field] of fields.entries())
      at.push(await quickProbes(tracer, room, plan.points, links, l, field, common));
    measured = { plan, layers: at, quick: true, noiseStops: QUICK_NOISE_STOPS };
  } else
    measured = await holdMeters(tracer, angle, {
      ...common,
      ...(options.noiseStops === undefined ? {} : { noiseStops: options.noiseStops }),
      ...(options.maxPaths === undefined ? {} : { maxPaths: options.maxPaths }),
    });
  measured.faces = await lightOnFaces(
    tracer,
    angle,
    angle.marks.map((m) => m.id),
    { ...common, samples: options.quick ? 4 : 12 },
  );
  options.progress?.(0.95);

  const balanced = balanceOf(angle, weights, measured);
  const reading = readAngle(angle, weights, measured, exposure, hits);
  const clipped = clippedParts(hits, xyz, exposure);
  const air = stage.air ? light.map((l) => l.direct.air) : undefined;
  const lit = { hits, xyz, direct: light.map((l) => l.direct.diffuse), ...(air ? { air } : {}) };
  const found = troublesOf({ shoot, angle, weights, reading, exposure, clipped, lit, supply });
  const known = {
    ...{ shoot, ref, people, angle, weights, supply, measured, hits, light },
    detail: options.detail ?? 'near',
    coarse: sight.coarse,
  };
  const trial = trier(tracer, known, common);
  const troubles = options.cures === false ? found.map(untried) : await tryAll(found, trial);
  await options.use?.(trial);
  const meant = troubles.filter((t) => t.meant !== undefined);
  const spared = {
    lamps: new Set(meant.flatMap((t) => (t.kind === 'clipped' && t.lamp ? [t.lamp] : []))),
    parts: new Set(
      [...clipped.keys()].filter((part) =>
        meant.some((t) => t.kind === 'clipped' && t.subject === stage.parts[part]!.id),
      ),
    ),
  };
  const facesSeen = facesSeenBy(angle, reading);
  const earned = options.earns
    ? earnsInAngle({ shoot, ref, angle, weights, measured, exposure, hits, reading, supply, facesSeen })
    : undefined;
  const aired = air && airReading(angle, weights, air, exposure.greyCdM2);
  return {
    ...(earned ? { earned } : {}),
    angle,
    weights,
    supply,
    exposure,
    balance: balanced.balance,
    measured,
    reading,
    ...(aired ? { air: aired } : {}),
    hits,
    // Troubles are found in the light itself; what is shown is what the lens makes of it.
    xyz: throughLens(
      xyz,
      hits.width,
      hits.height,
      light.map((l, i) => ({ glassLx: l.direct.glassLx ?? 0, white: weights.layers[i]!.white })),
    ),
    troubles,
    savingStop: savingStop(
      reading,
      clipped,
      exposure,
      spared,
      new Set(angle.lamps.filter((l) => angle.rig.lamps[l.id]!.practical).map((l) => l.id)),
    ),
    notes: [...angle.notes, ...notes, ...balanced.notes],
  };
}
