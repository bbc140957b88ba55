/**
 * An angle of a shoot as geometry: stage, layers, view, marks and spots. Built from parts kept by content: the
 * still half of a place is made once, a person once per way of standing; a lamp that moves remakes only itself.
 */
import { add, scale, type Vec3 } from '../maths/vec3.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Finish, Furniture, Mark, Place, RigFlag, RigLamp, Shoot } from '../shoot/schema.ts';
import { type StillHalf, stillHalf, withMoving } from '../stage/assemble.ts';
import type { FinishSpec } from '../stage/finish.ts';
import { flagBodies } from '../stage/flag.ts';
import { buildFurniture } from '../stage/furniture.ts';
import { lampBodies } from '../stage/lampbody.ts';
import type { PeopleData } from '../stage/people/person.ts';
import { riggingBody } from '../stage/rigging.ts';
import { buildRoom } from '../stage/room.ts';
import type { Body, FacePoints } from '../stage/stage.ts';
import { supportBody } from '../stage/support.ts';
import type { Layer } from '../transport/scene.ts';
import type { AngleGeometry, LampGeometry, MarkGeometry, SpotGeometry } from './angle.ts';
import { beamDegOf, kindOf, layersOf, poseOf, sizeOf } from './lamps.ts';
import { facingOf, personOn } from './people.ts';
import { viewOf } from './view.ts';

const finishOf = (f: Finish): FinishSpec => ({
  reflectance: f.reflectance,
  ...(f.words === undefined ? {} : { words: f.words }),
  ...(f.colour === undefined ? {} : { colour: f.colour }),
  ...(f.glossF0 === undefined ? {} : { glossF0: f.glossF0 }),
  ...(f.roughness === undefined ? {} : { roughness: f.roughness }),
  ...(f.mirror === undefined ? {} : { mirror: f.mirror }),
});

const thingOf = (id: string, f: Furniture) => ({
  id,
  kind: f.kind,
  words: f.words ?? id,
  at: f.at as Vec3,
  sizeM: f.sizeM as Vec3,
  finish: finishOf(f.finish),
  ...(f.turnDeg === undefined ? {} : { turnDeg: f.turnDeg }),
  ...(f.finishes === undefined
    ? {}
    : { finishes: Object.fromEntries(Object.entries(f.finishes).map(([k, v]) => [k, finishOf(v)])) }),
  ...(f.detail === undefined ? {} : { detail: f.detail }),
});

interface Still {
  half: StillHalf;
  notes: string[];
}
const stills = new Map<string, Still>();

/** The place as it stands still, kept by the content of the document's record. */
export function stillOf(place: Place): Still {
  const key = JSON.stringify([
    place.outline,
    place.ceilingM,
    place.floor,
    place.ceiling,
    place.walls,
    place.wallFinishes,
    place.openings,
    place.furniture,
    place.rigging,
    place.outside,
  ]);
  const found = stills.get(key);
  if (found) return found;
  const notes: string[] = [];
  const room = buildRoom({
    outline: place.outline,
    ...(place.ceilingM === undefined ? {} : { ceilingM: place.ceilingM }),
    floor: finishOf(place.floor),
    ...(place.ceiling ? { ceiling: finishOf(place.ceiling) } : {}),
    walls: finishOf(place.walls),
    ...(place.wallFinishes
      ? {
          wallFinishes: Object.fromEntries(
            Object.entries(place.wallFinishes).map(([k, v]) => [k, finishOf(v)]),
          ),
        }
      : {}),
    openings: Object.fromEntries(
      Object.entries(place.openings).map(([id, o]) => [
        id,
        {
          kind: o.kind,
          wall: o.wall,
          fromM: o.fromM,
          toM: o.toM,
          sillM: o.sillM,
          headM: o.headM,
          fill: o.fill,
          ...(o.words === undefined ? {} : { words: o.words }),
          ...(o.leafDeg === undefined ? {} : { leafDeg: o.leafDeg }),
          ...(o.finish === undefined ? {} : { finish: finishOf(o.finish) }),
        },
      ]),
    ),
    ...(place.outside
      ? { outside: { groundM: place.outside.groundM, ground: finishOf(place.outside.ground) } }
      : {}),
  });
  const bodies: Body[] = [...room.bodies];
  notes.push(...room.notes);
  const things = buildFurniture(Object.entries(place.furniture).map(([id, f]) => thingOf(id, f)));
  bodies.push(...things.bodies);
  notes.push(...things.notes);
  if (place.outside?.furniture) {
    const out = buildFurniture(
      Object.entries(place.outside.furniture).map(([id, f]) => thingOf(id, f)),
      'outside',
    );
    bodies.push(...out.bodies);
    notes.push(...out.notes);
  }
  for (const [id, r] of Object.entries(place.rigging)) {
    // A cupboard one can clamp to is drawn as furniture already.
    if (r.kind === 'cupboard') continue;
    bodies.push(
      riggingBody({
        id,
        words: r.words ?? r.kind,
        kind: r.kind,
        from: r.from as Vec3,
        to: r.to as Vec3,
        widthM: r.widthM,
        depthM: r.depthM,
        finish: finishOf(r.finish),
      }),
    );
  }
  const made = { half: stillHalf(bodies), notes };
  if (stills.size > 8) stills.delete(stills.keys().next().value as string);
  stills.set(key, made);
  return made;
}

