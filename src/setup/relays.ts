/** Diffusion frames of a rig lit: what falls on them becomes layers of its own, weighed as the lamp it came from. */
import { relayLayers } from '../transport/relay.ts';
import type { Layer } from '../transport/scene.ts';
import type { AbortSignalLike, Tracer } from '../transport/tracer.ts';
import type { AngleGeometry, AngleWeights, LampGeometry } from './angle.ts';

/** The angle with its frames' layers added; itself when no frame stands in it. Loads the scene into `tracer`. */
export async function withRelays(
  tracer: Tracer,
  angle: AngleGeometry,
  options: { seed: number; signal?: AbortSignalLike },
): Promise<AngleGeometry> {
  return angle.frames.length === 0 ? angle : withLayers(angle, await layersOfFrames(tracer, angle, options));
}

/** The layers an angle's frames make. Loads the scene into `tracer`. */
export async function layersOfFrames(
  tracer: Tracer,
  angle: AngleGeometry,
  options: { seed: number; signal?: AbortSignalLike },
): Promise<Layer[]> {
  await tracer.load(angle.transport);
  return relayLayers(tracer, angle.transport, angle.frames, options);
}

/** What `layersOfFrames` made, as text: where the frames stand, what throws light at them and what stands between. */
export const framesKeyOf = ({ frames, transport }: AngleGeometry): string =>
  JSON.stringify([frames, transport.stage.shapeKey, transport.layers.map((l) => l.key)]);

/** An angle with the layers its frames made. */
export function withLayers(angle: AngleGeometry, made: readonly Layer[]): AngleGeometry {
  const own = angle.transport.layers;
  const relayOf = made.map((layer) =>
    own.findIndex(
      (o) => layer.id.startsWith(`${o.id}/`) && angle.frames.some((f) => layer.id === `${o.id}/${f.id}`),
    ),
  );
  const more = (lamp: LampGeometry): LampGeometry => ({
    ...lamp,
    layers: [...lamp.layers, ...made.flatMap((layer, i) => (layer.lamp === lamp.id ? [own.length + i] : []))],
  });
  return {
    ...angle,
    transport: { stage: angle.transport.stage, layers: [...own, ...made] },
    lamps: angle.lamps.map(more),
    daylight: angle.daylight.map(more),
    relayOf,
  };
}

/** Weights for the relays too: each as the layer it relays. */
export const relayed = (angle: AngleGeometry, weights: AngleWeights): AngleWeights =>
  angle.relayOf.length === 0
    ? weights
    : { ...weights, layers: [...weights.layers, ...angle.relayOf.map((l) => weights.layers[l]!)] };
