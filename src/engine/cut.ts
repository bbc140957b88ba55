/** How each call of the port is cut in pieces for workers, and how their answers are put together again. */
import { estimateOf } from '../transport/path.ts';
import { pointsOf } from '../transport/points.ts';
import type { TransportScene, View } from '../transport/scene.ts';
import type {
  Direct,
  Hits,
  PathEstimate,
  Stretch,
  SurfacePoints,
  TraceOptions,
  Tracer,
} from '../transport/tracer.ts';
import type { Answer, Question } from './protocol.ts';

/** A call in units that may be done apart: points, rows, patches. */
export interface Cut<T> {
  /** Units in all. */
  count: number;
  /** Fewest units worth asking for at once. */
  least: number;
  /** Calls with the same name cost about the same time per ray. */
  rate: string;
  /** Rays that a unit takes, about. */
  raysEach: number;
  ask(from: number, to: number): Question;
  put(from: number, to: number, answer: Answer): void;
  whole(): T;
}

type Options<K extends 'hits' | 'direct' | 'patchDirect' | 'links' | 'trace'> =
  Parameters<Tracer[K]> extends [...unknown[], infer O] ? O : never;

/** Some of the points, as a list of their own that goes by the same chance. */
function cutPoints(points: SurfacePoints, from: number, to: number): SurfacePoints {
  const threes = (array: Float32Array): Float32Array => array.slice(from * 3, to * 3);
  return {
    count: to - from,
    position: threes(points.position),
    faceNormal: threes(points.faceNormal),
    normal: threes(points.normal),
    toEye: threes(points.toEye),
    ...(points.grain ? { grain: threes(points.grain) } : {}),
    material: points.material.slice(from, to),
    patch: points.patch.slice(from, to),
    firstIndex: (points.firstIndex ?? 0) + from,
  };
}

/** Options without what only the pool uses, and what cannot be sent. */
function sendable<O extends Partial<TraceOptions>>(options: O): Omit<O, 'signal' | 'priority'> {
  const { signal: _, priority: __, ...rest } = options;
  return rest;
}

const emittersOf = (scene: TransportScene, layer: number): number => {
  const found = scene.layers[layer];
  if (!found) throw new Error(`There is no layer ${layer}: the scene has ${scene.layers.length}.`);
  return Math.max(1, found.emitters.length);
};

export function cutHits(view: View, width: number, height: number, options: Options<'hits'>): Cut<Hits> {
  const rows: Stretch = options.rows ?? { from: 0, to: height };
  const pieces: { from: number; hits: Hits }[] = [];
  return {
    count: Math.max(0, rows.to - rows.from),
    // A stretch looks at one row more at each end.
    least: 12,
    rate: 'hits',
    raysEach: width,
    ask: (from, to) => ({
      method: 'hits',
      view,
      width,
      height,
      options: { ...sendable(options), rows: { from: rows.from + from, to: rows.from + to } },
    }),
    put: (from, _to, answer) => {
      pieces.push({ from, hits: answer as Hits });
    },
    whole: () => joined(pieces, rows, width, height),
  };
}

function joined(pieces: { from: number; hits: Hits }[], rows: Stretch, width: number, height: number): Hits {
  pieces.sort((a, b) => a.from - b.from);
  const count = pieces.reduce((sum, { hits }) => sum + hits.points.count, 0);
  const glows = pieces.reduce((sum, { hits }) => sum + hits.glow.pixel.length, 0);
  const points = pointsOf(count);
  if (pieces.some(({ hits }) => hits.points.grain)) points.grain = new Float32Array(count * 3);
  const pixelStart = new Uint32Array(width * height + 1);
  const weight = new Float32Array(count);
  const part = new Uint16Array(count);
  const depth = new Float32Array(count);
  const glow = {
    pixel: new Uint32Array(glows),
    layer: new Uint16Array(glows),
    luminance: new Float32Array(glows),
  };
  let at = 0;
  let glowAt = 0;
  for (const { from, hits } of pieces) {
    for (const name of ['position', 'faceNormal', 'normal', 'toEye'] as const)
      points[name].set(hits.points[name], at * 3);
    if (points.grain && hits.points.grain) points.grain.set(hits.points.grain, at * 3);
    points.material.set(hits.points.material, at);
    points.patch.set(hits.points.patch, at);
    weight.set(hits.weight, at);
    part.set(hits.part, at);
    depth.set(hits.depth, at);
    const p = (rows.from + from) * width;
    for (let i = 0; i < hits.pixelStart.length; i++) pixelStart[p + i] = at + hits.pixelStart[i]!;
    glow.pixel.set(hits.glow.pixel, glowAt);
    glow.layer.set(hits.glow.layer, glowAt);
    glow.luminance.set(hits.glow.luminance, glowAt);
    at += hits.points.count;
    glowAt += hits.glow.pixel.length;
  }
  pixelStart.fill(count, Math.max(rows.from, rows.to) * width);
  const air = pieces[0]?.hits.air;
  return { width, height, points, pixelStart, weight, part, depth, ...(air ? { air } : {}), glow };
}

