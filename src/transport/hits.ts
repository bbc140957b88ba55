/**
 * What a camera sees: first hits through panes and in mirrors. One ray at the middle of each pixel; where
 * neighbours see different things, several, so that a silhouette holds all its materials.
 */
import { glassReflectance, glassTransmittance } from '../light/glass.ts';
import { hash32, next, restart, stream } from '../maths/sampling.ts';
import { REST_STEP_M, type Relief, reliefAt, spot } from '../stage/relief.ts';
import type { Stage } from '../stage/stage.ts';
import { clearOf } from './air.ts';
import type { EmitterSet } from './emitter.ts';
import { mayMeet, meetEmitter, picked } from './emitter.ts';
import type { World } from './intersect.ts';
import { firstHit, GAP, GLASS, liftAt, MIRROR, SHEET, surface, surfaceAt } from './intersect.ts';
import { pointsOf } from './points.ts';
import type { View } from './scene.ts';
import type { Hits, RayCount, Stretch } from './tracer.ts';
import { hit } from './tree.ts';

/** Panes and mirrors in a row. */
const DEEPEST = 6;
/** A chain that carries less of the pixel than this is dropped. */
const FAINTEST = 2e-3;

/** A growing list of what was hit: 17 numbers each. */
const WIDE = 17;
/* 0–2 position, 3–5 face normal, 6–8 normal, 9–11 to the eye, 12 weight, 13 depth, 14–16 along a hair, or the
   normal with its relief; with material, patch, part. */
interface Found {
  count: number;
  f: Float32Array;
  n: Uint32Array;
  /** Is any of them hair? */
  hair: boolean;
}
const found = (room: number): Found => ({
  count: 0,
  f: new Float32Array(room * WIDE),
  n: new Uint32Array(room * 3),
  hair: false,
});

function put(
  list: Found,
  dx: number,
  dy: number,
  dz: number,
  weight: number,
  depth: number,
  material: number,
  patch: number,
  part: number,
): void {
  const i = list.count++;
  if ((i + 1) * WIDE > list.f.length) {
    const f = new Float32Array(list.f.length * 2 + WIDE * 64);
    f.set(list.f);
    list.f = f;
    const n = new Uint32Array(list.n.length * 2 + 192);
    n.set(list.n);
    list.n = n;
  }
  const o = i * WIDE;
  for (let k = 0; k < 9; k++) list.f[o + k] = surface[k]!;
  list.f[o + 9] = -dx;
  list.f[o + 10] = -dy;
  list.f[o + 11] = -dz;
  list.f[o + 12] = weight;
  list.f[o + 13] = depth;
  list.f[o + 14] = list.f[o + 15] = list.f[o + 16] = 0;
  list.n[i * 3] = material;
  list.n[i * 3 + 1] = patch;
  list.n[i * 3 + 2] = part;
}

/** Gives the point put last the direction of its hair, and puts it on the ribbon itself: hairs have no tangent plane. */
function putGrain(list: Found, stage: Stage, t: number): void {
  const { positions, indices } = stage;
  const b = indices[t * 3 + 1]! * 3;
  const c = indices[t * 3 + 2]! * 3;
  const x = positions[c]! - positions[b]!;
  const y = positions[c + 1]! - positions[b + 1]!;
  const z = positions[c + 2]! - positions[b + 2]!;
  const k = 1 / (Math.sqrt(x * x + y * y + z * z) || 1);
  const o = (list.count - 1) * WIDE;
  list.f[o + 14] = x * k;
  list.f[o + 15] = y * k;
  list.f[o + 16] = z * k;
  const lift = liftAt(surface[9]!, surface[10]!, surface[11]!);
  for (let i = 0; i < 3; i++) list.f[o + i] = surface[9 + i]! + lift * surface[3 + i]!;
  list.hair = true;
}

/**
 * Gives the point put last the normal and the shade of its relief. The height's gradient is known at rest; along the
 * posed triangle it rises by as much between the same corners.
 */
