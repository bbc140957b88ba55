/**
 * Things out of glTF files. Files are written by a general library (@gltf-transform/core) and by hand after the layout that the
 * specification publishes [GLTF-2]; hostile ones each get a sentence, and none of them an address that is followed.
 */
import { Document, NodeIO } from '@gltf-transform/core';
import { expect, test } from 'vitest';
import { DEG } from '../maths/vec3.ts';
import { thingOf as specOf } from '../setup/still.ts';
import { GltfError, openGltf, toBase64 } from '../shoot/gltf.ts';
import { shapeIn } from '../shoot/gltfShape.ts';
import { Furniture } from '../shoot/schema.ts';
import { KEPT_TRIANGLES } from '../shoot/shape.ts';
import { buildThing } from '../stage/furniture.ts';
import { thingOf, utf8 } from './bringShape.ts';

/** A box, y up: 1 wide, 2 high, 0.5 deep, its lowest corner at the origin. */
const BOX = [0, 1].flatMap((x) => [0, 2].flatMap((y) => [0, 0.5].map((z) => [x, y, z]))).flat();
const SIDES = [
  [0, 1, 3, 2],
  [4, 6, 7, 5],
  [0, 4, 5, 1],
  [2, 3, 7, 6],
  [0, 2, 6, 4],
  [1, 5, 7, 3],
].flatMap(([a, b, c, d]) => [a!, b!, c!, a!, c!, d!]);

function boxed(make?: (doc: Document) => void): Document {
  const doc = new Document();
  const buffer = doc.createBuffer();
  const prim = doc
    .createPrimitive()
    .setAttribute(
      'POSITION',
      doc.createAccessor().setType('VEC3').setArray(new Float32Array(BOX)).setBuffer(buffer),
    )
    .setIndices(doc.createAccessor().setType('SCALAR').setArray(new Uint16Array(SIDES)).setBuffer(buffer))
    .setMaterial(
      doc
        .createMaterial('oak')
        .setBaseColorFactor([0.4, 0.2, 0.1, 1])
        .setMetallicFactor(0)
        .setRoughnessFactor(0.6),
    );
  const node = doc.createNode('box').setMesh(doc.createMesh().addPrimitive(prim));
  doc.createScene().addChild(node);
  make?.(doc);
  return doc;
}
const glb = (doc: Document) => new NodeIO().writeBinary(doc);
const read = async (bytes: Uint8Array) => thingOf(await shapeIn(openGltf(bytes, utf8)), 'box');

test('a box by another library: metres, z up, front to −y, its finish', async () => {
  const { furniture, notes } = await read(await glb(boxed()));
  expect(furniture.sizeM).toEqual([1, 0.5, 2]);
  expect(furniture.shape!.parts).toEqual([{ part: 'p0', triangles: 12 }]);
  const oak = furniture.finishes!.p0!;
  expect(oak.words).toBe('oak');
  // Luminance of linear 0.4, 0.2, 0.1 [IEC-61966-2-1].
  expect(oak.reflectance).toBeCloseTo(0.2126 * 0.4 + 0.7152 * 0.2 + 0.0722 * 0.1, 3);
  expect(oak.colour).toBe('#ffbc89');
  expect(oak.glossF0).toBe(0.04);
  expect(oak.roughness).toBe(0.6);
  expect(notes).toEqual([]);
  expect(Furniture.safeParse({ ...furniture, at: [1, 2, 0] }).success).toBe(true);
});

test('a metal is told as one, and on the stage its gloss has its base colour [GLTF-2 B.2]', async () => {
  const gold = boxed((d) =>
    d.getRoot().listMaterials()[0]!.setMetallicFactor(1).setBaseColorFactor([1, 0.77, 0.34, 1]),
  );
  const { furniture } = await read(await glb(gold));
  const told = furniture.finishes!.p0!;
  expect(told.metal).toBe(true);
  const { body } = buildThing(specOf('brought', { ...furniture, at: [1, 2, 0] }));
  const { f0, tint } = body.materials[0]!.gloss!;
  const at = (nm: number) => f0 * tint![(nm - 380) / 5]!;
  // Red, green and blue of the base colour, each where that primary is strongest.
  expect(at(620)).toBeGreaterThan(0.9);
  expect(Math.abs(at(550) - 0.79)).toBeLessThan(0.12);
  expect(Math.abs(at(460) - 0.34)).toBeLessThan(0.12);
});

test('built on a stage it fills its box, turned as any thing, and its corners look outwards', async () => {
  const { furniture } = await read(await glb(boxed()));
  const spec = specOf('brought', { ...furniture, at: [1, 2, 0.1], turnDeg: 90 });
  const { body, notes } = buildThing(spec);
  expect(notes).toEqual([]);
  const along = (k: number) => Array.from(body.positions).filter((_, i) => i % 3 === k);
  // Half a metre deep along x now, one wide along y; corners are kept in steps of 1/65535.
  for (const [k, lo, hi] of [
    [0, 0.75, 1.25],
    [1, 1.5, 2.5],
    [2, 0.1, 2.1],
  ] as const) {
    expect(Math.min(...along(k))).toBeCloseTo(lo, 3);
    expect(Math.max(...along(k))).toBeCloseTo(hi, 3);
  }
  for (let i = 0; i < body.positions.length; i += 3) {
    const out = [0, 1, 2].reduce(
      (v, k) => v + body.normals[i + k]! * (body.positions[i + k]! - [1, 2, 1.1][k]!),
      0,
    );
    expect(out).toBeGreaterThan(0.2);
  }
});

