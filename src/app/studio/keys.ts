/** By what the studio knows again what it has worked out: content as text. */

import { lightsOf } from '../../setup/angle.ts';
import { dayShapesOf } from '../../setup/daylight.ts';
import { kindOf, layersOf } from '../../setup/lamps.ts';
import type { AngleRef, RigForAngle } from '../../shoot/rigFor.ts';
import type { Shoot } from '../../shoot/schema.ts';
import type { Shown } from './shown.ts';

/** A picture's light hangs on this, at whatever size: where it is seen from and what lights it. */
export const startOf = (s: Shown) =>
  `${s.geometry.viewKey}|${s.geometry.transport.layers.map((l) => l.key).join()}|`;

export const keyOf = (s: Shown, size: { width: number; height: number }) =>
  `${startOf(s)}${size.width}x${size.height}`;

/** Where the meters are held and what lights them: shapes, not colours. */
export const metersKeyOf = (s: Shown) =>
  [
    s.geometry.viewKey,
    ...s.geometry.transport.layers.map((l) => l.key),
    JSON.stringify([
      s.geometry.marks.map((m) => [m.id, m.eyes, m.facingDeg, m.part]),
      s.geometry.spots,
      lightsOf(s.geometry).map((l) => l.at),
      s.rig.camera.whiteBalance.kind === 'read' ? s.rig.camera.whiteBalance : 0,
    ]),
  ].join('|');

/** What rays meet, as text: the record without levels, supplies, gels that only colour, and the camera's settings. */
export function geometryKeyOf(shoot: Shoot, rig: RigForAngle, ref: AngleRef): string {
  const { supply: _supply, ...place } = shoot.places[rig.scene.place]!;
  const lamps = Object.entries(rig.lamps).map(([id, l]) => {
    const { level: _l, on: _on, feed: _f, scrims: _s, sheets: _g, batteryWh: _b, number: _n, ...rest } = l;
    const kind = kindOf(shoot.kit.lamps[l.head]);
    // Sheets count only where they scatter, and so change the layers.
    return [id, rest, kind?.id, kind ? layersOf(id, l, kind).map((layer) => layer.key) : undefined];
  });
  const {
    meant: _m,
    wishes: _w,
    cheats: _c,
    camera: _k,
    name: _a,
    hour: _h,
    cutFrom: _f,
    ...angle
  } = rig.angle;
  const card = rig.camera.whiteBalance.kind === 'read' ? rig.camera.whiteBalance : undefined;
  // Of the day only what moves its lights; its level is a weight.
  const day = dayShapesOf(rig).map((d) => [d.id, d.emitters]);
  const { flags, scene } = rig;
  return JSON.stringify([
    ref,
    place,
    lamps,
    angle,
    flags,
    scene.marks,
    scene.spots,
    scene.air,
    card,
    day,
    looked(scene),
  ]);
}

/** Where the cameras stand that somebody looks at. */
const looked = (scene: RigForAngle['scene']) =>
  Object.values(scene.marks).map((m) =>
    m.looksAt?.startsWith('camera:') ? scene.angles[m.looksAt.slice(7)]?.at : 0,
  );

/** Everything an angle's troubles hang on, as text: the document but for what other angles cheat. */
export function stateKeyOf(shoot: Shoot, ref: AngleRef): string {
  const scene = shoot.scenes[ref.scene]!;
  const { angles, cut: _cut, ...rest } = scene;
  return JSON.stringify([ref, rest, angles, shoot.places[scene.place], shoot.kit, shoot.exposureConstant]);
}
