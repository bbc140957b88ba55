/** Planted faults: tracers spoiled on purpose, to show that the laws would notice. */
import { atSamples, constant } from '../colour/spectrum.ts';
import type { Material, Stage } from '../stage/stage.ts';
import type { Law } from './judge.ts';
import { closedForms, energy, formFactors, highlights, panes, shadows } from './lawsDirect.ts';
import { furnace, images, linear, sheen, swap, variance } from './lawsPaths.ts';
import type { Emitter, TransportScene } from './scene.ts';
import type { Direct, PathEstimate, SurfacePoints, Tracer } from './tracer.ts';

/** Where the spoiling is done: to what goes in, to what comes out. */
interface Spoil {
  scene?: (scene: TransportScene) => TransportScene;
  layer?: (layer: number, scene: TransportScene) => number;
  seed?: (seed: number) => number;
  direct?: (out: Direct, points: SurfacePoints, layer: number, scene: TransportScene) => void;
  patches?: (out: Float32Array, layer: number, scene: TransportScene) => void;
  links?: (out: Uint32Array) => void;
  trace?: (out: PathEstimate, points: SurfacePoints, scene: TransportScene) => void;
}

export interface Fault {
  what: string;
  /** A law that must notice. */
  law: Law;
  spoil: Spoil;
}

const times = (array: Float32Array, k: number): void => {
  for (let i = 0; i < array.length; i++) array[i]! *= k;
};
const everyLayer =
  (k: number, of: (layer: PathEstimate['layers'][number]) => Float32Array) =>
  (out: PathEstimate): void => {
    for (const layer of out.layers) times(of(layer), k);
  };
const withMaterials = (scene: TransportScene, change: (m: Material) => Material): TransportScene => {
  const stage: Stage = {
    ...scene.stage,
    materials: scene.stage.materials.map(change),
    key: `${scene.stage.key} spoiled`,
    stillKey: `${scene.stage.stillKey} spoiled`,
  };
  return { ...scene, stage };
};
const centreOf = ({ shape }: Emitter): readonly number[] =>
  shape.kind === 'far'
    ? [0, 0, 1e5]
    : shape.kind === 'tube'
      ? shape.from.map((x, i) => (x + shape.to[i]!) / 2)
      : shape.centre;

/** Takes the receiver's cosine out again, as seen to the middle of the layer's first emitter. */
function dropCosine(out: Direct, points: SurfacePoints, layer: number, scene: TransportScene): void {
  const centre = centreOf(scene.layers[layer]!.emitters[0]!);
  for (let p = 0; p < points.count; p++) {
    const d = [0, 1, 2].map((x) => centre[x]! - points.position[p * 3 + x]!);
    const along = d.reduce((sum, x, i) => sum + x * points.normal[p * 3 + i]!, 0);
    if (along > 0) out.diffuse[p]! *= Math.hypot(...d) / along;
  }
}

export const FAULTS: readonly Fault[] = [
  { what: 'cosine dropped', law: closedForms, spoil: { direct: dropCosine } },
  { what: '1 % of direct light lost', law: closedForms, spoil: { direct: (o) => times(o.diffuse, 0.99) } },
  { what: '1 % of patches’ light lost', law: energy, spoil: { patches: (o) => times(o, 0.99) } },
  {
    what: '1 % of the paths’ direct light lost',
    law: shadows,
    spoil: { trace: everyLayer(0.99, (l) => l.direct.diffuse) },
  },
  {
    what: '1 % of bounced light lost',
    law: furnace,
    spoil: { trace: everyLayer(0.99, (l) => l.bounced) },
  },
  {
    what: '1 % of links lost',
    law: formFactors,
    spoil: {
      links: (o) => {
        for (let i = 0; i < o.length; i += 100) o[i] = 4294967295;
      },
    },
  },
  {
    what: 'two layers swapped, direct',
    law: closedForms,
    spoil: { layer: (l, scene) => scene.layers.length - 1 - l },
  },
  {
    what: 'two layers swapped, paths',
    law: furnace,
    spoil: { trace: (o) => o.layers.length > 1 && o.layers.reverse() },
  },
  {
    what: 'a layer told apart wrongly when it is traced alone',
    law: linear,
    spoil: { trace: (o) => o.layers.length === 1 && times(o.layers[0]!.direct.diffuse, 1.02) },
  },
  {
    what: 'the odds of choosing an emitter counted twice',
    law: energy,
    spoil: { patches: (o, l, scene) => times(o, scene.layers[l]!.emitters.length) },
  },
  {
    what: 'the cosine of a path’s first ray counted twice',
    law: furnace,
    // In a furnace light comes evenly: the mean of 2cosθ over cosine-distributed rays is 4/3.
    spoil: { trace: everyLayer(4 / 3, (l) => l.bounced) },
  },
  {
    what: 'wavelengths in reverse',
    law: furnace,
    spoil: {
      trace: (o, points) => {
        for (const layer of o.layers) {
          for (let p = 0; p < points.count; p++) layer.bounced.subarray(p * 12, p * 12 + 12).reverse();
        }
      },
    },
  },
  {
    what: 'paths end at the eighth bounce',
    law: furnace,
    spoil: {
      trace: (o, points, scene) => {
        const rho = atSamples(scene.stage.materials[0]!.reflectance);
        for (const layer of o.layers) {
          for (let i = 0; i < points.count * 12; i++) layer.bounced[i]! *= 1 - rho[i % 12]! ** 8;
        }
      },
    },
  },
  {
    what: 'a pane passes the same at every angle',
    law: panes,
    spoil: {
      scene: (s) =>
        withMaterials(s, (m) => (m.kind === 'glass' ? { ...m, kind: 'sheet', straight: 0.8815 } : m)),
    },
  },
  {
    what: 'a mirror that loses nothing',
    law: images,
    spoil: {
      scene: (s) => withMaterials(s, (m) => (m.kind === 'mirror' ? { ...m, reflectance: constant(1) } : m)),
    },
  },
  {
    what: 'a lobe a tenth too rough',
    law: highlights,
    spoil: {
      scene: (s) =>
        withMaterials(s, (m) =>
          m.gloss ? { ...m, gloss: { ...m.gloss, roughness: m.gloss.roughness * 1.1 } } : m,
        ),
    },
  },
  {
    what: 'a tenth of the bounced light in the gloss lost',
    law: sheen,
    spoil: { trace: everyLayer(0.9, (l) => l.glossBounced ?? new Float32Array(0)) },
  },
  {
    what: 'what moves throws no shadow',
    law: shadows,
    spoil: {
      scene: (s) => ({
        ...s,
        stage: {
          ...s.stage,
          indices: s.stage.indices.slice(0, s.stage.stillTriangles * 3),
          key: `${s.stage.key} still only`,
        },
      }),
    },
  },
  {
    what: 'light from below weighs a fifth more',
    law: swap,
    spoil: {
      trace: (o, points) => {
        for (const layer of o.layers) {
          for (let i = 0; i < layer.bounced.length; i++) {
            if (points.normal[Math.floor(i / 12) * 3 + 2]! < 0) layer.bounced[i]! *= 1.2;
          }
        }
      },
    },
  },
  {
    what: 'variance of the sum for that of the mean',
    law: variance,
    spoil: { trace: everyLayer(16, (l) => l.variance) },
  },
  {
    what: 'variance a third too small',
    law: variance,
    spoil: { trace: everyLayer(2 / 3, (l) => l.variance) },
  },
  { what: 'the seed ignored', law: closedForms, spoil: { seed: () => 1 } },
];

