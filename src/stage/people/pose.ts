/**
 * Bends the skeleton: standing or seated, head turned, hands put down. All in the person's rest frame, metres at
 * rest size, z up, face towards -y, left = +x. Limbs are given as directions; every bone takes the least rotation
 * from its parent's frame that points it so. Postures are our own; from trial, no source.
 */
import { add, cross, DEG, dot, length, mix, normalize, scale, sub, type Vec3 } from '../../maths/vec3.ts';
import type { PeopleData, PersonShape } from './decode.ts';
import { about, apply, frameOf, IDENTITY, least, type Mat3, times, transposed } from './rotation.ts';

/** Per bone: rotation from rest and the posed place of its joint. */
export interface Pose {
  rotation: Mat3[];
  joint: Vec3[];
}

/** How a body is held. Lying is on the back, the feet toward where a person who sat up would look. */
export type Posture = 'standing' | 'walking' | 'leaning' | 'seated' | 'crouching' | 'lying';
export const POSTURES: readonly Posture[] = [
  'standing',
  'walking',
  'leaning',
  'seated',
  'crouching',
  'lying',
];

export interface PoseWish {
  posture: Posture;
  headTurn: number;
  headTilt: number;
  /** Seated: height of the hip joints over the floor, and of the table top or undefined (hands in the lap). */
  hipHeightM?: number;
  tableHeightM?: number | undefined;
}

type Side = 'L' | 'R';

export const restJoint = (who: PersonShape, i: number): Vec3 => [
  who.joints[3 * i]!,
  who.joints[3 * i + 1]!,
  who.joints[3 * i + 2]!,
];

/** Solves shoulder–elbow–wrist or hip–knee–ankle: unit directions of the upper and lower part. */
function twoBones(from: Vec3, to: Vec3, l1: number, l2: number, pole: Vec3): [Vec3, Vec3] {
  const d = sub(to, from);
  const reach = Math.min(length(d), (l1 + l2) * 0.995);
  const along = normalize(d);
  const side = normalize(sub(pole, scale(along, dot(pole, along))));
  const x = (l1 * l1 - l2 * l2 + reach * reach) / (2 * reach);
  const y = Math.sqrt(Math.max(0, l1 * l1 - x * x));
  const knee = add(scale(along, x), scale(side, y));
  return [normalize(knee), normalize(sub(scale(along, reach), knee))];
}

/** Trunk at the pelvis and at the shoulders, degrees about the left–right axis, + = forward; by trial, no source. */
const TRUNK: Record<Posture, readonly [number, number]> = {
  standing: [0, 0],
  walking: [3, 4],
  leaning: [-9, -3],
  seated: [-12, 6],
  crouching: [22, 34],
  lying: [-90, -88],
};
/** What the neck takes back so that the face looks ahead, degrees. */
const NECK: Record<Posture, number> = {
  standing: 0,
  walking: -3,
  leaning: 4,
  seated: 0,
  crouching: -30,
  lying: -12,
};

/** Of the length from wrist to knuckle: how far over a table the wrist's joint and a fingertip's middle lie (by eye). */
const WRIST_OVER = 0.43;
const FINGER_OVER = 0.095;

