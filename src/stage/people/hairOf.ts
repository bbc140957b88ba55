/** Puts a person's hair, brows and lashes on the posed head. */
import { add, sub, type Vec3 } from '../../maths/vec3.ts';
import type { Collector } from './collector.ts';
import type { PeopleData, PersonShape } from './decode.ts';
import { grownHair, type ScalpPart, scalpPart } from './grown.ts';
import { type Pose, restJoint } from './pose.ts';
import { apply } from './rotation.ts';
import { carryInto, normalise, normalsInto } from './skin.ts';
import { SLOTS } from './slots.ts';
import { guideHairs, type HairLook } from './strips.ts';
import { underHat } from './worn.ts';

type Detail = 'near' | 'medium' | 'far';

/** How much hair, by detail; a ribbon stands for several hairs, so fewer are wider. */
const LOOKS: Record<'hair' | 'brow' | 'lash', Record<Detail, HairLook | undefined>> = {
  hair: {
    near: {
      copies: 8,
      spreadM: 0.0065,
      widthM: 0.0009,
      liftM: [0.0008, 0.004],
      loose: 0.025,
      looseM: 0.01,
      ragged: 0.3,
    },
    medium: { copies: 2, spreadM: 0.006, widthM: 0.003, liftM: [0.001, 0.003], loose: 0.03, looseM: 0.01 },
    far: undefined,
  },
  brow: {
    near: {
      copies: 2,
      spreadM: 0.0011,
      widthM: 0.00045,
      liftM: [0.0002, 0.001],
      loose: 0,
      looseM: 0,
      ragged: 0.3,
    },
    medium: { copies: 1, spreadM: 0, widthM: 0.0006, liftM: [0.0002, 0.001], loose: 0, looseM: 0 },
    far: { copies: 1, spreadM: 0, widthM: 0.0006, liftM: [0.0002, 0.001], loose: 0, looseM: 0 },
  },
  lash: {
    near: { copies: 1, spreadM: 0, widthM: 0.00018, liftM: [0, 0], loose: 0, looseM: 0 },
    medium: undefined,
    far: undefined,
  },
};

export function hairOf(
  out: Collector,
  data: PeopleData,
  who: PersonShape,
  detail: Detail,
  m: Float64Array,
  skinned: Float32Array,
  skinNormals: Float32Array,
  pose: Pose,
  hatted = false,
): void {
  const head = data.boneNumber.head!;
  if (who.sheet) {
    const tris = data.sheets[who.sheet.name]!;
    const p = new Float32Array(who.sheet.positions.length);
    carryInto(p, 0, who.sheet.positions, head, m);
    const nrm = new Float32Array(p.length);
    normalsInto(nrm, p, tris, 0, tris.length / 3);
    normalise(nrm);
    const guides = who.hairs.find((h) => h.use === 'hair');
    const inM = guides?.inM ?? 0;
    // Long hair lies close: under it there is no room, and strands fewer than would cover a gap.
    const long = (guides?.points ?? 0) > 4;
    const underM = long ? UNDER_LONG_M : UNDER_M;
    const depth = detail === 'far' ? undefined : fromBorder(tris, who.sheet.positions);
    if (depth) {
      // Its border sinks into the head, so that it ends in no ruled edge.
      for (let i = 0; i < p.length; i++) {
        const end = Math.max(0, 1 - depth[Math.floor(i / 3)]! / BORDER_M);
        p[i]! -= (inM + underM + SUNK_M * end * end) * nrm[i]!;
      }
    }
    const at = out.count;
    for (let i = 0; i < p.length / 3; i++) out.vertex(p, nrm, who.sheet.positions, i);
    // Under strands it is what one sees of hair in the depth, and ends before they do: its torn border would show as specks.
    const slot = SLOTS.indexOf(depth ? 'hair-within' : 'hair-mass');
    for (let t = 0; t < tris.length; t += 3) {
      const [a, b, c] = [tris[t]!, tris[t + 1]!, tris[t + 2]!];
      const atBorder = depth ? +(depth[a] === 0) + +(depth[b] === 0) + +(depth[c] === 0) : 0;
      if (atBorder > (long ? 1 : 0)) continue;
      out.triangle(at + a, at + b, at + c, slot);
    }
  }
  const turned = m.slice();
  for (let k = 0; k < 3; k++) turned[12 * head + 4 * k + 3] = 0;
  for (const h of who.hairs) {
    const look = LOOKS[h.use][detail];
    if (!look) continue;
    const p = new Float32Array(h.positions.length);
    const n = new Float32Array(h.positions.length);
    carryInto(p, 0, h.positions, head, m);
    carryInto(n, 0, h.normals, head, turned);
    const drawnIn: HairLook = { ...look, liftM: [look.liftM[0] - h.inM, look.liftM[1]] };
    guideHairs(out, p, n, h.positions, h.points, drawnIn, SLOTS.indexOf(h.use));
  }
  if (who.grown) {
    const r = pose.rotation[head]!;
    const centre = carried(data, who, pose, [
      0,
      who.eyes[0]!.centre[1]! + 0.09,
      who.eyes[0]!.centre[2]! + 0.03,
    ]);
    const cloud = { near: 0.45, medium: 0.75, far: 0.95 }[detail];
    const perM2 = { near: [120000, 75000], medium: [45000, 30000], far: [0, 0] }[detail];
    grownHair(
      out,
      who.grown,
      hatted && who.grown === 'afro' ? outside(scalpOf(data.quads, who), who) : scalpOf(data.quads, who),
      cloud,
      skinned,
      skinNormals,
      who.body,
      apply(r, [0, 0, -1]),
      apply(r, [0, 1, 0]),
      centre,
      perM2[who.grown === 'crop' ? 0 : 1]!,
      SLOTS.indexOf('hair'),
      SLOTS.indexOf('hair-within'),
    );
  }
}

