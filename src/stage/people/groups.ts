/** Cuts a person's triangles into clusters about 20 cm across, by place at rest, kind of surface and main direction. */

const CELL_M = 0.2;
/** Smaller clusters join the nearest of their kind, square metres. */
const LEAST_M2 = 0.004;

/**
 * `rest` 3 × n metres, `normals` 3 × n, `indices` 3 × m, `material` m, `kind` by material: materials of one kind may
 * share a cluster. Returns a cluster number per triangle.
 */
export function clusters(
  rest: Float32Array,
  normals: Float32Array,
  indices: Uint32Array,
  material: Uint8Array,
  kind: readonly number[],
): { group: Uint16Array; groupCount: number } {
  const m = material.length;
  const first = new Uint16Array(m);
  const known = new Map<number, number>();
  const list: { kind: number; area: number; x: number; y: number; z: number; n: [number, number, number] }[] =
    [];
  for (let t = 0; t < m; t++) {
    const a = 3 * indices[3 * t]!;
    const b = 3 * indices[3 * t + 1]!;
    const c = 3 * indices[3 * t + 2]!;
    const x = (rest[a]! + rest[b]! + rest[c]!) / 3;
    const y = (rest[a + 1]! + rest[b + 1]! + rest[c + 1]!) / 3;
    const z = (rest[a + 2]! + rest[b + 2]! + rest[c + 2]!) / 3;
    const nx = normals[a]! + normals[b]! + normals[c]!;
    const ny = normals[a + 1]! + normals[b + 1]! + normals[c + 1]!;
    const nz = normals[a + 2]! + normals[b + 2]! + normals[c + 2]!;
    const ax = Math.abs(nx);
    const ay = Math.abs(ny);
    const az = Math.abs(nz);
    const side = ax >= ay && ax >= az ? (nx > 0 ? 0 : 1) : ay >= az ? (ny > 0 ? 2 : 3) : nz > 0 ? 4 : 5;
    const cell =
      (Math.floor(x / CELL_M) + 16) * 1024 +
      (Math.floor(y / CELL_M + 0.5) + 16) * 32 +
      Math.floor(z / CELL_M) +
      16;
    const k = kind[material[t]!]!;
    const key = (cell * 8 + side) * 16 + k;
    let g = known.get(key);
    if (g === undefined) {
      g = list.length;
      known.set(key, g);
      list.push({ kind: k, area: 0, x: 0, y: 0, z: 0, n: [0, 0, 0] });
    }
    first[t] = g;
    const ux = rest[b]! - rest[a]!;
    const uy = rest[b + 1]! - rest[a + 1]!;
    const uz = rest[b + 2]! - rest[a + 2]!;
    const vx = rest[c]! - rest[a]!;
    const vy = rest[c + 1]! - rest[a + 1]!;
    const vz = rest[c + 2]! - rest[a + 2]!;
    // Ribbons of hair have one rest place and so no area here: count them a little.
    const area =
      Math.sqrt((uy * vz - uz * vy) ** 2 + (uz * vx - ux * vz) ** 2 + (ux * vy - uy * vx) ** 2) / 2 + 1e-7;
    const l = list[g]!;
    l.area += area;
    l.x += x * area;
    l.y += y * area;
    l.z += z * area;
    l.n[0] += nx * area;
    l.n[1] += ny * area;
    l.n[2] += nz * area;
  }
  for (const l of list) {
    l.x /= l.area;
    l.y /= l.area;
    l.z /= l.area;
    const s = Math.hypot(...l.n) || 1;
    l.n = [l.n[0] / s, l.n[1] / s, l.n[2] / s];
  }
  // Small ones join a big one of their kind near by that looks about the same way.
  const to = list.map((l, i) => {
    if (l.area >= LEAST_M2) return i;
    let best = i;
    let least = 0.16;
    list.forEach((o, j) => {
      if (o.kind !== l.kind || o.area < LEAST_M2) return;
      const facing = o.n[0] * l.n[0] + o.n[1] * l.n[1] + o.n[2] * l.n[2];
      const d = Math.hypot(o.x - l.x, o.y - l.y, o.z - l.z) + 0.05 * (1 - facing);
      if (d < least) {
        least = d;
        best = j;
      }
    });
    return best;
  });
  const dense = new Map<number, number>();
  const group = new Uint16Array(m);
  for (let t = 0; t < m; t++) {
    const g = to[first[t]!]!;
    let d = dense.get(g);
    if (d === undefined) {
      d = dense.size;
      dense.set(g, d);
    }
    group[t] = d;
  }
  return { group, groupCount: dense.size };
}
