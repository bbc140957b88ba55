/** Bakes hair, brows and lashes: sheets cut by their alpha, hairs that follow them, and the scalp beneath. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { eyeOf } from './morph.ts';
import type { Packer } from './packer.ts';
import { type Image, readPng } from './png.ts';
import { PEOPLE } from './recipe.ts';
import { type Base, fitPiece, readPiece } from './source.ts';
import {
  chances,
  dot3,
  len3,
  type P3,
  resample,
  Surface,
  type SurfacePoint,
  strandAngles,
  sub3,
} from './strands.ts';

interface Job {
  dir: string;
  base: Base;
  shapes: Float64Array[];
  packer: Packer;
  placeAll: (v: ArrayLike<number>) => Int16Array;
}

/** Guide hairs per head, points on each, and the longest, decimetres. */
const STYLE: Record<
  string,
  { guides: number; points: number; longest: number; inM: number; splits: number }
> = {
  short01: { guides: 700, points: 4, longest: 0.5, inM: 0.004, splits: 0 },
  short02: { guides: 700, points: 4, longest: 0.45, inM: 0.004, splits: 1 },
  short04: { guides: 700, points: 4, longest: 0.35, inM: 0.003, splits: 1 },
  ponytail01: { guides: 650, points: 5, longest: 1.3, inM: 0.0005, splits: 0 },
  long01: { guides: 600, points: 6, longest: 2.2, inM: 0.002, splits: 1 },
};

const pixel = (img: Image, u: number, v: number) => {
  const x = Math.min(img.width - 1, Math.max(0, Math.floor(u * img.width)));
  const y = Math.min(img.height - 1, Math.max(0, Math.floor((1 - v) * img.height)));
  return y * img.width + x;
};
const alphaAt = (img: Image, u: number, v: number) => img.rgba[pixel(img, u, v) * 4 + 3]! / 255;

/** Quads as triangles, with their texture coordinates (6 per triangle). */
function split(quads: number[], uvs: number[]) {
  const tris: number[] = [];
  const uv: number[] = [];
  for (let f = 0; f < quads.length / 4; f++) {
    const c = quads.slice(4 * f, 4 * f + 4);
    for (const [i, j, k] of [
      [0, 1, 2],
      [0, 2, 3],
    ] as const) {
      if (c[k] === c[j] || c[k] === c[i]) continue;
      tris.push(c[i]!, c[j]!, c[k]!);
      for (const q of [i, j, k]) uv.push(uvs[8 * f + 2 * q]!, uvs[8 * f + 2 * q + 1]!);
    }
  }
  return { tris, uv };
}

/** A sheet's triangles, split `splits` times where alpha is mixed, kept where its mean is at least .35. */
function cutSheet(vertices: number, tris: number[], uv: number[], img: Image, splits: number) {
  const middles: [number, number][] = [];
  const known = new Map<string, number>();
  const middle = (a: number, b: number) => {
    const k = a < b ? `${a},${b}` : `${b},${a}`;
    let m = known.get(k);
    if (m === undefined) {
      m = vertices + middles.length;
      middles.push([a, b]);
      known.set(k, m);
    }
    return m;
  };
  const kept: number[] = [];
  type P = { i: number; u: number; v: number };
  const mid = (a: P, b: P): P => ({ i: middle(a.i, b.i), u: (a.u + b.u) / 2, v: (a.v + b.v) / 2 });
  const keep = (a: P, b: P, c: P, splits: number) => {
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
    if (high - low > 0.5 && splits > 0) {
      const [ab, bc, ca] = [mid(a, b), mid(b, c), mid(c, a)];
      keep(a, ab, ca, splits - 1);
      keep(ab, b, bc, splits - 1);
      keep(ca, bc, c, splits - 1);
      keep(ab, bc, ca, splits - 1);
    } else if (sum / n >= 0.35) kept.push(a.i, b.i, c.i);
  };
  for (let t = 0; t < tris.length / 3; t++) {
    const p = [0, 1, 2].map((k) => ({
      i: tris[3 * t + k]!,
      u: uv[6 * t + 2 * k]!,
      v: uv[6 * t + 2 * k + 1]!,
    }));
    keep(p[0]!, p[1]!, p[2]!, splits);
  }
  return { tris: kept, middles };
}

