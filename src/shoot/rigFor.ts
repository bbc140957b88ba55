/** The rig an angle really has: the scene's rig with that angle's cheats laid over it, pure. */
import type { Angle, CameraSettings, Day, Place, RigFlag, RigLamp, Scene, Shoot } from './schema.ts';

export interface AngleRef {
  scene: string;
  angle: string;
}

export interface RigForAngle {
  scene: Scene;
  angle: Angle;
  /** Every lamp of the rig, cheats applied, by id in rig order. */
  lamps: Record<string, RigLamp>;
  /** Ids of lamps that this angle cheats. */
  cheated: readonly string[];
  /** Flags, boards and frames that stand in this angle. */
  flags: Record<string, RigFlag>;
  camera: CameraSettings;
  place: Place;
  /** Sun and sky at the hour this angle is shot. */
  day: Day | undefined;
}

/**
 * What a light is called: a lamp by its number on this rig, daylight by what it comes through. Ids of daylight have a
 * colon, which no lamp's has: `day:sun`, `day:moon`, `day:ground` and `day:sky` (seen from outside), `sky:<opening>`,
 * `ground:<opening>`, `window:<opening>` (a stated level).
 */
export const isDaylight = (id: string): boolean => id.includes(':');

export function lightName(
  rig: Pick<RigForAngle, 'lamps'> & { place?: Pick<Place, 'openings'> | undefined },
  id: string,
): string {
  const lamp = Object.hasOwn(rig.lamps, id) ? rig.lamps[id] : undefined;
  if (lamp) return lamp.number;
  const [what, opening] = id.split(':');
  if (opening === undefined) return id;
  if (what === 'day') return opening === 'ground' ? 'ground outside' : opening;
  const words = rig.place?.openings[opening]?.words ?? opening;
  return what === 'window' ? words : `${what}, ${words}`;
}

export function rigFor(shoot: Shoot, ref: AngleRef): RigForAngle {
  const scene = Object.hasOwn(shoot.scenes, ref.scene) ? shoot.scenes[ref.scene] : undefined;
  const angle = scene && Object.hasOwn(scene.angles, ref.angle) ? scene.angles[ref.angle] : undefined;
  if (!scene || !angle) throw new Error(`There is no angle ${ref.angle} in scene ${ref.scene}.`);
  const lamps: Record<string, RigLamp> = {};
  const cheated: string[] = [];
  for (const [id, lamp] of Object.entries(scene.rig.lamps)) {
    const cheat = angle.cheats[id];
    if (cheat) cheated.push(id);
    lamps[id] = cheat ? ({ ...lamp, ...cheat } as RigLamp) : lamp;
  }
  const flags: Record<string, RigFlag> = {};
  for (const [id, flag] of Object.entries(scene.rig.flags))
    if (!flag.angles || flag.angles.includes(ref.angle)) flags[id] = flag;
  return {
    scene,
    angle,
    lamps,
    cheated,
    flags,
    camera: { ...scene.camera, ...angle.camera } as CameraSettings,
    place: shoot.places[scene.place]!,
    day: scene.day && angle.hour !== undefined ? { ...scene.day, hour: angle.hour } : scene.day,
  };
}

/** Every angle of a shoot, in file order. */
export const anglesOf = (shoot: Shoot): AngleRef[] =>
  Object.entries(shoot.scenes).flatMap(([scene, s]) =>
    Object.keys(s.angles).map((angle) => ({ scene, angle })),
  );
