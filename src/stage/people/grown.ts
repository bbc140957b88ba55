/** Hair that grows straight from the scalp: a close crop, an afro. Lengths and amounts by trial, no source. */
import { add, cross, dot, normalize, scale, sub, type Vec3 } from '../../maths/vec3.ts';
import type { Collector } from './collector.ts';
import { chance, ribbon } from './strips.ts';

export interface ScalpPart {
  /** Quads of the scalp: 4 vertex numbers each. */
  quads: number[];
  /** Per scalp vertex: distance to the hairline along the mesh, metres. */
  depth: Map<number, number>;
}

/** Which vertices lie on the scalp and how far from the hairline. `body`: rest places. */
export function scalpPart(quads: Uint16Array, scalp: Uint16Array, body: Float32Array): ScalpPart {
  const inside = new Set<number>(scalp);
  const list: number[] = [];
  const uses = new Map<number, number>();
  for (const f of scalp)
    for (let k = 0; k < 4; k++) {
      const v = quads[4 * f + k]!;
      list.push(v);
      uses.set(v, (uses.get(v) ?? 0) + 1);
    }
  const depth = new Map<number, number>();
  for (const v of uses.keys()) depth.set(v, Number.POSITIVE_INFINITY);
  for (let f = 0; f < quads.length / 4; f++) {
    if (inside.has(f)) continue;
    for (let k = 0; k < 4; k++) if (depth.has(quads[4 * f + k]!)) depth.set(quads[4 * f + k]!, 0);
  }
  // Relax along edges until nothing gets shorter.
  for (let round = 0, moved = true; moved && round < 60; round++) {
    moved = false;
    for (let i = 0; i < list.length; i += 4)
      for (let k = 0; k < 4; k++) {
        const [a, b] = [list[i + k]!, list[i + ((k + 1) % 4)]!];
        const d = Math.hypot(
          body[3 * a]! - body[3 * b]!,
          body[3 * a + 1]! - body[3 * b + 1]!,
          body[3 * a + 2]! - body[3 * b + 2]!,
        );
        const [da, db] = [depth.get(a)!, depth.get(b)!];
        if (da > db + d) {
          depth.set(a, db + d);
          moved = true;
        } else if (db > da + d) {
          depth.set(b, da + d);
          moved = true;
        }
      }
  }
  return { quads: list, depth };
}

/** What of a direction lies in the scalp there: a short hair leans, and never into the head. */
const along = (d: Vec3, m: Vec3): Vec3 => sub(d, scale(m, dot(d, m)));

