/**
 * An angle of a shoot as geometry: stage, layers, view, marks and spots. Built from parts kept by content: the
 * still half of a place is made once, a person once per way of standing; a lamp that moves remakes only itself.
 */
import { diffusionById } from '../light/diffusion.ts';
import { add, scale, type Vec3 } from '../maths/vec3.ts';
import { lookedAt } from '../shoot/looks.ts';
import { type AngleRef, type RigForAngle, rigFor } from '../shoot/rigFor.ts';
import { roomBy } from '../shoot/rooms.ts';
import type { Furniture, Mark, Place, RigFlag, RigLamp, Shoot } from '../shoot/schema.ts';
import { withMoving } from '../stage/assemble.ts';
import { buildFlag, type FlagSpec, frameOfFlag } from '../stage/flag.ts';
import type { HousingSpec } from '../stage/head.ts';
import { buildHead, yokeOf } from '../stage/lampbody.ts';
import type { PeopleData } from '../stage/people/person.ts';
import { ceilingOver } from '../stage/slope.ts';
import type { Body, FacePoints } from '../stage/stage.ts';
import { buildSupport, legDegWithin } from '../stage/support.ts';
import type { Frame } from '../transport/relay.ts';
import type { Layer } from '../transport/scene.ts';
import { airOf } from './air.ts';
import type { AngleGeometry, LampGeometry, MarkGeometry, SpotGeometry } from './angle.ts';
import { dayShapesOf } from './daylight.ts';
import { beamDegOf, kindOf, layersOf, poseOf, sizeOf } from './lamps.ts';
import { facingOf, personOn, personPart, type StagePart } from './people.ts';
import { finishOf, stillOf, stillPart } from './still.ts';
import { viewOf } from './view.ts';

/** Half of what is before a face, degrees: what lies beyond nobody looks at with the eyes alone. */
const BEFORE_DEG = 40;

/** What a person looks at: what they were told to, else the nearest face in front; undefined: straight ahead. */
function gazeOf(marks: [string, Mark, number][], id: string, rig: RigForAngle): Vec3 | undefined {
  const own = marks.find(([m]) => m === id)!;
  const [, mark, facing] = own;
  const told = mark.looksAt === undefined ? undefined : lookedAt(rig.scene, rig.place, mark.looksAt);
  if (told && awayDeg(mark.at, told, facing) < BEFORE_DEG) return told;
  let best: { at: Vec3; d: number } | undefined;
  for (const [other, m] of marks) {
    if (other === id || m.person === undefined) continue;
    const dx = m.at[0] - mark.at[0];
    const dy = m.at[1] - mark.at[1];
    const d = Math.hypot(dx, dy);
    if (awayDeg(mark.at, m.at, facing) < BEFORE_DEG && (!best || d < best.d))
      best = { at: [m.at[0], m.at[1], m.eyeM], d };
  }
  return best?.at;
}

/** How far a point lies off the way a face looks, degrees. */
const awayDeg = (from: readonly number[], to: readonly number[], facing: number): number =>
  Math.abs(
    (((((Math.atan2(to[1]! - from[1]!, to[0]! - from[0]!) * 180) / Math.PI - facing) % 360) + 540) % 360) -
      180,
  );

const movers = new Map<string, Body[]>();
function kept(key: string, make: () => Body[]): Body[] {
  const found = movers.get(key);
  if (found) return found;
  const made = make();
  if (movers.size > 300) movers.delete(movers.keys().next().value as string);
  movers.set(key, made);
  return made;
}

/** People who are there in an angle, facing as it asks. */
const presentIn = (rig: RigForAngle, angle: string): [string, Mark, number][] =>
  Object.entries(rig.scene.marks)
    .filter(([, m]) => m.present === undefined || m.present.includes(angle))
    .map(([id, m]) => [id, m, facingOf(m, rig.angle.facings?.[id])]);

