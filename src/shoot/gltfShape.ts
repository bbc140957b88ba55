/**
 * What stands in a glTF file, as triangles in metres in our axes (z up; its +z, the front, becomes our −y), by material.
 * glTF: y up, metres, right-handed, counter-clockwise fronts [GLTF-2 3.4, 3.7.2.1].
 */
import { fromBase64, GltfError, numbersOf, type OpenGltf, viewOf } from './gltf.ts';
import type { Finish } from './schema.ts';

/** Triangles and corners in all, before anything is made fewer. */
const MOST_TRIANGLES = 1_000_000;
const MOST_CORNERS = 2_000_000;
const MOST_NODES = 20_000;
const DEEPEST = 100;

export interface Soup {
  /** 3 × n metres. */
  positions: number[];
  /** By material; three numbers of corners a triangle. */
  groups: { finish: Finish; indices: number[] }[];
  /** What was left out or taken for something else, sentences. */
  notes: string[];
}

/** Linear mean colour of a picture's bytes; undefined: it cannot be read. */
export type MeanColour = (bytes: Uint8Array) => Promise<[number, number, number] | undefined>;

type Matrix = readonly number[];
const no = (says: string): never => {
  throw new GltfError(says);
};
type Node = NonNullable<OpenGltf['json']['nodes']>[number];

/** Column by column, as glTF writes it. */
function matrixOf(n: Node): Matrix {
  if (n.matrix) return n.matrix;
  const [x, y, z, w] = (n.rotation ?? [0, 0, 0, 1]) as [number, number, number, number];
  const l = x * x + y * y + z * z + w * w;
  const s = l > 0 ? 2 / l : 0;
  const [sx, sy, sz] = (n.scale ?? [1, 1, 1]) as [number, number, number];
  const [tx, ty, tz] = (n.translation ?? [0, 0, 0]) as [number, number, number];
  return [
    ...[1 - s * (y * y + z * z), s * (x * y + z * w), s * (x * z - y * w), 0].map((v) => v * sx),
    ...[s * (x * y - z * w), 1 - s * (x * x + z * z), s * (y * z + x * w), 0].map((v) => v * sy),
    ...[s * (x * z + y * w), s * (y * z - x * w), 1 - s * (x * x + y * y), 0].map((v) => v * sz),
    ...[tx, ty, tz, 1],
  ];
}
function times(a: Matrix, b: Matrix): Matrix {
  const out: number[] = [];
  for (let c = 0; c < 4; c++)
    for (let r = 0; r < 4; r++) {
      let v = 0;
      for (let k = 0; k < 4; k++) v += a[4 * k + r]! * b[4 * c + k]!;
      out.push(v);
    }
  return out;
}
const flips = (m: Matrix): boolean =>
  m[0]! * (m[5]! * m[10]! - m[6]! * m[9]!) -
    m[4]! * (m[1]! * m[10]! - m[2]! * m[9]!) +
    m[8]! * (m[1]! * m[6]! - m[2]! * m[5]!) <
  0;

/** Throws a GltfError where the file does not hold what it says. */
export async function shapeIn(file: OpenGltf, mean?: MeanColour): Promise<Soup> {
  const { json } = file;
  const nodes = json.nodes ?? [];
  const notes = new Set<string>();
  const positions: number[] = [];
  const byMaterial = new Map<number, number[]>();
  let triangles = 0;

  const children = new Set(nodes.flatMap((n) => n.children ?? []));
  const scene = json.scenes?.[json.scene ?? 0];
  const roots = scene?.nodes ?? nodes.map((_, i) => i).filter((i) => !children.has(i));
  if (!scene && nodes.length && !roots.length) no('Its parts hang on each other in a ring.');
  const seen = new Set<number>();

  const mesh = (id: number, m: Matrix) => {
    const found = json.meshes?.[id] ?? no('It points at a shape that is not in it.');
    const flip = flips(m);
    for (const p of found.primitives) {
      const mode = p.mode ?? 4;
      if (mode < 4) {
        notes.add('Lines and points in it are left out.');
        continue;
      }
      const at = p.attributes.POSITION;
      if (at === undefined) continue;
      const corners = numbersOf(file, at, 3, MOST_CORNERS - positions.length / 3);
      const first = positions.length / 3;
      const n = corners.length / 3;
      for (let i = 0; i < n; i++) {
        const [x, y, z] = [corners[3 * i]!, corners[3 * i + 1]!, corners[3 * i + 2]!];
        const w = (r: number) => m[r]! * x + m[4 + r]! * y + m[8 + r]! * z + m[12 + r]!;
        const [wx, wy, wz] = [w(0), w(1), w(2)];
        if (!(Math.max(Math.abs(wx), Math.abs(wy), Math.abs(wz)) < 1e9))
          no('It has corners that are no numbers, or infinitely far away.');
        positions.push(wx, -wz, wy);
      }
      const order =
        p.indices === undefined
          ? Float64Array.from({ length: n }, (_, i) => i)
          : numbersOf(file, p.indices, 1, 3 * MOST_TRIANGLES);
      const key = p.material ?? -1;
      const list = byMaterial.get(key) ?? [];
      byMaterial.set(key, list);
      const add = (a: number, b: number, c: number) => {
        if (!(a < n && b < n && c < n)) no('Its triangles point at corners that are not in it.');
        if (a === b || b === c || c === a) return;
        if (++triangles > MOST_TRIANGLES)
          no(
            `It has more than ${MOST_TRIANGLES.toLocaleString('en')} triangles. Make it simpler where it was drawn, and save it again.`,
          );
        list.push(first + a, first + (flip ? c : b), first + (flip ? b : c));
      };
      const o = (i: number) => order[i]!;
      if (mode === 4) for (let i = 0; i + 2 < order.length; i += 3) add(o(i), o(i + 1), o(i + 2));
      else if (mode === 5)
        for (let i = 0; i + 2 < order.length; i++) add(o(i), o(i + 1 + (i % 2)), o(i + 2 - (i % 2)));
      else for (let i = 1; i + 1 < order.length; i++) add(o(0), o(i), o(i + 1));
    }
  };
  const stands: [mesh: number, as: Matrix][] = [];
  // One after the other, no deeper than a list is long: a hostile file must not exhaust the stack.
  const todo: [node: number, over: Matrix, depth: number][] = roots.map((r) => [r, matrixOf({}), 0]);
  while (todo.length) {
    const [id, over, depth] = todo.pop()!;
    const node = nodes[id] ?? no('It points at a part that is not in it.');
    if (seen.has(id)) no('Its parts hang on each other in a ring, or one hangs on two others.');
    seen.add(id);
    if (seen.size > MOST_NODES || depth > DEEPEST)
      no('It is put together of too many parts, or too deeply nested. Join its parts where it was drawn.');
    const m = times(over, matrixOf(node));
    if (node.skin !== undefined) notes.add('Its limbs stand as they were drawn, unposed.');
    if (node.mesh !== undefined) stands.push([node.mesh, m]);
    for (const c of node.children ?? []) todo.push([c, m, depth + 1]);
  }
  // Counted before anything is read: one shape that stands there a million times fills no memory.
  let told = 0;
  for (const [id] of stands)
    for (const p of json.meshes?.[id]?.primitives ?? [])
      told += json.accessors?.[p.attributes.POSITION ?? -1]?.count ?? 0;
  if (told > MOST_CORNERS)
    no(
      `It has ${told.toLocaleString('en')} corners; ${MOST_CORNERS.toLocaleString('en')} are the most. Make it simpler where it was drawn.`,
    );
  for (const [id, m] of stands) mesh(id, m);
  if (triangles === 0) no('There are no surfaces in it.');

  const groups: Soup['groups'] = [];
  for (const [material, indices] of byMaterial)
    if (indices.length) groups.push({ finish: await finishOf(file, material, mean, notes), indices });
  if ((json as { animations?: unknown[] }).animations?.length) notes.add('It does not move here.');
  return { positions, groups, notes: [...notes] };
}

