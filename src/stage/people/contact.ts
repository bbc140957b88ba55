/** Where a posed body touches the floor and the seat, in its rest frame. */
import type { Vec3 } from '../../maths/vec3.ts';
import type { PeopleData, PersonShape } from './decode.ts';
import type { Pose } from './pose.ts';
import { boneMatrices, skinInto } from './skin.ts';

/** Lowest point of the posed shoes, rest frame. */
export function lowestSole(data: PeopleData, who: PersonShape, pose: Pose, rest: Vec3[]): number {
  const m = boneMatrices(pose, rest);
  let low = Number.POSITIVE_INFINITY;
  for (const g of who.garments) {
    const garment = data.garments[g.name]!;
    if (!garment.slots.includes('shoes')) continue;
    const p = new Float32Array(g.positions.length);
    skinInto(p, 0, g.positions, garment.bones, garment.amounts, m);
    for (let i = 2; i < p.length; i += 3) low = Math.min(low, p[i]!);
  }
  return low;
}

/** Lowest point of all that is seen of the posed body: what a lying one lies on, rest frame. */
export function lowestPoint(data: PeopleData, who: PersonShape, pose: Pose, rest: Vec3[]): number {
  const m = boneMatrices(pose, rest);
  let low = lowestSole(data, who, pose, rest);
  const p = new Float32Array(who.body.length);
  skinInto(p, 0, who.body, data.bodyBones, data.bodyAmounts, m);
  for (let i = 0; i < who.hidden.length; i++) if (!who.hidden[i]) low = Math.min(low, p[3 * i + 2]!);
  for (const g of who.garments) {
    const garment = data.garments[g.name]!;
    const q = new Float32Array(g.positions.length);
    skinInto(q, 0, g.positions, garment.bones, garment.amounts, m);
    for (let i = 2; i < q.length; i += 3) low = Math.min(low, q[i]!);
  }
  return low;
}

/** How far the trousers reach under the hip joint where one sits (from the back to 12 cm before the joint), metres. */
export function seatUnderHip(data: PeopleData, who: PersonShape, pose: Pose, rest: Vec3[]): number {
  const m = boneMatrices(pose, rest);
  const hip = pose.joint[data.boneNumber['upperleg01.L']!]!;
  let low = Number.POSITIVE_INFINITY;
  for (const g of who.garments) {
    const garment = data.garments[g.name]!;
    if (!garment.slots.includes('bottom')) continue;
    const p = new Float32Array(g.positions.length);
    skinInto(p, 0, g.positions, garment.bones, garment.amounts, m);
    for (let i = 0; i < p.length; i += 3) if (p[i + 1]! > hip[1] - 0.12) low = Math.min(low, p[i + 2]!);
  }
  return low - hip[2];
}