/** What takes longest to build of some angles' stages: people and places, each once; people first. */
export function stageParts(
  shoot: Shoot,
  refs: readonly AngleRef[],
  people: PeopleData,
  detail: 'near' | 'medium' | 'far' = 'near',
): StagePart[] {
  const parts = new Map<string, StagePart>();
  const add = (part: StagePart | undefined) => part && parts.set(part.key, part);
  const rigs = refs.map((ref) => ({ ref, rig: rigFor(shoot, ref) }));
  for (const { ref, rig } of rigs) {
    const present = presentIn(rig, ref.angle);
    for (const [id, mark, facingDeg] of present)
      add(personPart(id, mark, facingDeg, gazeOf(present, id, rig), detail, people));
  }
  for (const { rig } of rigs) add(stillPart(shoot.places[rig.scene.place]!));
  return [...parts.values()];
}

export function geometryOf(
  shoot: Shoot,
  ref: AngleRef,
  people: PeopleData | undefined,
  detail: 'near' | 'medium' | 'far' = 'near',
): AngleGeometry {
  const rig = rigFor(shoot, ref);
  const place = shoot.places[rig.scene.place]!;
  const still = stillOf(place);
  const notes = [...still.notes];
  const moving: Body[] = [];
  const faces: Record<string, FacePoints> = {};

  const present = presentIn(rig, ref.angle);
  const built = present.map(([id, mark, facingDeg]) => {
    const person = people
      ? personOn(id, mark, facingDeg, gazeOf(present, id, rig), detail, people)
      : undefined;
    if (person) {
      moving.push(person.body);
      faces[person.body.part.id] = person.face;
      notes.push(...person.notes);
    }
    return { id, mark, facingDeg, person };
  });

  // Lamps: housing, doors, support; and their layers.
  const layers: Layer[] = [];
  const lamps: (LampGeometry & { head: string; support: string })[] = [];
  for (const [id, lamp] of Object.entries(rig.lamps)) {
    const kind = kindOf(shoot.kit.lamps[lamp.head]);
    if (!kind) continue;
    moving.push(...lampParts(id, lamp, shoot, place));
    const pose = poseOf(lamp);
    const own = layersOf(id, lamp, kind);
    lamps.push({
      id,
      at: lamp.at as Vec3,
      axis: pose.axis,
      sizeM: sizeOf(kind),
      layers: own.map((_, i) => layers.length + i),
      headPart: -1,
      supportPart: -1,
      beamDeg: beamDegOf(lamp, kind),
      head: `lamp:${id}`,
      support: `support:${id}`,
    });
    layers.push(...own.map((l) => ({ ...l, ownParts: [] })));
  }
  for (const [id, flag] of Object.entries(rig.flags)) moving.push(...flagParts(id, flag));

  // Daylight: a layer each.
  const daylight = dayShapesOf(rig).map(({ id, at, axis, sizeM, emitters }): LampGeometry => {
    layers.push({ id, lamp: id, emitters, key: JSON.stringify(emitters), ownParts: [] });
    return {
      id,
      at,
      axis,
      sizeM,
      layers: [layers.length - 1],
      headPart: -1,
      supportPart: -1,
      beamDeg: 180,
    };
  });

  const stage = withMoving(still.half, moving, faces, airOf(rig.scene.air, place));
  const partOf = new Map(stage.parts.map((p, i) => [p.id, i]));
  const part = (id: string) => partOf.get(id) ?? -1;
  const view = viewOf(rig.angle);
  return {
    scene: ref.scene,
    angle: ref.angle,
    rig,
    transport: { stage, layers },
    view,
    lamps: lamps.map(({ head, support, ...l }) => ({
      ...l,
      headPart: part(head),
      supportPart: part(support),
    })),
    daylight,
    marks: built.map(
      ({ id, mark, facingDeg, person }): MarkGeometry => ({
        id,
        eyes: [mark.at[0], mark.at[1], mark.eyeM],
        facingDeg,
        part: person ? part(person.body.part.id) : -1,
        face: person?.face,
        get faceGrid() {
          return person?.faceGrid;
        },
        skinReflectance: person?.skinReflectance ?? 0.36,
      }),
    ),
    spots: Object.entries(rig.scene.spots).map(
      ([id, s]): SpotGeometry => ({
        id,
        at: s.at as Vec3,
        normal: s.normal as Vec3,
        reflectance: s.reflectance,
        kind: s.kind,
      }),
    ),
    frames: framesOf(rig.flags),
    relayOf: [],
    notes,
    viewKey: `${stage.shapeKey}|${JSON.stringify(view)}`,
  };
}

