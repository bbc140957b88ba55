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
