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
    near: { copies: 5, spreadM: 0.006, widthM: 0.0013, liftM: [0.001, 0.004], loose: 0.04, looseM: 0.014 },
    medium: { copies: 2, spreadM: 0.006, widthM: 0.003, liftM: [0.001, 0.003], loose: 0.03, looseM: 0.01 },
    far: undefined,
  },
  brow: {
    near: { copies: 1, spreadM: 0, widthM: 0.00038, liftM: [0.0002, 0.001], loose: 0, looseM: 0 },
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
    const inM = who.hairs.find((h) => h.use === 'hair')?.inM ?? 0;
    if (detail !== 'far') for (let i = 0; i < p.length; i++) p[i]! -= inM * nrm[i]!;
    const at = out.count;
    for (let i = 0; i < p.length / 3; i++) out.vertex(p, nrm, who.sheet.positions, i);
    for (let t = 0; t < tris.length; t += 3)
      out.triangle(at + tris[t]!, at + tris[t + 1]!, at + tris[t + 2]!, SLOTS.indexOf('hair-mass'));
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
    const perM2 = { near: [80000, 75000], medium: [30000, 30000], far: [0, 0] }[detail];
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

const scalps = new WeakMap<PersonShape, ScalpPart>();
/** A person's scalp; worked out once. */
function scalpOf(quads: Uint16Array, who: PersonShape): ScalpPart {
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