/** Area-weighted vertex normals. */
export function vertexNormals(tris: ArrayLike<number>, at: ArrayLike<number>): Float64Array {
  const out = new Float64Array(at.length);
  for (let t = 0; t < tris.length; t += 3) {
    const p = [0, 1, 2].map((k) => [0, 1, 2].map((c) => at[3 * tris[t + k]! + c]!) as P3) as [P3, P3, P3];
    const [u, v] = [sub3(p[1], p[0]), sub3(p[2], p[0])];
    const n: P3 = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    for (let k = 0; k < 3; k++) for (let c = 0; c < 3; c++) out[3 * tris[t + k]! + c]! += n[c]!;
  }
  for (let i = 0; i < out.length; i += 3) {
    const l = Math.hypot(out[i]!, out[i + 1]!, out[i + 2]!) || 1;
    for (let c = 0; c < 3; c++) out[i + c]! /= l;
  }
  return out;
}

/** Paths of hairs on a surface: seeds by area, followed both ways. */
function tracePaths(
  surface: Surface,
  want: number,
  step: number,
  longest: number,
  shortest: number,
  seed: number,
  accept: (p: SurfacePoint) => boolean,
  field: (p: SurfacePoint) => [number, number] | undefined,
): SurfacePoint[][] {
  const rnd = chances(seed);
  const sums: number[] = [];
  let total = 0;
  for (const a of surface.area) {
    total += a;
    sums.push(total);
  }
  const paths: SurfacePoint[][] = [];
  for (let tries = 0; tries < want * 30 && paths.length < want; tries++) {
    const r = rnd() * total;
    let lo = 0;
    let hi = sums.length - 1;
    while (lo < hi) {
      const m = (lo + hi) >> 1;
      if (sums[m]! < r) lo = m + 1;
      else hi = m;
    }
    let [u, v] = [rnd(), rnd()];
    if (u + v > 1) [u, v] = [1 - u, 1 - v];
    const p = { triangle: lo, u, v };
    if (!accept(p)) continue;
    const share = rnd();
    const back = surface.follow(p, -1, step, longest * share, field);
    const forth = surface.follow(p, 1, step, longest * (1 - share), field);
    const path = [...back.reverse().slice(0, -1), ...forth];
    let length = 0;
    for (let i = 1; i < path.length; i++)
      length += len3(sub3(surface.place(path[i]!), surface.place(path[i - 1]!)));
    if (path.length >= 2 && length >= shortest) paths.push(path);
  }
  return paths;
}

/** Barycentric rates of a texture direction on a triangle with texture corners `uv`. */
function rates(uv: number[], t: number, du: number, dv: number): [number, number] | undefined {
  const [au, av, bu, bv, cu, cv] = uv.slice(6 * t, 6 * t + 6) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const det = (bu - au) * (cv - av) - (cu - au) * (bv - av);
  if (Math.abs(det) < 1e-12) return undefined;
  return [(du * (cv - av) - dv * (cu - au)) / det, (dv * (bu - au) - du * (bv - av)) / det];
}

