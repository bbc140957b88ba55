/** Holds the meters: runs a tracer over an angle’s probes. */
import type { AngleGeometry } from '../setup/angle.ts';
import type { AbortSignalLike, Tracer } from '../transport/tracer.ts';
import { type Measured, probePlan } from './measure.ts';

/**
 * Unbiased: direct light by `directSamples` points on every emitter, bounced light by paths, in batches
 * until the typical noise of the bounced sum is under `noiseStops` or `maxPaths` is reached. The tracer must
 * have the angle's scene loaded.
 */
export async function holdMeters(
  tracer: Tracer,
  angle: AngleGeometry,
  options: {
    seed: number;
    directSamples?: number;
    noiseStops?: number;
    maxPaths?: number;
    signal?: AbortSignalLike;
  },
): Promise<Measured> {
  const plan = probePlan(angle);
  const n = plan.points.count;
  const layers: Measured['layers'] = [];
  const common = options.signal ? { signal: options.signal } : {};
  for (let l = 0; l < angle.transport.layers.length; l++) {
    const d = await tracer.direct(plan.points, l, {
      seed: options.seed,
      samples: options.directSamples ?? 64,
      ...common,
    });
    layers.push({ direct: d.diffuse, bounced: new Float32Array(12 * n) });
  }
  let paths = 0;
  let noiseStops = Number.POSITIVE_INFINITY;
  const wanted = options.noiseStops ?? 0.02;
  const variance = layers.map(() => new Float64Array(n));
  for (let batch = 0; noiseStops > wanted && paths < (options.maxPaths ?? 4096); batch++) {
    const add = Math.max(64, Math.min(512, paths));
    const e = await tracer.trace(plan.points, {
      seed: options.seed + 7919 * (batch + 1),
      paths: add,
      ...common,
    });
    e.layers.forEach((layer, l) => {
      const sum = layers[l]!.bounced;
      for (let i = 0; i < sum.length; i++)
        sum[i] = (sum[i]! * paths + layer.bounced[i]! * add) / (paths + add);
      for (let i = 0; i < n; i++)
        variance[l]![i] =
          (variance[l]![i]! * paths ** 2 + layer.variance[i]! * add ** 2) / (paths + add) ** 2;
    });
    paths += add;
    noiseStops = typicalNoise(layers, variance, n);
  }
  return { plan, layers, quick: false, noiseStops };
}

/** Median over probes and layers that matter of one sigma over the light there, in stops. */
function typicalNoise(layers: Measured['layers'], variance: Float64Array[], n: number): number {
  const noises: number[] = [];
  layers.forEach((layer, l) => {
    for (let i = 0; i < n; i++) {
      const sum = layer.direct[i]! + layer.bounced[12 * i + 5]!;
      if (sum > 1e-6) noises.push(Math.sqrt(variance[l]![i]!) / sum / Math.LN2);
    }
  });
  noises.sort((a, b) => a - b);
  return noises.length ? noises[noises.length >> 1]! : 0;
}
