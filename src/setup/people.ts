/** People on marks: who, how they stand and face in an angle, as bodies with skin, cloth and hair. */
import { reflectanceFromColour, SKIN_CLASSES, type SkinClass, skin } from '../colour/reflectance.ts';
import { constant, FIRST_NM, type Spectrum, STEP_NM } from '../colour/spectrum.ts';
import { profileLengthM } from '../light/underSkin.ts';
import type { Vec3 } from '../maths/vec3.ts';
import type { Mark } from '../shoot/schema.ts';
import { type FaceGrid, faceGrid, type GridOf } from '../stage/people/faceGrid.ts';
import {
  buildPerson,
  type PeopleData,
  type PersonMesh,
  type PersonSlot,
  type PersonSpec,
} from '../stage/people/person.ts';
import type { Relief } from '../stage/relief.ts';
import type { Body, FacePoints, Material } from '../stage/stage.ts';
import { throughFor } from '../transport/fibre.ts';

export interface BuiltPerson {
  body: Body;
  face: FacePoints;
  readonly faceGrid: FaceGrid;
  /** What that is worked out from. */
  gridOf: GridOf;
  skinReflectance: number;
  notes: string[];
}

/** How cloth shines: water over fibres and leather's finish are near a pane's 4 %, satin less wide (judgement). */
const CLOTH_GLOSS = {
  satin: { f0: 0.05, roughness: 0.32 },
  leather: { f0: 0.045, roughness: 0.38 },
  wet: { f0: 0.025, roughness: 0.3 },
} as const;

const WOVEN: Relief = { kind: 'woven', tubes: [] };

const builds = new Map<string, BuiltPerson>();
const MOST_KEPT = 24;

export const facingOf = (mark: Mark, index: number | undefined): number =>
  mark.facings[index ?? 0] ?? mark.facings[0]!;

/** Something a stage is made of, known by content: built here, or taken as another thread built it. */
export interface StagePart {
  key: string;
  /** Builds it, keeps it, and gives it as plain data that may be copied to another thread. */
  make(): unknown;
  take(made: never): void;
}

type Asked = readonly [
  id: string,
  mark: Mark,
  facingDeg: number,
  gazeAt: Vec3 | undefined,
  detail: 'near' | 'medium' | 'far',
  data: PeopleData,
];

/** Who is asked for, and the key they are kept by. */
function askedFor(...[id, mark, facingDeg, gazeAt, detail, data]: Asked) {
  if (mark.person === undefined) return undefined;
  const known = data.people.some((p) => p.id === mark.person);
  const spec: PersonSpec = {
    person: known ? mark.person : data.people[0]!.id,
    posture: mark.posture,
    at: [mark.at[0], mark.at[1], mark.baseM ?? 0],
    facingDeg,
    eyeHeightM: mark.eyeM,
    detail,
    ...(mark.seatM === undefined ? {} : { seatHeightM: mark.seatM }),
    ...(mark.posture === 'seated' ? { handsOn: mark.tableM === undefined ? 'lap' : 'table' } : {}),
    ...(mark.tableM === undefined ? {} : { tableHeightM: mark.tableM }),
    ...(gazeAt === undefined ? {} : { gazeAt }),
    ...(mark.cut === undefined ? {} : { cut: mark.cut }),
    ...(mark.wears?.length ? { wears: mark.wears } : {}),
  };
  const { complexion, top, bottom, hair, name, topCloth, bottomCloth } = mark;
  const key = JSON.stringify([id, spec, complexion, top, bottom, hair, name, topCloth, bottomCloth]);
  return { key, spec, known };
}

/** One person built; kept by content, because a face costs tens of milliseconds and most edits move no face. */
export function personOn(...who: Asked): BuiltPerson | undefined {
  const asked = askedFor(...who);
  if (!asked) return undefined;
  const { key, spec, known } = asked;
  const found = builds.get(key);
  if (found) return found;
  const [id, mark, , , , data] = who;
  const mesh = buildPerson(data, spec);
  const made = dressed(id, mark, mesh);
  if (!known) made.notes.push(`${mark.name}: there is no figure ${mark.person}; another stands in.`);
  if (Math.abs(mesh.sizeRatio - 1) > 0.08)
    made.notes.push(
      `${mark.name}: eyes at ${mark.eyeM.toFixed(2)} m make this figure ${(100 * mesh.sizeRatio).toFixed(0)} % of its own size.`,
    );
  if (Math.abs(mesh.eyesM - mark.eyeM) > 0.03)
    made.notes.push(
      `${mark.name}: ${mark.posture}, this figure has its eyes at ${mesh.eyesM.toFixed(2)} m; the shoot says ${mark.eyeM.toFixed(2)} m.`,
    );
  return kept(key, made);
}

