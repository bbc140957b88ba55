/** Diffusion frames of a rig lit: what falls on them becomes layers of its own, weighed as the lamp it came from. */
import { relayLayers } from '../transport/relay.ts';
import type { AbortSignalLike, Tracer } from '../transport/tracer.ts';
import type { AngleGeometry, AngleWeights } from './angle.ts';

/** The angle with its frames' layers added; itself when no frame stands in it. Loads the scene into `tracer`. */
export async function withRelays(
  tracer: Tracer,
  angle: AngleGeometry,
  options: { seed: number; signal?: AbortSignalLike },
): Promise<AngleGeometry> {
  if (angle.frames.length === 0) return angle;
  await tracer.load(angle.transport);
  const own = angle.transport.layers;
  const made = await relayLayers(tracer, angle.transport, angle.frames, options);
  const relayOf = made.map((layer) =>
    own.findIndex(
      (o) => layer.id.startsWith(`${o.id}/`) && angle.frames.some((f) => layer.id === `${o.id}/${f.id}`),
    ),
  );
  return {
    ...angle,
    transport: { stage: angle.transport.stage, layers: [...own, ...made] },
    lamps: angle.lamps.map((lamp) => ({
      ...lamp,
      layers: [
        ...lamp.layers,
        ...made.flatMap((layer, i) => (layer.lamp === lamp.id ? [own.length + i] : [])),
      ],
    })),
    relayOf,
  };
}

/** Weights for the relays too: each as the layer it relays. */
export const relayed = (angle: AngleGeometry, weights: AngleWeights): AngleWeights =>
  angle.relayOf.length === 0
    ? weights
    : { ...weights, layers: [...weights.layers, ...angle.relayOf.map((l) => weights.layers[l]!)] };