export function poseBones(data: PeopleData, who: PersonShape, wish: PoseWish): Pose {
  const n = data.bones.length;
  const rest = Array.from({ length: n }, (_, i) => restJoint(who, i));
  const rotation: Mat3[] = new Array(n).fill(IDENTITY);
  const joint: Vec3[] = rest.slice();
  const no = (name: string) => {
    const i = data.boneNumber[name];
    if (i === undefined) throw new Error(`no bone ${name}`);
    return i;
  };
  const parentR = (i: number): Mat3 =>
    data.bones[i]!.parent < 0 ? IDENTITY : rotation[data.bones[i]!.parent]!;
  const placeJoint = (i: number) => {
    const p = data.bones[i]!.parent;
    joint[i] = p < 0 ? rest[i]! : add(joint[p]!, apply(rotation[p]!, sub(rest[i]!, rest[p]!)));
  };
  const set = (name: string, r?: Mat3) => {
    const i = no(name);
    placeJoint(i);
    rotation[i] = r ?? parentR(i);
    return i;
  };
  const point = (name: string, towards: string, direction: Vec3) => {
    const i = no(name);
    const r0 = normalize(apply(parentR(i), sub(rest[no(towards)]!, rest[i]!)));
    return set(name, times(least(r0, normalize(direction)), parentR(i)));
  };
  const { posture } = wish;
  const seated = posture === 'seated';
  const lying = posture === 'lying';

  // Bend the trunk a little: seated people lean on their seat bones, standing ones are never quite straight.
  const [low, high] = TRUNK[posture].map((deg) => deg * DEG) as [number, number];
  const lean = low;
  set('root', about([1, 0, 0], lean));
  const turn = wish.headTurn;
  const help = Math.sign(turn) * Math.max(0, Math.abs(turn) - 50 * DEG) * 0.6;
  ['spine05', 'spine04', 'spine03', 'spine02', 'spine01'].forEach((name, k) => {
    const share = (k + 1) / 5;
    const pitch = lean + (high - lean) * share;
    // Lying, the length of the body is the axis that one turns about.
    const axis: Vec3 = lying ? [0, 1, 0] : [0, 0, 1];
    set(name, times(about(axis, help * share), about([1, 0, 0], pitch)));
  });

  // Spread turn and tilt over the neck.
  const trunk = rotation[no('spine01')]!;
  const shares: [string, number][] = [
    ['neck01', 0.15],
    ['neck02', 0.35],
    ['neck03', 0.55],
    ['head', 1],
  ];
  for (const [name, s] of shares)
    set(
      name,
      times(
        trunk,
        times(
          about([0, 0, 1], (turn - help) * s),
          about([1, 0, 0], (wish.headTilt + NECK[posture] * DEG) * s),
        ),
      ),
    );

  // Legs.
  for (const side of ['L', 'R'] as Side[]) {
    const out = side === 'L' ? 1 : -1;
    set(`pelvis.${side}`);
    const hip = no(`upperleg01.${side}`);
    placeJoint(hip);
    const l1 = length(sub(rest[no(`lowerleg01.${side}`)]!, rest[hip]!));
    const l2 = length(sub(rest[no(`foot.${side}`)]!, rest[no(`lowerleg01.${side}`)]!));
    let upper: Vec3 = [0.07 * out, 0.0, -1];
    let lower: Vec3 = [0.03 * out, side === 'L' ? 0.06 : 0.04, -1];
    let toes = 9 * out;
    let footPitch = 0;
    if (posture === 'walking') {
      // Mid-stride: the left heel just down, the right about to leave the floor.
      upper = side === 'L' ? [0.03 * out, -0.42, -1] : [0.03 * out, 0.2, -1];
      lower = side === 'L' ? [0.02 * out, -0.24, -1] : [0.02 * out, 0.62, -1];
      footPitch = side === 'L' ? -14 : 34;
      toes = 6 * out;
    } else if (posture === 'leaning') {
      upper = [0.08 * out, side === 'L' ? -0.2 : -0.27, -1];
      lower = [(side === 'L' ? 0.02 : -0.1) * out, side === 'L' ? -0.12 : -0.2, -1];
    } else if (posture === 'lying') {
      upper = [0.09 * out, -1, 0.02];
      lower = [0.05 * out, -1, -0.03];
    } else if (posture === 'crouching') {
      // On the balls of the feet, thighs near level.
      const hipZ = side === 'L' ? 0.36 : 0.31;
      const target = add(joint[hip]!, [0.05 * out, side === 'L' ? -0.2 : -0.08, -hipZ]);
      [upper, lower] = twoBones(joint[hip]!, target, l1, l2, [0.35 * out, -1, 0.25]);
      footPitch = side === 'L' ? 12 : 32;
      toes = 10 * out;
    }
    if (seated) {
      const ankle = restAnkle(data, who);
      const h = Math.min((wish.hipHeightM ?? l2 + ankle) - ankle, l2 + 0.6 * l1);
      const drop = Math.max(-0.8 * l1, Math.min(0.8 * l1, h - l2));
      const forward = Math.sqrt(l1 * l1 - drop * drop) - (side === 'L' ? 0.02 : -0.05);
      const target = add(joint[hip]!, [0.06 * out, -forward, -h]);
      [upper, lower] = twoBones(joint[hip]!, target, l1, l2, [0.18 * out, -1, 0.6]);
      toes = 6 * out;
    }
    point(`upperleg01.${side}`, `lowerleg01.${side}`, upper);
    set(`upperleg02.${side}`);
    point(`lowerleg01.${side}`, `foot.${side}`, lower);
    set(`lowerleg02.${side}`);
    set(
      `foot.${side}`,
      lying
        ? times(about([0, 1, 0], toes * 2.2 * DEG), about([1, 0, 0], (-90 + 38) * DEG))
        : times(about([0, 0, 1], toes * DEG), about([1, 0, 0], footPitch * DEG)),
    );
  }

  // Arms and hands.
  for (const side of ['L', 'R'] as Side[]) {
    const out = side === 'L' ? 1 : -1;
    const dropShoulder = about([0, 1, 0], out * 4 * DEG);
    set(`clavicle.${side}`, times(trunk, dropShoulder));
    set(`shoulder01.${side}`, times(trunk, about([0, 1, 0], out * 10 * DEG)));
    const shoulder = no(`upperarm01.${side}`);
    placeJoint(shoulder);
    const elbow = no(`lowerarm01.${side}`);
    const wrist = no(`wrist.${side}`);
    const l1 = length(sub(rest[elbow]!, rest[shoulder]!));
    const l2 = length(sub(rest[wrist]!, rest[elbow]!));
    let upper: Vec3 = [0.13 * out, side === 'L' ? 0.05 : 0.08, -1];
    let lower: Vec3 = [0.06 * out, -0.24, -1];
    let hand: Vec3 = [0.02 * out, -0.2, -1];
    let palm: Vec3 = [-1 * out, 0.35, 0];
    let curl = 17 * DEG;
    /** Height that fingertips lie on, if any. */
    let table: number | undefined;
    let thick = 0;
    if (posture === 'walking') {
      // The arms swing against the legs.
      upper = [0.14 * out, side === 'L' ? 0.34 : -0.3, -1];
      lower = [0.02 * out, side === 'L' ? -0.08 : -0.85, -1];
      hand = [0.02 * out, side === 'L' ? -0.1 : -0.8, -1];
    } else if (posture === 'leaning') {
      // Hands on the edge behind.
      const hip = joint[no(`upperleg01.${side}`)]!;
      const target: Vec3 = [out * 0.27, hip[1] + 0.13, hip[2] + 0.02];
      [upper, lower] = twoBones(joint[shoulder]!, target, l1, l2, [0.8 * out, 0.8, 0]);
      hand = [0.25 * out, -0.6, -0.75];
      palm = [-0.1 * out, 0.75, -0.65];
      curl = 24 * DEG;
    } else if (posture === 'lying') {
      upper = [0.26 * out, -1, -0.02];
      lower = [0.1 * out, -1, 0.05];
      hand = [-0.05 * out, -1, 0.02];
      palm = [-0.5 * out, 0, -1];
      curl = 22 * DEG;
    } else if (posture === 'crouching') {
      // Forearms rest on the thighs, hands hang before the knees.
      const knee = joint[no(`lowerleg01.${side}`)]!;
      const target: Vec3 = [knee[0] * 0.55, knee[1] - 0.1, knee[2] + 0.06];
      [upper, lower] = twoBones(joint[shoulder]!, target, l1, l2, [0.9 * out, 0.3, -0.2]);
      hand = [-0.35 * out, -0.8, -0.6];
      palm = [-0.6 * out, 0.2, -0.8];
    }
    if (seated) {
      const hip = joint[no(`upperleg01.${side}`)]!;
      const knee = joint[no(`lowerleg01.${side}`)]!;
      let target: Vec3;
      if (wish.tableHeightM !== undefined && wish.hipHeightM !== undefined) {
        // A larger hand is a thicker one, in about this proportion to wrist and knuckle (by eye).
        thick = length(sub(rest[no(`finger3-1.${side}`)]!, rest[wrist]!));
        const up = wish.tableHeightM - wish.hipHeightM + WRIST_OVER * thick;
        table = hip[2] + wish.tableHeightM - wish.hipHeightM;
        target = [out * (side === 'L' ? 0.12 : 0.15), joint[shoulder]![1] - 0.33, hip[2] + up];
        hand = [-0.5 * out, -1, -0.1];
        palm = [-0.2 * out, 0, -1];
        curl = 14 * DEG;
      } else {
        const on = mix(hip, knee, side === 'L' ? 0.62 : 0.56);
        target = [on[0] * 0.85, on[1], on[2] + 0.125];
        hand = [-0.45 * out, -1, -0.45];
        palm = [-0.25 * out, 0.1, -1];
        curl = 16 * DEG;
      }
      [upper, lower] = twoBones(joint[shoulder]!, target, l1, l2, [0.75 * out, 0.65, -0.6]);
    }
    point(`upperarm01.${side}`, `lowerarm01.${side}`, upper);
    set(`upperarm02.${side}`);
    point(`lowerarm01.${side}`, `wrist.${side}`, lower);
    set(`lowerarm02.${side}`);
    placeJoint(wrist);
    // Turn the hand: its rest frame goes to the wished frame; the forearm takes its share of the roll.
    const middleFinger = rest[no(`finger3-1.${side}`)]!;
    const restHand = normalize(sub(middleFinger, rest[wrist]!));
    const across = sub(rest[no(`finger5-1.${side}`)]!, rest[no(`finger2-1.${side}`)]!);
    let restPalm = normalize(cross(restHand, across));
    // The palm looks to where the thumb is tucked: down in the rest pose.
    if (restPalm[2] > 0) restPalm = scale(restPalm, -1);
    const goal = times(frameOf(hand, palm), transposed(frameOf(restHand, restPalm)));
    const fore = rotation[elbow]!;
    const axis = normalize(apply(fore, sub(rest[wrist]!, rest[elbow]!)));
    const extra = times(goal, transposed(fore));
    const probe = normalize(sub(apply(fore, restPalm), scale(axis, dot(apply(fore, restPalm), axis))));
    const moved0 = apply(extra, probe);
    const moved = normalize(sub(moved0, scale(axis, dot(moved0, axis))));
    const roll = Math.atan2(dot(cross(probe, moved), axis), dot(probe, moved));
    rotation[elbow] = times(about(axis, roll * 0.3), fore);
    set(`lowerarm02.${side}`, times(about(axis, roll * 0.65), fore));
    set(`wrist.${side}`, goal);
    for (let f = 1; f <= 5; f++) {
      if (f > 1) set(`metacarpal${f - 1}.${side}`);
      const bend = normalize(cross(restHand, restPalm));
      const base = f === 1 ? rotation[wrist]! : rotation[no(`metacarpal${f - 1}.${side}`)]!;
      // The thumb also comes in to the hand.
      const from = f === 1 ? times(base, about(restPalm, -out * 18 * DEG)) : base;
      const bent = (amount: number, k: number) => times(from, about(bend, amount * (f === 1 ? k : 0.7 * k)));
      let amount = f === 1 ? curl * 0.35 : curl * (0.8 + 0.12 * (f - 2));
      if (table !== undefined) {
        // On a table the finger bends until its tip lies there.
        placeJoint(no(`finger${f}-1.${side}`));
        const [j1, j2, j3] = [1, 2, 3].map((k) => rest[no(`finger${f}-${k}.${side}`)]!) as [Vec3, Vec3, Vec3];
        const [a, b] = [sub(j2, j1), sub(j3, j2)];
        const root = joint[no(`finger${f}-1.${side}`)]![2] - table - FINGER_OVER * thick;
        const tipOver = (x: number): number =>
          root + apply(bent(x, 1), a)[2] + apply(bent(x, 2), b)[2] + apply(bent(x, 3), b)[2];
        let [low, high] = [-12 * DEG, 45 * DEG];
        if (tipOver(low) > 0 && tipOver(high) < 0) {
          for (let round = 0; round < 12; round++) {
            amount = (low + high) / 2;
            if (tipOver(amount) > 0) low = amount;
            else high = amount;
          }
        } else amount = tipOver(low) <= 0 ? low : amount;
      }
      for (let k = 1; k <= 3; k++) set(`finger${f}-${k}.${side}`, bent(amount, k));
    }
  }
  return { rotation, joint };
}

/** Height of the ankle joint over the sole in the rest pose, metres. */
export function restAnkle(data: PeopleData, who: PersonShape): number {
  return restJoint(who, data.boneNumber['foot.L']!)[2] - restSole(who);
}

/** Lowest point of skin and shoes in the rest pose, metres. */
export function restSole(who: PersonShape): number {
  let low = Number.POSITIVE_INFINITY;
  for (let i = 0; i < who.hidden.length; i++) if (!who.hidden[i]) low = Math.min(low, who.body[3 * i + 2]!);
  for (const g of who.garments)
    for (let i = 2; i < g.positions.length; i += 3) low = Math.min(low, g.positions[i]!);
  return low;
}
