/**
 * Lamp heads as bodies, to scale: housing behind the luminous face, yoke, doors. Nothing of a head but its doors
 * comes nearer than 2 mm to the plane of its face, so that it never stands in its own light. Shapes are generic.
 */
import { add, cross, dot, length, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { bar, box, cylinder } from './build.ts';
import { doorsBody } from './doors.ts';
import { BLACK_PAINT, CHROME, GREY_STEEL, WHITE_PLASTIC } from './finish.ts';
import { frameOfHead, type HousingSpec, halfFace } from './head.ts';
import { bodyOf, type Draft, draft, type Frame, newPatch, polygon, slotOf } from './mesh.ts';
import { roundBox } from './roundBox.ts';
import type { Body, Material } from './stage.ts';

/** Room between the face's plane and the housing, metres. */
const CLEAR_M = 0.003;

function bodySize(s: HousingSpec): readonly [number, number] {
  const [x, y] = halfFace(s);
  return s.bodyM ?? [2 * x + 0.04, 2 * y + 0.05];
}

/** Bodies of a head: housing with yoke, and the doors if it has them. */
export function buildHead(s: HousingSpec): Body[] {
  const f = frameOfHead(s);
  const d = draft(f);
  const black = slotOf(d, BLACK_PAINT);
  const [w, h] = bodySize(s);
  const deep = s.bodyDepthM;
  const x = w / 2;
  const y = h / 2;
  const front = -CLEAR_M;
  const back = front - deep;
  switch (s.kind) {
    case 'fresnel': {
      // Case, narrower behind; vents on top and a knob at the back.
      roundBox(d, [-x, -y, front - deep * 0.55], [x, y * 0.86, front], 0.008, black);
      taper(d, [x, y * 0.86, -y], front - deep * 0.55, [x * 0.8, y * 0.7, -y], back, black);
      box(d, [-x * 0.7, y * 0.86, front - deep * 0.5], [x * 0.7, y, front - deep * 0.1], black);
      cylinder(d, [0, -y * 0.6, back], [0, -y * 0.6, back - 0.025], 0.014, black);
      break;
    }
    case 'open-face': {
      roundBox(d, [-x, -y, front - deep * 0.35], [x, y, front], 0.006, black);
      taper(d, [x, y, -y], front - deep * 0.35, [x * 0.6, y * 0.6, -y * 0.6], back, black);
      cylinder(d, [0, -y * 0.5, back], [0, -y * 0.5, back - 0.03], 0.014, black);
      break;
    }
    case 'floodlight': {
      box(d, [-x, -y, front - deep * 0.25], [x, y, front], black);
      taper(d, [x, y, -y], front - deep * 0.25, [x * 0.55, y * 0.35, -y * 0.35], back, black);
      break;
    }
    case 'panel': {
      roundBox(d, [-x, -y, front - Math.min(deep, 0.04)], [x, y, front], 0.006, black);
      const rest = deep - 0.04;
      if (deep > SOFTBOX_M) {
        // Cloth on four ribs, down to the lamp at its back.
        const lamp = Math.min(x, y) * 0.22;
        taper(d, [x, y, -y], front - 0.04, [lamp, lamp, -lamp], back + rest * 0.3, black);
        box(d, [-lamp * 0.8, -lamp * 0.8, back], [lamp * 0.8, lamp * 0.8, back + rest * 0.3], black);
      } else if (rest > 0.005)
        for (let k = 0; k < 5; k++) {
          const cx = -x * 0.7 + (x * 1.4 * k) / 4;
          box(d, [cx - 0.006, -y * 0.7, back], [cx + 0.006, y * 0.7, front - 0.04], black);
        }
      break;
    }
    case 'spot': {
      const r = Math.min(x, y);
      cylinder(d, [0, 0, back], [0, 0, front], r * 0.82, black);
      cylinder(d, [0, 0, front - deep * 0.3], [0, 0, front], r, black);
      box(d, [-r * 0.5, -y, back + deep * 0.15], [r * 0.5, -r * 0.7, back + deep * 0.55], black);
      break;
    }
    case 'bulb': {
      // Holder and cap behind the glass.
      const r = s.faceRadiusM ?? 0.03;
      const cap = Math.min(0.014, r * 0.6);
      cylinder(d, [0, 0, -r - CLEAR_M - 0.025], [0, 0, -r - CLEAR_M], cap, slotOf(d, CHROME));
      const holder = Math.max(0.02, Math.min(deep - 2 * r - 0.03, 0.06));
      cylinder(d, [0, 0, -r - CLEAR_M - 0.025 - holder], [0, 0, -r - CLEAR_M - 0.025], cap * 1.3, black);
      break;
    }
    case 'tube': {
      const half = halfFace(s)[0];
      const r = s.faceRadiusM ?? halfFace(s)[1];
      const white = slotOf(d, WHITE_PLASTIC);
      for (const e of [-1, 1]) {
        const a: Vec3 = [e * (half + CLEAR_M), 0, 0];
        const b: Vec3 = [e * (half + 0.025), 0, 0];
        cylinder(d, e > 0 ? a : b, e > 0 ? b : a, r * 1.15, white);
        // A lug back to what it is screwed to.
        const lo = Math.min(e * (half + 0.006), e * (half + 0.022));
        box(d, [lo, -0.01, -Math.max(deep, r + 0.01)], [lo + 0.016, 0.01, -r * 0.5], white);
      }
      break;
    }
  }
  const yoke = yokeOf(s);
  if (yoke) drawYoke(d, s, f, yoke);
  const head = bodyOf(d, { id: `lamp:${s.id}`, words: s.words, kind: 'lamp-head', moving: true });
  return s.doors ? [head, doorsBody(s, s.doors)] : [head];
}

/** A panel deeper than this is a softbox, metres. */
const SOFTBOX_M = 0.3;

/** A closed body between a rectangle (half width, top, bottom) at z0 and a smaller one at z1 < z0. */
function taper(
  d: Draft,
  a: readonly [number, number, number],
  z0: number,
  b: readonly [number, number, number],
  z1: number,
  slot: number,
): void {
  const ring = ([x, t, u]: readonly [number, number, number], z: number): Vec3[] => [
    [-x, u, z],
    [x, u, z],
    [x, t, z],
    [-x, t, z],
  ];
  const p = ring(a, z0);
  const q = ring(b, z1);
  for (let k = 0; k < 4; k++) {
    const e = (k + 1) % 4;
    polygon(d, [q[k]!, q[e]!, p[e]!, p[k]!], slot, newPatch(d));
  }
  polygon(d, [...q].reverse(), slot, newPatch(d));
}

/** The yoke of a head. */
export interface Yoke {
  /** Where it holds the head, left and right, metres of the stage. */
  pivots: readonly [Vec3, Vec3];
  /** Unit, from the head to what holds it. */
  way: Vec3;
  /** Where the support takes over, metres. */
  foot: Vec3;
}

/** The yoke of a head, if its kind has one: it hangs upright, but never reaches ahead of the face. */
export function yokeOf(s: HousingSpec): Yoke | undefined {
  if (s.bare || s.kind === 'bulb' || s.kind === 'tube') return undefined;
  const f = frameOfHead(s);
  const [w, h] = bodySize(s);
  const deep = s.bodyDepthM;
  const behind = Math.max(CLEAR_M + deep / 2, 0.016);
  const middle = add(s.at, scale(f.z, -behind));
  const x = w / 2 + 0.012;
  const reach = h / 2 + 0.05;
  const upright: Vec3 = [0, 0, s.hung ? 1 : -1];
  let way = sub(upright, scale(f.x, dot(upright, f.x)));
  way = length(way) < 0.1 ? scale(f.y, s.hung ? 1 : -1) : normalize(way);
  // Bars are 22 mm wide, their end 3 cm further on.
  const most = Math.max(0, behind - 0.0155) / (reach + 0.03);
  const ahead = dot(way, f.z);
  if (ahead > most) {
    // Turn it back until its end stays behind the face.
    const across = sub(way, scale(f.z, ahead));
    const side = length(across) < 1e-3 ? scale(f.y, s.hung ? 1 : -1) : normalize(across);
    way = add(scale(side, Math.sqrt(1 - most * most)), scale(f.z, most));
  }
  return {
    pivots: [add(middle, scale(f.x, -x)), add(middle, scale(f.x, x))],
    way,
    foot: add(middle, scale(way, reach + 0.03)),
  };
}

function drawYoke(d: Draft, s: HousingSpec, f: Frame, yoke: Yoke): void {
  const before = d.frame;
  d.frame = { origin: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] };
  const steel = slotOf(d, GREY_STEEL);
  const black: Material = BLACK_PAINT;
  const reach = bodySize(s)[1] / 2 + 0.05;
  const ends = yoke.pivots.map((p) => add(p, scale(yoke.way, reach))) as [Vec3, Vec3];
  const flat = cross(f.x, yoke.way);
  for (const k of [0, 1] as const) {
    bar(d, add(yoke.pivots[k], scale(yoke.way, -0.015)), ends[k], 0.022, 0.005, steel, flat);
    const out = scale(f.x, k ? 1 : -1);
    cylinder(d, yoke.pivots[k], add(yoke.pivots[k], scale(out, 0.02)), 0.015, slotOf(d, black));
  }
  bar(d, ends[0], ends[1], 0.022, 0.005, steel, flat);
  const middle = scale(add(ends[0], ends[1]), 0.5);
  cylinder(d, middle, yoke.foot, 0.012, steel);
  d.frame = before;
}