function lampParts(id: string, lamp: RigLamp, shoot: Shoot, place: Place): Body[] {
  const head = shoot.kit.lamps[lamp.head]!;
  const kind = kindOf(head)!;
  const words = lamp.words ?? kind.words;
  const rigging = lamp.support.on ? place.rigging[lamp.support.on] : undefined;
  const stoodOn = lamp.support.on ? place.furniture[lamp.support.on] : undefined;
  const within = lamp.practical === true && Object.values(place.furniture).some((f) => holds(f, lamp.at));
  return kept(
    JSON.stringify([
      id,
      words,
      kind.id,
      within,
      lamp.at,
      lamp.aim,
      lamp.rollDeg,
      lamp.doors,
      lamp.support,
      lamp.practical,
      place.ceilingM,
      place.slopes,
      place.outline,
      place.rooms,
      rigging,
      stoodOn,
    ]),
    () => {
      const { axis, up } = poseOf(lamp);
      const e = kind.emitter;
      const s = lamp.support;
      const spec: HousingSpec = {
        id,
        words: `the head of ${words}`,
        kind: bodyKind(kind.id, e.kind),
        at: lamp.at as Vec3,
        axis,
        up,
        ...(e.kind === 'rectangle'
          ? { faceM: [e.widthM, e.heightM] as const }
          : e.kind === 'tube'
            ? { faceM: [e.lengthM, e.diameterM] as const }
            : { faceRadiusM: e.diameterM / 2 }),
        bodyDepthM: kind.housing.depthM,
        bodyM: [kind.housing.widthM, kind.housing.heightM],
        ...(lamp.doors ? { doors: { ...lamp.doors } } : {}),
        hung: s.kind === 'clamp' || s.kind === 'hung',
        // A floor foot is itself the bow that holds the head.
        bare: s.kind === 'foot' || s.kind === 'hand',
      };
      const bodies = buildHead(spec);
      const foot = yokeOf(spec)?.foot ?? add(lamp.at as Vec3, scale(axis, -kind.housing.depthM));
      const common = { id, words: `the ${s.kind} of ${words}` };
      switch (s.kind) {
        case 'stand':
          bodies.push(
            buildSupport({
              ...common,
              kind: 'stand',
              top: foot,
              baseZ: s.baseM ?? 0,
              footM: s.footM ?? 0.45,
              legDeg: legDegWithin(foot, s.footM ?? 0.45, roomBy(place, [foot[0], foot[1]]).outline),
            }),
          );
          break;
        case 'clamp':
          if (rigging) {
            const on = nearestOnLine(rigging.from as Vec3, rigging.to as Vec3, foot);
            const along: Vec3 = [
              rigging.to[0] - rigging.from[0],
              rigging.to[1] - rigging.from[1],
              rigging.to[2] - rigging.from[2],
            ];
            bodies.push(
              buildSupport({
                ...common,
                kind: 'clamp',
                top: on,
                end: foot,
                grip: { widthM: rigging.widthM, depthM: rigging.depthM, along },
              }),
            );
          }
          break;
        case 'foot':
          // A lantern or a standard lamp stands on feet of its own.
          if (within) break;
          bodies.push(
            buildSupport({
              ...common,
              kind: 'foot',
              base: [lamp.at[0], lamp.at[1], s.baseM ?? 0],
              end: add(lamp.at as Vec3, scale(axis, -kind.housing.depthM / 2)),
              widthM: kind.housing.widthM,
              facing: axis,
            }),
          );
          break;
        case 'hung':
          bodies.push(
            buildSupport({
              ...common,
              kind: 'hung',
              from: [lamp.at[0], lamp.at[1], ceilingOver(place, lamp.at[0], lamp.at[1]) ?? lamp.at[2] + 1],
              end: add(lamp.at as Vec3, [0, 0, 0.06]),
            }),
          );
          break;
        default:
          break; // A lamp on a wall or in a hand shows its head only.
      }
      return bodies;
    },
  );
}

