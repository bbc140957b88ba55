/** How far the quick picture of an angle is from the converged one: all lamps as they burn, stops rms. */
import type { AngleGeometry, AngleWeights } from '../src/setup/angle.ts';
import type { Exposure } from '../src/setup/develop.ts';
import { fieldOf, quickLayer, roomOf, sightOf } from '../src/transport/quick/quick.ts';
import { pick, TAP_UNIT, TAPS } from '../src/transport/quick/thin.ts';
import type { Tracer } from '../src/transport/tracer.ts';

const SAMPLES = 12;

export interface Miss {
  /** As it is, and with the reference's own noise taken off (errors add as squares). */
  rmsStops: number;
  ownStops: number;
  /** Standard error of the reference, rms over the points. */
  referenceStops: number;
  points: number;
}

/** Independent batches of paths whose spread is the reference's standard error. */
const BATCHES = 8;
/**
 * At edges, and on the whole where there is hair, a few points are wrong by stops (a hair just in or out of the light), the
 * rest by a tenth: of 120 points a single one would decide.
 */
const TIMES = 4;
/** Points of a noisier reference than this get so many times the paths again: some paths meet a lamp from very near. */
const NOISY = 0.08;
const MORE = 4;

/**
 * `points` of each sort, at edges and on the whole so many times more, are compared by `paths` paths and `samples` points on the emitters:
 * illuminance as the eye weighs it, at points that the camera sees above its floor. Skin: materials named so. Edge: within three
 * pixels of a place where direct light of some lamp changes by more than a stop on one surface.
 */
