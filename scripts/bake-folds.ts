/**
 * Bakes how clothes hang into data/people/people.bin: for each person, garment of cloth and posture the garment is
 * left to settle on the posed body. Reads and rewrites the file; run after bake-people.ts.
 *   node --import ./bin/types-hook.js scripts/bake-folds.ts (then, if not all, the ids of persons)
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { finer } from '../src/stage/people/cloth.ts';
import { decodePeople } from '../src/stage/people/decode.ts';
import { poseBones, restJoint } from '../src/stage/people/pose.ts';
import { boneMatrices, normalise, normalsInto, skinInto } from '../src/stage/people/skin.ts';
import { type Cloth, settle } from './people/folds.ts';
import { withArrays } from './people/packer.ts';

const file = new URL('../data/people/people.bin', import.meta.url);
const bytes = new Uint8Array(readFileSync(file));
const data = decodePeople(bytes);
const only = process.argv.slice(2);

const SHIRT: Cloth = { slack: 0.1, offM: 0.03, slideM: 0.03, bend: 0.17, span: 25 };
const KNIT: Cloth = { slack: 0.1, offM: 0.035, slideM: 0.03, bend: 0.2, span: 500 };
const TROUSERS: Cloth = { slack: 0.1, offM: 0.03, slideM: 0.035, bend: 0.18, span: 10 };
/** By garment and slot; the rest hangs as a shirt does. */
const clothOf = (garment: string, slot: string): Cloth =>
  slot === 'bottom' ? TROUSERS : garment === 'male_casualsuit02' ? KNIT : SHIRT;
let seed = 20261;
const chance = () => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
  return seed / 4294967296;
};
const normals = (p: Float32Array, t: ArrayLike<number>) => {
  const n = new Float32Array(p.length);
  normalsInto(n, p, t, 0, t.length / 3);
  normalise(n);
  return n;
};

const made: Record<string, Int8Array> = {};
for (const who of data.people) {
  if (only.length && !only.includes(who.id)) continue;
  const hipZ = restJoint(who, data.boneNumber['upperleg01.L']!)[2];
  const rest = data.bones.map((_, i) => restJoint(who, i));
  for (const g of who.garments) {
    const garment = data.garments[g.name]!;
    if (!garment.slots.includes('top')) continue;
    for (const posture of ['standing', 'seated'] as const) {
      const pose = poseBones(data, who, { posture, headTurn: 0, headTilt: 0 });
      const p = new Float32Array(g.positions.length);
      skinInto(p, 0, g.positions, garment.bones, garment.amounts, boneMatrices(pose, rest));
      const n = normals(p, garment.triangles);
      const t = performance.now();
      made[`${who.id}.${g.name}.folds.${posture}`] = settle(
        finer(garment),
        { p: g.positions, n: normals(g.positions, garment.triangles) },
        { p, n },
        (slot) => clothOf(g.name, garment.slots[slot]!),
        chance,
        // The top hangs over the trousers down to a hand under the hip joint.
        (_x, _y, z, slot) =>
          garment.slots[slot] === 'bottom' ? Math.min(1, Math.max(0, (hipZ - 0.06 - z) / 0.18)) : 1,
      );
      console.log(who.id, g.name, posture, `${Math.round(performance.now() - t)} ms`);
    }
  }
}
const out = withArrays(bytes, made);
writeFileSync(file, out);
console.log('people.bin', bytes.length, '→', out.length, 'bytes');