function putRelief(
  list: Found,
  stage: Stage,
  rest: Int16Array,
  relief: Relief,
  t: number,
  u: number,
  v: number,
  pitch: number,
): void {
  const { positions: p, indices } = stage;
  const a = indices[t * 3]! * 3;
  const b = indices[t * 3 + 1]! * 3;
  const c = indices[t * 3 + 2]! * 3;
  const w = 1 - u - v;
  const o = (list.count - 1) * WIDE;
  const { f } = list;
  const nx = f[o + 6]!;
  const ny = f[o + 7]!;
  const nz = f[o + 8]!;
  f[o + 14] = nx;
  f[o + 15] = ny;
  f[o + 16] = nz;
  const facing = nx * f[o + 9]! + ny * f[o + 10]! + nz * f[o + 11]!;
  reliefAt(
    relief,
    (w * rest[a]! + u * rest[b]! + v * rest[c]!) * REST_STEP_M,
    (w * rest[a + 1]! + u * rest[b + 1]! + v * rest[c + 1]!) * REST_STEP_M,
    (w * rest[a + 2]! + u * rest[b + 2]! + v * rest[c + 2]!) * REST_STEP_M,
    (pitch * f[o + 13]!) / Math.max(0.1, facing),
  );
  f[o + 12]! *= Math.max(0.1, spot[3]!);
  const rise = (at: number): number =>
    ((rest[at]! - rest[a]!) * spot[0]! +
      (rest[at + 1]! - rest[a + 1]!) * spot[1]! +
      (rest[at + 2]! - rest[a + 2]!) * spot[2]!) *
    REST_STEP_M;
  const r1 = rise(b);
  const r2 = rise(c);
  const x1 = p[b]! - p[a]!;
  const y1 = p[b + 1]! - p[a + 1]!;
  const z1 = p[b + 2]! - p[a + 2]!;
  const x2 = p[c]! - p[a]!;
  const y2 = p[c + 1]! - p[a + 1]!;
  const z2 = p[c + 2]! - p[a + 2]!;
  const g11 = x1 * x1 + y1 * y1 + z1 * z1;
  const g12 = x1 * x2 + y1 * y2 + z1 * z2;
  const g22 = x2 * x2 + y2 * y2 + z2 * z2;
  const det = g11 * g22 - g12 * g12;
  if (!(det > 1e-9 * g11 * g22)) return;
  // Seen from behind, hills are hollows.
  const front =
    (y1 * z2 - z1 * y2) * f[o + 3]! + (z1 * x2 - x1 * z2) * f[o + 4]! + (x1 * y2 - y1 * x2) * f[o + 5]! > 0;
  const k = (front ? 1 : -1) / det;
  const s1 = k * (g22 * r1 - g12 * r2);
  const s2 = k * (g11 * r2 - g12 * r1);
  const mx = nx - s1 * x1 - s2 * x2;
  const my = ny - s1 * y1 - s2 * y2;
  const mz = nz - s1 * z1 - s2 * z2;
  const l = 1 / Math.sqrt(mx * mx + my * my + mz * mz);
  // What would turn away from the eye is not seen.
  if ((mx * f[o + 9]! + my * f[o + 10]! + mz * f[o + 11]!) * l < 0.05) return;
  f[o + 14] = mx * l;
  f[o + 15] = my * l;
  f[o + 16] = mz * l;
}

interface Glow {
  pixel: number[];
  layer: number[];
  luminance: number[];
}

// Chains still to follow: origin, direction, weight, distance so far, depth of the chain.
const todo = new Float64Array(9 * (DEEPEST + 2));

