/** The fast tracer of one thread: the plain one, its trees and rays in WebAssembly where there is any. */
import { type World, worldOf } from '../transport/intersect.ts';
import { type PlainOptions, plainTracer } from '../transport/plain.ts';
import type { Tracer } from '../transport/tracer.ts';
import { fastBuild } from './fastBuild.ts';
import { fastRays } from './fastRays.ts';

let rays: ReturnType<typeof fastRays>;
let build: ReturnType<typeof fastBuild>;
let asked = false;

/** A stage made ready for fast rays; where there are none, for plain ones. */
export function fastWorldOf(stage: World['stage'], before?: World): World {
  if (!asked) {
    rays = fastRays();
    build = fastBuild();
  }
  asked = true;
  const world = worldOf(stage, before, build);
  return rays && !world.rays ? { ...world, rays } : world;
}

export const fastTracer = (options: PlainOptions = {}): Tracer => ({
  ...plainTracer({ worldOf: fastWorldOf, ...options }),
  name: 'fast',
});
