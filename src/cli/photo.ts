/** An angle photographed: unbiased passes until the noise is low enough or the time is up. */

import type { WhiteBalance } from '../camera/whitebalance.ts';
import type { AngleGeometry, AngleWeights } from '../setup/angle.ts';
import type { Exposure } from '../setup/develop.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { LayerLight } from '../transport/quick/quick.ts';
import type { Tracer } from '../transport/tracer.ts';
import { BadUse } from './command.ts';
import { figures } from './compute.ts';

export interface PhotoWish {
  width: number;
  height: number;
  seed: number;
  /** Stops, one sigma, of the typical pixel that the camera can see; passes go on until it is reached. */
  noiseStops: number;
  /** Passes begin no more once so many seconds are over; one is always made. */
  seconds: number | undefined;
  /** Light of this lamp only, by id or number. */
  only: string | undefined;
  /** In stops about grey, by our ramp, in place of the camera's picture. */
  stops: boolean;
  /** By the quick light of the screen: no noise, an error of its own, a second or a few. */
  quick?: boolean;
  /** With the noise of the camera's class. */
  grain?: boolean;
  /** How far, 0–1, and in words. */
  progress: (share: number, words: string) => void;
}

export interface Photo {
  /** 3 × width × height bytes, sRGB encoded, top row first. */
  rgb: Uint8Array;
  passes: number;
  /** What was reached; infinite after one pass. */
  noiseStops: number;
  notes: readonly string[];
}

/** Points on a layer's emitters that are asked for their light on the lens. */
const GLASS_RAYS = 512;
/** The greatest darkness that counts for noise: four stops under grey, where skin in shade sits. */
const COUNTS_FROM = 2 ** -4;

/**
 * The spread of two or three passes says too little: its middle value comes out half again too small for two, an eighth
 * for four (chi-square law).
 */
const FEWEST = 4;

export async function photograph(
  tracer: Tracer,
  shoot: Shoot,
  ref: AngleRef,
  wish: PhotoWish,
): Promise<Photo> {
  const [
    { geometryOf },
    { weightsOf },
    { relayed, withRelays },
    { constantOf },
    dev,
    { balanceOf },
    { holdMeters },
    pass,
  ] = await Promise.all([
    import('../setup/geometry.ts'),
    import('../setup/weights.ts'),
    import('../setup/relays.ts'),
    import('../setup/learned.ts'),
    import('../setup/develop.ts'),
    import('../readings/balance.ts'),
    import('../readings/hold.ts'),
    import('../transport/photograph.ts'),
  ]);
  const { glassLux, throughLens } = await import('../transport/veil.ts');
  const { emitterSet } = await import('../transport/emitter.ts');
  const begun = performance.now();
  const { width, height, seed } = wish;
  const angle = await withRelays(tracer, geometryOf(shoot, ref, await figures()), { seed });
  const { weights: own, notes } = weightsOf(shoot, ref);
  const weights = relayed(angle, own);
  const camera = angle.rig.camera;
  const exposure = dev.exposureOf(camera, constantOf(shoot));
  let only: Set<number> | undefined;
  if (wish.only !== undefined) {
    const lamp = angle.lamps.find((l) => l.id === wish.only || angle.rig.lamps[l.id]?.number === wish.only);
    if (!lamp)
      throw new BadUse([
        `There is no lamp ${wish.only} in ${ref.scene} ${ref.angle}. Lamps: ${angle.lamps.map((l) => l.id).join(', ')}.`,
      ]);
    only = new Set(lamp.layers);
  }
  await tracer.load(angle.transport);
  // A card is read under the lamps themselves; kelvin needs no light.
  const measured =
    camera.whiteBalance.kind === 'read'
      ? await holdMeters(tracer, angle, { seed, noiseStops: 0.02, maxPaths: 512 })
      : undefined;
  const balanced = balanceOf(angle, weights, measured);

  if (wish.quick) {
    const xyz = await quickPicture(tracer, angle, weights, width, height, seed, only);
    return {
      rgb: shown(xyz, width, height, wish, dev, exposure, balanced.balance),
      passes: 0,
      noiseStops: 0,
      notes: [...angle.notes, ...notes, ...balanced.notes],
    };
  }
  const photo = pass.newPhotograph(width, height);
  let noise = Number.POSITIVE_INFINITY;
  const spent = () => (performance.now() - begun) / 1000;
  /** Share done, by time or by noise (which falls with the root of passes), whichever is further. */
  const share = (within: number) =>
    Math.max(
      wish.seconds === undefined ? 0 : Math.min(1, spent() / wish.seconds),
      Number.isFinite(noise)
        ? Math.min(1, (wish.noiseStops / noise) ** 2 * ((photo.passes + within) / photo.passes))
        : 0,
    );
  do {
    await pass.addPass(tracer, angle.transport.stage, angle.view, weights.layers, photo, {
      seed,
      layers: angle.transport.layers,
      ...(only ? { only } : {}),
      progress: (within) =>
        wish.progress(
          share(within),
          `pass ${photo.passes + 1} (${Math.floor(100 * within)} %)${Number.isFinite(noise) ? `, noise ${noise.toFixed(2)} stop` : ''}`,
        ),
    });
    noise = pass.noiseOf(photo, exposure.greyCdM2 * COUNTS_FROM);
  } while (
    (noise > wish.noiseStops || (photo.passes < FEWEST && noise > wish.noiseStops / 4)) &&
    (wish.seconds === undefined || spent() < wish.seconds)
  );

  const strays = [];
  for (const [l, { emitters }] of angle.transport.layers.entries())
    if (!only || only.has(l))
      strays.push({
        glassLx: await glassLux(tracer, angle.view, emitterSet(emitters), { seed, rays: GLASS_RAYS }),
        white: weights.layers[l]!.white,
      });
  const xyz = throughLens(pass.developed(photo), width, height, strays);
  return {
    rgb: shown(xyz, width, height, wish, dev, exposure, balanced.balance),
    passes: photo.passes,
    noiseStops: noise,
    notes: [...angle.notes, ...notes, ...balanced.notes],
  };
}

