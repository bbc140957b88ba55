/** A thing out of a glTF file made ready for a shoot: read, brought to metres, made simple enough, packed small. */
import { GltfError, openGltf } from '../shoot/gltf.ts';
import { type MeanColour, type Soup, shapeIn } from '../shoot/gltfShape.ts';
import { pictureHead } from '../shoot/pictureHead.ts';
import type { Furniture } from '../shoot/schema.ts';
import { KEPT_TRIANGLES, packed } from '../shoot/shape.ts';

/** All of a thing but where it stands. */
type Brought = Pick<Furniture, 'kind' | 'words' | 'sizeM' | 'finish' | 'finishes' | 'shape'>;

const MOST_BYTES = 80e6;
const MOST_PARTS = 24;

export const utf8 = (bytes: Uint8Array): string => new TextDecoder('utf-8', { fatal: true }).decode(bytes);

export const looksLikeShape = (file: File): boolean => /\.(glb|gltf)$/i.test(file.name);

/** A thing to set down, and what was made of it; or sentences why not. */
export async function readShape(file: File): Promise<{ furniture: Brought; notes: string[] } | string[]> {
  const name = `“${file.name}”`;
  if (file.size > MOST_BYTES)
    return [
      `${name} has ${(file.size / 1e6).toFixed(0)} MB; a thing may have ${MOST_BYTES / 1e6} MB.`,
      'Save it with smaller pictures on its surfaces. Nothing was changed.',
    ];
  try {
    const soup = await shapeIn(openGltf(new Uint8Array(await file.arrayBuffer()), utf8), meanColour);
    return await thingOf(
      soup,
      file.name
        .replace(/\.\w+$/, '')
        .replace(/[_-]+/g, ' ')
        .slice(0, 60)
        .trim(),
    );
  } catch (error) {
    if (error instanceof GltfError)
      return [`${name} was not brought in. ${error.message}`, 'Nothing was changed.'];
    throw error;
  }
}

/** Boxed, scaled to metres where that is plain, welded, made simple, packed. */
export async function thingOf(
  { positions, groups, notes }: Soup,
  words: string,
): Promise<{ furniture: Brought; notes: string[] }> {
  const said = [...notes];
  const lo = [Infinity, Infinity, Infinity];
  const hi = [-Infinity, -Infinity, -Infinity];
  for (const g of groups)
    for (const i of g.indices)
      for (let k = 0; k < 3; k++) {
        lo[k] = Math.min(lo[k]!, positions[3 * i + k]!);
        hi[k] = Math.max(hi[k]!, positions[3 * i + k]!);
      }
  const most = Math.max(...hi.map((v, k) => v - lo[k]!));
  // The format says metres; a bed of two hundred was drawn in centimetres, one of two thousand in millimetres.
  const by = most > 2000 ? 0 : most > 400 ? 0.001 : most > 25 ? 0.01 : most < 0.001 ? 0 : 1;
  if (by === 0)
    throw new GltfError(
      `It measures ${most.toPrecision(3)} m, which no thing does. Scale it where it was drawn: glTF counts in metres.`,
    );
  if (by < 1)
    said.unshift(
      `It measured ${most.toFixed(0)} m; taken as ${by === 0.01 ? 'centimetres' : 'millimetres'}: look whether its size is right.`,
    );
  const size = hi.map((v, k) => Math.max(1e-3, v - lo[k]!));
  const parts = groups
    .map((g) => ({ ...g, area: areaOf(positions, g.indices) }))
    .sort((a, b) => b.area - a.area)
    .map(({ finish, indices }, i) => ({ finish, indices, part: `p${Math.min(i, MOST_PARTS - 1)}` }));
  if (parts.length > MOST_PARTS) said.push(`Of its ${parts.length} finishes the smallest count as one.`);
  const had = parts.reduce((n, p) => n + p.indices.length / 3, 0);
  const simple = await simplified(positions, lo, size, parts);
  const has = simple.parts.reduce((n, p) => n + p.indices.length / 3, 0);
  if (has === 0) throw new GltfError('There are no surfaces in it that are larger than a speck.');
  if (had > KEPT_TRIANGLES)
    said.push(`Its ${had.toLocaleString('en')} triangles were made ${has.toLocaleString('en')}.`);
  const finishes = Object.fromEntries(parts.slice(0, MOST_PARTS).map((p) => [p.part, p.finish]));
  return {
    furniture: {
      kind: 'shape',
      words: words || 'a thing from a file',
      sizeM: size.map((v) => +Math.max(0.002, v * by).toFixed(4)) as [number, number, number],
      finish: parts[0]!.finish,
      finishes,
      shape: packed(simple.positions, lo, size, simple.parts),
    },
    notes: said,
  };
}

