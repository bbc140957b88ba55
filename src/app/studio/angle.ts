/** An angle as it is wanted: its geometry by content, its weights always. */

import type { AngleGeometry, LayerWeight } from '../../setup/angle.ts';
import { geometryOf } from '../../setup/geometry.ts';
import { kindOf, layersOf, poseOf } from '../../setup/lamps.ts';
import { framesKeyOf, layersOfFrames, relayed, withLayers } from '../../setup/relays.ts';
import { type Weighed, weightsOf } from '../../setup/weights.ts';
import { type AngleRef, type RigForAngle, rigFor } from '../../shoot/rigFor.ts';
import type { Shoot } from '../../shoot/schema.ts';
import type { AbortSignalLike } from '../../transport/tracer.ts';
import type { Wanted } from '../messages.ts';
import { geometryKeyOf } from './keys.ts';
import { keep, type Means, SEED } from './means.ts';
import { dark } from './pictures.ts';
import { idOf, type Shown } from './shown.ts';

/** An angle's geometry built and made ready for rays, before anything is asked of it. */
export async function ready(on: Means, ref: AngleRef, shoot: Shoot): Promise<void> {
  const key = geometryKeyOf(shoot, rigFor(shoot, ref), ref);
  if (on.geometries.has(key)) return;
  const geometry = geometryOf(shoot, ref, on.people, 'medium');
  keep(on.geometries, key, geometry, 40);
  await on.tracer.load(geometry.transport);
}

/** Geometry by content; weights always. */
export function prepare(on: Means, ref: AngleRef, w: Wanted): { shown: Shown; changed: boolean } {
  const rig = rigFor(w.shoot, ref);
  const weighed = w.moving ? weightsUnderHand(on, w.shoot, ref, w.moving) : weightsOf(w.shoot, ref);
  const id = idOf(ref);
  const before = on.angles.get(id);
  const geometryKey = geometryKeyOf(w.shoot, rig, ref) + (w.moving ? `|moving ${w.moving}` : '');
  let geometry = on.geometries.get(geometryKey);
  if (!geometry) {
    geometry = w.moving
      ? withoutHousing(on, w.shoot, ref, rig, w.moving)
      : geometryOf(w.shoot, ref, on.people, 'medium');
    // Equal content, the same object: a tracer that holds it has nothing to do.
    for (const g of on.geometries.values())
      if (
        g.transport.stage.key === geometry.transport.stage.key &&
        g.transport.stage !== geometry.transport.stage
      )
        geometry = { ...geometry, transport: { ...geometry.transport, stage: g.transport.stage } };
    keep(on.geometries, geometryKey, geometry, 40);
  }
  const changed = before?.geometryKey !== geometryKey;
  const shown: Shown = {
    ref,
    geometryKey,
    geometry: { ...geometry, rig },
    rig,
    weighed,
    weights: shownWeights(geometry, weighed, w),
    meters: before?.meters,
    lit: before?.lit ?? new Map(),
    last: before?.last,
    carried: before?.carried,
    found: before?.found ?? [],
  };
  on.angles.set(id, shown);
  return { shown, changed };
}

/** The document with a lamp out of the way, deep under the ground. */
function sunk(shoot: Shoot, ref: AngleRef, lamp: string): Shoot {
  const down: [number, number, number] = [0, 0, -60];
  const away = { at: down, aim: [1, 0, -60] as [number, number, number], support: { kind: 'hand' as const } };
  const scene = shoot.scenes[ref.scene]!;
  const angle = scene.angles[ref.angle]!;
  const { support: _held, ...cheat } = angle.cheats[lamp] ?? {};
  if (cheat.at) cheat.at = down;
  if (cheat.aim) cheat.aim = away.aim;
  const cheats = angle.cheats[lamp] ? { ...angle.cheats, [lamp]: cheat } : angle.cheats;
  return {
    ...shoot,
    scenes: {
      ...shoot.scenes,
      [ref.scene]: {
        ...scene,
        angles: { ...scene.angles, [ref.angle]: { ...angle, cheats } },
        rig: { ...scene.rig, lamps: { ...scene.rig.lamps, [lamp]: { ...scene.rig.lamps[lamp]!, ...away } } },
      },
    },
  };
}

/** The weights while a hand carries a lamp: where it stands tells nothing of what it gives, but for readings made there. */
function weightsUnderHand(on: Means, shoot: Shoot, ref: AngleRef, lamp: string): Weighed {
  if (Object.keys(shoot.readings ?? {}).length > 0) return weightsOf(shoot, ref);
  const key = JSON.stringify(sunk(shoot, ref, lamp));
  const known = on.weighed.get(idOf(ref));
  if (known?.key === key) return known.weighed;
  const weighed = weightsOf(shoot, ref);
  on.weighed.set(idOf(ref), { key, weighed });
  return weighed;
}

/** The angle as it is while a hand carries a lamp: its light where it is now, its housing out of the way. */
export function withoutHousing(
  on: Means,
  shoot: Shoot,
  ref: AngleRef,
  rig: RigForAngle,
  lamp: string,
): AngleGeometry {
  const l = rig.lamps[lamp];
  const kind = l && kindOf(shoot.kit.lamps[l.head]);
  if (!l || !kind) return geometryOf(shoot, ref, on.people, 'medium');
  const away = sunk(shoot, ref, lamp);
  const key = `${geometryKeyOf(away, rigFor(away, ref), ref)}|sunk`;
  let ghost = on.geometries.get(key);
  if (!ghost) {
    ghost = geometryOf(away, ref, on.people, 'medium');
    keep(on.geometries, key, ghost, 40);
  }
  const own = layersOf(lamp, l, kind);
  const slots = ghost.lamps.find((g) => g.id === lamp)?.layers ?? [];
  const layers = ghost.transport.layers.map((layer, i) => {
    const nth = slots.indexOf(i);
    return nth < 0 ? layer : { ...own[nth]!, ownParts: [] };
  });
  return {
    ...ghost,
    rig,
    transport: { stage: ghost.transport.stage, layers },
    lamps: ghost.lamps.map((g) => (g.id === lamp ? { ...g, at: l.at, axis: poseOf(l).axis } : g)),
  };
}

/** Diffusion frames in the angle become layers; asks rays only where a frame, or what lights it, is new. */
export async function lightFrames(on: Means, s: Shown, w: Wanted, signal: AbortSignalLike): Promise<void> {
  if (s.geometry.frames.length === 0 || s.geometry.relayOf.length > 0) return;
  const key = framesKeyOf(s.geometry);
  let made = on.framesLit.get(key);
  if (!made) {
    made = await layersOfFrames(on.tracer, s.geometry, { seed: SEED, signal });
    keep(on.framesLit, key, made, 40);
  }
  s.geometry = withLayers(s.geometry, made);
  s.weighed = { ...s.weighed, weights: relayed(s.geometry, s.weighed.weights) };
  s.weights = shownWeights(s.geometry, s.weighed, w);
}

/** The weights a picture is put together with: all lamps', or one alone. */
export const shownWeights = (geometry: AngleGeometry, weighed: Weighed, w: Wanted): LayerWeight[] =>
  weighed.weights.layers.map((l, i) =>
    w.only !== undefined && geometry.transport.layers[i]?.lamp !== w.only ? dark(l) : l,
  );
