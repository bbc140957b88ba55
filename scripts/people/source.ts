/** Reads the unpacked source package: base mesh, morph targets, fitted pieces. Lengths in its own decimetres, y up. */
import { closeSync, openSync, readFileSync, readSync } from 'node:fs';
import { join } from 'node:path';
import { OFFSET_SCALES } from './recipe.ts';

export interface Base {
  /** 3 × 19158. */
  vertices: Float64Array;
  /** 4 × 13378 vertex numbers of the skin, and its texture coordinates 8 × 13378. */
  quads: number[];
  uvs: number[];
  helpers: Record<string, number[]>;
  helperTriangles: Record<string, number[]>;
  headBone: number;
  skinVertices: number;
  bones: { name: string; parent: number }[];
  /** Per body vertex up to four (bone, weight), bones already folded onto the kept ones. */
  weights: Map<number, number>[];
  jointOf: Record<string, number[]>;
}

const VERTICES = 19158;
const KEEP =
  /^(root|spine0\d|neck0\d|head|clavicle|shoulder01|upperarm0\d|lowerarm0\d|wrist|metacarpal\d|finger\d-\d|pelvis|upperleg0\d|lowerleg0\d|foot)(\.[LR])?$/;

export function readBase(dir: string): Base {
  const json = JSON.parse(readFileSync(join(dir, 'public/data/models/human_full_size.json'), 'utf8'));
  const quads: number[] = [];
  const uvs: number[] = [];
  const helperSets: Record<string, Set<number>> = {};
  const helperTriangles: Record<string, number[]> = {};
  const uvTable: number[] = json.uvs[0];
  for (let f = 0; f < json.faces.length; f += 10) {
    const row: number[] = json.faces.slice(f, f + 10);
    const name: string = json.materials[row[5]!].DbgName;
    if (name === 'body') {
      quads.push(...row.slice(1, 5));
      for (const t of row.slice(6, 10)) uvs.push(uvTable[2 * t]!, uvTable[2 * t + 1]!);
    } else if (name.startsWith('helper-')) {
      helperSets[name] ??= new Set();
      helperTriangles[name] ??= [];
      const [a, b, c, d] = row.slice(1, 5) as [number, number, number, number];
      helperTriangles[name].push(a, b, c, a, c, d);
      for (const v of row.slice(1, 5)) helperSets[name].add(v);
    }
  }
  const helpers: Record<string, number[]> = {};
  for (const [k, s] of Object.entries(helperSets)) helpers[k] = [...s].sort((a, b) => a - b);

  // Fold the 163 bones onto those we keep.
  const all: { name: string; parent: number }[] = json.bones;
  const plain = (n: string) => n.replace('____head', '');
  const parentOf = new Map<string, string | undefined>();
  for (const b of all) {
    if (b.name.endsWith('____head')) continue;
    let p = b.parent;
    while (p >= 0 && plain(all[p]!.name) === b.name) p = all[p]!.parent;
    parentOf.set(b.name, p >= 0 ? plain(all[p]!.name) : undefined);
  }
  const kept: { name: string; parent: number }[] = [];
  const number = new Map<string, number>();
  const visit = (name: string): number => {
    const known = number.get(name);
    if (known !== undefined) return known;
    const parent = parentOf.get(name);
    const p = parent === undefined ? -1 : visit(parent);
    if (!KEEP.test(name)) {
      number.set(name, p);
      return p;
    }
    kept.push({ name, parent: p });
    number.set(name, kept.length - 1);
    return kept.length - 1;
  };
  for (const name of parentOf.keys()) visit(name);
  const weights: Map<number, number>[] = [];
  for (let v = 0; v < VERTICES; v++) {
    const m = new Map<number, number>();
    for (let k = 0; k < 4; k++) {
      const w: number = json.skinWeights[4 * v + k];
      if (w <= 0) continue;
      const bone = number.get(plain(all[json.skinIndices[4 * v + k]]!.name))!;
      m.set(bone, (m.get(bone) ?? 0) + w);
    }
    weights.push(m);
  }
  return {
    vertices: Float64Array.from(json.vertices),
    quads,
    uvs,
    helpers,
    helperTriangles,
    headBone: number.get('head')!,
    skinVertices: 13380,
    bones: kept,
    weights,
    jointOf: json.metadata.joint_pos_idxs,
  };
}

