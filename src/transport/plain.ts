/** The tracer in plain TypeScript, one thread: the reference that the fast ones are held to. */
import { SAMPLES } from '../colour/spectrum.ts';
import type { Stage } from '../stage/stage.ts';
import { directAt, patchDirectAt } from './direct.ts';
import { emitterSet } from './emitter.ts';
import { rowsNeeded, seeing } from './hits.ts';
import type { World } from './intersect.ts';
import { reachesAll, worldOf } from './intersect.ts';
import { linksAt } from './links.ts';
import type { PathLayer } from './path.ts';
import { estimateOf, pathLayer, pathsAt } from './path.ts';
import type { PatchTriangles } from './points.ts';
import { pointsOnPatches, trianglesOfPatches } from './points.ts';
import type { TransportScene } from './scene.ts';
import type { AbortSignalLike, Direct, PathEstimate, RayCount, SurfacePoints, Tracer } from './tracer.ts';

export interface PlainOptions {
  /** Awaited every few milliseconds of work, so that others get a turn and a signal can be heard. */
  pause?: () => Promise<void>;
  /** Makes the stage ready for rays (default: as `intersect.ts` does); for one who keeps several stages ready. */
  worldOf?: (stage: Stage, before?: World) => World;
}

/** What a cancelled call throws. */
export function abortError(): Error {
  const error = new Error('Tracing was cancelled.');
  error.name = 'AbortError';
  return error;
}

/** A stage ready for rays; its patches once they were asked. */
interface Ready {
  world: World;
  patches?: PatchTriangles | undefined;
  patchPoints?: { per: number; seed: number; points: SurfacePoints };
}

/** Stages kept ready: angles in which people stand otherwise are asked by turns. */
const MOST_READY = 4;

/** Rays between two pauses, about. */
const BURST = 20_000;

export function plainTracer(options: PlainOptions = {}): Tracer {
  const rays: RayCount = { camera: 0, shadow: 0, bounce: 0, link: 0 };
  /** Stages that are ready, by key, the one asked last at the end. */
  const stages = new Map<string, Ready>();
  let now: Ready | undefined;
  let scene: TransportScene | undefined;
  const layers = new Map<string, PathLayer>();

  const loaded = (): { world: World; scene: TransportScene; ready: Ready } => {
    if (!now || !scene) throw new Error('No scene is loaded: call load(scene) first.');
    return { world: now.world, scene, ready: now };
  };
  const layerOf = (number: number): PathLayer => {
    const layer = loaded().scene.layers[number];
    if (!layer)
      throw new Error(`There is no layer ${number}: the scene has ${loaded().scene.layers.length}.`);
    let made = layers.get(layer.key);
    if (!made) {
      made = pathLayer(emitterSet(layer.emitters));
      layers.set(layer.key, made);
    }
    return made;
  };

  /** Runs `step(from, to)` over 0 … count in bursts, pausing and listening in between. */
  async function inBursts(
    count: number,
    raysEach: number,
    signal: AbortSignalLike | undefined,
    step: (from: number, to: number) => void,
  ): Promise<void> {
    const burst = Math.max(1, Math.floor(BURST / Math.max(1, raysEach)));
    for (let from = 0; from < count; from += burst) {
      if (signal?.aborted) throw abortError();
      step(from, Math.min(count, from + burst));
      if (options.pause && from + burst < count) await options.pause();
    }
    if (signal?.aborted) throw abortError();
  }

  return {
    name: 'plain',
    rays,

    async load(next) {
      if (!scene || next.stage !== scene.stage) {
        const { key } = next.stage;
        const known = stages.get(key);
        stages.delete(key);
        if (known?.world.stage === next.stage) now = known;
        else if (known) now = { world: { ...known.world, stage: next.stage }, patches: known.patches };
        else now = { world: (options.worldOf ?? worldOf)(next.stage, now?.world) };
        stages.set(key, now);
        while (stages.size > MOST_READY) stages.delete(stages.keys().next().value as string);
      }
      scene = next;
      const keys = new Set(next.layers.map((layer) => layer.key));
      for (const key of layers.keys()) if (!keys.has(key)) layers.delete(key);
    },

    async hits(view, width, height, { seed, signal, samples = 4, jitter = false, rows }) {
      const { world, scene } = loaded();
      const sets = scene.layers.map((_, l) => layerOf(l).set);
      const asked = { width, height, samples: jitter ? Math.max(1, samples) : samples, jitter, seed };
      const wanted = rows ?? { from: 0, to: height };
      const needed = rowsNeeded(wanted, height);
      const work = seeing(world, sets, view, { ...asked, rows: wanted }, rays);
      await inBursts(needed.to - needed.from, width, signal, (from, to) => {
        for (let y = from; y < to; y++) work.row(needed.from + y);
      });
      await inBursts(wanted.to - wanted.from, width, signal, (from, to) => {
        for (let y = from; y < to; y++) work.repair(wanted.from + y);
      });
      return work.finish();
    },

    async direct(points, layer, { seed, signal, samples, shadows = true }) {
      const { world } = loaded();
      const { set } = layerOf(layer);
      const out: Direct = { diffuse: new Float32Array(points.count), gloss: new Float32Array(points.count) };
      await inBursts(points.count, samples * set.count, signal, (from, to) =>
        directAt(world, set, points, from, to, samples, seed, out, rays, shadows),
      );
      return out;
    },

    async patchDirect(layer, { seed, signal, samples, patches: wanted }) {
      const { world, scene, ready } = loaded();
      const { set } = layerOf(layer);
      ready.patches ??= trianglesOfPatches(scene.stage);
      if (ready.patchPoints?.per !== samples || ready.patchPoints.seed !== seed) {
        const points = pointsOnPatches(scene.stage, ready.patches, samples, seed);
        ready.patchPoints = { per: samples, seed, points };
      }
      const { points } = ready.patchPoints;
      const out = new Float32Array(scene.stage.patchCount);
      const first = wanted?.from ?? 0;
      await inBursts((wanted?.to ?? out.length) - first, samples, signal, (from, to) =>
        patchDirectAt(world, set, points, samples, first + from, first + to, seed, out, rays),
      );
      return out;
    },

    async links(points, per, { seed, signal, near }) {
      const { world } = loaded();
      const out = new Uint32Array(points.count * per);
      await inBursts(points.count, per, signal, (from, to) =>
        linksAt(world, points, per, from, to, seed, out, rays, near),
      );
      return out;
    },

    async passes(from, to, { signal } = {}) {
      const { world } = loaded();
      const out = new Float32Array(from.length / 3);
      await inBursts(out.length, 1, signal, (first, end) => {
        reachesAll(world, from, to, first, end, out);
        rays.shadow += end - first;
      });
      return out;
    },

    async trace(points, { seed, signal, paths, begun = 0, only }) {
      const { world, scene } = loaded();
      const wanted = (only ?? scene.layers.map((_, l) => l)).map(layerOf);
      const out: PathEstimate = estimateOf(wanted.length, points.count, paths);
      await inBursts(points.count, paths * 4 * (wanted.length + 1), signal, (from, to) =>
        pathsAt(world, wanted, points, from, to, paths, begun, seed, out, rays),
      );
      return out;
    },

    dispose() {
      now = undefined;
      scene = undefined;
      stages.clear();
      layers.clear();
    },
  };
}

/** Length of the wavelength axis of `bounced`. */
export const BOUNCED_NUMBERS = SAMPLES;
