/**
 * Builds one person as triangles: shape, posture, clothes, eyes, hair. Metres, x east, y north, z up. Everything is
 * worked out in the person's own rest frame and then scaled, turned and set down on the mark.
 */
import {
  add,
  cross,
  DEG,
  distance,
  dot,
  mix,
  normalize,
  scale,
  sub,
  turnZ,
  type Vec3,
} from '../../maths/vec3.ts';
import { type Finger, restSteps, type Tube } from '../relief.ts';
import { type Finer, finer, finerPlaces, fold } from './cloth.ts';
import { Collector } from './collector.ts';
import { lowestPoint, lowestSole, seatUnderHip } from './contact.ts';
import { evenOut, turnedAt, uncrumple } from './crumple.ts';
import type { PeopleData, PersonShape } from './decode.ts';
import { eyeBall, turnGaze } from './eyes.ts';
import { type FaceGrid, faceGrid, type GridOf } from './faceGrid.ts';
import { type PersonPoint, POINT_VERTEX } from './facePoints.ts';
import { fingersOf } from './fingers.ts';
import { clusters } from './groups.ts';
import { hairline, hairlineOf } from './hairline.ts';
import { hairOf, innerScalp } from './hairOf.ts';
import { liningOf } from './lining.ts';
import { type Pose, type Posture, poseBones, restJoint, restSole } from './pose.ts';
import { apply, transposed } from './rotation.ts';
import { boneMatrices, carryInto, normalise, normalsInto, skinInto } from './skin.ts';
import { KIND, type PersonSlot, SLOTS } from './slots.ts';
import { hat, putOn, spectacles, type Worn } from './worn.ts';

export { decodePeople, type PeopleData } from './decode.ts';
export type { PersonPoint } from './facePoints.ts';
export { type PersonSlot, SLOTS } from './slots.ts';

export interface PersonSpec {
  /** `man-34`, `woman-28` … see `PeopleData.people`. */
  person: string;
  posture: Posture;
  /** x, y: under the middle between the eyes; z: the floor there. Metres. */
  at: Vec3;
  /** 0 = east, counter-clockwise. */
  facingDeg: number;
  /** + = to the person's own left. */
  headTurnDeg?: number;
  /** + = chin down. */
  headTiltDeg?: number;
  /** z of the middle between the eyes, metres: reached exactly standing, within the body’s own size else; not lying. */
  eyeHeightM: number;
  /** Top of the seat over the floor, metres; default .45. */
  seatHeightM?: number;
  handsOn?: 'lap' | 'table';
  /** Top of the table over the floor, metres; default .74. */
  tableHeightM?: number;
  /** What the eyes look at; they turn at most 30°. Absent: straight ahead. */
  gazeAt?: Vec3;
  detail: 'near' | 'medium' | 'far';
  complexion?: string;
  wardrobe?: { top: string; bottom: string; shoes?: string };
  hairColour?: string;
  /** How the hair is cut; absent: the person's own. */
  cut?: 'own' | 'crop' | 'afro' | 'bald';
  wears?: readonly Worn[];
}

export interface PersonMesh {
  /** The face seen square from the front, worked out when it is first read, and what from. */
  readonly faceGrid: FaceGrid;
  gridOf: GridOf;
  /** 3 × n metres. */
  positions: Float32Array;
  /** 3 × n unit shading normals. */
  normals: Float32Array;
  /** 3 × m, front face counter-clockwise. */
  indices: Uint32Array;
  /** m: index into `slots`. */
  material: Uint8Array;
  slots: readonly PersonSlot[];
  /** 3 × n: places at rest, as `Body.rest`. */
  rest: Int16Array;
  /** The tubes of what is worn on the trunk, and whether it is knitted. */
  tubes: readonly Tube[];
  topKnit: boolean;
  /** Nails and the joints of fingers, at rest. */
  fingers: readonly Finger[];
  /** m: cluster 0 … groupCount-1, about 15–25 cm across, one kind of surface, one main direction. */
  group: Uint16Array;
  groupCount: number;
  points: Record<PersonPoint, { position: Vec3; normal: Vec3 }>;
  /** Unit vector the face points along (the turned head), and the way the trunk faces. */
  facing: Vec3;
  /** Colours to use where the shoot names none: skin class, cloth and hair as #hex. */
  complexion: string;
  wardrobe: { top: string; bottom: string; shoes: string };
  hairColour: string;
  /** z of the middle between the eyes as it came out, metres. */
  eyesM: number;
  /** Size against the person's own, 1 = natural. */
  sizeRatio: number;
  /** Seated: how far the body floats over (+) or sinks into (-) the wished seat, metres. Standing: 0. */
  seatGapM: number;
}

