/**
 * A glTF 2.0 file taken apart [GLTF-2]: its container, its JSON held to what is used here, its numbers. Whoever made it is
 * not trusted: every range is checked before it is read, no address is followed, and what does not fit is a sentence.
 */
import { z } from 'zod';

/** What cannot be read; its message is a sentence for the person. */
export class GltfError extends Error {
  override name = 'GltfError';
}
const no = (says: string): never => {
  throw new GltfError(says);
};

const MOST_JSON = 24e6;
const index = z.number().int().min(0).max(1e6);
const count = z
  .number()
  .int()
  .min(0)
  .max(2 ** 31);
const real = z.number().min(-1e9).max(1e9);
const reals = (n: number) => z.array(real).length(n);
const Texture = z.looseObject({ index }).optional();

const Gltf = z.looseObject({
  asset: z.looseObject({ version: z.string().regex(/^2\./, 'only glTF 2 is read') }),
  extensionsRequired: z.array(z.string().max(100)).max(100).optional(),
  scene: index.optional(),
  scenes: z
    .array(z.looseObject({ nodes: z.array(index).max(100_000).optional() }))
    .max(1000)
    .optional(),
  nodes: z
    .array(
      z.looseObject({
        children: z.array(index).max(100_000).optional(),
        mesh: index.optional(),
        skin: index.optional(),
        matrix: reals(16).optional(),
        translation: reals(3).optional(),
        rotation: reals(4).optional(),
        scale: reals(3).optional(),
      }),
    )
    .max(100_000)
    .optional(),
  meshes: z
    .array(
      z.looseObject({
        primitives: z
          .array(
            z.looseObject({
              attributes: z.record(z.string().max(60), index),
              indices: index.optional(),
              material: index.optional(),
              mode: z.number().int().min(0).max(6).optional(),
            }),
          )
          .max(10_000),
      }),
    )
    .max(100_000)
    .optional(),
  materials: z
    .array(
      z.looseObject({
        name: z.string().max(500).optional(),
        pbrMetallicRoughness: z
          .looseObject({
            baseColorFactor: reals(4).optional(),
            baseColorTexture: Texture,
            metallicFactor: real.optional(),
            roughnessFactor: real.optional(),
            metallicRoughnessTexture: Texture,
          })
          .optional(),
        alphaMode: z.enum(['OPAQUE', 'MASK', 'BLEND']).optional(),
      }),
    )
    .max(10_000)
    .optional(),
  textures: z
    .array(z.looseObject({ source: index.optional() }))
    .max(10_000)
    .optional(),
  images: z
    .array(
      z.looseObject({
        uri: z.string().optional(),
        bufferView: index.optional(),
        mimeType: z.string().max(100).optional(),
      }),
    )
    .max(10_000)
    .optional(),
  accessors: z
    .array(
      z.looseObject({
        bufferView: index.optional(),
        byteOffset: count.optional(),
        componentType: z.number().int(),
        normalized: z.boolean().optional(),
        count,
        type: z.string().max(10),
        sparse: z.unknown().optional(),
      }),
    )
    .max(200_000)
    .optional(),
  bufferViews: z
    .array(
      z.looseObject({
        buffer: index,
        byteOffset: count.optional(),
        byteLength: count,
        byteStride: z.number().int().min(4).max(252).optional(),
      }),
    )
    .max(200_000)
    .optional(),
  buffers: z
    .array(z.looseObject({ uri: z.string().optional(), byteLength: count }))
    .max(1000)
    .optional(),
});
type Gltf = z.infer<typeof Gltf>;

export interface OpenGltf {
  json: Gltf;
  buffers: Uint8Array[];
}

/** Extensions without which a file still has its shape. */
const HARMLESS = /^KHR_(mesh_quantization|texture_transform|lights_punctual|materials_\w+)$|^KHR_xmp/;

/** A .glb, or a .gltf that holds everything. `decode` throws where the bytes are no text. Throws a GltfError. */
export function openGltf(bytes: Uint8Array, decode: (utf8: Uint8Array) => string): OpenGltf {
  const v = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let text = bytes;
  let inside: Uint8Array | undefined;
  if (bytes.length >= 12 && v.getUint32(0, true) === 0x46546c67) {
    if (v.getUint32(4, true) !== 2)
      no(`It is a glTF of version ${v.getUint32(4, true)}; only version 2 is read.`);
    let at = 12;
    const end = Math.min(bytes.length, v.getUint32(8, true));
    for (let n = 0; at + 8 <= end; n++) {
      const [long, kind] = [v.getUint32(at, true), v.getUint32(at + 4, true)];
      if (at + 8 + long > end) no('It breaks off in the middle: it was not copied whole.');
      const chunk = bytes.subarray(at + 8, at + 8 + long);
      if (n === 0 && kind !== 0x4e4f534a) no('Its first part is not the description that glTF asks for.');
      if (n === 0) text = chunk;
      else if (kind === 0x004e4942) inside ??= chunk;
      at += 8 + long;
    }
    if (text === bytes) no('It breaks off in the middle: it was not copied whole.');
  }
  if (text.length > MOST_JSON) no(`Its description alone has ${(text.length / 1e6).toFixed(0)} MB.`);
  let raw: unknown;
  try {
    raw = JSON.parse(decode(text));
  } catch {
    no('Its description is no JSON: it is damaged, or no glTF.');
  }
  const read = Gltf.safeParse(raw);
  if (!read.success) {
    const [issue] = read.error.issues;
    return no(`Its description does not fit glTF: ${issue!.path.slice(0, 6).join(' ')}: ${issue!.message}.`);
  }
  const json = read.data;
  const needs = (json.extensionsRequired ?? []).filter((e) => !HARMLESS.test(e));
  if (needs.length)
    no(
      `It is packed in a way that is not read here (${needs.slice(0, 3).join(', ')}). Save it without compression.`,
    );
  const buffers = (json.buffers ?? []).map((b, i) => {
    const body = b.uri === undefined ? (i === 0 ? inside : undefined) : dataOf(b.uri);
    if (!body)
      return no('It has no body: the numbers it speaks of are in another file. Save it as one .glb.');
    if (body.length < b.byteLength) no('It breaks off in the middle: it was not copied whole.');
    return body;
  });
  return { json, buffers };
}

