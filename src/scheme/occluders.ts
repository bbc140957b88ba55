/** What can throw a shadow, as simple volumes: heads, stands, flags, people, the camera and who stands behind it, a boom. */
import { add, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import type { SchemeContext } from './context.ts';

export interface Occluder {
  what: 'head' | 'stand' | 'flag' | 'person' | 'camera' | 'boom';
  /** Lamp, flag or mark. */
  id: string;
  /** Capsules: middle lines with radii; a flag is a disc. */
  capsules: { a: Vec3; b: Vec3; radiusM: number }[];
  disc?: { at: Vec3; normal: Vec3; radiusM: number };
}

/** A camera as a ball round its middle, and who stands behind it (judgement; 1.75 m tall, half a metre behind). */
const CAMERA_M = 0.17;
const BEHIND_M = 0.55;
const TALL_M = 1.75;
const BODY_M = 0.22;

export function occludersOf(c: SchemeContext): Occluder[] {
  const out: Occluder[] = [];
  for (const lamp of c.angle.lamps) {
    const rig = c.angle.rig.lamps[lamp.id]!;
    // A lamp of the story throws its shadow like any other thing that belongs there.
    if (rig.practical) continue;
    if (lamp.headPart >= 0) {
      const middle = add(lamp.at, scale(lamp.axis, -0.12));
      const radiusM = Math.max(0.1, Math.min(0.4, lamp.sizeM * 0.8));
      out.push({ what: 'head', id: lamp.id, capsules: [{ a: middle, b: middle, radiusM }] });
    }
    if (rig.support.kind === 'stand')
      out.push({
        what: 'stand',
        id: lamp.id,
        capsules: [
          {
            a: [lamp.at[0], lamp.at[1], rig.support.baseM ?? 0],
            b: add(lamp.at, [0, 0, -0.2]),
            radiusM: 0.04,
          },
        ],
      });
  }
  // A pattern's shadow is what it stands there for.
  for (const [id, f] of Object.entries(c.angle.rig.flags))
    if (f.kind !== 'net-half' && f.kind !== 'net-full' && f.kind !== 'frame' && !f.pattern)
      out.push({
        what: 'flag',
        id,
        capsules: [],
        disc: {
          at: [f.at[0], f.at[1], f.at[2]],
          normal: normalize([f.facing[0], f.facing[1], f.facing[2]]),
          radiusM: Math.sqrt((f.sizeM[0] * f.sizeM[1]) / Math.PI),
        },
      });
  for (const mark of c.angle.marks) {
    if (mark.part < 0) continue;
    const m = c.angle.rig.scene.marks[mark.id]!;
    const low = m.posture === 'seated' ? (m.seatM ?? 0.45) : 0.1;
    out.push({
      what: 'person',
      id: mark.id,
      capsules: [
        { a: [mark.eyes[0], mark.eyes[1], mark.eyes[2] - 0.05], b: mark.eyes, radiusM: 0.13 },
        {
          a: [mark.eyes[0], mark.eyes[1], low],
          b: [mark.eyes[0], mark.eyes[1], mark.eyes[2] - 0.35],
          radiusM: 0.24,
        },
      ],
    });
  }
  const { eye, forward } = c.angle.view;
  const back = normalize([forward[0], forward[1], 0]);
  const body = add(eye, scale(back, -BEHIND_M));
  const top = Math.min(TALL_M, Math.max(1.2, eye[2] + 0.3));
  const middle = add(eye, scale(forward, -CAMERA_M));
  out.push({
    what: 'camera',
    id: c.angle.angle,
    capsules: [
      { a: middle, b: middle, radiusM: CAMERA_M },
      { a: [body[0], body[1], 0.1], b: [body[0], body[1], top - BODY_M], radiusM: BODY_M },
    ],
  });
  return out;
}

/** How far along p → q (metres) the line meets an occluder, and how wide that is there; undefined: it passes by. */
export function meets(o: Occluder, p: Vec3, q: Vec3): { alongM: number; widthM: number } | undefined {
  const d = sub(q, p);
  const l = Math.hypot(d[0], d[1], d[2]);
  if (o.disc) {
    const n = dot(d, o.disc.normal);
    if (Math.abs(n) > 1e-9) {
      const t = dot(sub(o.disc.at, p), o.disc.normal) / n;
      if (t > 0 && t < 1) {
        const hit = add(p, scale(d, t));
        const r = Math.hypot(...sub(hit, o.disc.at));
        if (r < o.disc.radiusM) return { alongM: t * l, widthM: 2 * o.disc.radiusM };
      }
    }
  }
  for (const k of o.capsules) {
    const near = nearest(p, q, k.a, k.b);
    if (near.gapM < k.radiusM && near.t > 0 && near.t < 1)
      return { alongM: near.t * l, widthM: 2 * k.radiusM };
  }
  return undefined;
}

/** The half-shadow is wider than the shadow: no core, nothing one would point at. */
export const soft = (met: { alongM: number; widthM: number }, lampM: number, wholeM: number): boolean => {
  const toLamp = wholeM - met.alongM;
  return toLamp <= 0.05 || (lampM * met.alongM) / toLamp > (met.widthM * wholeM) / toLamp;
};

/** Where two segments come nearest: share along the first, and the gap. */
function nearest(p: Vec3, q: Vec3, a: Vec3, b: Vec3): { t: number; gapM: number } {
  const u = sub(q, p);
  const v = sub(b, a);
  const w = sub(p, a);
  const A = dot(u, u);
  const B = dot(u, v);
  const C = dot(v, v);
  const D = dot(u, w);
  const E = dot(v, w);
  const clamp = (x: number) => Math.max(0, Math.min(1, x));
  const det = A * C - B * B;
  let s = C < 1e-12 ? 0 : clamp(det > 1e-12 ? (A * E - B * D) / det : E / C);
  const t = clamp((B * s - D) / A);
  if (C >= 1e-12) s = clamp((B * t + E) / C);
  const gap = Math.hypot(...sub(add(p, scale(u, t)), add(a, scale(v, s))));
  return { t, gapM: gap };
}