/** Does the fault only change what comes out? Then the honest answers can be played to it from a tape. */
export const isOutside = ({ spoil }: Fault): boolean => !spoil.scene && !spoil.layer && !spoil.seed;

/** A deep copy of an answer: numbers, 32-bit arrays, lists and records of them. */
function copyOf<T>(x: T): T {
  if (x instanceof Float32Array || x instanceof Uint32Array) return x.slice() as T;
  if (Array.isArray(x)) return x.map(copyOf) as T;
  if (typeof x === 'object' && x !== null) {
    return Object.fromEntries(Object.entries(x).map(([k, v]) => [k, copyOf(v)])) as T;
  }
  return x;
}

/** Everything a tracer answered, in order. */
export type Tape = unknown[];

/** The tracer as an object of functions, whatever it was made as. */
const plainly = (t: Tracer): Tracer => ({
  name: t.name,
  rays: t.rays,
  load: (scene) => t.load(scene),
  hits: (view, width, height, options) => t.hits(view, width, height, options),
  direct: (points, layer, options) => t.direct(points, layer, options),
  patchDirect: (layer, options) => t.patchDirect(layer, options),
  links: (points, per, options) => t.links(points, per, options),
  passes: (from, to, options) => t.passes(from, to, options),
  trace: (points, options) => t.trace(points, options),
  dispose: () => t.dispose(),
});

/** The tracer, with its answers written on the tape. */
export function recording(tracer: Tracer, tape: Tape): Tracer {
  const keep = async <T>(answer: Promise<T>): Promise<T> => {
    const out = await answer;
    tape.push(copyOf(out));
    return out;
  };
  return {
    ...plainly(tracer),
    direct: (points, layer, options) => keep(tracer.direct(points, layer, options)),
    patchDirect: (layer, options) => keep(tracer.patchDirect(layer, options)),
    links: (points, per, options) => keep(tracer.links(points, per, options)),
    trace: (points, options) => keep(tracer.trace(points, options)),
  };
}

/** A tracer that gives the taped answers in their order, to a caller that asks the same again. */
export function replaying(tracer: Tracer, tape: Tape): Tracer {
  let at = 0;
  const next = async <T>(): Promise<T> => copyOf(tape[at++]) as T;
  return {
    ...tracer,
    load: async () => undefined,
    direct: next,
    patchDirect: next,
    links: next,
    trace: next,
  };
}

/** The tracer with the fault in it. */
export function faulty(tracer: Tracer, { spoil }: Fault): Tracer {
  let scene: TransportScene = { stage: {} as Stage, layers: [] };
  const seed = spoil.seed ?? ((s: number) => s);
  const layerOf = (l: number): number => spoil.layer?.(l, scene) ?? l;
  return {
    name: tracer.name,
    rays: tracer.rays,
    load(next) {
      scene = next;
      return tracer.load(spoil.scene?.(next) ?? next);
    },
    hits: (view, width, height, options) => tracer.hits(view, width, height, options),
    async direct(points, layer, options) {
      const out = await tracer.direct(points, layerOf(layer), { ...options, seed: seed(options.seed) });
      spoil.direct?.(out, points, layer, scene);
      return out;
    },
    async patchDirect(layer, options) {
      const out = (
        await tracer.patchDirect(layerOf(layer), { ...options, seed: seed(options.seed) })
      ).slice();
      spoil.patches?.(out, layer, scene);
      return out;
    },
    async links(points, per, options) {
      const out = await tracer.links(points, per, { ...options, seed: seed(options.seed) });
      spoil.links?.(out);
      return out;
    },
    async trace(points, options) {
      const out = await tracer.trace(points, { ...options, seed: seed(options.seed) });
      spoil.trace?.(out, points, scene);
      return out;
    },
    passes: (from, to, options) => tracer.passes(from, to, options),
    dispose: () => tracer.dispose(),
  };
}
