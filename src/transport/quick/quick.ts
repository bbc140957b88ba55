/**
 * A picture's light, quickly: what an angle sees (a `Sight`, of no lamp), the room's patches and their links (a
 * `Room`, of no lamp and no angle), a layer's bounce field (of no angle), and from these a layer's light in an angle.
 */

import { SAMPLES } from '../../colour/spectrum.ts';
import type { Stage } from '../../stage/stage.ts';
import { airLight } from '../airlight.ts';
import type { EmitterSet } from '../emitter.ts';
import { emitterSet } from '../emitter.ts';
import type { Layer, View } from '../scene.ts';
import { onHair } from '../strands.ts';
import { plainSums, type Sums } from '../sums.ts';
import type { AbortSignalLike, Direct, Hits, SurfacePoints, Tracer } from '../tracer.ts';
import { glassLux } from '../veil.ts';
import type { GlossTable, Stand } from './bare.ts';
import { bareAt, glossTable, standFor } from './bare.ts';
import { gather, guideOf, NO_GUIDE, UNEVEN } from './gather.ts';
import type { Nooks } from './nooks.ts';
import { crowding, mendNooks, nearOf, nookNeighbours, takeNear, withNooks } from './nooks.ts';
import type { Patches } from './patches.ts';
import { POINTS_PER_PATCH, patchesOf } from './patches.ts';
import { feelOut } from './ragged.ts';
import { type ShadeOptions, shade } from './shade.ts';
import type { Sheen } from './sheen.ts';
import { sheenOf } from './sheen.ts';
import type { Field } from './solve.ts';
import { closedLinks, solve } from './solve.ts';
import { bareFromStream, streamAt } from './stream.ts';
import type { Neighbours, Thin } from './thin.ts';
import { neighboursOf, pick, thin } from './thin.ts';

export interface QuickOptions {
  seed: number;
  signal?: AbortSignalLike;
}
const traceOptions = ({ seed, signal }: QuickOptions): QuickOptions => (signal ? { seed, signal } : { seed });

/** Links a gather point and a patch have. */
export const LINKS = 64;
/** Links a reading's probe has: a number must be quieter than a pixel. */
export const PROBE_LINKS = 256;
/** Guided rays a gather point and a probe send to hot patches, where light leaves unevenly. */
const GUIDED = 4;
const PROBE_GUIDED = 32;
/** Blocks each way over which bounced light is smoothed. */
const SMOOTHED = 2;
/** Of the points, the share whose doubtful nooks are traced at most, and by how many paths. */
const TRACED_SHARE = 1 / 32;
const TRACED_PATHS = 32;
/** Layers of more emitters than this are taken as a stream. */
const MANY = 4;
/** Points on every emitter asked for a probe. */
const PROBE_SAMPLES = 64;

/** What holds for a stage, whatever the lamps and cameras. */
export interface Room {
  stage: Stage;
  patches: Patches;
  /** LINKS per patch, closed. */
  links: Uint32Array;
  gloss: GlossTable;
  /** How its tracer does long sums; absent: plainly. */
  sums?: Sums | undefined;
}

/** The same links under other colours: no ray. `stage` must have the shape (`shapeKey`) of the room's. */
export const repainted = (room: Room, stage: Stage, options: QuickOptions): Room => ({
  stage,
  patches: patchesOf(stage, options.seed),
  links: room.links,
  gloss: glossTable(stage.materials),
  sums: room.sums,
});

/** The tracer must have a scene with this stage loaded: here and below. */
export async function roomOf(tracer: Tracer, stage: Stage, options: QuickOptions): Promise<Room> {
  const patches = patchesOf(stage, options.seed);
  const found = await tracer.links(patches.points, LINKS / POINTS_PER_PATCH, traceOptions(options));
  const links = closedLinks(found, patches.count);
  return { stage, patches, links, gloss: glossTable(stage.materials), sums: tracer.sums };
}

/** What an angle sees, whatever the lamps. */
export interface Sight {
  view: View;
  hits: Hits;
  /** Half size, for shadows; quarter size, for bounced light. */
  fine: Thin;
  coarse: Thin;
  /** LINKS per point of `coarse`, closed; undefined: not asked for yet, only direct light can be had. */
  links: Uint32Array | undefined;
  /** Once it has links: what points of `coarse` are smoothed with, and what was added to them for nooks. */
  near: Neighbours | undefined;
  nooks: Nooks | undefined;
}

export async function sightOf(
  tracer: Tracer,
  room: Room,
  view: View,
  hits: Hits,
  options: QuickOptions & { gatherBlock?: number },
): Promise<Sight> {
  return linkSight(tracer, room, glance(view, hits, options.gatherBlock), options);
}