/** Bytes of the camera's picture, or of the stops. */
function shown(
  xyz: Float32Array,
  width: number,
  height: number,
  wish: PhotoWish,
  dev: typeof import('../setup/develop.ts'),
  exposure: Exposure,
  balance: WhiteBalance,
): Uint8Array {
  const rgba = new Uint8ClampedArray(4 * width * height);
  if (wish.stops) dev.developStops(xyz, width, exposure, rgba);
  else dev.develop(xyz, exposure, balance, rgba, wish.grain ? { seed: wish.seed } : undefined);
  const rgb = new Uint8Array(3 * width * height);
  for (let i = 0, o = 0; i < rgba.length; i += 4, o += 3) rgb.set(rgba.subarray(i, i + 3), o);
  return rgb;
}

/** XYZ by the light that the screen shows at once. */
async function quickPicture(
  tracer: Tracer,
  angle: AngleGeometry,
  weights: AngleWeights,
  width: number,
  height: number,
  seed: number,
  only: ReadonlySet<number> | undefined,
): Promise<Float32Array> {
  const [quick, { paletteOf, picture }, { throughLens }] = await Promise.all([
    import('../transport/quick/quick.ts'),
    import('../transport/quick/picture.ts'),
    import('../transport/veil.ts'),
  ]);
  const { stage, layers } = angle.transport;
  const hits = await tracer.hits(angle.view, width, height, { seed, samples: 4 });
  const room = await quick.roomOf(tracer, stage, { seed });
  const sight = await quick.sightOf(tracer, room, angle.view, hits, { seed });
  const light: LayerLight[] = [];
  for (const [l, layer] of layers.entries()) {
    const field = await quick.fieldOf(tracer, room, layer, l, { seed });
    light.push(await quick.quickLayer(tracer, room, sight, field, { seed, layer: l }));
  }
  const counted = light.map((l, i) => (only && !only.has(i) ? undefined : l));
  const xyz = picture(hits, sight.coarse, paletteOf(stage, hits, sight.coarse), counted, weights.layers);
  return throughLens(
    xyz,
    width,
    height,
    counted.map((l, i) => ({ glassLx: l?.direct.glassLx ?? 0, white: weights.layers[i]!.white })),
  );
}