export function bakeHair({ dir, base, shapes, packer, placeAll }: Job) {
  const files: string[] = [];
  const sheets: Record<string, object> = {};
  const bodyTris = split(base.quads, base.uvs).tris;
  const under: Uint16Array[] = [];
  const uses = PEOPLE.map(() => [] as { name: string; use: string; points: number; inM: number }[]);

  /** Writes the hairs of one person: places, then one normal per point as bytes. */
  const packHairs = (p: number, name: string, hairs: { at: P3; n: P3 }[][]) => {
    packer.add(`${PEOPLE[p]!.id}.${name}.hairs`, placeAll(hairs.flatMap((h) => h.flatMap((q) => q.at))));
    const bytes = hairs.flatMap((h) =>
      h.flatMap((q) => {
        const l = len3(q.n) || 1;
        return [q.n[0], -q.n[2], q.n[1]].map((x) => Math.round((x / l) * 127) + 128);
      }),
    );
    packer.add(`${PEOPLE[p]!.id}.${name}.hairNormals`, Uint8Array.from(bytes));
  };
  const evaluate = (surface: Surface, normals: Float64Array, path: SurfacePoint[]) =>
    path.map((q) => {
      const w = [1 - q.u - q.v, q.u, q.v];
      const n: P3 = [0, 0, 0];
      for (let k = 0; k < 3; k++)
        for (let c = 0; c < 3; c++) n[c]! += w[k]! * normals[3 * surface.tris[3 * q.triangle + k]! + c]!;
      return { at: surface.place(q), n };
    });

  // Sheets of hair.
  for (const name of [...new Set(PEOPLE.flatMap((p) => (p.hair.sheet ? [p.hair.sheet] : [])))]) {
    const piece = readPiece(dir, 'hair', name);
    const image = `public/data/proxies/hair/${name}/textures/${name}_diffuse.png`;
    files.push(`public/data/proxies/hair/${name}/${name}.json`, image);
    const img = readPng(readFileSync(join(dir, image)));
    const angles = strandAngles(img, 3);
    const { tris, uv } = split(piece.quads, piece.uvs);
    const style = STYLE[name]!;
    const cut = cutSheet(piece.refs.length, tris, uv, img, style.splits);
    const used = [...new Set(cut.tris)].sort((a, b) => a - b);
    const to = new Map(used.map((v, i) => [v, i]));
    packer.add(`${name}.triangles`, Uint16Array.from(cut.tris.map((v) => to.get(v)!)));
    let paths: SurfacePoint[][] | undefined;
    PEOPLE.forEach((who, p) => {
      if (who.hair.sheet !== name) return;
      const fit = fitPiece(piece, shapes[p]!);
      pushOut(
        fit,
        base,
        bodyTris,
        shapes[p]!,
        (i) => (base.weights[i]!.get(base.headBone) ?? 0) > 0.5,
        0.04 + style.inM * 10,
      );
      const all = Array.from(fit);
      for (const [a, b] of cut.middles)
        for (let k = 0; k < 3; k++) all.push((all[3 * a + k]! + all[3 * b + k]!) / 2);
      packer.add(
        `${who.id}.${name}`,
        placeAll(used.flatMap((v) => [all[3 * v]!, all[3 * v + 1]!, all[3 * v + 2]!])),
      );
      const surface = new Surface(tris, fit);
      const normals = vertexNormals(tris, fit);
      const uvAt = (q: SurfacePoint): [number, number] => {
        const w = 1 - q.u - q.v;
        const t = 6 * q.triangle;
        return [
          uv[t]! * w + uv[t + 2]! * q.u + uv[t + 4]! * q.v,
          uv[t + 1]! * w + uv[t + 3]! * q.u + uv[t + 5]! * q.v,
        ];
      };
      paths ??= tracePaths(
        surface,
        style.guides,
        0.03,
        style.longest,
        style.longest * 0.3,
        7,
        (q) => alphaAt(img, ...uvAt(q)) > 0.5,
        (q) => {
          const [u, v] = uvAt(q);
          if (alphaAt(img, u, v) < 0.3) return undefined;
          const a = angles[pixel(img, u, v)]!;
          return rates(uv, q.triangle, Math.cos(a), -Math.sin(a));
        },
      );
      // Root first: the higher end.
      const hairs = paths.map((path) => {
        const line = evaluate(surface, normals, path);
        if (line[0]!.at[1] < line[line.length - 1]!.at[1]) line.reverse();
        return resample(line, style.points);
      });
      packHairs(p, name, hairs);
      uses[p]!.push({ name, use: 'hair', points: style.points, inM: style.inM });
      // Scalp: where a short way outward meets the sheet.
      const scalp = scalpUnder(base, bodyTris, shapes[p]!, cut.tris, all, 0.5);
      under[p] = scalp;
      console.log(
        who.id,
        name,
        'triangles',
        cut.tris.length / 3,
        'vertices',
        used.length,
        'guides',
        hairs.length,
        'outward',
        share(hairs, shapes[p]!).toFixed(2),
      );
    });
    sheets[name] = {};
  }

  // Brows.
  for (const name of [...new Set(PEOPLE.map((p) => p.brow))]) {
    const piece = readPiece(dir, 'eyebrows', name);
    const image = `public/data/proxies/eyebrows/${name}/textures/${name}.png`;
    files.push(`public/data/proxies/eyebrows/${name}/${name}.json`, image);
    const img = readPng(readFileSync(join(dir, image)));
    const angles = strandAngles(img, 2);
    const { tris, uv } = split(piece.quads, piece.uvs);
    PEOPLE.forEach((who, p) => {
      if (who.brow !== name) return;
      const fit = fitPiece(piece, shapes[p]!);
      const surface = new Surface(tris, fit);
      const normals = vertexNormals(tris, fit);
      const uvAt = (q: SurfacePoint): [number, number] => {
        const w = 1 - q.u - q.v;
        const t = 6 * q.triangle;
        return [
          uv[t]! * w + uv[t + 2]! * q.u + uv[t + 4]! * q.v,
          uv[t + 1]! * w + uv[t + 3]! * q.u + uv[t + 5]! * q.v,
        ];
      };
      const rnd = chances(3);
      const paths = tracePaths(
        surface,
        280,
        0.01,
        0.06,
        0.02,
        5,
        (q) => alphaAt(img, ...uvAt(q)) > 0.15 + 0.5 * rnd(),
        (q) => {
          const [u, v] = uvAt(q);
          if (alphaAt(img, u, v) < 0.1) return undefined;
          const a = angles[pixel(img, u, v)]!;
          return rates(uv, q.triangle, Math.cos(a), -Math.sin(a));
        },
      );
      const hairs = paths.map((path) => {
        const line = evaluate(surface, normals, path);
        // Root first: the end nearer to the nose.
        if (Math.abs(line[0]!.at[0]) > Math.abs(line[line.length - 1]!.at[0])) line.reverse();
        return resample(line, 2);
      });
      packHairs(p, 'brow', hairs);
      uses[p]!.push({ name: 'brow', use: 'brow', points: 2, inM: 0 });
      if (p === 0) console.log('brow hairs', hairs.length);
    });
  }

  // Lashes: across the helper strips of the lids, away from the eye.
  PEOPLE.forEach((_, p) => {
    const v = shapes[p]!;
    const hairs: { at: P3; n: P3 }[][] = [];
    for (const side of ['l', 'r'] as const) {
      const { centre, radius } = eyeOf(base, v, side);
      for (const row of ['1', '2']) {
        const tris = base.helperTriangles[`helper-${side}-eyelashes-${row}`]!;
        const surface = new Surface(tris, v);
        const normals = vertexNormals(tris, v);
        const paths = tracePaths(
          surface,
          row === '2' ? 70 : 32,
          0.005,
          0.5,
          0.02,
          11,
          () => true,
          (q) => {
            // Climb away from the eye's centre.
            const [a, b, c] = surface.corners(q.triangle);
            const [da, db, dc] = [a, b, c].map((x) => len3(sub3(x, centre))) as [number, number, number];
            const [e1, e2] = [sub3(b, a), sub3(c, a)];
            const [g11, g12, g22] = [dot3(e1, e1), dot3(e1, e2), dot3(e2, e2)];
            const det = g11 * g22 - g12 * g12;
            if (det < 1e-14) return undefined;
            return [(g22 * (db - da) - g12 * (dc - da)) / det, (g11 * (dc - da) - g12 * (db - da)) / det];
          },
        );
        for (const path of paths) {
          const line = evaluate(surface, normals, path);
          if (len3(sub3(line[0]!.at, centre)) > len3(sub3(line[line.length - 1]!.at, centre))) line.reverse();
          // Only hairs that begin at the lid.
          if (len3(sub3(line[0]!.at, centre)) > radius * 1.25) continue;
          const most = row === '2' ? 0.08 : 0.045;
          const hair = resample(line, 2);
          const total = len3(sub3(hair[1]!.at, hair[0]!.at));
          const k = Math.min(1, most / total);
          for (const q of hair.slice(1))
            for (let c = 0; c < 3; c++) q.at[c] = hair[0]!.at[c]! + (q.at[c]! - hair[0]!.at[c]!) * k;
          hairs.push(hair);
        }
      }
    }
    packHairs(p, 'lash', hairs);
    uses[p]!.push({ name: 'lash', use: 'lash', points: 2, inM: 0 });
    if (p === 0) console.log('lashes', hairs.length);
  });

  // The scalp: of grown hair what the closest-cut sheet hangs on, less the whiskers; of sheets what lies under
  // them, and the crown in any case.
  const short04 = readPiece(dir, 'hair', 'short04');
  const { tris: t04 } = split(short04.quads, short04.uvs);
  PEOPLE.forEach((who, p) => {
    const v = shapes[p]!;
    const near = scalpUnder(base, bodyTris, v, t04, Array.from(fitPiece(short04, v)), 0.35);
    const eye = eyeOf(base, v, 'l').centre;
    const middle = (f: number, k: number) => {
      let s = 0;
      for (let c = 0; c < 4; c++) s += v[3 * base.quads[4 * f + c]! + k]! / 4;
      return s;
    };
    const set = who.hair.grown
      ? near.filter((f) => middle(f, 1) > eye[1] + 0.1 || middle(f, 2) < eye[2] - 0.95)
      : new Set([...under[p]!, ...near.filter((f) => middle(f, 1) > eye[1] + 0.75)]);
    packer.add(`${who.id}.scalp`, Uint16Array.from([...set].sort((a, b) => a - b)));
  });
  return { sheets, files, uses };
}

