/** A thing drawn elsewhere and brought here: its kept triangles in its box, smooth where they meet flat enough. */
import { cross, dot, normalize, sub, type Vec3 } from '../maths/vec3.ts';
import type { Builder, ShapeSpec } from './furniture/work.ts';
import { newPatch, PATCH_M, triangle, vertex } from './mesh.ts';

/** Faces that meet at less than this are one rounded surface (judgement: between a cushion's and a table's edge). */
const CREASE_COS = Math.cos((35 * Math.PI) / 180);

export const shapeBuilder =
  (shape: ShapeSpec): Builder =>
  ({ d, w, deep, h, slot }) => {
    const n = Math.floor(shape.corners.length / 3);
    const at = (i: number): Vec3 => [
      (shape.corners[3 * i]! / 65535 - 0.5) * w,
      (shape.corners[3 * i + 1]! / 65535 - 0.5) * deep,
      (shape.corners[3 * i + 2]! / 65535) * h,
    ];
    const total = Math.floor(shape.triangles.length / 3);
    const face: (Vec3 | undefined)[] = [];
    const meeting: number[][] = Array.from({ length: n }, () => []);
    for (let t = 0; t < total; t++) {
      const [a, b, c] = shape.triangles.subarray(3 * t, 3 * t + 3) as unknown as [number, number, number];
      if (!(a < n && b < n && c < n)) {
        face.push(undefined);
        continue;
      }
      const p = at(a);
      const v = cross(sub(at(b), p), sub(at(c), p));
      face.push(Math.hypot(...v) > 1e-12 ? v : undefined);
      if (face[t]) for (const i of [a, b, c]) meeting[i]!.push(t);
    }
    const unit = face.map((f) => f && normalize(f));
    // What lies in one cell and looks one way is one patch.
    const patches = new Map<string, number>();
    const patchM = Math.max(PATCH_M, d.patchM);
    let t = 0;
    for (const { part, triangles } of shape.parts) {
      const s = slot(part);
      for (const end = Math.min(total, t + triangles); t < end; t++) {
        const own = unit[t];
        if (!own) continue;
        const ids = [...shape.triangles.subarray(3 * t, 3 * t + 3)];
        const corners = ids.map(at);
        const middle = [0, 1, 2].map((k) => Math.floor(corners.reduce((v, p) => v + p[k]!, 0) / 3 / patchM));
        const axis = [0, 1, 2].reduce((b, k) => (Math.abs(own[k]!) > Math.abs(own[b]!) ? k : b), 0);
        const key = `${s} ${middle} ${axis}${own[axis]! > 0}`;
        let patch = patches.get(key);
        if (patch === undefined) {
          patch = newPatch(d);
          patches.set(key, patch);
        }
        const made = ids.map((i, k) => {
          let sum: Vec3 = [0, 0, 0];
          for (const o of meeting[i]!)
            if (dot(unit[o]!, own) > CREASE_COS)
              sum = [sum[0] + face[o]![0], sum[1] + face[o]![1], sum[2] + face[o]![2]];
          return vertex(d, corners[k]!, normalize(sum));
        });
        triangle(d, made[0]!, made[1]!, made[2]!, s, patch);
      }
    }
  };
