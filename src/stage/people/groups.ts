/** Cuts a person's triangles into clusters about 20 cm across, by place at rest, material and main direction. */

const CELL_M = 0.2;

/** `rest` 3 × n metres, `normals` 3 × n, `indices` 3 × m, `material` m. Returns a cluster number per triangle. */
export function clusters(
  rest: Float32Array,
  normals: Float32Array,
  indices: Uint32Array,
  material: Uint8Array,
): { group: Uint16Array; groupCount: number } {
  const m = material.length;
  const group = new Uint16Array(m);
  const known = new Map<number, number>();
  for (let t = 0; t < m; t++) {
    let x = 0;
    let y = 0;
    let z = 0;
    let nx = 0;
    let ny = 0;
    let nz = 0;
    for (let k = 0; k < 3; k++) {
      const v = 3 * indices[3 * t + k]!;
      x += rest[v]! / 3;
      y += rest[v + 1]! / 3;
      z += rest[v + 2]! / 3;
      nx += normals[v]!;
      ny += normals[v + 1]!;
      nz += normals[v + 2]!;
    }
    const [ax, ay, az] = [Math.abs(nx), Math.abs(ny), Math.abs(nz)];
    const side = ax >= ay && ax >= az ? (nx > 0 ? 0 : 1) : ay >= az ? (ny > 0 ? 2 : 3) : nz > 0 ? 4 : 5;
    const cell =
      (Math.floor(x / CELL_M) + 16) * 1024 +
      (Math.floor(y / CELL_M + 0.5) + 16) * 32 +
      Math.floor(z / CELL_M) +
      16;
    const key = (cell * 8 + side) * 16 + material[t]!;
    let g = known.get(key);
    if (g === undefined) {
      g = known.size;
      known.set(key, g);
    }
    group[t] = g;
  }
  return { group, groupCount: known.size };
}