/** A sight without links: enough for direct light, at no ray. */
export function glance(view: View, hits: Hits, gatherBlock = 4): Sight {
  const coarse = thin(hits, view, gatherBlock);
  const fine = thin(hits, view, 2);
  return { view, hits, fine, coarse, links: undefined, near: undefined, nooks: undefined };
}

/** The sight with links, and with points of their own for its nooks; itself if it has them. */
export async function linkSight(
  tracer: Tracer,
  room: Room,
  sight: Sight,
  options: QuickOptions,
): Promise<Sight> {
  if (sight.links) return sight;
  const { hits, fine, coarse } = sight;
  const asked = traceOptions(options);
  const found = await tracer.links(coarse.points, LINKS, { ...asked, near: nearOf(coarse) });
  const nearFound = takeNear(found);
  const crowd = crowding(nearFound, LINKS);
  const { thin: thinned, added } = withNooks(hits, coarse, fine, crowd);
  const first = coarse.points.count;
  const links = new Uint32Array(thinned.points.count * LINKS);
  links.set(closedLinks(found, room.patches.count));
  const points = pick(fine.points, added);
  const more = await tracer.links(points, LINKS, {
    ...asked,
    near: nearOf(thinned, coarse.block / fine.block).subarray(first),
  });
  const nearMore = takeNear(more);
  const own = crowding(nearMore, LINKS);
  const near = new Uint8Array(links.length);
  near.set(nearFound);
  near.set(nearMore, first * LINKS);
  await feelOut(tracer, hits, fine, thinned, added, own, asked);
  links.set(closedLinks(more, room.patches.count), first * LINKS);
  return {
    ...sight,
    coarse: thinned,
    links,
    near: nookNeighbours(neighboursOf(coarse, SMOOTHED, crowd), fine, added, first, own),
    nooks: { first, near },
  };
}

/** A layer of the loaded scene, worked out for all angles and readings. */
export interface LayerField {
  set: EmitterSet;
  stand: Stand;
  field: Field;
  sheen: Sheen | undefined;
}

export async function fieldOf(
  tracer: Tracer,
  room: Room,
  layer: Layer,
  number: number,
  options: QuickOptions,
): Promise<LayerField> {
  const direct = await tracer.patchDirect(number, {
    ...traceOptions(options),
    samples: POINTS_PER_PATCH,
  });
  return fieldFrom(room, layer, direct);
}

/** Bounces followed one by one while a hand moves a lamp. */
const FEW_BOUNCES = 3;

/** The same from light on the patches that is known already (lux each): no ray. `rough`: few bounces, no gloss. */
export function fieldFrom(
  room: Room,
  layer: Layer,
  direct: Float32Array,
  { rough = false }: { rough?: boolean } = {},
): LayerField {
  const { set, stand } = standOf(layer);
  const sheen = rough ? undefined : sheenOf(room.patches, set, stand, direct);
  const most = rough ? FEW_BOUNCES : undefined;
  const field = solve(room.patches, room.links, LINKS, direct, sheen, most, room.sums);
  return { set, stand, field, sheen };
}

/** One layer's light in one angle, at rated volts, bare. */
export interface LayerLight {
  /** Per point of the hits. */
  direct: Direct;
  /** 12 per point of the sight's `coarse`: bounced illuminance, lux-like. */
  bounced: Float32Array;
  /** 12 per point of `coarse`: luminance of bounced light in the gloss, cd/m²; absent: even light is taken. */
  glossBounced?: Float32Array;
}

/** `layer`: its number in the loaded scene, as in `quickBounced`. */
export async function quickLayer(
  tracer: Tracer,
  room: Room,
  sight: Sight,
  field: LayerField,
  options: QuickOptions & { layer?: number },
): Promise<LayerLight> {
  const direct = await quickDirect(tracer, room.gloss, sight, field.set, field.stand, options);
  return { direct, bounced: await quickBounced(tracer, room, sight, field, direct, options) };
}

/** Direct: as if nothing stood in the way, times what gets through. */
export async function quickDirect(
  tracer: Tracer,
  gloss: GlossTable,
  { view, hits, fine, coarse }: Sight,
  set: EmitterSet,
  stand: Stand,
  options: QuickOptions & Pick<ShadeOptions, 'rough'>,
): Promise<Direct> {
  const n = hits.points.count;
  const direct: Direct = { diffuse: new Float32Array(n), gloss: new Float32Array(n) };
  if (stand.emitter.length > MANY) {
    const stream = streamAt(set, stand, coarse.points, coarse.footprintM);
    bareFromStream(set, stand, gloss, hits.points, coarse, stream, direct, {
      rough: options.rough === true,
      flatLight: tracer.sums?.flatLight,
    });
  } else bareAt(set, stand, gloss, hits.points, 0, n, direct, tracer.sums?.flatLight);
  const share = await shade(tracer, set, hits, fine, worthAsking(hits.points, direct), {
    ...traceOptions(options),
    ...(options.rough ? { rough: true } : {}),
  });
  for (let i = 0; i < n; i++) {
    direct.diffuse[i]! *= share[i]!;
    direct.gloss[i]! *= share[i]!;
  }
  const air = await airLight(tracer, view, hits, set, traceOptions(options));
  if (air) direct.air = air;
  direct.glassLx = await glassLux(tracer, view, set, traceOptions(options));
  return direct;
}