/** Clothes were left to hang on a standing and on a seated body; other postures borrow from the nearer. */
const HANGS_AS: Record<Posture, 'standing' | 'seated'> = {
  standing: 'standing',
  walking: 'standing',
  leaning: 'standing',
  seated: 'seated',
  crouching: 'seated',
  lying: 'standing',
};

/** How far the jumper reaches under the hip joints, metres: measured on the garment. */
const JUMPER_UNDER_HIP_M = 0.05;

/** Cloth, flesh and cushion give this much under a seated person, metres; by eye, no source. */
const SEAT_GIVE_M = 0.015;

const cuts = new WeakMap<PersonShape, Map<string, PersonShape>>();
/** The person with another haircut: brows and lashes stay. */
function barbered(who: PersonShape, cut: PersonSpec['cut']): PersonShape {
  if (cut === undefined || cut === 'own') return who;
  const made = cuts.get(who) ?? new Map<string, PersonShape>();
  cuts.set(who, made);
  let shape = made.get(cut);
  if (!shape) {
    const { sheet: _sheet, grown: _grown, ...rest } = who;
    shape = {
      ...rest,
      hairs: who.hairs.filter((h) => h.use !== 'hair'),
      ...(cut === 'bald' ? { scalp: new Uint16Array(0) } : { grown: cut }),
    };
    made.set(cut, shape);
  }
  return shape;
}

export function shapeOf(data: PeopleData, id: string): PersonShape {
  const who = data.people.find((p) => p.id === id);
  if (!who) throw new Error(`no person ${id}: there are ${data.people.map((p) => p.id).join(', ')}`);
  return who;
}

/** Middle between the eyes in a pose, rest frame. */
function eyesMiddle(data: PeopleData, who: PersonShape, pose: Pose): Vec3 {
  const h = data.boneNumber.head!;
  const c = mix(who.eyes[0]!.centre as unknown as Vec3, who.eyes[1]!.centre as unknown as Vec3, 0.5);
  return add(pose.joint[h]!, apply(pose.rotation[h]!, sub(c, restJoint(who, h))));
}