/** Share of hair points whose normal looks away from the head's middle: a check of winding. */
function share(hairs: { at: P3; n: P3 }[][], v: Float64Array): number {
  const c: P3 = [0, v[3 * 5192 + 1]!, v[3 * 5192 + 2]! - 1];
  let good = 0;
  let all = 0;
  for (const h of hairs)
    for (const q of h) {
      all++;
      if (dot3(sub3(q.at, c), q.n) > 0) good++;
    }
  return good / all;
}

/** Pushes a piece's places out of the skin: at least `gap` decimetres over the nearest chosen skin vertex. */
export function pushOut(
  fit: Float64Array,
  base: Base,
  bodyTris: number[],
  v: Float64Array,
  chosen: (i: number) => boolean,
  gap: number,
): void {
  const normals = vertexNormals(bodyTris, v);
  const list: number[] = [];
  for (let i = 0; i < base.skinVertices; i++) if (chosen(i)) list.push(i);
  for (let j = 0; j < fit.length; j += 3) {
    let best = 0.3;
    let at = -1;
    for (const i of list) {
      const d = Math.hypot(fit[j]! - v[3 * i]!, fit[j + 1]! - v[3 * i + 1]!, fit[j + 2]! - v[3 * i + 2]!);
      if (d < best) {
        best = d;
        at = i;
      }
    }
    if (at < 0) continue;
    let over = 0;
    for (let k = 0; k < 3; k++) over += (fit[j + k]! - v[3 * at + k]!) * normals[3 * at + k]!;
    if (over < gap) for (let k = 0; k < 3; k++) fit[j + k]! += (gap - over) * normals[3 * at + k]!;
  }
}

