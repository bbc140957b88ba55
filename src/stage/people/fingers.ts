/** Where nails lie and fingers bend, at rest. Shares of a fingertip's length by eye, on the data's own grooves. */
import { add, cross, dot, normalize, scale, sub, type Vec3 } from '../../maths/vec3.ts';
import type { Finger } from '../relief.ts';
import type { PeopleData, PersonShape } from './decode.ts';
import { restJoint } from './pose.ts';

/** Of a fingertip's length: how far out a nail's middle lies, half of its length and of its width; a thumb's width. */
const MIDDLE = 0.675;
const LONG = 0.24;
const WIDE = 0.175;
const WIDE_THUMB = 0.21;

const kept = new WeakMap<Float32Array, Finger[]>();

export function fingersOf(data: PeopleData, who: PersonShape): readonly Finger[] {
  const had = kept.get(who.body);
  if (had) return had;
  const at = (name: string): Vec3 => restJoint(who, data.boneNumber[name]!);
  /** Skin that goes with a bone, from its joint. */
  const about = (name: string): Vec3[] => {
    const bone = data.boneNumber[name]!;
    const joint = at(name);
    const out: Vec3[] = [];
    for (let v = 0; v < who.hidden.length; v++)
      if (data.bodyBones[4 * v] === bone)
        out.push(sub([who.body[3 * v]!, who.body[3 * v + 1]!, who.body[3 * v + 2]!], joint));
    return out;
  };
  const out: Finger[] = [];
  for (const side of ['L', 'R'] as const) {
    const acrossHand = normalize(sub(at(`finger5-1.${side}`), at(`finger2-1.${side}`)));
    for (let n = 1; n <= 5; n++) {
      const [first, second, last] = [1, 2, 3].map((k) => at(`finger${n}-${k}.${side}`)) as [Vec3, Vec3, Vec3];
      const tip = about(`finger${n}-3.${side}`);
      const along = normalize(tip.reduce((sum, p) => add(sum, p), [0, 0, 0] as Vec3));
      const long = Math.max(...tip.map((p) => dot(p, along)));
      // A thumb's nail looks away from where it bends to, a finger's from the back of the hand.
      const back = side === 'L' ? cross(along, acrossHand) : cross(acrossHand, along);
      const hint = n === 1 ? sub(normalize(sub(second, first)), along) : back;
      const outward = normalize(sub(hint, scale(along, dot(hint, along))));
      const across = cross(outward, along);
      // The skin's own height there.
      const here = tip.filter((p) => Math.abs(dot(p, along) - MIDDLE * long) < 0.15 * long);
      const high = Math.max(...here.map((p) => dot(p, outward)));
      const sides = here.map((p) => dot(p, across));
      const middle = (Math.max(...sides) + Math.min(...sides)) / 2;
      out.push({
        at: add(last, add(scale(along, MIDDLE * long), add(scale(across, middle), scale(outward, high)))),
        along,
        across,
        out: outward,
        half: [LONG * long, (n === 1 ? WIDE_THUMB : WIDE) * long],
      });
      for (const [joint, from] of [[second, first] as const, [last, second] as const])
        if (n > 1 || joint === last)
          out.push({ at: joint, along: normalize(sub(joint, from)), across, out: outward });
    }
  }
  kept.set(who.body, out);
  return out;
}
