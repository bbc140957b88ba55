/** Bakes hair and brows: sheets cut by their alpha, and where hairs run on them. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Packer } from './packer.ts';
import { type Image, readPng } from './png.ts';
import { PEOPLE } from './recipe.ts';
import { type Base, fitPiece, readPiece } from './source.ts';

interface Job {
  dir: string;
  base: Base;
  shapes: Float64Array[];
  packer: Packer;
  placeAll: (v: ArrayLike<number>) => Int16Array;
}

const alphaAt = (img: Image, u: number, v: number) => {
  const x = Math.min(img.width - 1, Math.max(0, Math.floor(u * img.width)));
  const y = Math.min(img.height - 1, Math.max(0, Math.floor((1 - v) * img.height)));
  return img.rgba[(y * img.width + x) * 4 + 3]! / 255;
};

/** A sheet as triangles over its vertices, split once where alpha is mixed, kept where its mean is at least .35. */
export function cutSheet(refs: number, quads: number[], uvs: number[], img: Image) {
  // A new vertex is the middle of two old ones.
  const middles: [number, number][] = [];
  const known = new Map<string, number>();
  const middle = (a: number, b: number) => {
    const k = a < b ? `${a},${b}` : `${b},${a}`;
    let m = known.get(k);
    if (m === undefined) {
      m = refs + middles.length;
      middles.push([a, b]);
      known.set(k, m);
    }
    return m;
  };
  const tris: number[] = [];
  const triUv: number[] = [];
  type P = { i: number; u: number; v: number };
  const mid = (a: P, b: P): P => ({ i: middle(a.i, b.i), u: (a.u + b.u) / 2, v: (a.v + b.v) / 2 });
  const cover = (a: P, b: P, c: P) => {
    let sum = 0;
    let n = 0;
    let low = 1;
    let high = 0;
    for (let i = 0; i <= 6; i++)
      for (let j = 0; j <= 6 - i; j++) {
        const [p, r] = [(i + 0.33) / 7, (j + 0.33) / 7];
        const s = 1 - p - r;
        const al = alphaAt(img, a.u * s + b.u * p + c.u * r, a.v * s + b.v * p + c.v * r);
        sum += al;
        n++;
        low = Math.min(low, al);
        high = Math.max(high, al);
      }
    return { mean: sum / n, mixed: high - low > 0.5 };
  };
  const keep = (a: P, b: P, c: P, splits: number) => {
    const { mean, mixed } = cover(a, b, c);
    if (mixed && splits > 0) {
      const [ab, bc, ca] = [mid(a, b), mid(b, c), mid(c, a)];
      keep(a, ab, ca, splits - 1);
      keep(ab, b, bc, splits - 1);
      keep(ca, bc, c, splits - 1);
      keep(ab, bc, ca, splits - 1);
    } else if (mean >= 0.35) {
      tris.push(a.i, b.i, c.i);
      triUv.push(a.u, a.v, b.u, b.v, c.u, c.v);
    }
  };
  for (let f = 0; f < quads.length / 4; f++) {
    const p = [0, 1, 2, 3].map((k) => ({
      i: quads[4 * f + k]!,
      u: uvs[8 * f + 2 * k]!,
      v: uvs[8 * f + 2 * k + 1]!,
    }));
    keep(p[0]!, p[1]!, p[2]!, 1);
    if (p[3]!.i !== p[2]!.i && p[3]!.i !== p[0]!.i) keep(p[0]!, p[2]!, p[3]!, 1);
  }
  return { tris, triUv, middles };
}

export function bakeHair({ dir, shapes, packer, placeAll }: Job) {
  const files: string[] = [];
  const sheets: Record<string, { pointsPerHair: number }> = {};
  for (const name of [...new Set(PEOPLE.flatMap((p) => (p.hair.sheet ? [p.hair.sheet] : [])))]) {
    const piece = readPiece(dir, 'hair', name);
    const image = `public/data/proxies/hair/${name}/textures/${name}_diffuse.png`;
    files.push(`public/data/proxies/hair/${name}/${name}.json`, image);
    const img = readPng(readFileSync(join(dir, image)));
    const cut = cutSheet(piece.refs.length, piece.quads, piece.uvs, img);
    // Keep only vertices that are used.
    const used = [...new Set(cut.tris)].sort((a, b) => a - b);
    const to = new Map(used.map((v, i) => [v, i]));
    packer.add(`${name}.triangles`, Uint16Array.from(cut.tris.map((v) => to.get(v)!)));
    PEOPLE.forEach((who, p) => {
      if (who.hair.sheet !== name) return;
      const fit = fitPiece(piece, shapes[p]!);
      const all = Array.from(fit);
      for (const [a, b] of cut.middles)
        for (let k = 0; k < 3; k++) all.push((all[3 * a + k]! + all[3 * b + k]!) / 2);
      packer.add(
        `${who.id}.${name}`,
        placeAll(used.flatMap((v) => [all[3 * v]!, all[3 * v + 1]!, all[3 * v + 2]!])),
      );
    });
    console.log(name, 'triangles', cut.tris.length / 3, 'vertices', used.length);
    sheets[name] = { pointsPerHair: 0 };
  }
  return { sheets, files };
}