/** Draws skin in that lies less than 5 mm under or up to 10 mm over a cloth of triangles `tris` at `at`. */
export function drawSkinIn(
  v: Float64Array,
  base: Base,
  bodyTris: number[],
  tris: number[],
  at: Float64Array,
  chosen: (i: number) => boolean,
): void {
  const normals = vertexNormals(bodyTris, v);
  for (let i = 0; i < base.skinVertices; i++) {
    const head = base.weights[i]!.get(base.headBone) ?? 0;
    if (!chosen(i) || head > 0.5 || v[3 * i + 1]! < 2) continue;
    const o: P3 = [v[3 * i]!, v[3 * i + 1]!, v[3 * i + 2]!];
    const n: P3 = [normals[3 * i]!, normals[3 * i + 1]!, normals[3 * i + 2]!];
    let deepest: number | undefined;
    for (let t = 0; t < tris.length; t += 3) {
      const a = 3 * tris[t]!;
      if (Math.abs(at[a]! - o[0]) > 0.6 || Math.abs(at[a + 1]! - o[1]) > 0.6) continue;
      const dist = rayTriangle(o, n, at, tris, t);
      if (dist !== undefined && dist > -0.1 && dist < 0.05 && (deepest === undefined || dist < deepest))
        deepest = dist;
    }
    if (deepest !== undefined) for (let k = 0; k < 3; k++) v[3 * i + k]! += (deepest - 0.05) * n[k]!;
  }
}