const share = (v: number): number => Math.min(1, Math.max(0, v));
/** Linear to sRGB, 0–255 [IEC-61966-2-1]. */
const coded = (v: number): string =>
  Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055))
    .toString(16)
    .padStart(2, '0');

/** Colour to what it sends back; a metal's part to its gloss; a texture to its mean. */
async function finishOf(
  file: OpenGltf,
  material: number,
  mean: MeanColour | undefined,
  notes: Set<string>,
): Promise<Finish> {
  const { json } = file;
  const m = json.materials?.[material];
  // The format's own default is a white metal: nobody meant that.
  if (!m) return { words: 'grey, not told in its file', reflectance: 0.4, guessed: true };
  const pbr = m.pbrMetallicRoughness ?? {};
  const factor = (pbr.baseColorFactor ?? [1, 1, 1, 1]).map(share);
  let rgb = factor.slice(0, 3) as [number, number, number];
  const picture = imageOf(file, pbr.baseColorTexture?.index);
  const of = picture && (await mean?.(picture));
  if (of) rgb = rgb.map((v, i) => v * share(of[i]!)) as [number, number, number];
  else if (pbr.baseColorTexture)
    notes.add('A picture on its surface could not be read; its colour is supposed.');
  if (picture && of) notes.add('Pictures on its surfaces count as their mean colour.');
  if (pbr.metallicRoughnessTexture) notes.add('Its gloss is taken as even.');
  const y = 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2];
  const metal = share(pbr.metallicFactor ?? 1);
  const alpha = m.alphaMode === 'BLEND' ? factor[3]! : 1;
  const reflectance = +Math.min(0.92, Math.max(0.01, y * (1 - metal) + 0.02 * metal)).toFixed(3);
  const top = Math.max(...rgb, 1e-4);
  const coloured = (top - Math.min(...rgb)) / top > 0.03;
  return {
    words: (m.name?.trim() || 'a surface').slice(0, 80),
    reflectance,
    ...(coloured ? { colour: `#${rgb.map((v) => coded(v / top)).join('')}` } : {}),
    ...(metal >= 0.5 ? { metal: true } : {}),
    // Four per cent for all that is no metal [GLTF-2 B.2].
    glossF0: +(0.04 * (1 - metal) + Math.max(0.04, y) * metal).toFixed(3),
    roughness: +share(pbr.roughnessFactor ?? 1).toFixed(3),
    ...(alpha < 0.98 ? { passes: +Math.min(1 - alpha, 1 - reflectance).toFixed(3) } : {}),
  };
}

function imageOf(file: OpenGltf, texture: number | undefined): Uint8Array | undefined {
  const source = texture === undefined ? undefined : file.json.textures?.[texture]?.source;
  const image = source === undefined ? undefined : file.json.images?.[source];
  if (!image) return undefined;
  if (image.bufferView !== undefined) return viewOf(file, image.bufferView);
  // Only what is in the file itself: an address is not followed.
  const data = /^data:image\/[a-z]+;base64,/.exec(image.uri?.slice(0, 40) ?? '');
  return data ? fromBase64(image.uri!.slice(data[0].length)) : undefined;
}
