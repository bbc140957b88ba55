/** The fast tracer of one thread: the plain one, its trees, rays and long sums in WebAssembly where there is any. */
import { type World, worldOf } from '../transport/intersect.ts';
import { type PlainOptions, plainTracer } from '../transport/plain.ts';
import type { Sums } from '../transport/sums.ts';
import type { Tracer } from '../transport/tracer.ts';
import { fastBare } from './fastBare.ts';
import { fastBuild } from './fastBuild.ts';
import { fastRays } from './fastRays.ts';
import { fastSums } from './fastSums.ts';

/** This thread's modules, once asked for; each undefined where it cannot be. */
let modules: { rays: ReturnType<typeof fastRays>; build: ReturnType<typeof fastBuild> } | undefined;
let sumsOf: { sums?: Sums } | undefined;

/** This thread's long sums, for a tracer to have. */
export function sumsHere(): { sums?: Sums } {
  sumsOf ??= sumsMade();
  return sumsOf;
}
function sumsMade(): { sums?: Sums } {
  const sums = fastSums();
  return sums ? { sums: { ...sums, ...fastBare() } } : {};
}

/** A stage made ready for fast rays; where there are none, for plain ones. */
export function fastWorldOf(stage: World['stage'], before?: World): World {
  modules ??= { rays: fastRays(), build: fastBuild() };
  const world = worldOf(stage, before, modules.build);
  return modules.rays && !world.rays ? { ...world, rays: modules.rays } : world;
}

export function fastTracer(options: PlainOptions = {}): Tracer {
  return { ...plainTracer({ worldOf: fastWorldOf, ...options }), name: 'fast', ...sumsHere() };
}