test('moved, turned, scaled, mirrored by its node; JSON with its numbers inside reads the same', async () => {
  const doc = boxed((d) =>
    d
      .getRoot()
      .listNodes()[0]!
      .setTranslation([7, 8, 9])
      .setRotation([0, Math.sin(45 * DEG), 0, Math.cos(45 * DEG)])
      .setScale([-2, 1, 1]),
  );
  // A quarter turn about the upright: width and depth change places.
  const turned = await read(await glb(doc));
  expect(turned.furniture.sizeM.map((v) => +v.toFixed(4))).toEqual([0.5, 2, 2]);
  const { json, resources } = await new NodeIO().writeJSON(doc);
  const [uri, body] = Object.entries(resources)[0]!;
  const text = JSON.stringify(json).replace(
    JSON.stringify(uri),
    JSON.stringify(`data:application/octet-stream;base64,${toBase64(body)}`),
  );
  expect(await read(new TextEncoder().encode(text))).toEqual(turned);
  // Mirrored, its triangles still look outwards: the volume they enclose is positive.
  const soup = await shapeIn(openGltf(await glb(doc), utf8));
  const p = (i: number) => soup.positions.slice(3 * i, 3 * i + 3) as [number, number, number];
  let volume = 0;
  const { indices } = soup.groups[0]!;
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [p(indices[i]!), p(indices[i + 1]!), p(indices[i + 2]!)];
    volume +=
      (a[0] * (b[1] * c[2] - b[2] * c[1]) -
        a[1] * (b[0] * c[2] - b[2] * c[0]) +
        a[2] * (b[0] * c[1] - b[1] * c[0])) /
      6;
  }
  expect(volume).toBeCloseTo(2 * 1 * 2 * 0.5, 4);
});

test('a fine ball is made simple: few triangles, the same size, hardly less bulk', async () => {
  const [rings, round] = [160, 160];
  const at: number[] = [];
  const order: number[] = [];
  for (let i = 0; i <= rings; i++)
    for (let k = 0; k <= round; k++) {
      const [a, b] = [(Math.PI * i) / rings, (2 * Math.PI * k) / round];
      at.push(Math.sin(a) * Math.cos(b), Math.cos(a), Math.sin(a) * Math.sin(b));
      const o = i * (round + 1) + k;
      if (i < rings && k < round) order.push(o, o + 1, o + round + 1, o + 1, o + round + 2, o + round + 1);
    }
  const doc = boxed((d) => {
    const prim = d.getRoot().listMeshes()[0]!.listPrimitives()[0]!;
    prim.getAttribute('POSITION')!.setArray(new Float32Array(at));
    prim.getIndices()!.setArray(new Uint16Array(order));
  });
  const { furniture, notes } = await read(await glb(doc));
  expect(furniture.shape!.parts[0]!.triangles).toBeLessThanOrEqual(1.2 * KEPT_TRIANGLES);
  expect(furniture.shape!.parts[0]!.triangles).toBeGreaterThan(1000);
  for (const v of furniture.sizeM) expect(Math.abs(v / 2 - 1)).toBeLessThan(0.001);
  expect(notes.join()).toMatch(/triangles were made/);
  expect(JSON.stringify(furniture).length).toBeLessThan(120_000);
});

test('centimetres are taken as such and said; what no thing measures is refused', async () => {
  const scaled = (by: number) => glb(boxed((d) => d.getRoot().listNodes()[0]!.setScale([by, by, by])));
  const { furniture, notes } = await read(await scaled(50));
  expect(furniture.sizeM).toEqual([0.5, 0.25, 1]);
  expect(notes[0]).toMatch(/taken as centimetres/);
  await expect(scaled(1e6).then(read)).rejects.toThrow(/no thing does/);
});

const whole = {
  asset: { version: '2.0' },
  scenes: [{ nodes: [0] }],
  nodes: [{ mesh: 0 }],
  meshes: [{ primitives: [{ attributes: { POSITION: 0 } }] }],
  accessors: [{ bufferView: 0, componentType: 5126, count: 3, type: 'VEC3' }],
  bufferViews: [{ buffer: 0, byteLength: 36 }],
  buffers: [
    {
      byteLength: 36,
      uri: `data:application/octet-stream;base64,${toBase64(new Uint8Array(new Float32Array([0, 0, 0, 1, 0, 0, 0, 1, 0]).buffer))}`,
    },
  ],
};
const bytesOf = (o: unknown) => new TextEncoder().encode(typeof o === 'string' ? o : JSON.stringify(o));
const with_ = (over: object) => bytesOf({ ...whole, ...over });

