/** The light of an angle's pictures: lit anew, in other colours, or refined by paths. */

import { glossTable } from '../../transport/quick/bare.ts';
import { paletteOf } from '../../transport/quick/picture.ts';
import {
  glance,
  type LayerLight,
  linkSight,
  quickBounced,
  quickDirect,
  quickProbes,
  standOf,
} from '../../transport/quick/quick.ts';
import { airNoiseOf, noiseOf, refine, refinement } from '../../transport/quick/refine.ts';
import type { AbortSignalLike } from '../../transport/tracer.ts';
import type { Wanted } from '../messages.ts';
import { fieldOf, roomFor } from './field.ts';
import { keyOf, metersKeyOf, startOf } from './keys.ts';
import { keep, load, type Means, SEED } from './means.ts';
import { sendPicture } from './pictures.ts';
import { sendReading } from './reading.ts';
import type { Lit, Shown } from './shown.ts';

/** Air that moves by less than this, stops, shows no grain. */
const EVEN_AIR = 0.12;

/** All layers of an angle at one size. */
export async function lightAt(
  on: Means,
  s: Shown,
  size: { width: number; height: number },
  signal: AbortSignalLike,
  directOnly = false,
): Promise<void> {
  const { transport, view } = s.geometry;
  const { stage, layers } = transport;
  const options = { seed: SEED, signal };
  const key = keyOf(s, size);
  const have = s.lit.get(key);
  const room = directOnly ? undefined : await roomFor(on, s, signal);
  await load(on, s);
  let sight =
    have?.sight ??
    glance(
      view,
      await on.tracer.hits(view, size.width, size.height, {
        ...options,
        samples: directOnly ? 1 : size.width < 300 ? 3 : 4,
      }),
    );
  if (room) sight = await linkSight(on.tracer, room, sight, options);
  const gloss = room?.gloss ?? glossTable(stage.materials);
  const light: LayerLight[] = [];
  for (const [l, layer] of layers.entries()) {
    const { set, stand } = standOf(layer);
    const direct =
      have?.light[l]?.direct ?? (await quickDirect(on.tracer, gloss, sight, set, stand, options));
    const bounced = room
      ? await quickBounced(on.tracer, room, sight, await fieldOf(on, s, l, signal), direct, {
          ...options,
          layer: l,
        })
      : new Float32Array(12 * sight.coarse.points.count);
    light.push({ direct, bounced });
  }
  const lit: Lit = {
    key,
    ...size,
    sight,
    names: { parts: stage.parts.map((p) => p.id), layers: layers.map((x) => x.id) },
    room,
    stageKey: stage.key,
    shownFor: s.geometryKey,
    palette: { stageKey: stage.key, palette: paletteOf(stage, sight.hits, sight.coarse) },
    layerKeys: layers.map((x) => x.key),
    light,
    quality: directOnly ? 'direct' : 'quick',
    paths: 0,
    noise: 1,
    xyz: new Float32Array(3 * size.width * size.height),
  };
  keep(s.lit, key, lit, 6);
  s.last = lit;
}

/** Bounced light anew where only colours are other than they were. */
export async function recolour(on: Means, s: Shown, w: Wanted, signal: AbortSignalLike): Promise<void> {
  const { stage, layers } = s.geometry.transport;
  const start = startOf(s);
  for (const lit of s.lit.values()) {
    if (lit.stageKey === stage.key || !lit.key.startsWith(start)) continue;
    lit.stageKey = stage.key;
    if (lit.room && lit.sight.links) {
      const room = await roomFor(on, s, signal);
      lit.room = room;
      for (let l = 0; l < layers.length; l++) {
        const field = await fieldOf(on, s, l, signal);
        const options = { seed: SEED, signal, guided: false };
        const { direct } = lit.light[l]!;
        const bounced = await quickBounced(on.tracer, room, lit.sight, field, direct, options);
        lit.light[l] = { direct, bounced };
      }
      lit.quality = 'quick';
      lit.paths = 0;
      lit.noise = 1;
      delete lit.refined;
    }
  }
  const m = s.meters;
  if (m && m.key === metersKeyOf(s) && m.links && m.bouncedKey !== `${m.key}|${stage.key}`) {
    const room = await roomFor(on, s, signal);
    for (let l = 0; l < layers.length; l++) {
      const field = await fieldOf(on, s, l, signal);
      const options = { seed: SEED, signal, guided: false };
      m.layers[l]!.bounced = (
        await quickProbes(on.tracer, room, m.plan.points, m.links.to, l, field, options, 0)
      ).bounced;
    }
    m.links = { room, to: m.links.to };
    m.bouncedKey = `${m.key}|${stage.key}`;
    m.paths = 0;
    m.noise = 0.3;
  }
  const lit = bestOf(s);
  // After a step back the picture is there already, but another one stands on the screen.
  if (lit && (s.geometryKey !== lit.shownFor || s.last !== lit)) {
    lit.shownFor = s.geometryKey;
    sendPicture(on, s, lit, w);
    if (m) sendReading(on, s, w);
  }
}

/** A batch of paths more: both halves of the light without bias, and how much they still move. */
export async function refineLit(on: Means, s: Shown, lit: Lit, signal: AbortSignalLike): Promise<void> {
  await load(on, s);
  const { stage, layers } = s.geometry.transport;
  lit.refined ??= refinement(
    lit.sight,
    layers.length,
    stage.air && layers.map((layer) => standOf(layer).set),
  );
  await refine(on.tracer, lit.sight, lit.refined, { seed: SEED, paths: 8, samples: 4, signal });
  lit.paths = lit.refined.paths;
  const gains = s.weighed.weights.layers.map((w) => w.white[1]);
  const ofAir = airNoiseOf(lit.refined, gains, lit.xyz);
  // The quick light of the air is even: it stands until the unbiased one is nearly so.
  lit.refined.light.forEach(({ direct }, l) => {
    const quick = lit.light[l]?.direct;
    const air = ofAir !== undefined && ofAir < EVEN_AIR ? lit.refined!.air?.light[l] : quick?.air;
    if (air) direct.air = air;
    // What strikes the lens is not refined: it stays the quick one.
    if (quick?.glassLx) direct.glassLx = quick.glassLx;
  });
  lit.noise = Math.hypot(noiseOf(lit.sight, lit.refined, gains)?.medianStops ?? 1, ofAir ?? 0);
  // Two batches at least before the quick light gives way to the unbiased.
  if (lit.refined.steps >= 2) {
    lit.quality = 'paths';
    lit.light = lit.refined.light;
  }
}

/** The finest picture there is of the angle as it stands. */
export function bestOf(s: Shown): Lit | undefined {
  const start = startOf(s);
  let best: Lit | undefined;
  for (const l of s.lit.values()) if (l.key.startsWith(start) && (!best || l.width > best.width)) best = l;
  return best;
}