/** What shadows could take off at each point, lux: dark hair sends back hardly any but white, which is no illuminance. */
function worthAsking(points: SurfacePoints, { diffuse, gloss }: Direct): Float32Array {
  if (!points.grain) return diffuse;
  const out = diffuse.slice();
  for (let p = 0; p < out.length; p++) if (onHair(points, p)) out[p]! += Math.PI * gloss[p]!;
  return out;
}

/** A layer's emitters as quick direct light takes them. */
export function standOf(layer: Layer): { set: EmitterSet; stand: Stand } {
  const set = emitterSet(layer.emitters);
  return { set, stand: standFor(set) };
}

/**
 * Bounced: what the links see, smoothed over like neighbours; 12 per point of the sight's `coarse`. `direct`: the same
 * layer's, which lights nooks; `layer`: its number in the loaded scene, if paths may be traced where nooks are doubtful.
 * `guided: false` asks no ray: links alone, a little noisier round small hot patches.
 */
export async function quickBounced(
  tracer: Tracer,
  room: Room,
  sight: Sight,
  { field, sheen }: LayerField,
  direct: Direct,
  options: QuickOptions & { guided?: boolean; layer?: number },
): Promise<Float32Array> {
  const { coarse, links, near, nooks } = sight;
  if (!links || !near) throw new Error('The sight has no links yet: call linkSight first.');
  const guide = options.guided === false ? NO_GUIDE : guideOf(room.patches, field, links);
  const raw = await gather(tracer, room.patches, field, guide, coarse.points, links, LINKS, {
    ...traceOptions(options),
    guided: guide.unevenness > UNEVEN ? GUIDED : 0,
    sheen,
  });
  if (nooks) {
    const doubtful = mendNooks(
      nooks,
      coarse,
      room.patches,
      field.exitance,
      links,
      LINKS,
      direct.diffuse,
      raw,
      tracer.sums,
    );
    if (options.layer !== undefined && options.guided !== false)
      await traceNooks(tracer, coarse, doubtful, options.layer, options, raw);
  }
  const bounced = new Float32Array(raw.length);
  (tracer.sums ?? plainSums).smooth(near, raw, bounced);
  return bounced;
}

/** Short paths in place of what is doubtful, 12 numbers a point of `coarse`; the smoothing after it takes their noise. */
async function traceNooks(
  tracer: Tracer,
  coarse: Thin,
  doubtful: Uint32Array,
  layer: number,
  options: QuickOptions,
  raw: Float32Array,
): Promise<void> {
  const some = doubtful.subarray(0, Math.ceil(coarse.points.count * TRACED_SHARE));
  if (some.length === 0) return;
  const { layers } = await tracer.trace(pick(coarse.points, some), {
    ...traceOptions(options),
    paths: TRACED_PATHS,
    only: [layer],
  });
  some.forEach((c, i) => {
    raw.set(layers[0]!.bounced.subarray(i * SAMPLES, (i + 1) * SAMPLES), c * SAMPLES);
  });
}

/** Links of probes, for as long as stage and probes stay. */
export async function probeLinks(
  tracer: Tracer,
  room: Room,
  points: SurfacePoints,
  options: QuickOptions,
): Promise<Uint32Array> {
  return closedLinks(await tracer.links(points, PROBE_LINKS, traceOptions(options)), room.patches.count);
}

/**
 * What meters say of one layer: direct lux per probe, and 12 numbers of bounced. `links` by `probeLinks`.
 * `samples` on every emitter; 0: direct light is not asked (all zero).
 */
export async function quickProbes(
  tracer: Tracer,
  room: Room,
  points: SurfacePoints,
  links: Uint32Array,
  number: number,
  { set, field, sheen }: LayerField,
  options: QuickOptions & { guided?: boolean },
  samples = Math.max(4, Math.ceil(PROBE_SAMPLES / Math.max(1, set.count))),
): Promise<{ direct: Float32Array; bounced: Float32Array }> {
  const diffuse =
    samples > 0
      ? (await tracer.direct(points, number, { ...traceOptions(options), samples })).diffuse
      : new Float32Array(points.count);
  const guide = options.guided === false ? NO_GUIDE : guideOf(room.patches, field);
  const bounced = await gather(tracer, room.patches, field, guide, points, links, PROBE_LINKS, {
    ...traceOptions(options),
    guided: options.guided === false ? 0 : PROBE_GUIDED,
    sheen,
  });
  return { direct: diffuse, bounced };
}