/** A data address; any other points outside and is not followed. */
function dataOf(uri: string): Uint8Array {
  const found = /^data:[^,;]{0,100};base64,/.exec(uri.slice(0, 140));
  if (!found)
    return no(
      `It points at another file (“${uri.slice(0, 40)}”), and no address is followed. Save it as one .glb that holds everything.`,
    );
  const bytes = fromBase64(uri.slice(found[0].length));
  return bytes ?? no('A part of it that is written as text is damaged.');
}

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
const VALUE = new Int16Array(128).fill(-1);
for (let i = 0; i < 64; i++) VALUE[LETTERS.charCodeAt(i)] = i;

/** Base64 (RFC 4648, from memory) as bytes; undefined: it is none. */
export function fromBase64(text: string): Uint8Array | undefined {
  const t = text.replace(/=+$/, '');
  const out = new Uint8Array(Math.floor((t.length * 3) / 4));
  let bits = 0;
  let held = 0;
  let at = 0;
  for (let i = 0; i < t.length; i++) {
    const v = VALUE[t.charCodeAt(i)] ?? -1;
    if (v < 0) return undefined;
    held = ((held << 6) | v) & 0xffffff;
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      out[at++] = (held >> bits) & 0xff;
    }
  }
  return out;
}
export function toBase64(bytes: Uint8Array): string {
  let out = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const [a, b, c] = [bytes[i]!, bytes[i + 1], bytes[i + 2]];
    const v = (a << 16) | ((b ?? 0) << 8) | (c ?? 0);
    out += LETTERS[v >> 18]! + LETTERS[(v >> 12) & 63]!;
    out += b === undefined ? '==' : LETTERS[(v >> 6) & 63]! + (c === undefined ? '=' : LETTERS[v & 63]!);
  }
  return out;
}

/** Bytes of a number by component type [GLTF-2 3.6.2.2], and the most an integer may be. */
const KINDS: Record<number, [bytes: number, most: number]> = {
  5120: [1, 127],
  5121: [1, 255],
  5122: [2, 32767],
  5123: [2, 65535],
  5125: [4, 1],
  5126: [4, 1],
};
const WIDTH: Record<string, number> = { SCALAR: 1, VEC2: 2, VEC3: 3, VEC4: 4 };

export function viewOf({ json, buffers }: OpenGltf, view: number): Uint8Array {
  const v = json.bufferViews?.[view];
  const body = v && buffers[v.buffer];
  if (!v || !body) return no('It points at numbers that are not in it.');
  const from = v.byteOffset ?? 0;
  if (from + v.byteLength > body.length) no('It points at numbers beyond its own end.');
  return body.subarray(from, from + v.byteLength);
}

/** The numbers of an accessor, `width` to an entry, at most `most` entries. */
export function numbersOf(file: OpenGltf, accessor: number, width: number, most: number): Float64Array {
  const a = file.json.accessors?.[accessor];
  if (!a) return no('It points at a list that is not in it.');
  if (WIDTH[a.type] !== width)
    no(`A list in it has entries of kind ${a.type.slice(0, 8)} where ${width} numbers are due.`);
  if (a.sparse !== undefined)
    no('It stores corners as changes to others, which is not read here. Save it plain.');
  if (a.count > most)
    no(
      `It has ${a.count.toLocaleString('en')} entries in one list; ${most.toLocaleString('en')} are the most.`,
    );
  const [size, full] =
    KINDS[a.componentType] ?? no(`A list in it is of an unknown kind (${a.componentType}).`);
  if (a.bufferView === undefined) return no('A list in it has no numbers.');
  const view = viewOf(file, a.bufferView);
  const stride = file.json.bufferViews![a.bufferView]!.byteStride ?? size * width;
  const from = a.byteOffset ?? 0;
  if (a.count > 0 && from + (a.count - 1) * stride + size * width > view.length)
    no('A list in it reaches beyond its own end.');
  const data = new DataView(view.buffer, view.byteOffset, view.byteLength);
  const out = new Float64Array(a.count * width);
  const scale = a.normalized ? 1 / full : 1;
  for (let i = 0; i < a.count; i++)
    for (let k = 0; k < width; k++) {
      const at = from + i * stride + k * size;
      let v: number;
      if (a.componentType === 5126) v = data.getFloat32(at, true);
      else if (a.componentType === 5125) v = data.getUint32(at, true);
      else if (a.componentType === 5123) v = data.getUint16(at, true) * scale;
      else if (a.componentType === 5122)
        v = Math.max(a.normalized ? -1 : -Infinity, data.getInt16(at, true) * scale);
      else if (a.componentType === 5121) v = data.getUint8(at) * scale;
      else v = Math.max(a.normalized ? -1 : -Infinity, data.getInt8(at) * scale);
      if (!(Math.abs(v) < 1e12)) no('It has corners that are no numbers, or infinitely far away.');
      out[i * width + k] = v;
    }
  return out;
}
