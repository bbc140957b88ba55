/**
 * What is sharp in an angle: nearest and farthest limit and hyperfocal distance for its lens, stop and the face it is
 * focused on, by the thin-lens forms over a circle of confusion of the picture's diagonal / 1500 [CHECKS-CAMERA §3.1].
 * The T-stop stands for the f-number: glass is a little faster than it passes light, so a little less is sharp.
 */

import { exactStop } from '../camera/exposure.ts';
import { circleOfConfusionMm, depthOfField } from '../camera/lens.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { inFrame, onFrame, viewOf } from '../setup/view.ts';
import type { RigForAngle } from '../shoot/rigFor.ts';

export interface Sharp {
  /** The mark focused on; undefined: what the camera looks at. */
  on: string | undefined;
  focusM: number;
  nearM: number;
  /** Infinity: everything behind. */
  farM: number;
  hyperfocalM: number;
  cMm: number;
  /** Marks in frame that are not within the limits. */
  soft: string[];
}

/** Focused on the face nearest to the middle of the frame, else on what the camera looks at. */
export function sharpIn(rig: RigForAngle, angle: string, on?: string): Sharp {
  const a = rig.angle;
  const view = viewOf(a);
  const faces = Object.entries(rig.scene.marks)
    .filter(([, m]) => m.person !== undefined && (m.present === undefined || m.present.includes(angle)))
    .map(([id, m]) => ({ id, f: onFrame(view, [m.at[0], m.at[1], m.eyeM] as Vec3) }))
    .filter(({ f }) => inFrame(f))
    .sort((p, q) => p.f.offAxis - q.f.offAxis);
  const face = faces.find((x) => x.id === on) ?? faces[0];
  const focusM = face?.f.depthM ?? Math.hypot(...a.lookAt.map((v, k) => v - a.at[k]!));
  const cMm = circleOfConfusionMm({ id: '', words: '', widthMm: a.sensorMm[0], heightMm: a.sensorMm[1] });
  const d = depthOfField(a.focalMm, exactStop(rig.camera.stop), cMm, focusM * 1000);
  const [nearM, farM] = [d.nearMm / 1000, d.farMm / 1000];
  return {
    on: face?.id,
    focusM,
    nearM,
    farM,
    hyperfocalM: d.hyperfocalMm / 1000,
    cMm,
    soft: faces.filter(({ f }) => f.depthM < nearM || f.depthM > farM).map((x) => x.id),
  };
}

/** “Sharp 1.90 to 2.12 m, focus A 2.00 m”: for a card. */
export function sharpShort(s: Sharp, length: (m: number) => string): string {
  const far = Number.isFinite(s.farM) ? `to ${length(s.farM)}` : 'to the horizon';
  return `Sharp ${length(s.nearM)} ${far}${s.on ? `, focus ${s.on} ${length(s.focusM)}` : ''}${s.soft.length ? `; ${s.soft.join(', ')} soft` : ''}`;
}

/** “sharp 1.92 to 2.09 m, focus on A at 2.00 m; hyperfocal 35.8 m (c 0.025 mm)”. `length` writes metres. */
export function sharpWords(s: Sharp, length: (m: number) => string): string {
  const far = Number.isFinite(s.farM) ? `to ${length(s.farM)}` : 'and all behind';
  const soft = s.soft.length ? `; ${s.soft.join(', ')} soft` : '';
  return `sharp from ${length(s.nearM)} ${far}, focus on ${s.on ?? 'what it looks at'} at ${length(s.focusM)}${soft}; hyperfocal ${length(s.hyperfocalM)} (c ${s.cMm.toFixed(3)} mm)`;
}
