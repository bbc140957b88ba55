/** A lamp in somebody's hand: only its own layers, on a small picture. */

import { glossTable } from '../../transport/quick/bare.ts';
import { fieldFrom, quickBounced, quickDirect, quickProbes, standOf } from '../../transport/quick/quick.ts';
import type { AbortSignalLike } from '../../transport/tracer.ts';
import type { Wanted } from '../messages.ts';
import { load, type Means, SEED } from './means.ts';
import { sendPicture } from './pictures.ts';
import { sendReading } from './reading.ts';
import { idOf, type Lit, type Others, type Shown, sizeOf, smaller } from './shown.ts';

/** A carried lamp: only its layers, on the small picture. */
export async function moved(
  on: Means,
  s: Shown,
  w: Wanted,
  lamp: string,
  signal: AbortSignalLike,
): Promise<void> {
  const base = [...s.lit.values()].filter((l) => l.layerKeys.length === s.geometry.transport.layers.length);
  const small = smaller(sizeOf(s, w));
  const from = base.find((l) => l.width === small.width) ?? base[0];
  const own = s.geometry.lamps.find((l) => l.id === lamp)?.layers ?? [];
  if (!from || own.length === 0) return;
  const light = [...from.light];
  const m = s.meters;
  const options = { seed: SEED, signal };
  await load(on, s);
  for (const l of own) {
    const layer = s.geometry.transport.layers[l]!;
    const { set, stand } = standOf(layer);
    const gloss = from.room?.gloss ?? glossTable(s.geometry.transport.stage.materials);
    const direct = await quickDirect(on.tracer, gloss, from.sight, set, stand, { ...options, rough: true });
    // Readings of a newer wish come in between.
    await on.pause();
    if (from.room === undefined || !from.sight.links) {
      light[l] = { direct, bounced: from.light[l]!.bounced };
      continue;
    }
    // Bounced on the patches of the stage as it was: only the carried lamp's own few are missing meanwhile.
    const patches = await on.tracer.patchDirect(l, { ...options, samples: 2 });
    const fitted = new Float32Array(from.room.patches.count);
    fitted.set(patches.subarray(0, fitted.length));
    await on.pause();
    // Under the hand late bounces are summed up, shadows' edges asked by half the rays, the floor's gloss and paths in
    // nooks left out; they come when it rests.
    const field = fieldFrom(from.room, layer, fitted, { rough: true });
    await on.pause();
    light[l] = {
      direct,
      bounced: await quickBounced(on.tracer, from.room, from.sight, field, direct, options),
    };
    if (m?.links?.room === from.room)
      m.layers[l]!.bounced = (
        await quickProbes(on.tracer, from.room, m.plan.points, m.links.to, l, field, options, 0)
      ).bounced;
  }
  const { refined: _refined, ...rest } = from;
  from.others ??= noneOf(from);
  const shown: Lit = { ...rest, others: from.others, carried: own, light, quality: 'quick', noise: 1 };
  await on.pause();
  sendPicture(on, s, shown, w);
  // The next step has the same colours.
  from.palette = shown.palette;
  if (m && on.angles.get(idOf(s.ref)) === s) sendReading(on, s, w);
}

const noneOf = (lit: Lit): Others => ({
  layers: '',
  light: [],
  weights: [],
  xyz: new Float32Array(3 * lit.width * lit.height),
});