export async function quickAgainstPaths(
  tracer: Tracer,
  angle: AngleGeometry,
  weights: AngleWeights,
  exposure: Exposure,
  asked: { width: number; points: number; paths: number; samples: number; seed: number },
): Promise<{ skin: Miss; edge: Miss; whole: Miss }> {
  const { stage, layers } = angle.transport;
  const { width, seed } = asked;
  const height = Math.round((width * 9) / 16);
  await tracer.load(angle.transport);
  const room = await roomOf(tracer, stage, { seed });
  const hits = await tracer.hits(angle.view, width, height, { seed });
  const sight = await sightOf(tracer, room, angle.view, hits, { seed });
  const n = hits.points.count;
  const quick = new Float64Array(n);
  const direct = new Float64Array(n);
  for (const [l, layer] of layers.entries()) {
    const lit = await fieldOf(tracer, room, layer, l, { seed });
    const light = await quickLayer(tracer, room, sight, lit, { seed, layer: l });
    const { matrix, white } = weights.layers[l]!;
    for (let i = 0; i < n; i++) {
      direct[i]! += white[1] * light.direct.diffuse[i]!;
      let v = white[1] * light.direct.diffuse[i]!;
      for (let t = i * TAPS; t < (i + 1) * TAPS; t++) {
        const share = sight.coarse.tapWeight[t]! / TAP_UNIT;
        const c = sight.coarse.tap[t]! * SAMPLES;
        for (let k = 0; k < SAMPLES; k++) v += share * matrix[SAMPLES + k]! * light.bounced[c + k]!;
      }
      quick[i]! += v;
    }
  }

  // The camera's floor, as illuminance on the material that is there.
  const reflects = stage.materials.map(
    (m) => m.reflectance.reduce((a, b) => a + b, 0) / m.reflectance.length,
  );
  const seen = (i: number) =>
    (reflects[hits.points.material[i]!]! / 0.18) * (quick[i]! / exposure.eRefLx) >
    2 ** -exposure.response.stopsBelowGrey;
  const alone: number[] = [];
  for (let p = 0; p < width * height; p++) {
    const i = hits.pixelStart[p]!;
    if (hits.pixelStart[p + 1]! - i === 1 && seen(i)) alone.push(i);
  }
  const pixelOf = new Map(alone.map((i) => [i, 0]));
  for (let p = 0; p < width * height; p++) {
    const i = hits.pixelStart[p]!;
    if (pixelOf.has(i) && hits.pixelStart[p + 1]! - i === 1) pixelOf.set(i, p);
  }
  const edge = alone.filter((i) => {
    const p = pixelOf.get(i)!;
    for (let dy = -3; dy <= 3; dy += 3)
      for (let dx = -3; dx <= 3; dx += 3) {
        const q = p + dy * width + dx;
        if (q < 0 || q >= width * height) continue;
        const j = hits.pixelStart[q]!;
        if (!pixelOf.has(j) || hits.part[j] !== hits.part[i]) continue;
        const facing =
          hits.points.normal[3 * i]! * hits.points.normal[3 * j]! +
          hits.points.normal[3 * i + 1]! * hits.points.normal[3 * j + 1]! +
          hits.points.normal[3 * i + 2]! * hits.points.normal[3 * j + 2]!;
        if (facing > 0.95 && Math.abs(Math.log2((direct[i]! + 1) / (direct[j]! + 1))) > 1) return true;
      }
    return false;
  });
  const skin = alone.filter((i) => stage.materials[hits.points.material[i]!]!.name.startsWith('skin'));

  const miss = async (all: number[], most: number): Promise<Miss> => {
    const step = Math.max(1, all.length / most);
    const some = Uint32Array.from(
      { length: Math.min(most, all.length) },
      (_, k) => all[Math.floor(k * step)]!,
    );
    if (some.length === 0) return { rmsStops: 0, ownStops: 0, referenceStops: 0, points: 0 };
    const at = pick(hits.points, some);
    const direct = new Float64Array(some.length);
    for (let l = 0; l < layers.length; l++) {
      // As many samples in all for a lamp of many parts.
      const samples = Math.max(16, Math.ceil(asked.samples / Math.max(1, layers[l]!.emitters.length)));
      const d = await tracer.direct(at, l, { seed: seed + 2, samples });
      for (let s = 0; s < some.length; s++) direct[s]! += weights.layers[l]!.white[1] * d.diffuse[s]!;
    }
    /** Mean over batches of bounced light, and its standard error. */
    const bouncedAt = async (which: Uint32Array, paths: number, first: number) => {
      const points = pick(at, which);
      const mean = new Float64Array(which.length);
      const square = new Float64Array(which.length);
      for (let b = 0; b < BATCHES; b++) {
        const found = await tracer.trace(points, { seed: first + b, paths: Math.ceil(paths / BATCHES) });
        for (let s = 0; s < which.length; s++) {
          let v = 0;
          found.layers.forEach((layer, l) => {
            for (let k = 0; k < SAMPLES; k++)
              v += weights.layers[l]!.matrix[SAMPLES + k]! * layer.bounced[s * SAMPLES + k]!;
          });
          mean[s]! += v / BATCHES;
          square[s]! += (v * v) / BATCHES;
        }
      }
      const error = mean.map((m, s) => Math.sqrt(Math.max(0, square[s]! - m * m) / (BATCHES - 1)));
      return { mean, error };
    };
    const every = Uint32Array.from(some, (_, s) => s);
    const { mean, error } = await bouncedAt(every, asked.paths, 100 * seed);
    const stopsOf = (s: number): number => error[s]! / (direct[s]! + mean[s]!) / Math.LN2;
    const noisy = every.filter((s) => stopsOf(s) > NOISY);
    const again = await bouncedAt(noisy, MORE * asked.paths, 100 * seed + 50);
    noisy.forEach((s, k) => {
      mean[s] = (mean[s]! + MORE * again.mean[k]!) / (1 + MORE);
      error[s] = Math.hypot(error[s]!, MORE * again.error[k]!) / (1 + MORE);
    });
    let square = 0;
    let noise = 0;
    some.forEach((i, s) => {
      square += Math.log2(quick[i]! / (direct[s]! + mean[s]!)) ** 2 / some.length;
      noise += stopsOf(s) ** 2 / some.length;
    });
    return {
      rmsStops: Math.sqrt(square),
      ownStops: Math.sqrt(Math.max(0, square - noise)),
      referenceStops: Math.sqrt(noise),
      points: some.length,
    };
  };
  const { points } = asked;
  return {
    skin: await miss(skin, points),
    edge: await miss(edge, TIMES * points),
    whole: await miss(alone, TIMES * points),
  };
}
