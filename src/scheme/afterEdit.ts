/**
 * An angle after an edit, as cheaply as its troubles can be told. Where only weights changed, its own light is weighed
 * anew: exact, and no ray. Where shapes moved, a small picture of direct light alone, with what bounced taken from
 * before: enough to tell troubles by, and always held against the same of the angle as it stands.
 */
import type { Solution } from '../power/solve.ts';
import { balanceOf } from '../readings/balance.ts';
import { type Measured, probePlan } from '../readings/measure.ts';
import { type AngleReading, clippedParts, readAngle } from '../readings/readAngle.ts';
import { type AngleGeometry, type AngleWeights, lightsOf } from '../setup/angle.ts';
import { exposureOf } from '../setup/develop.ts';
import { geometryOf } from '../setup/geometry.ts';
import { constantOf } from '../setup/learned.ts';
import { relayed, withRelays } from '../setup/relays.ts';
import { weightsOf } from '../setup/weights.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { PeopleData } from '../stage/people/person.ts';
import { airLight } from '../transport/airlight.ts';
import { emitterSet } from '../transport/emitter.ts';
import { paletteOf, picture } from '../transport/quick/picture.ts';
import type { LayerLight } from '../transport/quick/quick.ts';
import type { Thin } from '../transport/quick/thin.ts';
import type { AbortSignalLike, AirLight, Hits, Tracer } from '../transport/tracer.ts';
import type { Found } from './trouble.ts';
import { troublesOf } from './troubles.ts';

/** An angle as it is known: what an edit is tried against. */
export interface Known {
  shoot: Shoot;
  ref: AngleRef;
  people: PeopleData | undefined;
  detail: 'near' | 'medium' | 'far';
  angle: AngleGeometry;
  weights: AngleWeights;
  supply: Solution;
  measured: Measured;
  hits: Hits;
  coarse: Thin;
  light: readonly LayerLight[];
}

/** What is told of it: its readings and troubles. */
export interface Told {
  angle: AngleGeometry;
  reading: AngleReading;
  /** Illuminance that the set stop asks for, lux. */
  eRefLx: number;
  balance: { cctK: number; duv: number };
  found: Found[];
}

export interface TryOptions {
  seed: number;
  signal?: AbortSignalLike;
}

/** Points on every emitter asked for a meter. */
const METER_SAMPLES = 48;
/** What is seen is looked up at this size, pixels: 25 pixels of 1280 × 720 are still half a one. */
const WIDE = 192;
const HIGH = 108;
/** Its light is asked at half of that. */
const LIT = 2;
/** People are built so fine for it. */
const DETAIL = 'medium';

/** The angle as it stands, or under other weights. */
export function fullLook(k: Known): Told {
  const exposure = exposureOf(k.angle.rig.camera, constantOf(k.shoot));
  const palette = paletteOf(k.angle.transport.stage, k.hits, k.coarse);
  const xyz = picture(k.hits, k.coarse, palette, k.light, k.weights.layers);
  const reading = readAngle(k.angle, k.weights, k.measured, exposure, k.hits);
  const found = troublesOf({
    ...k,
    reading,
    exposure,
    clipped: clippedParts(k.hits, xyz, exposure),
    lit: {
      ...{ hits: k.hits, xyz, direct: k.light.map((l) => l.direct.diffuse) },
      ...(k.hits.air ? { air: k.light.map((l) => l.direct.air) } : {}),
    },
  });
  const { balance } = balanceOf(k.angle, k.weights, k.measured);
  return { angle: k.angle, reading, eRefLx: exposure.eRefLx, balance, found };
}

/** The angle of an edited shoot, if the edit moved nothing that light meets; undefined: shapes moved. */
export function reweighed(k: Known, shoot: Shoot): Known | undefined {
  const now = geometryOf(shoot, k.ref, k.people, k.detail);
  const same =
    now.viewKey === k.angle.viewKey &&
    now.transport.layers.every((l, i) => l.key === k.angle.transport.layers[i]?.key) &&
    metersOf(now) === metersOf(k.angle);
  if (!same) return undefined;
  const { weights, supply } = weightsOf(shoot, k.ref);
  return { ...k, shoot, angle: { ...k.angle, rig: now.rig }, weights: relayed(k.angle, weights), supply };
}

const metersOf = (g: AngleGeometry): string =>
  JSON.stringify([g.marks.map((m) => [m.id, m.eyes, m.facingDeg, m.part]), lightsOf(g).map((l) => l.at)]);

/**
 * An angle by rays, small. `from`: the angle as it is known, whose bounced light is lent; without it there is none.
 * Loads the angle's scene into `tracer`.
 */