/** Follows one ray of a pixel to everything it sees. */
function see(
  world: World,
  layers: readonly EmitterSet[],
  x: number,
  y: number,
  z: number,
  dx: number,
  dy: number,
  dz: number,
  share: number,
  /** Breadth of a pixel a metre away. */
  pitch: number,
  pixel: number,
  list: Found,
  glow: Glow,
  rays: RayCount,
): void {
  const { stage, stuff } = world;
  const air = stage.air;
  todo[0] = x;
  todo[1] = y;
  todo[2] = z;
  todo[3] = dx;
  todo[4] = dy;
  todo[5] = dz;
  todo[6] = share;
  todo[7] = 0;
  todo[8] = 0;
  let waiting = 1;
  while (waiting > 0) {
    const b = --waiting * 9;
    let ox = todo[b]!;
    let oy = todo[b + 1]!;
    let oz = todo[b + 2]!;
    let rx = todo[b + 3]!;
    let ry = todo[b + 4]!;
    let rz = todo[b + 5]!;
    let weight = todo[b + 6]!;
    let far = todo[b + 7]!;
    let depth = todo[b + 8]!;
    for (;;) {
      rays.camera++;
      const t = firstHit(world, ox, oy, oz, rx, ry, rz, 1e9);
      const reach = t < 0 ? 1e9 : hit[0]!;
      const u = hit[1]!;
      const v = hit[2]!;
      // Emitters stop nothing: add their glow and see on.
      for (let l = 0; l < layers.length; l++) {
        const set = layers[l]!;
        if (!mayMeet(set, ox, oy, oz, rx, ry, rz)) continue;
        for (let e = 0; e < set.count; e++) {
          if (!meetEmitter(set, e, ox, oy, oz, rx, ry, rz) || picked[3]! > reach + GAP) continue;
          glow.pixel.push(pixel);
          glow.layer.push(l);
          glow.luminance.push(picked[6]! * weight * (air ? clearOf(air, far + picked[3]!) : 1));
        }
      }
      if (t < 0) break;
      surfaceAt(stage, t, u, v, rx, ry, rz);
      const m = stage.material[t]!;
      const kind = stuff.kind[m]!;
      far += reach;
      if (kind !== MIRROR && kind !== GLASS) {
        put(
          list,
          rx,
          ry,
          rz,
          air ? weight * clearOf(air, far) : weight,
          far,
          m,
          stage.patch[t]!,
          stage.part[t]!,
        );
        const relief = stuff.relief[m];
        if (stuff.through[m]! >= 0) putGrain(list, stage, t);
        else if (relief && stage.rest?.length) putRelief(list, stage, stage.rest, relief, t, u, v, pitch);
        if (kind !== SHEET) break;
      }
      if (++depth >= DEEPEST) break;
      const fx = surface[3]!;
      const fy = surface[4]!;
      const fz = surface[5]!;
      const along = rx * fx + ry * fy + rz * fz;
      let back = 0;
      let on = 0;
      if (kind === MIRROR) back = weight * stuff.neutral[m]!;
      else if (kind === SHEET) on = weight * stuff.straight[m]!;
      else {
        back = weight * glassReflectance(-along);
        on = weight * glassTransmittance(-along) * stuff.straight[m]!;
      }
      if (back < FAINTEST * share) back = 0;
      if (on < FAINTEST * share) on = 0;
      if (back > 0) {
        const w = on > 0 ? waiting++ * 9 : -1;
        const ax = rx - 2 * along * fx;
        const ay = ry - 2 * along * fy;
        const az = rz - 2 * along * fz;
        if (w >= 0) {
          todo[w] = surface[0]!;
          todo[w + 1] = surface[1]!;
          todo[w + 2] = surface[2]!;
          todo[w + 3] = ax;
          todo[w + 4] = ay;
          todo[w + 5] = az;
          todo[w + 6] = back;
          todo[w + 7] = far;
          todo[w + 8] = depth;
        } else {
          ox = surface[0]!;
          oy = surface[1]!;
          oz = surface[2]!;
          rx = ax;
          ry = ay;
          rz = az;
          weight = back;
          continue;
        }
      }
      if (on <= 0) break;
      const lift = liftAt(surface[9]!, surface[10]!, surface[11]!);
      ox = surface[9]! - fx * lift;
      oy = surface[10]! - fy * lift;
      oz = surface[11]! - fz * lift;
      weight = on;
    }
  }
}

/** Sub-pixel places for four rays (a turned grid); other numbers of rays are drawn by chance. */
const TURNED = [0.375, 0.125, 0.875, 0.375, 0.625, 0.875, 0.125, 0.625];

const chance = stream(0);