export function buildPerson(data: PeopleData, spec: PersonSpec): PersonMesh {
  const who = barbered(shapeOf(data, spec.person), spec.cut);
  const rest = data.bones.map((_, i) => restJoint(who, i));
  const headTurn = (spec.headTurnDeg ?? 0) * DEG;
  const headTilt = (spec.headTiltDeg ?? 0) * DEG;
  const sole = restSole(who);
  const naturalScale = who.naturalEyeHeightM / (restEyesZ(who) - sole);
  const eyeOverFloor = spec.eyeHeightM - spec.at[2];

  // Bend the body. A seated one depends on its size, and its size on how it sits: go round three times.
  let pose: Pose;
  let size: number;
  let floor: number;
  let seatGapM = 0;
  if (spec.posture === 'lying') {
    // On its back on what is there: a bed as high as the seat, else the floor. The eyes are where they come to be.
    pose = poseBones(data, who, { posture: 'lying', headTurn, headTilt });
    size = naturalScale;
    floor = lowestPoint(data, who, pose, rest) - ((spec.seatHeightM ?? 0) - SEAT_GIVE_M) / size;
  } else if (spec.posture !== 'seated') {
    pose = poseBones(data, who, { posture: spec.posture, headTurn, headTilt });
    const low = lowestSole(data, who, pose, rest);
    floor = low;
    size = eyeOverFloor / (eyesMiddle(data, who, pose)[2] - low);
    // A crouch or a stride lowers the eyes by itself: no dwarf, no giant, to meet a height told wrongly.
    if (spec.posture !== 'standing') size = Math.min(1.1 * naturalScale, Math.max(0.9 * naturalScale, size));
  } else {
    const seat = spec.seatHeightM ?? 0.45;
    const hip = data.boneNumber['upperleg01.L']!;
    size = naturalScale;
    let under = -0.1;
    pose = poseBones(data, who, { posture: 'seated', headTurn, headTilt, hipHeightM: seat / size - under });
    for (let round = 0; round < 3; round++) {
      const hipHeightM = (seat - SEAT_GIVE_M) / size - under;
      const table = spec.handsOn === 'table' ? (spec.tableHeightM ?? 0.74) / size : undefined;
      pose = poseBones(data, who, { posture: 'seated', headTurn, headTilt, hipHeightM, tableHeightM: table });
      under = seatUnderHip(data, who, pose, rest);
      const eyesOverSeat = eyesMiddle(data, who, pose)[2] - pose.joint[hip]![2] - under;
      const wanted = (eyeOverFloor - seat + SEAT_GIVE_M) / eyesOverSeat;
      size = Math.min(1.1 * naturalScale, Math.max(0.9 * naturalScale, wanted));
    }
    const seatedAt = (seatM: number) => {
      const table = spec.handsOn === 'table' ? (spec.tableHeightM ?? 0.74) / size : undefined;
      const hipHeightM = (seatM - SEAT_GIVE_M) / size - under;
      pose = poseBones(data, who, { posture: 'seated', headTurn, headTilt, hipHeightM, tableHeightM: table });
      return eyesMiddle(data, who, pose)[2] - eyeOverFloor / size;
    };
    floor = seatedAt(seat);
    // A size at its limit leaves eyes or seat wrong: keep eyes and feet right, and tell how far off the seat is.
    const off = (pose.joint[hip]![2] + under - floor) * size - (seat - SEAT_GIVE_M);
    if (Math.abs(off) > 0.005) floor = seatedAt(seat + off);
    seatGapM = (pose.joint[hip]![2] + under - floor) * size - (seat - SEAT_GIVE_M);
  }
  const m = boneMatrices(pose, rest);
  const headBone = data.boneNumber.head!;

  // Put the skin's visible vertices first, then clothes, hair sheets, hairs, eyes.
  const skinned = new Float32Array(who.body.length);
  skinInto(skinned, 0, who.body, data.bodyBones, data.bodyAmounts, m);
  const skinNormals = new Float32Array(who.body.length);
  {
    const all = quadTriangles(data.quads);
    normalsInto(skinNormals, skinned, all, 0, all.length / 3);
    normalise(skinNormals);
  }
  const out = new Collector();
  const scalp = new Set<number>(innerScalp(data.quads, who));
  const number = new Int32Array(who.hidden.length).fill(-1);
  const skinTriangle = (a: number, b: number, c: number, slot: number) => {
    if (number[a]! < 0) number[a] = out.vertex(skinned, skinNormals, who.body, a);
    if (number[b]! < 0) number[b] = out.vertex(skinned, skinNormals, who.body, b);
    if (number[c]! < 0) number[c] = out.vertex(skinned, skinNormals, who.body, c);
    out.triangle(number[a]!, number[b]!, number[c]!, slot);
  };
  const lining =
    spec.detail === 'far' || !who.garments.some((g) => data.garments[g.name]!.slots.includes('top'))
      ? undefined
      : liningOf(who, data.boneNumber['upperleg01.L']!);
  const top = SLOTS.indexOf('top');
  if (spec.detail === 'near') {
    const q = data.quads;
    const atHairline = hairlineOf(q, who);
    for (let f = 0; f < q.length / 4; f++) {
      const [a, b, c, d] = [q[4 * f]!, q[4 * f + 1]!, q[4 * f + 2]!, q[4 * f + 3]!];
      if (who.hidden[a] && who.hidden[b] && who.hidden[c] && who.hidden[d]) {
        if (!(lining?.[a] && lining[b] && lining[c] && lining[d])) continue;
        skinTriangle(a, b, c, top);
        skinTriangle(a, c, d, top);
        continue;
      }
      const slot = scalp.has(f) ? SLOTS.indexOf('scalp') : data.quadSlot[f]!;
      if (atHairline.has(f)) {
        hairline(out, data.quads, who, f, skinned, skinNormals, data.quadSlot[f]!);
        continue;
      }
      skinTriangle(a, b, c, slot);
      skinTriangle(a, c, d, slot);
    }
  } else {
    const level = data[spec.detail];
    const onScalp = new Set<number>();
    for (const f of scalp) for (let k = 0; k < 4; k++) onScalp.add(data.quads[4 * f + k]!);
    const { hidden } = who;
    for (let t = 0; t < level.slot.length; t++) {
      const a = level.triangles[3 * t]!;
      const b = level.triangles[3 * t + 1]!;
      const c = level.triangles[3 * t + 2]!;
      if (hidden[a] && hidden[b] && hidden[c]) {
        if (lining?.[a] && lining[b] && lining[c]) skinTriangle(a, b, c, top);
        continue;
      }
      const slot =
        onScalp.has(a) && onScalp.has(b) && onScalp.has(c) ? SLOTS.indexOf('scalp') : level.slot[t]!;
      skinTriangle(a, b, c, slot);
    }
  }
  for (const g of who.garments) {
    const top = data.garments[g.name]!;
    const p = new Float32Array(g.positions.length);
    skinInto(p, 0, g.positions, top.bones, top.amounts, m);
    const nrm = new Float32Array(p.length);
    normalsInto(nrm, p, top.triangles, 0, top.triangles.length / 3);
    normalise(nrm);
    // A bent shoulder brings skin nearer to the cloth: keep 3 mm more.
    if (top.slots.includes('top')) for (let i = 0; i < p.length; i++) p[i]! += 0.003 * nrm[i]!;
    let cloth: Float32Array = p;
    let clothNormals: Float32Array = nrm;
    let restPlaces: Float32Array = g.positions;
    let { triangles, slot }: { triangles: ArrayLike<number>; slot: Uint8Array } =
      spec.detail === 'near' ? top : top[spec.detail];
    if (spec.detail !== 'far' && top.slots.includes('top')) {
      // Let it hang, and round it where it is seen near.
      const f = finer(top);
      const folds = g.folds[HANGS_AS[spec.posture]];
      cloth = finerPlaces(f, p, nrm);
      if (folds) {
        const drawn = cloth.slice();
        fold(f, cloth, smoothNormals(cloth, f.triangles), folds);
        evenOut(drawn, cloth, f.triangles, turnedAtRest(g, f));
      }
      uncrumple(cloth, f.triangles, turnedAtRest(g, f));
      clothNormals = smoothNormals(cloth, f.triangles);
      if (spec.detail === 'near') {
        restPlaces = finerPlaces(f, g.positions, new Float32Array(g.positions.length));
        triangles = f.triangles;
        slot = f.slot;
      }
    }
    const numbers = new Int32Array(cloth.length / 3).fill(-1);
    const slots = top.slots.map((s) => SLOTS.indexOf(s as PersonSlot));
    const place = (i: number): number => {
      if (numbers[i]! < 0) numbers[i] = out.vertex(cloth, clothNormals, restPlaces, i);
      return numbers[i]!;
    };
    for (let t = 0; t < slot.length; t++) {
      const a = place(triangles[3 * t]!);
      const b = place(triangles[3 * t + 1]!);
      const c = place(triangles[3 * t + 2]!);
      out.triangle(a, b, c, slots[slot[t]!]!);
    }
  }
  const hatted = (spec.wears ?? []).some((w) => w !== 'spectacles');
  hairOf(out, data, who, spec.detail, m, skinned, skinNormals, pose, hatted);

  const carry = (places: Float32Array) => {
    const p = new Float32Array(places.length);
    carryInto(p, 0, places, headBone, m);
    return p;
  };
  for (const thing of spec.wears ?? []) {
    if (thing === 'spectacles') {
      const { frame, lens } = spectacles(who);
      putOn(out, frame, SLOTS.indexOf('frame'), carry, smoothNormals);
      putOn(out, lens, SLOTS.indexOf('lens'), carry, smoothNormals);
    } else putOn(out, hat(who, thing), SLOTS.indexOf('hat'), carry, smoothNormals);
  }

  // Set the eyes.
  const toWorld = placing(spec, size, floor, eyesMiddle(data, who, pose));
  const points = {} as Record<PersonPoint, { position: Vec3; normal: Vec3 }>;
  const at3 = (a: Float32Array, v: number): Vec3 => [a[3 * v]!, a[3 * v + 1]!, a[3 * v + 2]!];
  (['L', 'R'] as const).forEach((side, e) => {
    const eye = who.eyes[e]!;
    const centre = add(
      pose.joint[headBone]!,
      apply(pose.rotation[headBone]!, sub(eye.centre as unknown as Vec3, rest[headBone]!)),
    );
    const lids = mix(
      at3(skinned, POINT_VERTEX[`lidUpper${side}`]),
      at3(skinned, POINT_VERTEX[`lidLower${side}`]),
      0.5,
    );
    // At rest an eye looks through the middle of its own opening up and down, and straight ahead sideways.
    const left = apply(pose.rotation[headBone]!, [1, 0, 0]);
    const raw = normalize(sub(lids, centre));
    const restGaze = normalize(sub(raw, scale(left, dot(raw, left))));
    let gaze = restGaze;
    if (spec.gazeAt) gaze = turnGaze(restGaze, normalize(sub(toWorld.back(spec.gazeAt), centre)), 30 * DEG);
    const ball = eyeBall(
      centre,
      eye.radiusM,
      gaze,
      spec.detail === 'near' ? 28 : spec.detail === 'medium' ? 18 : 10,
    );
    const first = out.count;
    const back = transposed(pose.rotation[headBone]!);
    const restBall = new Float32Array(ball.positions.length);
    for (let i = 0; i < restBall.length; i += 3)
      restBall.set(
        add(rest[headBone]!, apply(back, sub(at3(ball.positions, i / 3), pose.joint[headBone]!))),
        i,
      );
    for (let i = 0; i < ball.positions.length / 3; i++) out.vertex(ball.positions, ball.normals, restBall, i);
    for (let t = 0; t < ball.part.length; t++)
      out.triangle(
        first + ball.indices[3 * t]!,
        first + ball.indices[3 * t + 1]!,
        first + ball.indices[3 * t + 2]!,
        SLOTS.indexOf('eye-white') + ball.part[t]!,
      );
    points[`eye${side}`] = { position: toWorld.point(ball.front), normal: toWorld.direction(gaze) };
  });
  for (const [name, v] of Object.entries(POINT_VERTEX) as [Exclude<PersonPoint, 'eyeL' | 'eyeR'>, number][])
    points[name] = {
      position: toWorld.point(at3(skinned, v)),
      normal: toWorld.direction(at3(skinNormals, v)),
    };

  // Scale, turn, set down.
  const mesh = out.finish();
  const { group, groupCount } = clusters(mesh.rest, mesh.normals, mesh.indices, mesh.material, KIND);
  toWorld.all(mesh.positions, mesh.normals);
  const eyesRest = mix(who.eyes[0]!.centre as unknown as Vec3, who.eyes[1]!.centre as unknown as Vec3, 0.5);
  const heightOf = (v: number) => who.body[3 * v + 2]! - eyesRest[2];
  const heights = { noseBaseM: heightOf(POINT_VERTEX.noseBase), lipM: heightOf(POINT_VERTEX.upperLip) };
  const gridOf: GridOf = { mesh, slots: SLOTS, eyes: eyesRest, heights };
  let grid: FaceGrid | undefined;
  return {
    get faceGrid() {
      grid ??= faceGrid(gridOf);
      return grid;
    },
    gridOf,
    positions: mesh.positions,
    normals: mesh.normals,
    indices: mesh.indices,
    rest: restSteps(mesh.rest),
    tubes: tubesOf(data, who),
    fingers: fingersOf(data, who),
    topKnit: who.garments.some((g) => KNITTED.has(g.name)),
    material: mesh.material,
    slots: SLOTS,
    group,
    groupCount,
    points,
    facing: toWorld.direction(apply(pose.rotation[headBone]!, [0, -1, 0])),
    complexion: spec.complexion ?? who.complexion,
    wardrobe: { ...who.wardrobe, ...spec.wardrobe },
    hairColour: spec.hairColour ?? who.hairColour,
    eyesM: toWorld.point(eyesMiddle(data, who, pose))[2],
    sizeRatio: size / naturalScale,
    seatGapM,
  };
}

