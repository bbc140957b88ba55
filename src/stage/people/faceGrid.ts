/**
 * A face as a grid of places seen square from the front: where shadows on it are read. 4 mm cells, rows from above,
 * columns from the person's right to the left. Clothes, hair and what is worn are not part of it, but shade it.
 */
import type { PersonSlot } from './slots.ts';

export const FACE_CELL_M = 0.004;
/** Columns either side of the middle; rows above and below the eyes' middle. */
export const FACE_HALF = 18;
const FACE_UP = 7;
const FACE_DOWN = 25;
export const FACE_COLUMNS = 2 * FACE_HALF + 1;
export const FACE_ROWS = FACE_UP + FACE_DOWN + 1;

const FACE: readonly PersonSlot[] = ['skin', 'lips', 'scalp', 'mouth', 'eye-white', 'iris', 'pupil'];

export interface FaceGrid {
  /** Height of the nose's base and of the upper lip over the eyes' middle, metres (negative). */
  noseBaseM: number;
  lipM: number;
  /** 3 × FACE_ROWS × FACE_COLUMNS metres in the scene, lifted clear of the surface; where `there` is 0, nothing. */
  position: Float32Array;
  /** The same, unit shading normals. */
  normal: Float32Array;
  there: Uint8Array;
}

/** Height of a cell's middle over the eyes' middle, and its distance to the person's left of it, metres. */
export const cellPlace = (cell: number): { upM: number; leftM: number } => ({
  upM: (FACE_UP - Math.floor(cell / FACE_COLUMNS)) * FACE_CELL_M,
  leftM: ((cell % FACE_COLUMNS) - FACE_HALF) * FACE_CELL_M,
});

/** What a grid is worked out from: plain data. */
export interface GridOf {
  /** A person's triangles: rest places (face towards -y, left = +x), and where they are now. */
  mesh: {
    rest: Float32Array;
    positions: Float32Array;
    normals: Float32Array;
    indices: Uint32Array;
    material: Uint8Array;
  };
  slots: readonly PersonSlot[];
  /** The eyes' middle at rest. */
  eyes: readonly [number, number, number];
  heights: { noseBaseM: number; lipM: number };
}

export function faceGrid({ mesh, slots, eyes, heights }: GridOf): FaceGrid {
  const n = FACE_ROWS * FACE_COLUMNS;
  const grid: FaceGrid = {
    ...heights,
    position: new Float32Array(3 * n),
    normal: new Float32Array(3 * n),
    there: new Uint8Array(n),
  };
  const front = new Float32Array(n).fill(Number.POSITIVE_INFINITY);
  const isFace = slots.map((s) => FACE.includes(s));
  const { rest, indices } = mesh;
  for (let t = 0; t < mesh.material.length; t++) {
    if (!isFace[mesh.material[t]!]) continue;
    const a = 3 * indices[3 * t]!;
    const b = 3 * indices[3 * t + 1]!;
    const c = 3 * indices[3 * t + 2]!;
    // Not behind the ears: a head is 18 cm deep.
    if (rest[a + 1]! - eyes[1] > 0.08) continue;
    // Over or under the grid.
    const high = Math.max(rest[a + 2]!, rest[b + 2]!, rest[c + 2]!) - eyes[2];
    const low = Math.min(rest[a + 2]!, rest[b + 2]!, rest[c + 2]!) - eyes[2];
    if (low > FACE_UP * FACE_CELL_M || high < -FACE_DOWN * FACE_CELL_M) continue;
    // In cells: column and row of each corner.
    const u0 = (rest[a]! - eyes[0]) / FACE_CELL_M + FACE_HALF;
    const u1 = (rest[b]! - eyes[0]) / FACE_CELL_M + FACE_HALF;
    const u2 = (rest[c]! - eyes[0]) / FACE_CELL_M + FACE_HALF;
    const v0 = FACE_UP - (rest[a + 2]! - eyes[2]) / FACE_CELL_M;
    const v1 = FACE_UP - (rest[b + 2]! - eyes[2]) / FACE_CELL_M;
    const v2 = FACE_UP - (rest[c + 2]! - eyes[2]) / FACE_CELL_M;
    const area = (u1 - u0) * (v2 - v0) - (u2 - u0) * (v1 - v0);
    if (area === 0) continue;
    const from = Math.max(0, Math.ceil(Math.min(u0, u1, u2)));
    const to = Math.min(FACE_COLUMNS - 1, Math.floor(Math.max(u0, u1, u2)));
    const top = Math.max(0, Math.ceil(Math.min(v0, v1, v2)));
    const bottom = Math.min(FACE_ROWS - 1, Math.floor(Math.max(v0, v1, v2)));
    for (let row = top; row <= bottom; row++)
      for (let column = from; column <= to; column++) {
        const w1 = ((column - u0) * (v2 - v0) - (u2 - u0) * (row - v0)) / area;
        const w2 = ((u1 - u0) * (row - v0) - (column - u0) * (v1 - v0)) / area;
        const w0 = 1 - w1 - w2;
        if (w0 < -1e-6 || w1 < -1e-6 || w2 < -1e-6) continue;
        const y = w0 * rest[a + 1]! + w1 * rest[b + 1]! + w2 * rest[c + 1]!;
        const cell = row * FACE_COLUMNS + column;
        if (y >= front[cell]!) continue;
        front[cell] = y;
        grid.there[cell] = 1;
        const w = [w0, w1, w2] as const;
        const at = [0, 1, 2].map((k) => [a, b, c].reduce((q, i, e) => q + w[e]! * mesh.positions[i + k]!, 0));
        const lifted = [0, 0, 0];
        let l = 0;
        for (let k = 0; k < 3; k++) {
          const m = [a, b, c].reduce((q, i, e) => q + w[e]! * mesh.normals[i + k]!, 0);
          grid.normal[3 * cell + k] = m;
          l += m * m;
        }
        // To the corners' tangent planes, so that no facet shades its neighbour [HANIKA-2021].
        [a, b, c].forEach((i, e) => {
          const under = [0, 1, 2].reduce(
            (q, k) => q + (at[k]! - mesh.positions[i + k]!) * mesh.normals[i + k]!,
            0,
          );
          for (let k = 0; k < 3; k++)
            lifted[k]! += w[e]! * (at[k]! - Math.min(0, under) * mesh.normals[i + k]!);
        });
        for (let k = 0; k < 3; k++) {
          grid.normal[3 * cell + k]! /= Math.sqrt(l) || 1;
          grid.position[3 * cell + k] = lifted[k]! + 2e-4 * grid.normal[3 * cell + k]!;
        }
      }
  }
  return grid;
}