/** Distance along the line from `o` in direction `d` to triangle `t` (index of its first corner). [MOLLER-1997] */
function rayTriangle(o: P3, d: P3, at: ArrayLike<number>, tris: number[], t: number): number | undefined {
  const [a, b, e] = [3 * tris[t]!, 3 * tris[t + 1]!, 3 * tris[t + 2]!];
  const A: P3 = [at[a]!, at[a + 1]!, at[a + 2]!];
  const e1 = sub3([at[b]!, at[b + 1]!, at[b + 2]!], A);
  const e2 = sub3([at[e]!, at[e + 1]!, at[e + 2]!], A);
  const px: P3 = [d[1] * e2[2] - d[2] * e2[1], d[2] * e2[0] - d[0] * e2[2], d[0] * e2[1] - d[1] * e2[0]];
  const det = dot3(e1, px);
  if (Math.abs(det) < 1e-12) return undefined;
  const s = sub3(o, A);
  const u = dot3(s, px) / det;
  if (u < 0 || u > 1) return undefined;
  const qx: P3 = [s[1] * e1[2] - s[2] * e1[1], s[2] * e1[0] - s[0] * e1[2], s[0] * e1[1] - s[1] * e1[0]];
  const w = dot3(d, qx) / det;
  if (w < 0 || u + w > 1) return undefined;
  return dot3(e2, qx) / det;
}

/** Quads of the skin (as numbers) that have a hair sheet close above them. */
function scalpUnder(
  base: Base,
  bodyTris: number[],
  v: Float64Array,
  tris: number[],
  at: number[],
  reach: number,
): Uint16Array {
  const normals = vertexNormals(bodyTris, v);
  const out: number[] = [];
  // Rays against all triangles, thinned by a box test.
  const boxes = tris.length / 3;
  for (let f = 0; f < base.quads.length / 4; f++) {
    const c = base.quads.slice(4 * f, 4 * f + 4);
    if (c.some((i) => (base.weights[i]!.get(base.headBone) ?? 0) < 0.5)) continue;
    const o = [0, 1, 2].map((k) => c.reduce((s, i) => s + v[3 * i + k]! / 4, 0)) as P3;
    const d = [0, 1, 2].map((k) => c.reduce((s, i) => s + normals[3 * i + k]! / 4, 0)) as P3;
    let hit = false;
    for (let t = 0; t < boxes && !hit; t++) {
      const a = 3 * tris[3 * t]!;
      if (
        Math.abs(at[a]! - o[0]) > 0.9 ||
        Math.abs(at[a + 1]! - o[1]) > 0.9 ||
        Math.abs(at[a + 2]! - o[2]) > 0.9
      )
        continue;
      const dist = rayTriangle(o, d, at, tris, 3 * t);
      if (dist !== undefined && dist > -0.12 && dist < reach) hit = true;
    }
    if (hit) out.push(f);
  }
  return Uint16Array.from(out);
}