test('one triangle after the published layout', async () => {
  const { furniture } = await read(bytesOf(whole));
  expect(furniture.sizeM).toEqual([1, 0.002, 1]);
  expect(furniture.finish.guessed).toBe(true);
});

const nan = toBase64(new Uint8Array(new Float32Array([0, 0, Number.NaN, 1, 0, 0, 0, 1, 0]).buffer));
const chunked = (text: string, long = text.length) => {
  const out = new Uint8Array(20 + text.length);
  const v = new DataView(out.buffer);
  [0x46546c67, 2, out.length, long, 0x4e4f534a].forEach((w, i) => {
    v.setUint32(4 * i, w, true);
  });
  out.set(bytesOf(text), 20);
  return out;
};
const HOSTILE: [string, Uint8Array, RegExp][] = [
  ['nothing', new Uint8Array(0), /no JSON/],
  ['no JSON', bytesOf('{"asset": {'), /no JSON/],
  ['another format', bytesOf('solid cube'), /no JSON/],
  ['an old version', bytesOf({ asset: { version: '1.0' } }), /only glTF 2/],
  ['a container that breaks off', chunked('{}', 9999), /breaks off/],
  [
    'an address',
    with_({ buffers: [{ byteLength: 36, uri: 'https://example.org/a.bin' }] }),
    /no address is followed/,
  ],
  ['a file beside it', with_({ buffers: [{ byteLength: 36, uri: 'chair.bin' }] }), /no address is followed/],
  [
    'a buffer shorter than told',
    with_({ buffers: [{ ...whole.buffers[0], byteLength: 1e6 }] }),
    /breaks off/,
  ],
  [
    'a view beyond its buffer',
    with_({ bufferViews: [{ buffer: 0, byteOffset: 30, byteLength: 36 }] }),
    /beyond its own end/,
  ],
  [
    'a list beyond its view',
    with_({ accessors: [{ ...whole.accessors[0], count: 4 }] }),
    /beyond its own end/,
  ],
  ['a huge count', with_({ accessors: [{ ...whole.accessors[0], count: 2 ** 31 }] }), /are the most/],
  ['a count below nothing', with_({ accessors: [{ ...whole.accessors[0], count: -1 }] }), /does not fit/],
  ['an unknown kind', with_({ accessors: [{ ...whole.accessors[0], componentType: 77 }] }), /unknown kind/],
  ['no number', with_({ buffers: [{ byteLength: 36, uri: `data:;base64,${nan}` }] }), /no numbers/],
  ['damaged text', with_({ buffers: [{ byteLength: 36, uri: 'data:;base64,A*A' }] }), /damaged/],
  ['a ring of parts', with_({ nodes: [{ children: [1] }, { children: [0], mesh: 0 }] }), /ring/],
  [
    'a part under two',
    with_({ scenes: [{ nodes: [0, 1] }], nodes: [{ children: [2] }, { children: [2] }, { mesh: 0 }] }),
    /two others/,
  ],
  ['a part that is not there', with_({ nodes: [{ children: [9] }] }), /not in it/],
  ['a shape that is not there', with_({ nodes: [{ mesh: 9 }] }), /not in it/],
  [
    'corners that are not there',
    with_({
      accessors: [...whole.accessors, { bufferView: 1, componentType: 5121, count: 3, type: 'SCALAR' }],
      bufferViews: [...whole.bufferViews, { buffer: 0, byteOffset: 12, byteLength: 4 }],
      meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1 }] }],
    }),
    /corners that are not in it/,
  ],
  [
    'too deep',
    with_({ nodes: Array.from({ length: 500 }, (_, i) => (i < 499 ? { children: [i + 1] } : { mesh: 0 })) }),
    /deeply nested/,
  ],
  ['packed', with_({ extensionsRequired: ['KHR_draco_mesh_compression'] }), /without compression/],
  ['nothing to see', with_({ nodes: [{}] }), /no surfaces/],
];
for (const [what, bytes, says] of HOSTILE)
  test(`hostile: ${what}`, async () => {
    const gone = read(bytes);
    await expect(gone).rejects.toThrow(GltfError);
    await expect(gone).rejects.toThrow(says);
  });

test('the same shape a million times over is refused before it fills the memory', async () => {
  const many = { nodes: Array.from({ length: 15_000 }, () => ({ mesh: 0 })), scenes: [{}] };
  const long = 36 * 1000;
  const body = toBase64(new Uint8Array(long));
  const heavy = with_({
    ...many,
    scenes: undefined,
    accessors: [{ bufferView: 0, componentType: 5126, count: 3000, type: 'VEC3' }],
    bufferViews: [{ buffer: 0, byteLength: long }],
    buffers: [{ byteLength: long, uri: `data:;base64,${body}` }],
  });
  await expect(read(heavy)).rejects.toThrow(/are the most|more than/);
});
