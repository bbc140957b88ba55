/** The rig an angle really has: the scene's rig with that angle's cheats laid over it, pure. */
import type { Angle, CameraSettings, RigFlag, RigLamp, Scene, Shoot } from './schema.ts';

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
  };
}

/** Every angle of a shoot, in file order. */
export const anglesOf = (shoot: Shoot): AngleRef[] =>
  Object.entries(shoot.scenes).flatMap(([scene, s]) =>
    Object.keys(s.angles).map((angle) => ({ scene, angle })),
  );
