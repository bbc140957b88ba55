/** Finds the lips on the skin by the redness of a face texture, and the inside of the mouth by its texture island. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readPng } from './png.ts';
import type { Base } from './source.ts';

export const LIP_TEXTURE =
  'public/data/skins/young_caucasian_female/textures/young_lightskinned_female_diffuse.png';

/** Per quad 0 skin, 1 lips, 3 inside of the mouth. */
export function findLips(dir: string, base: Base, mirrorQuad: (f: number) => number): Uint8Array {
  const img = readPng(readFileSync(join(dir, LIP_TEXTURE)));
  const out = new Uint8Array(base.quads.length / 4);
  const v = base.vertices;
  const mouth = [0, 1, 2].map((k) => (v[3 * 455 + k]! + v[3 * 495 + k]!) / 2);
  const red = new Map<number, number>();
  let [lips, inside] = [0, 0];
  for (let f = 0; f < out.length; f++) {
    const c = base.quads.slice(4 * f, 4 * f + 4);
    const m = [0, 1, 2].map((k) => c.reduce((s, i) => s + v[3 * i + k]! / 4, 0));
    const d = Math.hypot(m[0]! - mouth[0]!, m[1]! - mouth[1]!, m[2]! - mouth[2]!);
    if (d > 0.7) continue;
    let [u, w] = [0, 0];
    for (let k = 0; k < 4; k++) {
      u += base.uvs[8 * f + 2 * k]! / 4;
      w += base.uvs[8 * f + 2 * k + 1]! / 4;
    }
    // The mouth's inside has its own island at the foot of the texture.
    if (u > 0.82 && w < 0.06) {
      out[f] = 3;
      inside++;
      continue;
    }
    if (d > 0.42) continue;
    // Mean redness over nine places of the quad; cheek skin has a ratio of red to green near 1.25 there.
    let [r, g] = [0, 0];
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) {
        const [p, q] = [0.2 + 0.3 * i, 0.2 + 0.3 * j];
        const bary = [(1 - p) * (1 - q), p * (1 - q), p * q, (1 - p) * q];
        const at = [0, 1].map((o) => bary.reduce((sum, b, k) => sum + b * base.uvs[8 * f + 2 * k + o]!, 0));
        const x = Math.min(img.width - 1, Math.floor(at[0]! * img.width));
        const y = Math.min(img.height - 1, Math.floor((1 - at[1]!) * img.height));
        r += img.rgba[(y * img.width + x) * 4]!;
        g += img.rgba[(y * img.width + x) * 4 + 1]!;
      }
    red.set(f, r / Math.max(1, g));
  }
  // Smooth the border: a quad also hears its neighbours, and its mirror image.
  const beside = new Map<string, number[]>();
  for (let f = 0; f < out.length; f++)
    for (let k = 0; k < 4; k++) {
      const [a, b] = [base.quads[4 * f + k]!, base.quads[4 * f + ((k + 1) % 4)]!];
      const key = a < b ? `${a},${b}` : `${b},${a}`;
      beside.set(key, [...(beside.get(key) ?? []), f]);
    }
  let value = red;
  for (let round = 0; round < 2; round++) {
    const next = new Map<number, number>();
    for (const [f, x] of value) {
      let sum = 2 * x;
      let n = 2;
      for (let k = 0; k < 4; k++) {
        const [a, b] = [base.quads[4 * f + k]!, base.quads[4 * f + ((k + 1) % 4)]!];
        for (const o of beside.get(a < b ? `${a},${b}` : `${b},${a}`)!) {
          if (o === f) continue;
          sum += value.get(o) ?? (out[o] === 3 ? 2 : 1.25);
          n++;
        }
      }
      next.set(f, sum / n);
    }
    value = next;
  }
  for (const [f, x] of value) {
    const twin = value.get(mirrorQuad(f)) ?? x;
    if ((x + twin) / 2 > 1.48) {
      out[f] = 1;
      lips++;
    }
  }
  console.log('lips', lips, 'quads, mouth', inside);
  return out;
}