/** Rest frame ↔ scene: the eyes' middle goes to the mark, `floor` (rest frame) to the mark's floor. */
function placing(spec: PersonSpec, size: number, floor: number, eyes: Vec3) {
  const angle = (spec.facingDeg + 90) * DEG;
  return {
    /** Every place and direction of two lists, 3 numbers each, in place. */
    all(places: Float32Array, directions: Float32Array): void {
      const c = Math.cos(angle);
      const s = Math.sin(angle);
      for (let i = 0; i < places.length; i += 3) {
        const x = places[i]! - eyes[0];
        const y = places[i + 1]! - eyes[1];
        places[i] = spec.at[0] + size * (c * x - s * y);
        places[i + 1] = spec.at[1] + size * (s * x + c * y);
        places[i + 2] = spec.at[2] + size * (places[i + 2]! - floor);
        const u = directions[i]!;
        const v = directions[i + 1]!;
        directions[i] = c * u - s * v;
        directions[i + 1] = s * u + c * v;
      }
    },
    point: (p: Vec3): Vec3 => {
      const t = turnZ([p[0] - eyes[0], p[1] - eyes[1], 0], angle);
      return [spec.at[0] + size * t[0], spec.at[1] + size * t[1], spec.at[2] + size * (p[2] - floor)];
    },
    direction: (d: Vec3): Vec3 => turnZ(d, angle),
    back: (w: Vec3): Vec3 => {
      const t = turnZ([w[0] - spec.at[0], w[1] - spec.at[1], 0], -angle);
      return [t[0] / size + eyes[0], t[1] / size + eyes[1], (w[2] - spec.at[2]) / size + floor];
    },
  };
}