export function cutDirect(
  scene: TransportScene,
  points: SurfacePoints,
  layer: number,
  options: Options<'direct'>,
): Cut<Direct> {
  const out: Direct = { diffuse: new Float32Array(points.count), gloss: new Float32Array(points.count) };
  return {
    count: points.count,
    least: 1,
    rate: options.shadows === false ? 'direct, no shadows' : 'direct',
    raysEach: options.samples * emittersOf(scene, layer),
    ask: (from, to) => ({
      method: 'direct',
      points: cutPoints(points, from, to),
      layer,
      options: sendable(options),
    }),
    put: (from, _to, answer) => {
      const { diffuse, gloss } = answer as Direct;
      out.diffuse.set(diffuse, from);
      out.gloss.set(gloss, from);
    },
    whole: () => out,
  };
}

export function cutPatchDirect(
  scene: TransportScene,
  layer: number,
  options: Options<'patchDirect'>,
): Cut<Float32Array> {
  const { from: first, to: end } = options.patches ?? { from: 0, to: scene.stage.patchCount };
  const out = new Float32Array(scene.stage.patchCount);
  emittersOf(scene, layer);
  return {
    count: Math.max(0, end - first),
    least: 1,
    rate: 'patchDirect',
    raysEach: options.samples,
    ask: (from, to) => ({
      method: 'patchDirect',
      layer,
      options: { ...sendable(options), patches: { from: first + from, to: first + to } },
    }),
    put: (from, _to, answer) => out.set(answer as Float32Array, first + from),
    whole: () => out,
  };
}

export function cutPasses(from: Float32Array, to: Float32Array): Cut<Float32Array> {
  const out = new Float32Array(from.length / 3);
  return {
    count: out.length,
    least: 1,
    rate: 'passes',
    raysEach: 1,
    ask: (a, b) => ({ method: 'passes', from: from.slice(a * 3, b * 3), to: to.slice(a * 3, b * 3) }),
    put: (a, _b, answer) => out.set(answer as Float32Array, a),
    whole: () => out,
  };
}

export function cutLinks(points: SurfacePoints, per: number, options: Options<'links'>): Cut<Uint32Array> {
  const { near, ...rest } = options;
  const out = new Uint32Array(points.count * per);
  return {
    count: points.count,
    least: 1,
    rate: 'links',
    raysEach: per,
    ask: (from, to) => ({
      method: 'links',
      points: cutPoints(points, from, to),
      per,
      options: { ...sendable(rest), ...(near ? { near: near.slice(from, to) } : {}) },
    }),
    put: (from, _to, answer) => out.set(answer as Uint32Array, from * per),
    whole: () => out,
  };
}

export function cutTrace(
  scene: TransportScene,
  points: SurfacePoints,
  options: Options<'trace'>,
): Cut<PathEstimate> {
  const wanted = options.only ?? scene.layers.map((_, l) => l);
  for (const layer of wanted) emittersOf(scene, layer);
  const out = estimateOf(wanted.length, points.count, options.paths);
  return {
    count: points.count,
    least: 1,
    rate: 'trace',
    raysEach: options.paths * 4 * (wanted.length + 1),
    ask: (from, to) => ({
      method: 'trace',
      points: cutPoints(points, from, to),
      options: sendable(options),
    }),
    put: (from, to, answer) => {
      // Numbers per point: 12 for what has wavelengths, else 1.
      const place = (into: Float32Array, some: Float32Array): void =>
        into.set(some, (from * some.length) / (to - from));
      (answer as PathEstimate).layers.forEach((layer, l) => {
        const whole = out.layers[l]!;
        place(whole.direct.diffuse, layer.direct.diffuse);
        place(whole.direct.gloss, layer.direct.gloss);
        place(whole.bounced, layer.bounced);
        if (layer.glossBounced && whole.glossBounced) place(whole.glossBounced, layer.glossBounced);
        place(whole.variance, layer.variance);
      });
    },
    whole: () => out,
  };
}
