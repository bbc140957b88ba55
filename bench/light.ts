/** Light: what a dimmer, a drag and a reading cost, against tracing it all by plain paths. */

import { holdMeters } from '../src/readings/hold.ts';
import { type Measured, probePlan } from '../src/readings/measure.ts';
import type { Survey } from '../src/scheme/survey.ts';
import type { AngleGeometry, AngleWeights } from '../src/setup/angle.ts';
import { develop, exposureOf } from '../src/setup/develop.ts';
import { weightsOf } from '../src/setup/weights.ts';
import { type AngleRef, rigFor } from '../src/shoot/rigFor.ts';
import type { Shoot } from '../src/shoot/schema.ts';
import { addPass, newPhotograph, type Photograph } from '../src/transport/photograph.ts';
import { paletteOf, picture } from '../src/transport/quick/picture.ts';
import {
  fieldOf,
  type LayerField,
  type LayerLight,
  probeLinks,
  quickLayer,
  quickProbes,
  roomOf,
  sightOf,
} from '../src/transport/quick/quick.ts';
import type { Tracer } from '../src/transport/tracer.ts';
import { cpuSeconds, type Line, lineOf, median } from './measure.ts';

const common = { seed: 3 };

/** A dimmer moved: all angles put together again from kept layers, against lighting what they see again. */
export async function dimmerLine(
  tracer: Tracer,
  shoot: Shoot,
  refs: readonly AngleRef[],
  geometry: (ref: AngleRef) => AngleGeometry,
): Promise<Line> {
  const rounds: { ours: number; theirs: number }[] = [];
  for (const ref of refs) {
    const angle = geometry(ref);
    const { layers } = angle.transport;
    await tracer.load(angle.transport);
    const room = await roomOf(tracer, angle.transport.stage, common);
    const hits = await tracer.hits(angle.view, 640, 360, { ...common, samples: 4 });
    const sight = await sightOf(tracer, room, angle.view, hits, common);
    const palette = paletteOf(angle.transport.stage, hits, sight.coarse);
    const fields: LayerField[] = [];
    for (const [l, layer] of layers.entries()) fields.push(await fieldOf(tracer, room, layer, l, common));
    const light: LayerLight[] = [];
    // What is seen and the field are kept for the other side too: only the lamps' light is traced again.
    const theirs = await cpuSeconds(async () => {
      for (let l = 0; l < layers.length; l++)
        light.push(await quickLayer(tracer, room, sight, fields[l]!, { ...common, layer: l }));
    });
    const exposure = exposureOf(rigFor(shoot, ref).camera, shoot.exposureConstant);
    const xyz = new Float32Array(3 * 640 * 360);
    const bytes = new Uint8ClampedArray(4 * 640 * 360);
    const white = { matrix: [1, 0, 0, 0, 1, 0, 0, 0, 1] } as unknown as Survey['balance'];
    const redraw = () => {
      const { weights } = weightsOf(shoot, ref);
      picture(hits, sight.coarse, palette, light, weights.layers, xyz);
      develop(xyz, exposure, white, bytes);
    };
    redraw();
    const ours = await cpuSeconds(() => {
      for (let i = 0; i < 5; i++) redraw();
    });
    rounds.push({ ours: ours / 5, theirs });
  }
  const line = lineOf(
    'a dimmer moved: one angle, 640×360, against tracing its lamps again',
    's',
    'less',
    rounds,
  );
  return { ...line, name: `${line.name} (${refs.length} angles)` };
}

const logs = (xyz: ArrayLike<number>, over: number): Float64Array => {
  const out = new Float64Array(xyz.length / 3);
  for (let p = 0; p < out.length; p++) out[p] = Math.log2(xyz[3 * p + 1]! / over);
  return out;
};
/** Typical difference of two pictures, stops, where the second is over `floor`. */
const apart = (a: Float64Array, b: Float64Array, floor: number): number => {
  const d: number[] = [];
  for (let p = 0; p < a.length; p++) if (b[p]! > floor) d.push(Math.abs(Math.max(a[p]!, -12) - b[p]!));
  return median(d);
};

/** A lamp carried: one angle's picture, its own light traced quickly, against paths until as true. */
export async function dragLine(
  tracer: Tracer,
  angle: AngleGeometry,
  weights: AngleWeights,
  greyCdM2: number,
): Promise<{ line: Line; errorStops: number }> {
  const [w, h] = [192, 108];
  const { layers, stage } = angle.transport;
  await tracer.load(angle.transport);
  const room = await roomOf(tracer, stage, common);
  const hits = await tracer.hits(angle.view, w, h, { ...common, samples: 4 });
  const sight = await sightOf(tracer, room, angle.view, hits, common);
  const palette = paletteOf(stage, hits, sight.coarse);
  const lit = async (l: number) =>
    quickLayer(tracer, room, sight, await fieldOf(tracer, room, layers[l]!, l, common), common);
  const light: LayerLight[] = [];
  for (let l = 0; l < layers.length; l++) light.push(await lit(l));
  const moved = angle.lamps[0]!.layers;
  const xyz = new Float32Array(3 * w * h);
  const quick = () =>
    cpuSeconds(async () => {
      for (const l of moved) light[l] = await lit(l);
      picture(hits, sight.coarse, palette, light, weights.layers, xyz);
    });
  await quick();

  const PASSES = 12;
  const photo = newPhotograph(w, h);
  let half: Photograph | undefined;
  const rounds: { ours: number; pass: number }[] = [];
  for (let i = 0; i < PASSES; i++) {
    const pass = await cpuSeconds(() =>
      addPass(tracer, stage, angle.view, weights.layers, photo, { seed: 9 }),
    );
    rounds.push({ pass, ours: await quick() });
    if (i === PASSES / 2 - 1) half = { ...photo, sum: photo.sum.slice() };
  }
  const scaled = (sum: Float64Array, passes: number) =>
    logs(
      sum.map((v) => v / passes),
      greyCdM2,
    );
  const first = scaled(half!.sum, PASSES / 2);
  const second = scaled(
    photo.sum.map((v, i) => v - half!.sum[i]!),
    PASSES / 2,
  );
  const all = scaled(photo.sum, PASSES);
  // Halves differ by √(2 / half the passes) of one pass's noise; the mean of all by √(1 / passes) from the truth.
  const onePass = apart(first, second, -4) / Math.sqrt(2 / (PASSES / 2));
  const seen = apart(logs(xyz, greyCdM2), all, -4);
  const errorStops = Math.sqrt(Math.max(1e-4, seen ** 2 - onePass ** 2 / PASSES));
  const needed = Math.max(1, (onePass / errorStops) ** 2);
  return {
    errorStops,
    line: lineOf(
      `a lamp carried: one angle, ${w}×${h}, against paths as true (${errorStops.toFixed(2)} stop, ${needed.toFixed(1)} passes)`,
      's',
      'less',
      rounds.map((r) => ({ ours: r.ours, theirs: r.pass * needed })),
    ),
  };
}

