/**
 * A hard small source on a bare head, seen from the front: which parts of the face it lights. Method of
 * [CHECKS-CAMERA §4.3] on real heads: grid over the face, n·L > .03 and a free ray to a point 2 m off.
 */
import { add, cross, DEG, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { type PersonMesh, SLOTS } from '../stage/people/person.ts';
import { rayTree } from './peopleRays.ts';

const CELL_M = 0.002;
const SOURCE_M = 2;

export interface Lit {
  /** Shares 0–1. The key side is the person's left. */
  nearEye: number;
  farEye: number;
  nearCheek: number;
  farCheek: number;
  farHalf: number;
  /** Lit patch on the far cheek that is cut off from the near side, mm². */
  islandMm2: number;
  /** Is the middle of the upper lip in the light? */
  lipLit: boolean;
  /** Mean offset of the shadow below the nose from the midline, mm, + to the far side; undefined without shadow. */
  noseShadowAsideMm: number | undefined;
}

export interface FaceRig {
  /** Azimuth from the way the face looks towards the person's left, elevation; degrees. */
  light(azDeg: number, elDeg: number): Lit;
}

/** `mesh` must look north (facing 90°) with its eyes' middle at (0, 0, z). */
export function faceRig(mesh: PersonMesh, eyeHeightM: number): FaceRig {
  const bare = new Set(
    ['skin', 'lips', 'scalp', 'mouth', 'eye-white', 'iris', 'pupil'].map((s) => SLOTS.indexOf(s as never)),
  );
  const triangles: number[] = [];
  for (let t = 0; t < mesh.material.length; t++) if (bare.has(mesh.material[t]!)) triangles.push(t);
  const p = mesh.positions;
  const tree = rayTree(p, mesh.indices, triangles);
  const at = (a: Float32Array, v: number): Vec3 => [a[3 * v]!, a[3 * v + 1]!, a[3 * v + 2]!];

  // See every cell of the face from the front. Columns grow towards the key side: the person's left is west.
  const half = 40;
  const down = 52;
  const up = 18;
  const width = 2 * half + 1;
  const height = down + up + 1;
  interface Seen {
    start: Vec3;
    n: Vec3;
    g: Vec3;
  }
  const seen: (Seen | undefined)[] = [];
  const see = (x: number, z: number): Seen | undefined => {
    const from: Vec3 = [-x, 1, eyeHeightM + z];
    const hit = tree.nearest(from, [0, -1, 0], 0, 1.05);
    if (!hit) return undefined;
    const v = [0, 1, 2].map((k) => mesh.indices[3 * hit.triangle + k]!) as [number, number, number];
    const w = [1 - hit.u - hit.v, hit.u, hit.v] as const;
    const pos = add(from, [0, -hit.distance, 0]);
    let g = normalize(cross(sub(at(p, v[1]), at(p, v[0])), sub(at(p, v[2]), at(p, v[0]))));
    if (g[1] < 0) g = scale(g, -1);
    let n: Vec3 = [0, 0, 0];
    let start: Vec3 = [0, 0, 0];
    v.forEach((i, k) => {
      let ni = at(mesh.normals, i);
      if (dot(ni, g) < 0) ni = scale(ni, -1);
      n = add(n, scale(ni, w[k]!));
      // Lift the shadow ray's start to the corners' tangent planes [HANIKA-2021].
      start = add(start, scale(sub(pos, scale(ni, Math.min(0, dot(sub(pos, at(p, i)), ni)))), w[k]!));
    });
    return { start: add(start, scale(g, 2e-4)), n: normalize(n), g };
  };
  for (let r = 0; r < height; r++)
    for (let c = 0; c < width; c++) seen.push(see((c - half) * CELL_M, (up - r) * CELL_M));

  const noseBase = mesh.points.noseBase.position;
  const lip = mesh.points.upperLip.position;
  const lipSeen = see(-lip[0], lip[2] - eyeHeightM);
  const eyeX = Math.abs(mesh.points.eyeL.position[0] - mesh.points.eyeR.position[0]) / 2;

  return {
    light(azDeg, elDeg) {
      const L0: Vec3 = [
        -Math.sin(azDeg * DEG) * Math.cos(elDeg * DEG),
        Math.cos(azDeg * DEG) * Math.cos(elDeg * DEG),
        Math.sin(elDeg * DEG),
      ];
      const source = add([0, 0, eyeHeightM], scale(L0, SOURCE_M));
      const lit = (s: Seen | undefined): boolean => {
        if (!s) return false;
        const to = sub(source, s.start);
        const d = Math.hypot(...to);
        const L = scale(to, 1 / d);
        return dot(s.n, L) > 0.03 && !tree.blocked(s.start, L, 1e-5, d);
      };
      const on = seen.map(lit);
      const share = (cx: number, cz: number, size: number) => {
        let all = 0;
        let yes = 0;
        for (let i = -size; i <= size; i++)
          for (let j = -size; j <= size; j++) {
            const c = Math.round(cx / CELL_M) + half + i;
            const r = up - Math.round(cz / CELL_M) + j;
            if (!seen[r * width + c]) continue;
            all++;
            if (on[r * width + c]) yes++;
          }
        return yes / all;
      };
      let farAll = 0;
      let farLit = 0;
      for (let r = 0; r < height; r++)
        for (let c = 0; c < half; c++) {
          const z = (up - r) * CELL_M;
          if (z > 0.03 || z < -0.1 || !seen[r * width + c]) continue;
          farAll++;
          if (on[r * width + c]) farLit++;
        }
      // Flood the lit region between eyes and chin from the near cheek; what stays on the far cheek is an island.
      const low = -0.09;
      const high = -0.003;
      const inBand = (r: number) => (up - r) * CELL_M < high && (up - r) * CELL_M > low;
      const region = new Int32Array(seen.length).fill(-1);
      const sizes: { cells: number; sumX: number }[] = [];
      for (let s = 0; s < seen.length; s++) {
        if (!on[s] || region[s]! >= 0 || !inBand(Math.floor(s / width))) continue;
        const id = sizes.length;
        const size = { cells: 0, sumX: 0 };
        sizes.push(size);
        const stack = [s];
        region[s] = id;
        while (stack.length) {
          const q = stack.pop()!;
          const [r, c] = [Math.floor(q / width), q % width];
          size.cells++;
          size.sumX += (c - half) * CELL_M;
          for (const [dr, dc] of [
            [1, 0],
            [-1, 0],
            [0, 1],
            [0, -1],
          ] as const) {
            const [rr, cc] = [r + dr, c + dc];
            const t = rr * width + cc;
            if (rr < 0 || rr >= height || cc < 0 || cc >= width || !inBand(rr) || !on[t] || region[t]! >= 0)
              continue;
            region[t] = id;
            stack.push(t);
          }
        }
      }
      const nearCheek = (up + Math.round(0.03 / CELL_M)) * width + half + Math.round(0.04 / CELL_M);
      let islandMm2 = 0;
      sizes.forEach((s, id) => {
        const mm2 = s.cells * (CELL_M * 1000) ** 2;
        if (id !== region[nearCheek] && mm2 > 40 && s.sumX / s.cells < -0.012) islandMm2 += mm2;
      });
      // Nose shadow: dark cells between nose base and lip, near the middle.
      let dark = 0;
      let darkX = 0;
      for (let r = 0; r < height; r++)
        for (let c = 0; c < width; c++) {
          const z = eyeHeightM + (up - r) * CELL_M;
          const x = (c - half) * CELL_M;
          if (z > noseBase[2] || z < lip[2] || Math.abs(x) > 0.02 || on[r * width + c]) continue;
          dark++;
          darkX += x;
        }
      return {
        nearEye: share(eyeX, 0, 2),
        farEye: share(-eyeX, 0, 2),
        nearCheek: share(0.04, -0.03, 2),
        farCheek: share(-0.04, -0.03, 2),
        farHalf: farLit / farAll,
        islandMm2,
        lipLit: lit(lipSeen),
        noseShadowAsideMm: dark > 0 ? (-1000 * darkX) / dark : undefined,
      };
    },
  };
}