function kept(key: string, made: BuiltPerson): BuiltPerson {
  if (builds.size >= MOST_KEPT) builds.delete(builds.keys().next().value as string);
  builds.set(key, made);
  return made;
}

/** The same person as a part of a stage. */
export function personPart(...who: Asked): StagePart | undefined {
  const asked = askedFor(...who);
  if (!asked) return undefined;
  return {
    key: asked.key,
    make() {
      // Without what is worked out only when it is read.
      const { faceGrid: _later, ...made } = Object.getOwnPropertyDescriptors(personOn(...who)!);
      return Object.fromEntries(Object.entries(made).map(([name, d]) => [name, d.value]));
    },
    take: (made: Omit<BuiltPerson, 'faceGrid'>) => void kept(asked.key, withGrid(made)),
  };
}

/** A face's grid is only asked for once shadows on it are read: a first picture does not wait for it. */
function withGrid(built: Omit<BuiltPerson, 'faceGrid'>): BuiltPerson {
  let grid: FaceGrid | undefined;
  return {
    ...built,
    get faceGrid() {
      grid ??= faceGrid(built.gridOf);
      return grid;
    },
  };
}

function dressed(id: string, mark: Mark, mesh: PersonMesh): BuiltPerson {
  const asked = mark.complexion ?? mesh.complexion;
  const complexion = (SKIN_CLASSES as readonly string[]).includes(asked) ? (asked as SkinClass) : 'light';
  const s = skin(complexion);
  const hair = mark.hair ?? mesh.hairColour;
  const cloth = (hex: string, name: string, sort: Mark['topCloth'] = 'plain'): Material => ({
    name,
    // Soaked cloth is darker by about half (judgement).
    reflectance: reflectanceFromColour(hex, brightness(hex) * (sort === 'wet' ? 0.55 : 1)),
    kind: 'opaque',
    ...(sort === 'plain' ? {} : { gloss: CLOTH_GLOSS[sort] }),
  });
  // Satin and what is soaked lies smooth; leather is no cloth.
  const topRelief: Relief | undefined =
    mark.topCloth === undefined || mark.topCloth === 'plain'
      ? { kind: mesh.topKnit ? 'knit' : 'woven', tubes: mesh.tubes }
      : undefined;
  const wet = { f0: 0.03, roughness: 0.16 };
  /** 0 darkest … 1 fair. */
  const fair = Math.min(1, s.luminousReflectance / 0.36);
  // Redder and a little darker than the skin around: less below 600 nm (judgement).
  const lips = s.reflectance.map((v, i) => v * (FIRST_NM + STEP_NM * i < 590 ? 0.62 : 0.86));
  const materials: Record<PersonSlot, Material> = {
    skin: {
      name: `skin, ${complexion}`,
      reflectance: s.reflectance,
      kind: 'opaque',
      gloss: { f0: 0.028, roughness: 0.5 },
      under: under(s.reflectance),
      relief: { kind: 'skin', fingers: mesh.fingers },
    },
    lips: {
      name: 'lips',
      reflectance: lips,
      kind: 'opaque',
      under: under(lips),
      relief: { kind: 'lips' },
      gloss: { f0: 0.03, roughness: 0.35 },
    },
    scalp: {
      name: 'scalp',
      reflectance: mixed(s.reflectance, reflectanceFromColour(hair, brightness(hair)), 0.6),
      kind: 'opaque',
    },
    mouth: { name: 'mouth', reflectance: reflectanceFromColour('#7a3030', 0.06), kind: 'opaque' },
    hair: {
      name: 'hair',
      reflectance: reflectanceFromColour(hair, brightness(hair)),
      kind: 'opaque',
      fibre: { through: throughFor(brightness(hair)) },
    },
    // What lies under the strands, and all of the hair from far off.
    'hair-mass': {
      name: 'hair',
      reflectance: reflectanceFromColour(hair, brightness(hair)),
      kind: 'opaque',
      gloss: { f0: 0.046, roughness: 0.4 },
    },
    // Light that goes in among hairs comes out less: six tenths (judgement), and no gloss of its own.
    'hair-within': {
      name: 'hair in the depth',
      reflectance: reflectanceFromColour(hair, 0.6 * brightness(hair)),
      kind: 'opaque',
    },
    brow: { name: 'brow', reflectance: reflectanceFromColour(hair, 0.8 * brightness(hair)), kind: 'opaque' },
    lash: { name: 'lash', reflectance: constant(0.03), kind: 'opaque' },
    'eye-white': {
      name: 'white of the eye',
      // Wet and veined, it is no white card, and duller the darker the skin (judgement).
      reflectance: reflectanceFromColour('#efe6df', 0.42 * (0.6 + 0.4 * fair)),
      kind: 'opaque',
      gloss: wet,
    },
    iris: {
      name: 'iris',
      // Hazel to dark brown with the skin (judgement).
      reflectance: reflectanceFromColour(fair < 0.4 ? '#4a3322' : '#6b5238', 0.018 + 0.072 * fair),
      kind: 'opaque',
      gloss: wet,
    },
    pupil: { name: 'pupil', reflectance: constant(0.01), kind: 'opaque', gloss: wet },
    top: {
      ...cloth(mark.top ?? mesh.wardrobe.top, 'top', mark.topCloth),
      ...(topRelief ? { relief: topRelief } : {}),
    },
    bottom: {
      ...cloth(mark.bottom ?? mesh.wardrobe.bottom, 'trousers', mark.bottomCloth),
      ...(mark.bottomCloth === undefined || mark.bottomCloth === 'plain' ? { relief: WOVEN } : {}),
    },
    frame: {
      name: 'spectacle frame',
      reflectance: constant(0.03),
      kind: 'opaque',
      gloss: { f0: 0.05, roughness: 0.2 },
    },
    // A lens of index 1.5, 4 % a face; what it bends of the sight through it is left out.
    lens: { name: 'spectacle lens', reflectance: constant(0), kind: 'glass' },
    hat: cloth('#3a352e', 'hat'),
    shoes: { ...cloth(mesh.wardrobe.shoes, 'shoes'), gloss: { f0: 0.04, roughness: 0.4 } },
  };
  const body: Body = {
    part: { id: `person:${id}`, words: mark.name, kind: 'person', moving: true },
    positions: mesh.positions,
    normals: mesh.normals,
    indices: mesh.indices,
    rest: mesh.rest,
    material: Uint16Array.from(mesh.material),
    materials: mesh.slots.map((slot) => materials[slot]),
    patch: Uint32Array.from(mesh.group),
  };
  const p = mesh.points;
  return withGrid({
    body,
    face: {
      forehead: p.forehead,
      cheekL: p.cheekL,
      cheekR: p.cheekR,
      noseTip: p.noseTip,
      chin: p.chin,
      eyeL: p.eyeL,
      eyeR: p.eyeR,
      throat: p.throat,
      facing: mesh.facing,
    },
    gridOf: mesh.gridOf,
    skinReflectance: s.luminousReflectance,
    notes: s.extrapolated
      ? [
          `${mark.name}: skin darker than any measured in the published set; its spectrum is continued from it.`,
        ]
      : [],
  });
}

/** How far light spreads under a skin that returns so much of it. */
const under = (reflectance: Spectrum): { lengthM: Spectrum } => ({
  lengthM: reflectance.map((v, i) => profileLengthM(v, FIRST_NM + STEP_NM * i)),
});

const mixed = (a: Float64Array, b: Float64Array, t: number): Float64Array =>
  a.map((v, i) => v * (1 - t) + b[i]! * t);

/** Luminous reflectance of a cloth named by its screen colour: linear BT.709 luminance, held to what cloth is. */
function brightness(hex: string): number {
  const c = [1, 3, 5].map((i) => {
    const v = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  });
  return Math.min(0.85, Math.max(0.015, 0.2126 * c[0]! + 0.7152 * c[1]! + 0.0722 * c[2]!));
}