/** Light of every face's meters, front and both sides, lux, weighed. */
function facesOf(measured: Measured, weights: AngleWeights): number[] {
  const out: number[] = [];
  measured.plan.names.forEach((name, i) => {
    if (!('side' in name) && !('toward' in name && name.toward === 'front')) return;
    let sum = 0;
    weights.layers.forEach((weight, l) => {
      const light = measured.layers[l]!;
      sum += weight.white[1] * (light.direct[i]! + light.bounced[12 * i + 5]!);
    });
    out.push(sum);
  });
  return out;
}
const worst = (a: readonly number[], b: readonly number[]): number =>
  Math.max(...a.map((v, i) => Math.abs(Math.log2(Math.max(v, 1e-9) / b[i]!))));

/** A lamp moved: the meters of one angle by the field, against paths as true; then all faces to a tenth of a stop. */
export async function readingLines(
  tracer: Tracer,
  angle: AngleGeometry,
  weights: AngleWeights,
): Promise<Line[]> {
  await tracer.load(angle.transport);
  const truth = facesOf(
    await holdMeters(tracer, angle, { seed: 77, noiseStops: 0.005, maxPaths: 4096 }),
    weights,
  );
  const plan = probePlan(angle);
  const { layers, stage } = angle.transport;
  const room = await roomOf(tracer, stage, common);
  const links = await probeLinks(tracer, room, plan.points, common);
  const read = async (l: number) => {
    const field = await fieldOf(tracer, room, layers[l]!, l, common);
    return quickProbes(tracer, room, plan.points, links, l, field, common);
  };
  const all: Measured['layers'] = [];
  for (let l = 0; l < layers.length; l++) all.push(await read(l));
  const moved = angle.lamps[0]!.layers;
  const quick = async (): Promise<Measured> => {
    for (const l of moved) all[l] = await read(l);
    return { plan, layers: [...all], quick: true, noiseStops: 0.06 };
  };
  const paths = async (seed: number, count: number): Promise<Measured> => {
    const e = await tracer.trace(plan.points, { seed, paths: count });
    return {
      plan,
      layers: e.layers.map((l) => ({ direct: l.direct.diffuse, bounced: l.bounced })),
      quick: false,
      noiseStops: 0,
    };
  };
  /** Fewest paths, by doubling, that are within `limit` on every face in each of three tries. */
  const enough = async (limit: number): Promise<number> => {
    for (let count = 4; count < 4096; count *= 2) {
      let most = 0;
      for (const seed of [1, 2, 3])
        most = Math.max(most, worst(facesOf(await paths(seed, count), weights), truth));
      if (most <= limit) return count;
    }
    return 4096;
  };
  const error = worst(facesOf(await quick(), weights), truth);
  const asTrue = await enough(error);
  const drag = [];
  for (let i = 0; i < 5; i++)
    drag.push({
      ours: await cpuSeconds(quick),
      theirs: await cpuSeconds(() => paths(20 + i, asTrue)),
    });

  const tenth = await enough(0.1);
  let ownPaths = 64;
  for (; ownPaths < 4096; ownPaths *= 2) {
    let most = 0;
    for (const seed of [1, 2, 3]) {
      const m = await holdMeters(tracer, angle, { seed, noiseStops: 0, maxPaths: ownPaths });
      most = Math.max(most, worst(facesOf(m, weights), truth));
    }
    if (most <= 0.1) break;
  }
  const settle = [];
  for (let i = 0; i < 5; i++)
    settle.push({
      ours: await cpuSeconds(() =>
        holdMeters(tracer, angle, { seed: 30 + i, noiseStops: 0, maxPaths: ownPaths }),
      ),
      theirs: await cpuSeconds(() => paths(40 + i, tenth)),
    });
  return [
    lineOf(
      `a lamp moved: all meters of an angle, against ${asTrue} paths, as true (worst side of a face ${error.toFixed(2)} stop)`,
      's',
      'less',
      drag,
    ),
    lineOf(
      `every face, front and sides, to a tenth of a stop: direct light by itself and ${ownPaths} paths, against ${tenth} plain paths`,
      's',
      'less',
      settle,
    ),
  ];
}
