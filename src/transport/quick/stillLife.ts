/** A small room made by hand for tests: a ball and a post on a table, a hard lamp and a soft one. */
import { constant } from '../../colour/spectrum.ts';
import type { Vec3 } from '../../maths/vec3.ts';
import { cross, normalize, sub } from '../../maths/vec3.ts';
import type { Stage } from '../../stage/stage.ts';
import { boxQuads, lamp, matte, stageOf } from '../box.ts';
import type { Emitter, Layer, View } from '../scene.ts';

export const look = (eye: Vec3, at: Vec3, tanH: number): View => {
  const forward = normalize(sub(at, eye));
  const right = normalize(cross(forward, [0, 0, 1]));
  return { eye, forward, right, up: cross(right, forward), tanH, tanV: (tanH * 9) / 16 };
};
export const spot = (at: Vec3, to: Vec3, radiusM: number, peakCd: number, exponent: number): Emitter => {
  const axis = normalize(sub(to, at));
  const side = Math.abs(axis[2]) > 0.9 ? ([0, 1, 0] as const) : ([0, 0, 1] as const);
  return {
    shape: { kind: 'disc', centre: at, axis, up: normalize(cross(cross(axis, side), axis)), radiusM },
    beam: { kind: 'cosine', peakCd, exponent },
  };
};
export const bulb = (centre: Vec3, cd: number): Emitter => ({
  shape: { kind: 'sphere', centre, axis: [0, 0, -1], up: [0, 1, 0], radiusM: 0.05 },
  beam: { kind: 'isotropic', cd },
});
/** A small room with a ball on a table: flat and round shadows, a lamp hard and one soft. */
const skin = {
  name: 'skin',
  reflectance: constant(0.4),
  kind: 'opaque' as const,
  gloss: { f0: 0.028, roughness: 0.5 },
};
function still(): Stage {
  const s = stageOf([
    ...boxQuads(
      [0, 0, 0],
      [4, 4, 2.6],
      'in',
      { floor: matte(0.3), ceiling: matte(0.75), walls: matte(0.5) },
      0.25,
    ),
    ...boxQuads([1.4, 2, 0.7], [2.8, 2.8, 0.75], 'out', matte(0.25), 0.25, 'furniture:table'),
    ...boxQuads([2.4, 2.2, 0.75], [2.5, 2.3, 1.35], 'out', matte(0.1), 0.25, 'furniture:post'),
  ]);
  const n = 32;
  const P: number[] = [];
  const N: number[] = [];
  const I: number[] = [];
  const patch: number[] = [];
  const first = s.positions.length / 3;
  for (let j = 0; j <= n; j++) {
    for (let i = 0; i <= 2 * n; i++) {
      const [a, b] = [(Math.PI * j) / n, (Math.PI * i) / n];
      const d = [Math.sin(a) * Math.cos(b), Math.sin(a) * Math.sin(b), Math.cos(a)];
      P.push(1.9 + 0.2 * d[0]!, 2.4 + 0.2 * d[1]!, 1.2 + 0.2 * d[2]!);
      N.push(...d);
      if (j === n || i === 2 * n) continue;
      const v = first + j * (2 * n + 1) + i;
      const w = v + 2 * n + 1;
      const q = s.patchCount + Math.floor((j * 4) / n) * 8 + Math.floor((i * 4) / n);
      if (j > 0) {
        I.push(v, w, v + 1);
        patch.push(q);
      }
      if (j < n - 1) {
        I.push(v + 1, w, w + 1);
        patch.push(q);
      }
    }
  }
  const many = patch.length;
  const join = <A extends Float32Array | Uint32Array | Uint16Array>(a: A, b: ArrayLike<number>): A => {
    const Kind = a.constructor as new (n: number) => A;
    const out = new Kind(a.length + b.length);
    out.set(a);
    out.set(b, a.length);
    return out;
  };
  return {
    ...s,
    positions: join(s.positions, P),
    normals: join(s.normals, N),
    indices: join(s.indices, I),
    material: join(s.material, new Array(many).fill(s.materials.length)),
    part: join(s.part, new Array(many).fill(s.parts.length)),
    patch: join(s.patch, patch),
    patchCount: s.patchCount + 32,
    materials: [...s.materials, skin],
    parts: [...s.parts, { id: 'person:ball', words: 'ball', kind: 'person', moving: true }],
    key: `${s.key} ball`,
  };
}
export function stillLife(): { stage: Stage; layers: Layer[]; view: View } {
  const stage = still();
  const layers = [
    lamp('hard', spot([0.6, 0.5, 2.2], [1.9, 2.4, 1.2], 0.05, 4000, 14)),
    lamp('soft', {
      shape: {
        kind: 'rectangle',
        centre: [3.4, 0.8, 1.7],
        axis: normalize([-1.5, 1.6, -0.5]),
        up: [0, 0, 1],
        widthM: 0.9,
        heightM: 0.9,
      },
      beam: { kind: 'cosine', peakCd: 900, exponent: 1 },
    }),
  ];
  const view = look([2.2, 0.4, 1.5], [1.9, 2.4, 1.1], 0.32);
  return { stage, layers, view };
}