/** The other faces of a scene that a person looks at: the nearest one in front; undefined: straight ahead. */
function gazeOf(marks: [string, Mark, number][], id: string): Vec3 | undefined {
  const own = marks.find(([m]) => m === id)!;
  const [, mark, facing] = own;
  let best: { at: Vec3; d: number } | undefined;
  for (const [other, m] of marks) {
    if (other === id || m.person === undefined) continue;
    const dx = m.at[0] - mark.at[0];
    const dy = m.at[1] - mark.at[1];
    const d = Math.hypot(dx, dy);
    const off = Math.abs((((((Math.atan2(dy, dx) * 180) / Math.PI - facing) % 360) + 540) % 360) - 180);
    if (off < 40 && (!best || d < best.d)) best = { at: [m.at[0], m.at[1], m.eyeM], d };
  }
  return best?.at;
}

const movers = new Map<string, Body[]>();
function kept(key: string, make: () => Body[]): Body[] {
  const found = movers.get(key);
  if (found) return found;
  const made = make();
  if (movers.size > 300) movers.delete(movers.keys().next().value as string);
  movers.set(key, made);
  return made;
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

  // People who are there in this angle, facing as this angle asks.
  const present = Object.entries(rig.scene.marks)
    .filter(([, m]) => m.present === undefined || m.present.includes(ref.angle))
    .map(([id, m]): [string, Mark, number] => [id, m, facingOf(m, rig.angle.facings?.[id])]);
  const built = present.map(([id, mark, facingDeg]) => {
    const person = people ? personOn(id, mark, facingDeg, gazeOf(present, id), detail, people) : undefined;
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

  const stage = withMoving(still.half, moving, faces);
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
    marks: built.map(
      ({ id, mark, facingDeg, person }): MarkGeometry => ({
        id,
        eyes: [mark.at[0], mark.at[1], mark.eyeM],
        facingDeg,
        part: person ? part(person.body.part.id) : -1,
        face: person?.face,
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
    notes,
    viewKey: `${stage.key}|${JSON.stringify(view)}`,
  };
}

function lampParts(id: string, lamp: RigLamp, shoot: Shoot, place: Place): Body[] {
  const head = shoot.kit.lamps[lamp.head]!;
  const kind = kindOf(head)!;
  const words = lamp.words ?? kind.words;
  return kept(
    JSON.stringify([
      id,
      words,
      kind.id,
      lamp.at,
      lamp.aim,
      lamp.rollDeg,
      lamp.doors,
      lamp.support,
      place.ceilingM,
      place.rigging[lamp.support.on ?? ''],
    ]),
    () => {
      const { axis, up } = poseOf(lamp);
      const e = kind.emitter;
      const bodies = lampBodies({
        id,
        words: `the head of ${words}`,
        kind: bodyKind(kind.id, e.kind),
        at: lamp.at as Vec3,
        axis,
        up,
        faceWM: e.kind === 'rectangle' ? e.widthM : e.kind === 'tube' ? e.lengthM : e.diameterM,
        faceHM: e.kind === 'rectangle' ? e.heightM : e.kind === 'tube' ? e.diameterM : e.diameterM,
        round: e.kind !== 'rectangle',
        housingWM: kind.housing.widthM,
        housingHM: kind.housing.heightM,
        depthM: kind.housing.depthM,
        ...(lamp.doors
          ? {
              doors: {
                topDeg: lamp.doors.top,
                bottomDeg: lamp.doors.bottom,
                leftDeg: lamp.doors.left,
                rightDeg: lamp.doors.right,
                lengthM: 0.9 * (e.kind === 'rectangle' ? e.heightM : e.kind === 'disc' ? e.diameterM : 0.1),
              },
            }
          : {}),
      });
      const s = lamp.support;
      const rigging = s.on ? place.rigging[s.on] : undefined;
      // Where the support takes hold of the head: behind the face, at its middle.
      const behind = add(lamp.at as Vec3, scale(axis, -kind.housing.depthM * 0.55));
      const support = supportBody({
        id,
        words: `the ${s.kind} of ${words}`,
        kind: s.kind,
        head: behind,
        baseM: s.baseM ?? 0,
        footM: s.footM ?? 0.45,
        topM: rigging ? rigging.from[2] : (place.ceilingM ?? behind[2] + 1),
      });
      if (support) bodies.push(support);
      return bodies;
    },
  );
}

function bodyKind(
  id: string,
  emitter: string,
): 'fresnel' | 'open-face' | 'floodlight' | 'panel' | 'tube' | 'bulb' | 'spot' {
  if (emitter === 'tube') return 'tube';
  if (emitter === 'sphere') return 'bulb';
  if (id.startsWith('open-face')) return 'open-face';
  if (id.includes('flood')) return 'floodlight';
  if (emitter === 'rectangle') return 'panel';
  return id.startsWith('led-spot') ? 'spot' : 'fresnel';
}

const flagParts = (id: string, f: RigFlag): Body[] =>
  kept(JSON.stringify([id, f]), () =>
    flagBodies({
      id,
      words: f.words ?? id,
      kind: f.kind,
      at: f.at as Vec3,
      facing: f.facing as Vec3,
      widthM: f.sizeM[0],
      heightM: f.sizeM[1],
      finish: f.finish ? finishOf(f.finish) : { words: 'black cloth', reflectance: 0.03 },
    }),
  );