const turnedKept = new WeakMap<object, Uint8Array>();
/** Hems and collars, which are turned over as they were made. */
function turnedAtRest(g: PersonShape['garments'][number], f: Finer): Uint8Array {
  let turned = turnedKept.get(g);
  if (!turned) {
    turned = turnedAt(finerPlaces(f, g.positions, new Float32Array(g.positions.length)), f.triangles);
    turnedKept.set(g, turned);
  }
  return turned;
}

function smoothNormals(p: Float32Array, triangles: ArrayLike<number>): Float32Array {
  const n = new Float32Array(p.length);
  normalsInto(n, p, triangles, 0, triangles.length / 3);
  normalise(n);
  return n;
}

/** Garments that are of knitted wool. */
const KNITTED = new Set(['male_casualsuit02']);

/** Garments with a band about the neck, and the breadth of its ribs, metres (by eye). */
const BANDED: Record<string, number> = {
  male_casualsuit02: 0.008,
  male_casualsuit04: 0.003,
  female_casualsuit01: 0.003,
};
const SECTORS = 36;

/** Where a garment's opening lies about the neck: its highest places, by sectors; absent: it has no band. */
function collarOf(data: PeopleData, who: PersonShape, trunk: Tube): Tube['collar'] {
  const g = who.garments.find(({ name }) => BANDED[name] !== undefined);
  if (!g) return undefined;
  const { slot, slots, triangles } = data.garments[g.name]!;
  const place = (v: number): Vec3 => [g.positions[3 * v]!, g.positions[3 * v + 1]!, g.positions[3 * v + 2]!];
  const off = new Array<number>(SECTORS).fill(0.1);
  const at = new Array<number>(SECTORS).fill(0.2);
  slot.forEach((s, t) => {
    if (slots[s] !== 'top') return;
    for (let k = 0; k < 3; k++) {
      const [a, b] = [place(triangles[3 * t + k]!), place(triangles[3 * t + ((k + 1) % 3)]!)];
      if (Math.hypot(...sub(a, trunk.from)) > 0.3) return;
      // Corners lie far apart: look along the edges.
      for (let e = 0; e < 8; e++) {
        const d = sub(mix(a, b, e / 8), trunk.from);
        const [p, q, along] = [dot(d, trunk.out), dot(d, trunk.across), dot(d, trunk.along)];
        const r = Math.hypot(p, q);
        const i = Math.round((Math.atan2(q, p) / (2 * Math.PI) + 1) * SECTORS) % SECTORS;
        if (r > 0.18 || along >= at[i]!) continue;
        off[i] = r;
        at[i] = along;
      }
    }
  });
  // Sectors take after their neighbours: an opening is round.
  const even = (list: number[]): number[] =>
    list.map((v, i) => (list[(i + SECTORS - 1) % SECTORS]! + 2 * v + list[(i + 1) % SECTORS]!) / 4);
  return { off: even(off), at: even(at), ribM: BANDED[g.name]! };
}

