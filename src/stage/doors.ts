/** Barn doors: four thin blades hinged at the edges of the face. */
import { add, DEG, scale, type Vec3 } from '../maths/vec3.ts';
import { BLACK_PAINT } from './finish.ts';
import { frameOfHead, type HousingSpec, halfFace } from './head.ts';
import { bodyOf, draft, newPatch, polygon, slotOf } from './mesh.ts';
import type { Body } from './stage.ts';

const BLADE_M = 0.0015;
/** Hinges stand this far outside the face and ahead of its plane, metres. */
const HINGE_OUT_M = 0.006;
const HINGE_AHEAD_M = 0.004;

type Doors = NonNullable<HousingSpec['doors']>;

/** A blade's four corners in the head's frame (x to the right of one who faces it, y up, z along the beam). */
export function bladeOf(
  s: HousingSpec,
  doors: Doors,
  which: 'top' | 'bottom' | 'left' | 'right',
): readonly [Vec3, Vec3, Vec3, Vec3] {
  const [hx, hy] = halfFace(s);
  const long = doors.lengthM ?? 1.5 * Math.max(hx, hy);
  const level = which === 'top' || which === 'bottom';
  const sign = which === 'top' || which === 'right' ? 1 : -1;
  const edge = (level ? hy : hx) + HINGE_OUT_M;
  const half = level ? hx : hy;
  // Upper and lower blades widen outward; the side blades fold between them.
  const tip = level ? half * 1.25 : half * 0.9;
  const open = doors[which] * DEG;
  const out = Math.sin(open) * long;
  const ahead = HINGE_AHEAD_M + Math.cos(open) * long;
  const point = (along: number, across: number, z: number): Vec3 =>
    level ? [along, sign * across, z] : [sign * across, along, z];
  return [
    point(-half, edge, HINGE_AHEAD_M),
    point(half, edge, HINGE_AHEAD_M),
    point(tip, edge + out, ahead),
    point(-tip, edge + out, ahead),
  ];
}

/** The four blades as one body (part `doors:<id>`), 1.5 mm thick, black. */
export function doorsBody(s: HousingSpec, doors: Doors): Body {
  const d = draft(frameOfHead(s));
  const slot = slotOf(d, BLACK_PAINT);
  for (const which of ['top', 'bottom', 'left', 'right'] as const) {
    const inner = bladeOf(s, doors, which);
    // Thickness away from the beam.
    const open = doors[which] * DEG;
    const level = which === 'top' || which === 'bottom';
    const sign = which === 'top' || which === 'right' ? 1 : -1;
    const c = Math.cos(open) * sign;
    const away: Vec3 = level ? [0, c, -Math.sin(open)] : [c, 0, -Math.sin(open)];
    const outer = inner.map((p) => add(p, scale(away, BLADE_M)));
    // Corners run so that `inner` faces the beam, whichever blade it is.
    const turn = which === 'top' || which === 'left';
    const a = turn ? [...inner] : [...inner].reverse();
    const b = turn ? outer : [...outer].reverse();
    const face = newPatch(d);
    const behind = newPatch(d);
    polygon(d, a, slot, face);
    polygon(d, [...b].reverse(), slot, behind);
    for (let k = 0; k < 4; k++) {
      const e = (k + 1) % 4;
      polygon(d, [b[k]!, b[e]!, a[e]!, a[k]!], slot, behind);
    }
  }
  return bodyOf(d, {
    id: `doors:${s.id}`,
    words: `the doors of ${s.words}`,
    kind: 'lamp-door',
    moving: true,
  });
}
