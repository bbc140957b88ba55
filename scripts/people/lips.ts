/** Finds the lips on the skin by the redness of a face texture, and the inside of the mouth by its texture island. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readPng } from './png.ts';
import type { Base } from './source.ts';

export const LIP_TEXTURE =
  'public/data/skins/young_caucasian_female/textures/young_lightskinned_female_diffuse.png';

/** Per quad 0 skin, 1 lips, 3 inside of the mouth. */
export function findLips(dir: string, base: Base): Uint8Array {
  const img = readPng(readFileSync(join(dir, LIP_TEXTURE)));
  const out = new Uint8Array(base.quads.length / 4);
  const v = base.vertices;
  const mouth = [0, 1, 2].map((k) => (v[3 * 455 + k]! + v[3 * 495 + k]!) / 2);
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
    const x = Math.min(img.width - 1, Math.floor(u * img.width));
    const y = Math.min(img.height - 1, Math.floor((1 - w) * img.height));
    const ratio = img.rgba[(y * img.width + x) * 4]! / Math.max(1, img.rgba[(y * img.width + x) * 4 + 1]!);
    // Cheek skin has a ratio of red to green near 1.25 there.
    if (d < 0.4 && ratio > 1.5) {
      out[f] = 1;
      lips++;
    }
  }
  console.log('lips', lips, 'quads, mouth', inside);
  return out;
}
