/**
 * How rain and snow are spread over a frame: a factor per pixel on their light, whose mean is 1. Drops are few and each
 * one bright: streaks as long as a drop falls while the shutter is open, near ones long and few, far ones short and many.
 * Which drop is where is chance; how much light they send together is not.
 */
import { rngOf } from '../maths/sampling.ts';

/** Distances at which drops are drawn, metres; a drop falls about 8 m/s, a flake 1.2 (common practice, no source). */
const SHELLS_M = [1.5, 2.5, 4, 7, 12];
const FALL_M_PER_S = { rain: 8, snow: 1.2 } as const;
/** Half the frame's height over the distance: an ordinary lens. */
const TAN_V = 0.28;
const SHUTTER_S = 1 / 50;
/** Sideways over downwards. */
const SLANT = { rain: 0.08, snow: 0.35 } as const;

const kept = new Map<string, Float32Array>();

/** width × height. The same seed, the same drops. */
export function dropPattern(
  kind: 'rain' | 'snow',
  width: number,
  height: number,
  seed: number,
): Float32Array {
  const key = `${kind}|${width}|${height}|${seed}`;
  const known = kept.get(key);
  if (known) return known;
  const rng = rngOf(seed + 4177);
  const out = new Float32Array(width * height);
  for (const metres of SHELLS_M) {
    const perM = height / (2 * TAN_V * metres);
    const long = Math.max(1.5, FALL_M_PER_S[kind] * SHUTTER_S * perM);
    const wide = Math.max(0.7, (kind === 'rain' ? 0.002 : 0.006) * perM);
    // As many as fill a volume evenly: by the square of the distance.
    const drops = Math.round(36 * metres * metres);
    for (let n = 0; n < drops; n++) {
      const x = rng() * width;
      const y = rng() * (height + long) - long;
      const slant = SLANT[kind] * (kind === 'snow' ? 2 * rng() - 1 : 1);
      // The same light on a longer streak is thinner: 1 over its area, by the square of the distance.
      streak(out, width, height, x, y, long, slant, wide, 1 / (metres * metres));
    }
  }
  const mean = out.reduce((a, b) => a + b, 0) / out.length;
  for (let p = 0; p < out.length; p++) out[p]! /= mean || 1;
  if (kept.size > 8) kept.delete(kept.keys().next().value as string);
  kept.set(key, out);
  return out;
}

function streak(
  out: Float32Array,
  width: number,
  height: number,
  x: number,
  y: number,
  long: number,
  slant: number,
  wide: number,
  light: number,
): void {
  const each = light / (long * wide);
  for (let j = Math.max(0, Math.floor(y)); j < Math.min(height, y + long); j++) {
    const cx = x + (j - y) * slant;
    for (let i = Math.floor(cx - wide / 2); i <= Math.floor(cx + wide / 2); i++) {
      if (i < 0 || i >= width) continue;
      const cover = Math.max(0, Math.min(i + 1, cx + wide / 2) - Math.max(i, cx - wide / 2));
      out[j * width + i]! += each * cover;
    }
  }
}
