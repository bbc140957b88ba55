/**
 * One picture's light, quick: what the view sees and its links (kept while view and stage stay), the stage's
 * field (kept while the stage stays), and each layer's direct and bounced light.
 */
import { type GatherPlan, gatherPlan, smoothed } from './gatherPlan.ts';
import { type Patches, patchesOf } from './patches.ts';
import type { LayerLight } from './picture.ts';
import { pointsOnPatches, trianglesOfPatches } from './points.ts';
import { type DirectPlan, directPlan, type QuickQuality, quickDirect } from './quickDirect.ts';
import type { TransportScene, View } from './scene.ts';
import { gatherAll, type PatchLinks, solveField } from './solve.ts';
import type { AbortSignalLike, Hits, SurfacePoints, Tracer } from './tracer.ts';

export interface Options {
  seed: number;
  signal?: AbortSignalLike;
}

/** Links of a stage's patches: light between surfaces, of no lamp. */
export interface StageField {
  patches: Patches;
  links: PatchLinks;
}

/** Points a patch is sampled at, and links from each. */
const POINTS = 4;
const LINKS = 16;

export async function stageField(
  tracer: Tracer,
  scene: TransportScene,
  options: Options,
): Promise<StageField> {
  const patches = patchesOf(scene.stage);
  const points = pointsOnPatches(scene.stage, trianglesOfPatches(scene.stage), POINTS, options.seed);
  const to = await tracer.links(points, LINKS, options);
  return { patches, links: { per: POINTS * LINKS, to } };
}

/** Exitance of every patch by a layer's light, after any number of bounces: patches × 12. */
export async function layerField(
  tracer: Tracer,
  field: StageField,
  layer: number,
  options: Options & { samples?: number },
): Promise<Float32Array> {
  const direct = await tracer.patchDirect(layer, { ...options, samples: options.samples ?? 6 });
  return solveField(direct, field.links, field.patches.reflectance);
}

/** What a view sees, ready to be lit. */
export interface Sight {
  hits: Hits;
  gather: GatherPlan;
  links: PatchLinks;
}

export async function sightOf(
  tracer: Tracer,
  view: View,
  width: number,
  height: number,
  options: Options & { links?: number; block?: number; edges?: number },
): Promise<Sight> {
  const hits = await tracer.hits(view, width, height, { ...options, samples: options.edges ?? 4 });
  const gather = gatherPlan(hits, options.block ?? 4);
  const per = options.links ?? 48;
  return { hits, gather, links: { per, to: await tracer.links(gather.points, per, options) } };
}

const plans = new WeakMap<Hits, Map<QuickQuality, DirectPlan>>();
function planOf(hits: Hits, quality: QuickQuality): DirectPlan {
  let byQuality = plans.get(hits);
  if (!byQuality) {
    byQuality = new Map();
    plans.set(hits, byQuality);
  }
  let plan = byQuality.get(quality);
  if (!plan) {
    plan = directPlan(hits, quality);
    byQuality.set(quality, plan);
  }
  return plan;
}

/** Direct and bounced light of one layer in one sight. `field`: from `layerField`. */
export async function lightOf(
  tracer: Tracer,
  sight: Sight,
  layer: number,
  field: Float32Array,
  quality: QuickQuality,
  options: Options,
): Promise<LayerLight> {
  const direct = await quickDirect(tracer, sight.hits, planOf(sight.hits, quality), layer, options);
  return { direct, bounced: bouncedOf(sight, field) };
}

export const bouncedOf = (sight: Sight, field: Float32Array): Float32Array =>
  smoothed(sight.gather, gatherAll(sight.links, sight.gather.points.count, field));

/** Direct (many samples) and bounced (own links) light at probes, per layer. */
export async function probeLight(
  tracer: Tracer,
  points: SurfacePoints,
  fields: readonly (Float32Array | undefined)[],
  links: PatchLinks,
  options: Options & { samples?: number; only?: readonly number[] },
): Promise<({ direct: Float32Array; bounced: Float32Array } | undefined)[]> {
  const out: ({ direct: Float32Array; bounced: Float32Array } | undefined)[] = [];
  for (let l = 0; l < fields.length; l++) {
    const field = fields[l];
    if (!field || (options.only && !options.only.includes(l))) {
      out.push(undefined);
      continue;
    }
    const { diffuse } = await tracer.direct(points, l, { ...options, samples: options.samples ?? 48 });
    out.push({ direct: diffuse, bounced: gatherAll(links, points.count, field) });
  }
  return out;
}

/** Links of probes: more of them, for they are few. */
export async function probeLinks(
  tracer: Tracer,
  points: SurfacePoints,
  options: Options,
  per = 256,
): Promise<PatchLinks> {
  return { per, to: await tracer.links(points, per, options) };
}