/** Reads single rows of the dense target table. Returns 3 × 19158 decimetres, or undefined when there is none. */
export function openTargets(dir: string) {
  const list = JSON.parse(readFileSync(join(dir, 'src/json/targets/target-list.json'), 'utf8')).targets;
  const names = Object.keys(list).sort();
  const rowOf = new Map(names.map((n, i) => [n.replace(/^data\/targets\//, '').replace(/\.target$/, ''), i]));
  const file = openSync(join(dir, 'public/data/targets/targets.bin'), 'r');
  const cache = new Map<string, Int16Array>();
  const used = new Set<string>();
  return {
    used,
    close: () => closeSync(file),
    get(name: string): Int16Array | undefined {
      const row = rowOf.get(name);
      if (row === undefined) return undefined;
      used.add(name);
      let got = cache.get(name);
      if (!got) {
        const bytes = new Uint8Array(VERTICES * 6);
        readSync(file, bytes, 0, bytes.length, row * bytes.length);
        got = new Int16Array(bytes.buffer);
        cache.set(name, got);
      }
      return got;
    },
  };
}

export interface Piece {
  name: string;
  refs: number[][];
  weights: number[][];
  offsets: number[][];
  /** Quads: 4 × n piece vertices; uv 8 × n. */
  quads: number[];
  uvs: number[];
  hides: Uint8Array;
}

export function readPiece(dir: string, kind: string, name: string): Piece {
  const json = JSON.parse(
    readFileSync(join(dir, `public/data/proxies/${kind}/${name}/${name}.json`), 'utf8'),
  );
  const quads: number[] = [];
  const uvs: number[] = [];
  for (let f = 0; f < json.faces.length; f += 10) {
    quads.push(...json.faces.slice(f + 1, f + 5));
    for (const t of json.faces.slice(f + 6, f + 10)) uvs.push(json.uvs[0][2 * t], json.uvs[0][2 * t + 1]);
  }
  const hides = new Uint8Array(VERTICES);
  const del = json.metadata.deleteVerts ?? [];
  for (let i = 0; i < VERTICES; i++) if (del[i]) hides[i] = 1;
  return { name, refs: json.ref_vIdxs, weights: json.weights, offsets: json.offsets, quads, uvs, hides };
}

/** Lays a piece on a morphed body: weighted mean of three body points plus the scaled offset. */
export function fitPiece(piece: Piece, v: Float64Array): Float64Array {
  const [a, b, c] = OFFSET_SCALES[piece.name]!;
  const shoes = piece.name.startsWith('shoes');
  const pair: [number, number][] = shoes
    ? [
        [12839, 12860],
        [12828, 12888],
        [11609, 12442],
      ]
    : [
        [5399, 11998],
        [791, 881],
        [962, 5320],
      ];
  const s = [a, b, c].map((m, k) => Math.abs(v[3 * pair[k]![0] + k]! - v[3 * pair[k]![1] + k]!) / m!);
  const out = new Float64Array(piece.refs.length * 3);
  for (let i = 0; i < piece.refs.length; i++)
    for (let k = 0; k < 3; k++) {
      let x = piece.offsets[i]![k]! * s[k]!;
      for (let j = 0; j < 3; j++) x += piece.weights[i]![j]! * v[3 * piece.refs[i]![j]! + k]!;
      out[3 * i + k] = x;
    }
  return out;
}

/** Skin weights of a piece's vertices, taken over from the three body points. */
export function pieceWeights(piece: Piece, base: Base): Map<number, number>[] {
  return piece.refs.map((refs, i) => {
    const m = new Map<number, number>();
    refs.forEach((r, j) => {
      for (const [bone, w] of base.weights[r]!)
        m.set(bone, (m.get(bone) ?? 0) + w * Math.max(0, piece.weights[i]![j]!));
    });
    return m;
  });
}