/** Of all its triangles, square metres. */
function areaOf(positions: readonly number[], indices: readonly number[]): number {
  let sum = 0;
  const at = (i: number, k: number) => positions[3 * i + k]!;
  for (let t = 0; t < indices.length; t += 3) {
    const [a, b, c] = [indices[t]!, indices[t + 1]!, indices[t + 2]!];
    const [u, v] = [0, 1].map((n) => [0, 1, 2].map((k) => at(n ? c : b, k) - at(a, k))) as [
      number[],
      number[],
    ];
    sum +=
      Math.hypot(
        u[1]! * v[2]! - u[2]! * v[1]!,
        u[2]! * v[0]! - u[0]! * v[2]!,
        u[0]! * v[1]! - u[1]! * v[0]!,
      ) / 2;
  }
  return sum;
}

interface Part {
  part: string;
  indices: number[];
}

/** Corners that lie within a thousandth of the whole are one; then as few triangles as are kept, each part its share. */
async function simplified(
  positions: readonly number[],
  lo: readonly number[],
  size: readonly number[],
  parts: readonly Part[],
): Promise<{ positions: Float32Array; parts: { part: string; indices: Uint32Array }[] }> {
  const step = Math.max(...size) / 4000;
  const known = new Map<string, number>();
  const at: number[] = [];
  const corner = (i: number): number => {
    const q = [0, 1, 2].map((k) => Math.round((positions[3 * i + k]! - lo[k]!) / step));
    const key = q.join();
    let n = known.get(key);
    if (n === undefined) {
      n = known.size;
      known.set(key, n);
      for (let k = 0; k < 3; k++) at.push(positions[3 * i + k]!);
    }
    return n;
  };
  const merged = new Map<string, number[]>();
  for (const p of parts) {
    const list = merged.get(p.part) ?? [];
    merged.set(p.part, list);
    for (let i = 0; i < p.indices.length; i += 3) {
      const t = [corner(p.indices[i]!), corner(p.indices[i + 1]!), corner(p.indices[i + 2]!)];
      if (t[0] !== t[1] && t[1] !== t[2] && t[2] !== t[0]) list.push(...t);
    }
  }
  const xyz = Float32Array.from(at);
  const all = [...merged].reduce((n, [, list]) => n + list.length / 3, 0);
  let out = [...merged].map(([part, list]): { part: string; indices: Uint32Array } => ({
    part,
    indices: Uint32Array.from(list),
  }));
  if (all > KEPT_TRIANGLES) {
    const { MeshoptSimplifier: simple } = await import('meshoptimizer/simplifier');
    await simple.ready;
    const share = KEPT_TRIANGLES / all;
    out = out.map(({ part, indices }) => {
      const want = 3 * Math.max(4, Math.floor((indices.length / 3) * share));
      let [fewer] = simple.simplify(indices, xyz, 3, want, 0.05, ['LockBorder']);
      // Loose leaves and grilles have no shape to keep: only their bulk.
      if (fewer.length > 1.2 * want) [fewer] = simple.simplify(indices, xyz, 3, want, 1);
      if (fewer.length > 1.2 * want) [fewer] = simple.simplifySloppy(indices, xyz, 3, null, want, 1);
      return { part, indices: fewer };
    });
  }
  // Only the corners that are still used.
  const number = new Map<number, number>();
  const kept: number[] = [];
  for (const p of out)
    p.indices = p.indices.map((i) => {
      let n = number.get(i);
      if (n === undefined) {
        n = number.size;
        number.set(i, n);
        for (let k = 0; k < 3; k++) kept.push(xyz[3 * i + k]!);
      }
      return n;
    });
  if (number.size > 65_535 || out.reduce((n, p) => n + p.indices.length / 3, 0) > 2 * KEPT_TRIANGLES)
    throw new GltfError(
      'It could not be made simple enough. Make it simpler where it was drawn, and save it again.',
    );
  return { positions: Float32Array.from(kept), parts: out.filter((p) => p.indices.length > 0) };
}

/** Mean of a picture's light, not of its code values. */
const meanColour: MeanColour = async (bytes) => {
  const head = pictureHead(bytes);
  if (!head || head.width * head.height > 70e6) return undefined;
  try {
    const image = await createImageBitmap(
      new Blob([bytes as Uint8Array<ArrayBuffer>], { type: `image/${head.kind}` }),
      { resizeWidth: 48, resizeHeight: 48, resizeQuality: 'high' },
    );
    const canvas = document.createElement('canvas');
    canvas.width = canvas.height = 48;
    const on = canvas.getContext('2d', { willReadFrequently: true })!;
    on.drawImage(image, 0, 0, 48, 48);
    image.close();
    const { data } = on.getImageData(0, 0, 48, 48);
    const sum: [number, number, number] = [0, 0, 0];
    let weight = 0;
    for (let i = 0; i < data.length; i += 4) {
      const a = data[i + 3]! / 255;
      weight += a;
      for (let c = 0; c < 3; c++) {
        const v = data[i + c]! / 255;
        sum[c]! += a * (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
      }
    }
    return weight > 0 ? (sum.map((v) => v / weight) as [number, number, number]) : undefined;
  } catch {
    return undefined;
  }
};
