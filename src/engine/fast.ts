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
let sums: { sums?: Sums } | undefined;

function sumsHere(): { sums?: Sums } {
  const sums = fastSums();
  const flatLight = fastBare();
  return sums ? { sums: flatLight ? { ...sums, flatLight } : sums } : {};
}

/** A stage made ready for fast rays; where there are none, for plain ones. */
export function fastWorldOf(stage: World['stage'], before?: World): World {
  modules ??= { rays: fastRays(), build: fastBuild() };
  const world = worldOf(stage, before, modules.build);
  return modules.rays && !world.rays ? { ...world, rays: modules.rays } : world;
}

export function fastTracer(options: PlainOptions = {}): Tracer {
  sums ??= sumsHere();
  return { ...plainTracer({ worldOf: fastWorldOf, ...options }), name: 'fast', ...sums };
}