/** Is a place within what a thing takes up, however it is turned? */
function holds({ at, sizeM }: Furniture, p: readonly number[]): boolean {
  return (
    Math.hypot(p[0]! - at[0], p[1]! - at[1]) < Math.min(sizeM[0], sizeM[1]) / 2 &&
    p[2]! > at[2] &&
    p[2]! < at[2] + sizeM[2]
  );
}

function nearestOnLine(a: Vec3, b: Vec3, p: Vec3): Vec3 {
  const d: Vec3 = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const l2 = d[0] ** 2 + d[1] ** 2 + d[2] ** 2;
  const t = l2 > 0 ? ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1] + (p[2] - a[2]) * d[2]) / l2 : 0;
  return add(a, scale(d, Math.max(0, Math.min(1, t))));
}

function bodyKind(id: string, emitter: string): HousingSpec['kind'] {
  if (emitter === 'tube') return 'tube';
  if (emitter === 'sphere') return 'bulb';
  if (id.startsWith('open-face')) return 'open-face';
  if (id.includes('flood')) return 'floodlight';
  if (emitter === 'rectangle') return 'panel';
  return id.startsWith('led-spot') ? 'spot' : 'fresnel';
}

/** What a frame's sheet passes straight and scattered, 0–1; a sheet nobody knows counts as full white. */
function sheetOf(f: RigFlag): { straight: number; scattered: number } {
  const d = diffusionById(f.sheet ?? '') ?? diffusionById('full-white')!;
  return {
    straight: d.transmittance * d.straightShare,
    scattered: d.transmittance * (1 - d.straightShare),
  };
}

/** Frames with diffusion that stand in this angle, as relays. */
function framesOf(flags: Readonly<Record<string, RigFlag>>): Frame[] {
  return Object.entries(flags)
    .filter(([, f]) => f.kind === 'frame')
    .map(([id, f]) => {
      const frame = frameOfFlag({
        ...f,
        id,
        words: id,
        at: f.at as Vec3,
        facing: f.facing as Vec3,
      } as FlagSpec);
      return {
        id,
        centre: f.at as Vec3,
        axis: frame.z,
        up: frame.y,
        widthM: f.sizeM[0],
        heightM: f.sizeM[1],
        scattered: sheetOf(f).scattered,
      };
    });
}

const flagParts = (id: string, f: RigFlag): Body[] =>
  kept(JSON.stringify([id, f]), () =>
    buildFlag({
      id,
      words: f.words ?? id,
      kind: f.kind,
      at: f.at as Vec3,
      facing: f.facing as Vec3,
      sizeM: f.sizeM,
      ...(f.kind === 'frame'
        ? { straight: sheetOf(f).straight, passes: sheetOf(f).straight + sheetOf(f).scattered }
        : {}),
      ...(f.finish ? { finish: finishOf(f.finish) } : {}),
      ...(f.rollDeg === undefined ? {} : { rollDeg: f.rollDeg }),
      ...(f.pattern ? { pattern: { kind: f.pattern.kind, detail: f.pattern.detail ?? {} } } : {}),
    }),
  );