export async function smallLook(
  tracer: Tracer,
  shoot: Shoot,
  ref: AngleRef,
  people: PeopleData | undefined,
  from: Known | undefined,
  o: TryOptions,
): Promise<Told> {
  const angle = await withRelays(tracer, geometryOf(shoot, ref, people, DETAIL), o);
  const { weights: own, supply } = weightsOf(shoot, ref);
  const weights = relayed(angle, own);
  const exposure = exposureOf(angle.rig.camera, constantOf(shoot));
  await tracer.load(angle.transport);
  const hits = await tracer.hits(angle.view, WIDE, HIGH, { ...o, samples: 1 });
  const few = await tracer.hits(angle.view, WIDE / LIT, HIGH / LIT, { ...o, samples: 1 });
  const plan = probePlan(angle);
  const measured: Measured = { plan, layers: [], quick: true, noiseStops: 0.1 };
  const direct: Float32Array[] = [];
  const air: (AirLight | undefined)[] = [];
  const lent = (layer: string) => from?.angle.transport.layers.findIndex((l) => l.id === layer) ?? -1;
  for (const [l, layer] of angle.transport.layers.entries()) {
    const bounced = from?.measured.layers[lent(layer.id)]?.bounced;
    measured.layers.push({
      direct: (await tracer.direct(plan.points, l, { ...o, samples: METER_SAMPLES })).diffuse,
      bounced:
        bounced?.length === 12 * plan.points.count ? bounced : new Float32Array(12 * plan.points.count),
    });
    direct.push((await tracer.direct(few.points, l, { ...o, samples: 1 })).diffuse);
    if (few.air) air.push(await airLight(tracer, angle.view, few, emitterSet(layer.emitters), o));
  }
  const xyz = luminance(angle, weights, few, direct, from && bouncedOf(from));
  const reading = readAngle(angle, weights, measured, exposure, hits);
  const found = troublesOf({
    ...{ shoot, angle, weights, reading, exposure, supply },
    clipped: clippedParts(few, xyz, exposure),
    lit: { hits: few, xyz, direct, ...(few.air ? { air } : {}) },
  });
  const { balance } = balanceOf(angle, weights, measured);
  return { angle, reading, eRefLx: exposure.eRefLx, balance, found };
}

interface Bounced {
  width: number;
  height: number;
  /** cd/m² by pixel. */
  Y: Float32Array;
}
const bouncedKept = new WeakMap<Known, Bounced>();

/** What is not direct light in the known picture, by pixel. */
function bouncedOf(k: Known): Bounced {
  let kept = bouncedKept.get(k);
  if (!kept) {
    const none = new Float32Array(k.hits.points.count);
    const light = k.light.map((l): LayerLight => ({ ...l, direct: { diffuse: none, gloss: none } }));
    const dark: Hits = {
      ...k.hits,
      glow: { pixel: new Uint32Array(0), layer: new Uint16Array(0), luminance: new Float32Array(0) },
    };
    const palette = paletteOf(k.angle.transport.stage, dark, k.coarse);
    const xyz = picture(dark, k.coarse, palette, light, k.weights.layers);
    const Y = new Float32Array(xyz.length / 3).map((_, p) => xyz[3 * p + 1]!);
    kept = { width: k.hits.width, height: k.hits.height, Y };
    bouncedKept.set(k, kept);
  }
  return kept;
}

/** 3 × pixels; only Y is filled. */
function luminance(
  angle: AngleGeometry,
  weights: AngleWeights,
  hits: Hits,
  direct: readonly Float32Array[],
  bounced: Bounced | undefined,
): Float32Array {
  const xyz = new Float32Array(3 * hits.width * hits.height);
  const rho = angle.transport.stage.materials.map(
    (m) => m.reflectance.reduce((s, v) => s + v, 0) / m.reflectance.length / Math.PI,
  );
  for (let p = 0; p + 1 < hits.pixelStart.length; p++) {
    let Y = 0;
    for (let h = hits.pixelStart[p]!; h < hits.pixelStart[p + 1]!; h++) {
      let lx = 0;
      for (const [l, d] of direct.entries()) lx += d[h]! * weights.layers[l]!.white[1];
      Y += hits.weight[h]! * rho[hits.points.material[h]!]! * lx;
    }
    if (bounced) {
      const x = p % hits.width;
      const y = (p - x) / hits.width;
      const bx = Math.floor(((x + 0.5) / hits.width) * bounced.width);
      const by = Math.floor(((y + 0.5) / hits.height) * bounced.height);
      Y += bounced.Y[by * bounced.width + bx]!;
    }
    xyz[3 * p + 1] = Y;
  }
  return xyz;
}
