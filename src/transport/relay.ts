/**
 * Diffusion frames that stand in the room. What falls on a frame from a layer leaves its far side scattered, and
 * becomes a layer of its own: a grid of small matte rectangles, each as bright as the light on it says. What goes
 * straight through needs nothing here: shadow rays pass the sheet by its `straight` share.
 */
import type { Vec3 } from '../maths/vec3.ts';
import { add, cross, normalize, scale } from '../maths/vec3.ts';
import { probes } from './points.ts';
import type { Emitter, Layer, TransportScene } from './scene.ts';
import type { AbortSignalLike, Tracer } from './tracer.ts';

/** A sheet in its frame. Both sides take light. */
export interface Frame {
  id: string;
  centre: Vec3;
  /** Unit, square to the sheet. */
  axis: Vec3;
  /** Unit, along its height. */
  up: Vec3;
  widthM: number;
  heightM: number;
  /** Share of the light that leaves the far side scattered, 0–1: transmittance × (1 - straight share). */
  scattered: number;
  /** Cells across and up. Default: about eight along the longer side. */
  cells?: readonly [across: number, up: number];
}

/** Points per cell and shadow samples on each emitter from each. */
const PER_SIDE = 2;
const SAMPLES_EACH = 16;
/** Cells that get less than this share of the brightest are left dark. */
const FAINTEST = 1e-3;
/** Clear of the sheet, metres. */
const LIFT = 2e-3;

export interface RelayOptions {
  seed: number;
  signal?: AbortSignalLike;
  /** Numbers of the layers that are relayed. Default all of the scene. */
  only?: readonly number[];
}

/** Light that frames throw at one another is followed so many times at most, and while it adds more than this share. */
const PASSES = 4;
const ENOUGH = 1e-3;

/** What falls on the sides of a frame from one layer: lux per point of `onSide`, toward the axis and against it. */
type Fallen = readonly [Float32Array, Float32Array];
const SIDES = [1, -1] as const;

/**
 * Layers that the frames make of those of `scene`, which must be loaded in `tracer` and is again afterwards: one for
 * each frame and layer that lights it, named `layer/frame`, of the same lamp. A frame is lit by what others scatter of
 * that layer as well, one behind the other or side by side; being of one layer that takes the same weight. Light
 * between frame and lamp (back and forth) is left to the bounce field.
 */
export async function relayLayers(
  tracer: Tracer,
  scene: TransportScene,
  frames: readonly Frame[],
  options: RelayOptions,
): Promise<Layer[]> {
  const scatter = frames.filter((frame) => frame.scattered > 0);
  const lit = scatter.map((frame) => {
    const grid = cellsOf(frame);
    return { frame, grid, points: SIDES.map((side) => probes(onSide(frame, grid, side))) };
  });
  const fallOn = async (to: number, layer: number, samples: number): Promise<Fallen> => {
    const asked = { seed: options.seed, samples, ...(options.signal ? { signal: options.signal } : {}) };
    const [a, b] = lit[to]!.points;
    return [(await tracer.direct(a!, layer, asked)).diffuse, (await tracer.direct(b!, layer, asked)).diffuse];
  };
  const leavingAll = (f: number, fallen: Fallen): Emitter[] =>
    SIDES.flatMap((side, s) => leaving(lit[f]!.frame, lit[f]!.grid, side, fallen[s]!));

  // From the lamps.
  const numbers = options.only ?? scene.layers.map((_, l) => l);
  const whole: { number: number; f: number; fallen: Fallen }[] = [];
  for (const f of lit.keys())
    for (const number of numbers) whole.push({ number, f, fallen: await fallOn(f, number, SAMPLES_EACH) });

  // From frame to frame: what the last pass added throws its own light at the others.
  let added = lit.length > 1 ? whole : [];
  for (let pass = 0; pass < PASSES && added.length > 0; pass++) {
    const from = added
      .map(({ number, f, fallen }) => ({ number, f, emitters: leavingAll(f, fallen) }))
      .filter(({ emitters }) => emitters.length > 0);
    if (from.length === 0) break;
    const layers = from.map(({ number, f, emitters }) =>
      layerOf(scene.layers[number]!, lit[f]!.frame, emitters),
    );
    await tracer.load({ stage: scene.stage, layers });
    added = [];
    for (const [l, { number, f, emitters }] of from.entries())
      for (const to of lit.keys()) {
        if (to === f) continue;
        const more = await fallOn(to, l, Math.max(1, Math.ceil(SAMPLES_EACH / emitters.length)));
        const sum = whole.find((w) => w.number === number && w.f === to)!.fallen;
        const before = total(sum);
        sum.forEach((side, s) => {
          for (let i = 0; i < side.length; i++) side[i]! += more[s]![i]!;
        });
        if (total(more) > ENOUGH * before) added.push({ number, f: to, fallen: more });
      }
  }
  if (lit.length > 1) await tracer.load(scene);

  return whole.flatMap(({ number, f, fallen }) => {
    const emitters = leavingAll(f, fallen);
    return emitters.length > 0 ? [layerOf(scene.layers[number]!, lit[f]!.frame, emitters)] : [];
  });
}