const tubesKept = new WeakMap<Float32Array, Tube[]>();
/** Trunk and sleeves as tubes, at rest: girths and reaches by eye, ends where the jumper's are. */
function tubesOf(data: PeopleData, who: PersonShape): readonly Tube[] {
  const had = tubesKept.get(who.body);
  if (had) return had;
  const at = (name: string) => restJoint(who, data.boneNumber[name]!);
  const hip = at('upperleg01.L');
  const neck = at('neck01');
  const trunk: Tube = {
    from: [0, neck[1], neck[2]],
    along: [0, 0, -1],
    out: [0, -1, 0],
    across: [1, 0, 0],
    girthM: 1.04,
    endM: neck[2] - hip[2] + JUMPER_UNDER_HIP_M,
    reachM: 9,
  };
  const sleeves = (['L', 'R'] as const).map((side): Tube => {
    const from = at(`upperarm01.${side}`);
    const wrist = at(`wrist.${side}`);
    const along = normalize(sub(wrist, from));
    const out = normalize(sub([0, -1, 0], scale(along, -along[1])));
    return {
      from,
      along,
      out,
      across: cross(along, out),
      girthM: 0.32,
      endM: distance(from, wrist),
      reachM: 0.11,
    };
  });
  const collar = collarOf(data, who, trunk);
  const tubes = [collar ? { ...trunk, collar } : trunk, ...sleeves];
  tubesKept.set(who.body, tubes);
  return tubes;
}

const restEyesZ = (who: PersonShape): number => (who.eyes[0]!.centre[2]! + who.eyes[1]!.centre[2]!) / 2;

let quadsSeen: Uint16Array | undefined;
let trianglesOfQuads = new Uint16Array(0);
/** The skin's quads as triangles; made once per data. */
function quadTriangles(quads: Uint16Array): Uint16Array {
  if (quadsSeen === quads) return trianglesOfQuads;
  const t = new Uint16Array((quads.length / 4) * 6);
  for (let f = 0; f < quads.length / 4; f++) {
    t[6 * f] = quads[4 * f]!;
    t[6 * f + 1] = quads[4 * f + 1]!;
    t[6 * f + 2] = quads[4 * f + 2]!;
    t[6 * f + 3] = quads[4 * f]!;
    t[6 * f + 4] = quads[4 * f + 2]!;
    t[6 * f + 5] = quads[4 * f + 3]!;
  }
  quadsSeen = quads;
  trianglesOfQuads = t;
  return t;
}