export interface HitsAsked {
  width: number;
  height: number;
  samples: number;
  jitter: boolean;
  seed: number;
  /** Only these rows are wanted. */
  rows?: Stretch;
}

/** Rows to look at for those that are wanted: one more at each end, to find silhouettes. */
export const rowsNeeded = (rows: Stretch, height: number): Stretch => ({
  from: Math.max(0, rows.from - 1),
  to: Math.min(height, rows.to + 1),
});

/**
 * First hits in steps of rows: call `row()` for `from` … `to - 1` in turn (what `rowsNeeded` says), then `repair(row)`
 * for the rows that are wanted, then `finish()`.
 */
export function seeing(
  world: World,
  layers: readonly EmitterSet[],
  view: View,
  asked: HitsAsked,
  rays: RayCount,
) {
  const { width, height, samples, jitter, seed } = asked;
  const rows = asked.rows ?? { from: 0, to: height };
  const { eye, forward, right, up } = view;
  const pitch = (2 * view.tanV) / height;
  const { relief, through } = world.stuff;
  const needed = rowsNeeded(rows, height);
  const list = found(width * (needed.to - needed.from) + 64);
  const glow: Glow = { pixel: [], layer: [], luminance: [] };
  const start = new Uint32Array(width * height + 1);
  /** Pixels in which an emitter was seen. */
  const aglow = new Uint8Array(width * height);
  const second = found(1024);
  const secondGlow: Glow = { pixel: [], layer: [], luminance: [] };
  const secondStart = new Map<number, { from: number; to: number }>();

  const shoot = (
    px: number,
    py: number,
    sx: number,
    sy: number,
    share: number,
    to: Found,
    toGlow: Glow,
  ): void => {
    const a = view.tanH * ((2 * (px + sx)) / width - 1);
    const b = view.tanV * (1 - (2 * (py + sy)) / height);
    const dx = forward[0] + a * right[0] + b * up[0];
    const dy = forward[1] + a * right[1] + b * up[1];
    const dz = forward[2] + a * right[2] + b * up[2];
    const k = 1 / Math.sqrt(dx * dx + dy * dy + dz * dz);
    see(
      world,
      layers,
      eye[0],
      eye[1],
      eye[2],
      dx * k,
      dy * k,
      dz * k,
      share,
      pitch,
      py * width + px,
      to,
      toGlow,
      rays,
    );
  };

  function row(y: number): void {
    for (let x = 0; x < width; x++) {
      const p = y * width + x;
      if (jitter) {
        restart(chance, hash32(seed, p, 41), 0);
        for (let k = 0; k < samples; k++) shoot(x, y, next(chance), next(chance), 1 / samples, list, glow);
      } else shoot(x, y, 0.5, 0.5, 1, list, glow);
      start[p + 1] = list.count;
      aglow[p] = glow.pixel[glow.pixel.length - 1] === p ? 1 : 0;
    }
  }

  /** The point of a pixel that fills most of it, or -1. */
  const main = (p: number): number => {
    let best = -1;
    let most = 0;
    for (let i = start[p]!; i < start[p + 1]!; i++) {
      if (list.f[i * WIDE + 12]! > most) {
        most = list.f[i * WIDE + 12]!;
        best = i;
      }
    }
    return best;
  };

  /** Do two pixels see different things: part, material, a crease, or one surface standing off from the other? */
  function differ(p: number, q: number): boolean {
    if (start[p + 1]! - start[p]! !== start[q + 1]! - start[q]! || aglow[p] !== aglow[q]) return true;
    const i = main(p);
    const j = main(q);
    if (i < 0 || j < 0) return i !== j;
    const { f, n } = list;
    if (n[i * 3 + 2] !== n[j * 3 + 2] || n[i * 3] !== n[j * 3]) return true;
    const a = i * WIDE;
    const b = j * WIDE;
    if (f[a + 6]! * f[b + 6]! + f[a + 7]! * f[b + 7]! + f[a + 8]! * f[b + 8]! < 0.9) return true;
    const off =
      (f[b]! - f[a]!) * f[a + 3]! + (f[b + 1]! - f[a + 1]!) * f[a + 4]! + (f[b + 2]! - f[a + 2]!) * f[a + 5]!;
    const pixelM = (2 * view.tanV * f[a + 13]!) / height;
    return Math.abs(off) > 2 * pixelM;
  }

  function repair(y: number): void {
    if (jitter || samples <= 1) return;
    for (let x = 0; x < width; x++) {
      const p = y * width + x;
      const edge =
        (x > 0 && differ(p, p - 1)) ||
        (x < width - 1 && differ(p, p + 1)) ||
        (y > 0 && differ(p, p - width)) ||
        (y < height - 1 && differ(p, p + width));
      if (!edge) continue;
      const from = second.count;
      restart(chance, hash32(seed, p, 42), 0);
      for (let k = 0; k < samples; k++) {
        const sx = samples === 4 ? TURNED[k * 2]! : next(chance);
        const sy = samples === 4 ? TURNED[k * 2 + 1]! : next(chance);
        shoot(x, y, sx, sy, 1 / samples, second, secondGlow);
      }
      secondStart.set(p, { from, to: second.count });
    }
  }

  function finish(): Hits {
    // Put the pixels that were looked at again in place of their first look.
    let count = 0;
    const pixels = width * height;
    const pixelStart = new Uint32Array(pixels + 1);
    const from = rows.from * width;
    const to = rows.to * width;
    for (let p = 0; p < pixels; p++) {
      if (p >= from && p < to) {
        const again = secondStart.get(p);
        count += again ? again.to - again.from : start[p + 1]! - start[p]!;
      }
      pixelStart[p + 1] = count;
    }
    const points = pointsOf(count);
    const rough = world.stage.rest !== undefined && world.stage.rest.length > 0;
    const grain = list.hair || second.hair ? new Float32Array(count * 3) : undefined;
    if (grain) points.grain = grain;
    const weight = new Float32Array(count);
    const part = new Uint16Array(count);
    const depth = new Float32Array(count);
    for (let p = from; p < to; p++) {
      const again = secondStart.get(p);
      const source = again ? second : list;
      let i = again ? again.from : start[p]!;
      for (let o = pixelStart[p]!; o < pixelStart[p + 1]!; o++, i++) {
        const a = i * WIDE;
        const m = source.n[i * 3]!;
        const fine = rough && relief[m] !== undefined && through[m]! < 0;
        for (let k = 0; k < 3; k++) {
          points.position[o * 3 + k] = source.f[a + k]!;
          points.faceNormal[o * 3 + k] = source.f[a + 3 + k]!;
          points.normal[o * 3 + k] = source.f[a + (fine ? 14 : 6) + k]!;
          points.toEye[o * 3 + k] = source.f[a + 9 + k]!;
          if (grain && !fine) grain[o * 3 + k] = source.f[a + 14 + k]!;
        }
        weight[o] = source.f[a + 12]!;
        depth[o] = source.f[a + 13]!;
        points.material[o] = m;
        points.patch[o] = source.n[i * 3 + 1]!;
        part[o] = source.n[i * 3 + 2]!;
      }
    }
    // Glows in the order of pixels, so that stretches of rows put one after another are the whole.
    const kept: { pixel: number; layer: number; luminance: number }[] = [];
    for (const [source, first] of [
      [glow, true],
      [secondGlow, false],
    ] as const) {
      for (let i = 0; i < source.pixel.length; i++) {
        const p = source.pixel[i]!;
        if (p < from || p >= to || (first && secondStart.has(p))) continue;
        kept.push({ pixel: p, layer: source.layer[i]!, luminance: source.luminance[i]! });
      }
    }
    kept.sort((a, b) => a.pixel - b.pixel);
    return {
      width,
      height,
      points,
      pixelStart,
      weight,
      part,
      depth,
      ...(world.stage.air ? { air: world.stage.air } : {}),
      glow: {
        pixel: Uint32Array.from(kept, (g) => g.pixel),
        layer: Uint16Array.from(kept, (g) => g.layer),
        luminance: Float32Array.from(kept, (g) => g.luminance),
      },
    };
  }
  return { row, repair, finish };
}