/** The mass under the hairs sinks toward its border: from so far off, by so much, metres (by eye). */
const BORDER_M = 0.014;
const SUNK_M = 0.007;
/** And everywhere lies so far under the strands' roots, metres: its flat triangles would hide them. */
const UNDER_M = 0.003;
const UNDER_LONG_M = 0.0005;

const borders = new WeakMap<Float32Array, Float32Array>();
/** Per vertex of a sheet its distance to the sheet's border, along edges, metres. */
function fromBorder(tris: ArrayLike<number>, rest: Float32Array): Float32Array {
  const had = borders.get(rest);
  if (had) return had;
  const edges = new Map<number, number>();
  for (let t = 0; t < tris.length; t += 3)
    for (let k = 0; k < 3; k++) {
      const a = tris[t + k]!;
      const b = tris[t + ((k + 1) % 3)]!;
      const key = a < b ? a * 65536 + b : b * 65536 + a;
      edges.set(key, (edges.get(key) ?? 0) + 1);
    }
  const out = new Float32Array(rest.length / 3).fill(1);
  for (const [key, uses] of edges) if (uses === 1) out[key >>> 16] = out[key & 65535] = 0;
  for (let round = 0, moved = true; moved && round < 30; round++) {
    moved = false;
    for (const key of edges.keys()) {
      const a = key >>> 16;
      const b = key & 65535;
      const d = Math.hypot(
        rest[3 * a]! - rest[3 * b]!,
        rest[3 * a + 1]! - rest[3 * b + 1]!,
        rest[3 * a + 2]! - rest[3 * b + 2]!,
      );
      if (out[a]! > out[b]! + d) {
        out[a] = out[b]! + d;
        moved = true;
      } else if (out[b]! > out[a]! + d) {
        out[b] = out[a]! + d;
        moved = true;
      }
    }
  }
  borders.set(rest, out);
  return out;
}

const scalps = new WeakMap<PersonShape, ScalpPart>();
/** A person's scalp; worked out once. */
export function scalpOf(quads: Uint16Array, who: PersonShape): ScalpPart {
  let part = scalps.get(who);
  if (!part) {
    part = scalpPart(quads, who.scalp, who.body);
    scalps.set(who, part);
  }
  return part;
}

/** The scalp that no hat covers: full hair is pressed flat under one. */
function outside(part: ScalpPart, who: PersonShape): ScalpPart {
  const b = who.body;
  const under = (v: number) => underHat(who, b[3 * v]!, b[3 * v + 1]!, b[3 * v + 2]!);
  const quads: number[] = [];
  for (let i = 0; i < part.quads.length; i += 4) {
    const four = part.quads.slice(i, i + 4);
    if (!four.some(under)) quads.push(...four);
  }
  const kept = new Set(quads);
  return { quads, depth: new Map([...part.depth].filter(([v]) => kept.has(v))) };
}

/** Scalp quads more than 6 mm inside the hairline: nearer to it the skin shows between the hairs. */
export function innerScalp(quads: Uint16Array, who: PersonShape): number[] {
  const { depth } = scalpOf(quads, who);
  return [...who.scalp].filter((f) => [0, 1, 2, 3].every((k) => depth.get(quads[4 * f + k]!)! > 0.006));
}

/** A rest place that follows the head. */
function carried(data: PeopleData, who: PersonShape, pose: Pose, p: Vec3): Vec3 {
  const h = data.boneNumber.head!;
  return add(pose.joint[h]!, apply(pose.rotation[h]!, sub(p, restJoint(who, h))));
}
