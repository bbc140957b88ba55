/** Light put together into pictures: all lamps, or each alone. */

import type { LayerWeight } from '../../setup/angle.ts';
import { develop, developStops, type Exposure, exposureOf } from '../../setup/develop.ts';
import { constantOf } from '../../setup/learned.ts';
import { paletteOf, picture } from '../../transport/quick/picture.ts';
import { throughLens } from '../../transport/veil.ts';
import type { Wanted } from '../messages.ts';
import { startOf } from './keys.ts';
import { type Means, rays } from './means.ts';
import { balanceFor } from './meters.ts';
import { isSettled, type Lit, progressOf, type Shown } from './shown.ts';

/** XYZ of a lit picture under some weights; colours of the stage as it is now. */
export function compose(s: Shown, lit: Lit, weights: readonly LayerWeight[], out: Float32Array): void {
  const { stage } = s.geometry.transport;
  if (lit.palette.stageKey !== stage.key)
    lit.palette = { stageKey: stage.key, palette: paletteOf(stage, lit.sight.hits, lit.sight.coarse) };
  const { palette } = lit.palette;
  const { hits, coarse } = lit.sight;
  const { carried, others } = lit;
  if (!carried || !others) {
    picture(hits, coarse, palette, lit.light, weights, out);
    return;
  }
  // Light adds: what a hand does not move is put together once.
  const own = new Set(carried);
  const without = weights.map((w, l) => (own.has(l) ? dark(w) : w));
  const key = carried.join();
  const same =
    others.layers === key &&
    others.palette === palette &&
    lit.light.every((light, l) => own.has(l) || others.light[l] === light) &&
    without.every((w, l) => alike(w, others.weights[l]!));
  if (!same) {
    picture(hits, coarse, palette, lit.light, without, others.xyz);
    Object.assign(others, { layers: key, palette, light: lit.light, weights: without });
  }
  const alone = weights.map((w, l) => (own.has(l) ? w : dark(w)));
  picture(hits, coarse, palette, lit.light, alone, out);
  for (let i = 0; i < out.length; i++) out[i]! += others.xyz[i]!;
}

const alike = (a: LayerWeight, b: LayerWeight): boolean =>
  a === b || (a.matrix.every((v, i) => v === b.matrix[i]) && a.bounceGain === b.bounceGain);

/** The same as the lens shows it, in an array of its own. */
const seen = (lit: Lit, xyz: Float32Array, weights: readonly LayerWeight[]): Float32Array =>
  throughLens(
    xyz,
    lit.width,
    lit.height,
    lit.light.map((l, i) => ({ glassLx: l.direct.glassLx ?? 0, white: weights[i]!.white })),
  );

export function sendPicture(on: Means, s: Shown, lit: Lit, w: Wanted): void {
  if (lit.light.length !== s.weights.length) return;
  compose(s, lit, s.weights, lit.xyz);
  delete lit.clipped;
  const exposure = exposureOf(s.rig.camera, constantOf(w.shoot));
  const pixels = new Uint8ClampedArray(4 * lit.width * lit.height);
  const xyz = seen(lit, lit.xyz, s.weights);
  if (w.stops) developStops(xyz, lit.width, exposure, pixels);
  else develop(xyz, lifted(exposure, w.day), balanceFor(s), pixels);
  s.last = lit;
  on.say(
    {
      kind: 'picture',
      turn: w.turn,
      rays: rays(on),
      picture: {
        angle: s.ref.angle,
        width: lit.width,
        height: lit.height,
        pixels,
        state:
          lit.quality === 'direct'
            ? 'quick, nothing bounced yet'
            : lit.quality !== 'paths'
              ? 'quick'
              : isSettled(lit)
                ? 'settled'
                : `moving by ${Math.max(0.1, lit.noise).toFixed(1)} stop`,
        progress: progressOf(lit),
      },
    },
    [pixels.buffer],
  );
}

/** Every lamp alone, from the smallest light there is: no ray. */
export function sendAlone(on: Means, s: Shown, w: Wanted): void {
  const start = startOf(s);
  let lit: Lit | undefined;
  for (const l of s.lit.values())
    if (l.quality !== 'direct' && l.key.startsWith(start) && (!lit || l.width < lit.width)) lit = l;
  if (!lit || lit.light.length !== s.weights.length) return;
  const exposure = exposureOf(s.rig.camera, constantOf(w.shoot));
  const balance = balanceFor(s);
  const xyz = new Float32Array(3 * lit.width * lit.height);
  for (const lamp of s.geometry.lamps) {
    const weights = s.weighed.weights.layers.map((l, i) => (lamp.layers.includes(i) ? l : dark(l)));
    compose(s, lit, weights, xyz);
    const pixels = new Uint8ClampedArray(4 * lit.width * lit.height);
    const shown = seen(lit, xyz, weights);
    if (w.stops) developStops(shown, lit.width, exposure, pixels);
    else develop(shown, lifted(exposure, w.day), balance, pixels);
    const picture = {
      angle: s.ref.angle,
      width: lit.width,
      height: lit.height,
      pixels,
      state: '',
      progress: 1,
    };
    on.say({ kind: 'alone', turn: w.turn, lamp: lamp.id, picture }, [pixels.buffer]);
  }
}

/** By day the screen stands in bright surroundings: pictures half a stop up, which their captions say. */
export const lifted = (e: Exposure, day: boolean): Exposure =>
  day ? { ...e, greyCdM2: e.greyCdM2 / Math.SQRT2 } : e;

export const dark = (l: LayerWeight): LayerWeight => ({ matrix: l.matrix.map(() => 0), white: [0, 0, 0] });