const total = (fallen: Fallen): number =>
  fallen.reduce((sum, side) => sum + side.reduce((a, b) => a + b, 0), 0);

const layerOf = (layer: Layer, frame: Frame, emitters: Emitter[]): Layer => ({
  id: `${layer.id}/${frame.id}`,
  lamp: layer.lamp,
  emitters,
  key: JSON.stringify(emitters),
  ownParts: layer.ownParts,
});

interface Grid {
  across: number;
  up: number;
  right: Vec3;
}

function cellsOf(frame: Frame): Grid {
  const longer = Math.max(frame.widthM, frame.heightM);
  const [across, up] = frame.cells ?? [
    Math.max(1, Math.round((8 * frame.widthM) / longer)),
    Math.max(1, Math.round((8 * frame.heightM) / longer)),
  ];
  return { across, up, right: normalize(cross(frame.up, frame.axis)) };
}

/** Place on the sheet, −½ … ½ of its width and height. */
const placeOn = (frame: Frame, { right }: Grid, x: number, y: number): Vec3 =>
  add(frame.centre, add(scale(right, x * frame.widthM), scale(frame.up, y * frame.heightM)));

/** Receivers on the side that `axis × side` looks to: PER_SIDE² in every cell, cell by cell. */
function onSide(frame: Frame, grid: Grid, side: 1 | -1): { position: Vec3; normal: Vec3 }[] {
  const normal = scale(frame.axis, side);
  const list: { position: Vec3; normal: Vec3 }[] = [];
  for (let j = 0; j < grid.up; j++) {
    for (let i = 0; i < grid.across; i++) {
      for (let k = 0; k < PER_SIDE ** 2; k++) {
        const x = (i + ((k % PER_SIDE) + 0.5) / PER_SIDE) / grid.across - 0.5;
        const y = (j + (Math.floor(k / PER_SIDE) + 0.5) / PER_SIDE) / grid.up - 0.5;
        list.push({ position: add(placeOn(frame, grid, x, y), scale(normal, LIFT)), normal });
      }
    }
  }
  return list;
}

/** What leaves on the other side: matte cells of I₀ = E τ A / π. */
function leaving(frame: Frame, grid: Grid, side: 1 | -1, lux: Float32Array): Emitter[] {
  const per = PER_SIDE ** 2;
  const cells = Float64Array.from({ length: lux.length / per }, (_, c) => {
    let sum = 0;
    for (let k = 0; k < per; k++) sum += lux[c * per + k]!;
    return sum / per;
  });
  const most = cells.reduce((a, b) => Math.max(a, b), 0);
  if (!(most > 0)) return [];
  const widthM = frame.widthM / grid.across;
  const heightM = frame.heightM / grid.up;
  const emitters: Emitter[] = [];
  cells.forEach((E, c) => {
    if (E < FAINTEST * most) return;
    const x = ((c % grid.across) + 0.5) / grid.across - 0.5;
    const y = (Math.floor(c / grid.across) + 0.5) / grid.up - 0.5;
    emitters.push({
      shape: {
        kind: 'rectangle',
        centre: placeOn(frame, grid, x, y),
        axis: scale(frame.axis, -side),
        up: frame.up,
        widthM,
        heightM,
      },
      beam: { kind: 'cosine', peakCd: (widthM * heightM) / Math.PI, exponent: 1 },
      gain: E * frame.scattered,
    });
  });
  return emitters;
}