export function grownHair(
  out: Collector,
  kind: 'crop' | 'afro',
  part: ScalpPart,
  /** How far out the inner cloud of an afro reaches, share of the length. */
  cloud: number,
  p: Float32Array,
  n: Float32Array,
  rest: Float32Array,
  /** Head's down and back directions in the posed frame. */
  down: Vec3,
  back: Vec3,
  centre: Vec3,
  amount: number,
  slot: number,
  /** What the inner cloud is of: it stands for hair in the depth, and shines no more than that does. */
  within: number,
): void {
  const v = (a: Float32Array, i: number): Vec3 => [a[3 * i]!, a[3 * i + 1]!, a[3 * i + 2]!];
  const full = kind === 'afro' ? 0.05 : 0.0065;
  const lengthAt = (depth: number) =>
    kind === 'afro'
      ? 0.012 + (full - 0.012) * Math.min(1, depth / 0.045)
      : full * (0.45 + 0.55 * Math.min(1, depth / 0.03));

  if (kind === 'afro') {
    // Draw an inner cloud inside: smooth its edge, then roughen it.
    let places = new Map<number, Vec3>();
    const radials = new Map<number, Vec3>();
    for (const i of part.depth.keys()) {
      const radial = normalize(add(scale(v(n, i), 0.5), scale(normalize(sub(v(p, i), centre)), 0.5)));
      radials.set(i, radial);
      places.set(i, add(v(p, i), scale(radial, lengthAt(part.depth.get(i)!) * cloud)));
    }
    for (let round = 0; round < 6; round++) {
      const sums = new Map<number, { sum: Vec3; n: number }>();
      for (let i = 0; i < part.quads.length; i += 4)
        for (let k = 0; k < 4; k++)
          for (const o of [1, 3]) {
            const [a, b] = [part.quads[i + k]!, part.quads[i + ((k + o) % 4)]!];
            // The hairline is smoothed along itself only.
            if (part.depth.get(a) === 0 && part.depth.get(b) !== 0) continue;
            const s = sums.get(a) ?? { sum: [0, 0, 0], n: 0 };
            sums.set(a, { sum: add(s.sum, places.get(b)!), n: s.n + 1 });
          }
      const next = new Map<number, Vec3>();
      for (const [i, q] of places) {
        const s = sums.get(i);
        next.set(i, s ? add(scale(q, 0.5), scale(s.sum, 0.5 / s.n)) : q);
      }
      places = next;
    }
    const at = new Map<number, number>();
    for (const [i, smooth] of places) {
      const radial = radials.get(i)!;
      const inside = part.depth.get(i)! > 0.004;
      const q = inside ? add(smooth, scale(radial, (chance(i * 7 + 1) - 0.5) * 0.012)) : smooth;
      const shade = normalize(
        add(radial, [chance(i * 7 + 2) - 0.5, chance(i * 7 + 3) - 0.5, chance(i * 7 + 4) - 0.5]),
      );
      at.set(i, out.put(...q, ...shade, rest[3 * i]!, rest[3 * i + 1]!, rest[3 * i + 2]!));
    }
    for (let i = 0; i < part.quads.length; i += 4) {
      // Near the hairline there are only hairs.
      if ([0, 1, 2, 3].some((k) => part.depth.get(part.quads[i + k]!)! < 0.007)) continue;
      const [a, b, c, d] = part.quads.slice(i, i + 4).map((x) => at.get(x)!) as [
        number,
        number,
        number,
        number,
      ];
      out.triangle(a, b, c, within);
      out.triangle(a, c, d, within);
    }
  }

  // Sow hairs by area.
  let carry = 0;
  for (let i = 0; i < part.quads.length; i += 4) {
    const [a, b, c, d] = part.quads.slice(i, i + 4) as [number, number, number, number];
    const area = Math.hypot(...cross(sub(v(rest, c), v(rest, a)), sub(v(rest, d), v(rest, b)))) / 2;
    carry += area * amount;
    for (let k = 0; carry >= 1; carry--, k++) {
      const id = 977 * i + 31 * k;
      const [s, t] = [chance(id), chance(id + 1)];
      const [wa, wb, wc, wd] = [(1 - s) * (1 - t), s * (1 - t), s * t, (1 - s) * t];
      const mixed = (arr: Float32Array): Vec3 => {
        const one = (e: number): number =>
          wa * arr[3 * a + e]! + wb * arr[3 * b + e]! + wc * arr[3 * c + e]! + wd * arr[3 * d + e]!;
        return [one(0), one(1), one(2)];
      };
      const depth =
        wa * part.depth.get(a)! + wb * part.depth.get(b)! + wc * part.depth.get(c)! + wd * part.depth.get(d)!;
      const root = mixed(p);
      const m = normalize(mixed(n));
      const r = mixed(rest);
      const length = lengthAt(depth) * (0.75 + 0.4 * chance(id + 2));
      const roll = (chance(id + 3) - 0.5) * 3;
      if (kind === 'crop') {
        const lean = normalize(
          add(
            add(scale(m, 0.42), scale(along(down, m), 0.5)),
            add(
              scale(back, 0.25 * (chance(id + 4) - 0.3)),
              scale(cross(m, down), (chance(id + 5) - 0.5) * 0.5),
            ),
          ),
        );
        const mid = add(root, scale(lean, length * 0.5));
        const tip = add(mid, scale(normalize(add(lean, scale(along(down, m), 0.3))), length * 0.5));
        ribbon(out, [add(root, scale(m, -0.0005)), mid, tip], [m, m, m], r, 0.0005, roll, slot);
      } else {
        const radial = normalize(add(scale(m, 0.5), scale(normalize(sub(root, centre)), 0.5)));
        const u = normalize(cross(radial, [0.3, 0.5, 0.8]));
        const w2 = cross(radial, u);
        const phase = chance(id + 4) * 6.283;
        const turns = 1.2 + chance(id + 5);
        const line: Vec3[] = [];
        const normals: Vec3[] = [];
        // Only the outer part shows: begin inside the cloud.
        for (let q = 0; q < 5; q++) {
          const x = 0.2 + 0.8 * (q / 4);
          const angle = phase + turns * 6.283 * (q / 4);
          const curl = 0.0045 * (0.5 + chance(id + 6));
          line.push(
            add(
              add(root, scale(radial, length * x)),
              add(scale(u, Math.cos(angle) * curl), scale(w2, Math.sin(angle) * curl)),
            ),
          );
          normals.push(radial);
        }
        ribbon(out, line, normals, r, 0.0011, roll, slot);
      }
    }
  }
}
