/** Bounced light of a stage: its patches and links, kept by shape, and every layer spread over them. */

import { fieldFrom, type LayerField, type Room, repainted, roomOf } from '../../transport/quick/quick.ts';
import type { AbortSignalLike } from '../../transport/tracer.ts';
import { keep, load, type Means, SEED } from './means.ts';
import type { Shown } from './shown.ts';

/** The stage's patches and their links: kept by shape, so that a colour asks no ray. */
export async function roomFor(on: Means, s: Shown, signal: AbortSignalLike): Promise<Room> {
  const { stage } = s.geometry.transport;
  let room = on.rooms.get(stage.key);
  if (room) return room;
  for (const known of on.rooms.values())
    if (known.stage.shapeKey === stage.shapeKey) room = repainted(known, stage, { seed: SEED });
  if (!room) {
    await load(on, s);
    room = await roomOf(on.tracer, stage, { seed: SEED, signal });
  }
  keep(on.rooms, stage.key, room, 12);
  return room;
}

export async function fieldOf(
  on: Means,
  s: Shown,
  layer: number,
  signal: AbortSignalLike,
): Promise<LayerField> {
  const { stage, layers } = s.geometry.transport;
  const key = `${stage.key}|${layers[layer]!.key}`;
  let made = on.layerFields.get(key);
  if (!made) {
    const room = await roomFor(on, s, signal);
    const shape = `${stage.shapeKey}|${layers[layer]!.key}`;
    let direct = on.onPatches.get(shape);
    if (!direct) {
      await load(on, s);
      direct = await on.tracer.patchDirect(layer, { seed: SEED, signal, samples: 4 });
      keep(on.onPatches, shape, direct, 90);
    }
    made = fieldFrom(room, layers[layer]!, direct);
    keep(on.layerFields, key, made, 60);
  }
  return made;
}
