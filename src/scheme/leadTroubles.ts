/**
 * Leads that the frame sees on the floor, and leads across the way of somebody who walks from mark to mark.
 * The route is the one the plan draws (`leadRoute`). What hangs is fed along what it hangs from: of its lead only the
 * way along the walls is on the floor.
 */
import type { Vec3 } from '../maths/vec3.ts';
import { pointSeen } from '../readings/seen.ts';
import { type OnFrame, onFrame, viewOf } from '../setup/view.ts';
import { roomsIn } from '../shoot/rooms.ts';
import type { RigLamp } from '../shoot/schema.ts';
import { throughWall } from '../shoot/walls.ts';
import type { View } from '../transport/scene.ts';
import { here, type SchemeContext } from './context.ts';
import { plugInto } from './cureEdits.ts';
import { type LeadRoute, leadRoute } from './leadRoute.ts';
import { feedInto } from './powerIdeas.ts';
import { toWallM } from './room.ts';
import { type Box, type Found, type Idea, m } from './trouble.ts';

/** Steps along a lead, metres. */
const STEP_M = 0.05;
/** A three-core lead that carries a lamp, across, metres (common practice, no source). */
const ACROSS_M = 0.009;
/** Thinner than this share of the frame's height a lead is not seen: one line of a thousand (judgement). */
const THIN = 0.001;
/** Nearer to a wall than this it lies along it and can be taped there, metres. */
const BY_WALL_M = 0.15;
/** Shorter than this in frame is not called, metres (judgement). */
const SHORT_M = 0.2;
/** Darker floor than this under grey hides a black lead, stops (judgement). */
const HIDDEN_STOPS = -3.5;

export interface LeadSeen {
  /** Of what is seen: across the open floor, and along the foot of a wall, metres. */
  acrossM: number;
  alongM: number;
  frame: Box;
  at: Vec3;
}

/** What an angle sees of a route laid on the floor. */
export function leadSeen(c: SchemeContext, lamp: RigLamp, route: LeadRoute): LeadSeen | undefined {
  const lit = c.lit;
  if (!lit) return undefined;
  const { view } = c.angle;
  const out: LeadSeen = {
    acrossM: 0,
    alongM: 0,
    frame: { left: 1, top: 1, right: 0, bottom: 0 },
    at: [0, 0, 0],
  };
  for (const p of stepsOf(onFloor(lamp, route))) {
    if (!pointSeen(view, lit.hits, p)) continue;
    const f = onFrame(view, p);
    if (ACROSS_M / (2 * view.tanV * f.depthM) < THIN) continue;
    const [x, y] = [(f.x + 1) / 2, (1 - f.y) / 2];
    const px =
      Math.min(lit.hits.height - 1, Math.floor(y * lit.hits.height)) * lit.hits.width +
      Math.min(lit.hits.width - 1, Math.floor(x * lit.hits.width));
    if (Math.log2(Math.max(1e-9, lit.xyz[3 * px + 1]!) / c.greyCdM2) < HIDDEN_STOPS) continue;
    if (roomsIn(c.place).some((r) => toWallM(r.outline, p[0], p[1]) <= BY_WALL_M)) out.alongM += STEP_M;
    else out.acrossM += STEP_M;
    out.at = p;
    out.frame.left = Math.min(out.frame.left, x);
    out.frame.right = Math.max(out.frame.right, x);
    out.frame.top = Math.min(out.frame.top, y);
    out.frame.bottom = Math.max(out.frame.bottom, y);
  }
  return out.acrossM + out.alongM >= SHORT_M ? out : undefined;
}

const STANDS: ReadonlySet<string> = new Set(['stand', 'foot', 'hand']);
const onFloor = (l: RigLamp, { points }: LeadRoute): readonly P[] =>
  STANDS.has(l.support.kind) ? points : points.slice(0, -1);

function stepsOf(points: readonly P[]): Vec3[] {
  return points.slice(1).flatMap((b, i) => {
    const a = points[i]!;
    const n = Math.max(1, Math.round(Math.hypot(b[0] - a[0], b[1] - a[1]) / STEP_M));
    return Array.from({ length: n }, (_, k): Vec3 => {
      const t = (k + 0.5) / n;
      return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), 0.01];
    });
  });
}

export function leadTroubles(c: SchemeContext): Found[] {
  return Object.entries(c.angle.rig.lamps).flatMap(([id, l]): Found[] => {
    // The flex of a lamp of the story belongs there like the lamp.
    const socket = l.feed && !l.practical ? c.place.supply.sockets[l.feed.socket] : undefined;
    if (!socket || l.feed!.taped) return [];
    const route = leadRoute(c.place, socket.at, l);
    const from = socket.words ?? l.feed!.socket;
    return [...inFrame(c, id, l, route, from), ...overAWalk(c, id, l, route, from)];
  });
}

function inFrame(c: SchemeContext, id: string, l: RigLamp, route: LeadRoute, from: string): Found[] {
  const seen = leadSeen(c, l, route);
  if (!seen) return [];
  const across = seen.acrossM >= SHORT_M;
  const where = [
    across ? `${m(seen.acrossM, 1)} over open floor` : '',
    seen.alongM >= SHORT_M ? `${m(seen.alongM, 1)} along the foot of a wall` : '',
  ].filter(Boolean);
  return [
    {
      kind: 'lead-in-frame',
      lamp: id,
      // Along a wall tape hides it; over the floor nothing does.
      severity: across ? 2 : 1,
      size: seen.acrossM + seen.alongM,
      says: `The lead of ${l.number} from ${from} is in frame: ${where.join(', ')}, if it is laid as the plan draws it.`,
      short: `the lead of ${l.number} is in frame`,
      at: seen.at,
      frame: seen.frame,
      ideas: () =>
        ways(c, id, l, (r) => {
          const then = leadSeen(c, l, r);
          return (then ? then.acrossM + then.alongM : 0) < seen.acrossM + seen.alongM - SHORT_M;
        }),
    },
  ];
}

/** A walk of somebody from mark to mark that the lead lies across. */
function overAWalk(c: SchemeContext, id: string, l: RigLamp, route: LeadRoute, from: string): Found[] {
  const crossed = walksOf(c).find((w) => crosses(onFloor(l, route), w));
  if (!crossed) return [];
  const says = `The lead of ${l.number} from ${from} lies across the way of ${crossed.who} from ${crossed.words}`;
  return [
    {
      kind: 'lead-in-the-way',
      lamp: id,
      subject: `walk:${crossed.words}`,
      severity: 2,
      size: 1,
      says: `${says}: round another way, or matted. Not checked: who else walks there.`,
      short: `the lead of ${l.number} lies across a walk`,
      at: [l.at[0], l.at[1], 0],
      ideas: () => ways(c, id, l, (r) => !walksOf(c).some((w) => crosses(onFloor(l, r), w))),
    },
  ];
}

interface Walk {
  who: string;
  words: string;
  a: readonly [number, number];
  b: readonly [number, number];
}
/** From each mark of a person to their next. */
function walksOf(c: SchemeContext): Walk[] {
  const by = new Map<string, { id: string; at: readonly [number, number] }[]>();
  for (const [id, k] of Object.entries(c.angle.rig.scene.marks))
    if (k.person !== undefined)
      by.set(k.person, [...(by.get(k.person) ?? []), { id, at: [k.at[0], k.at[1]] }]);
  return [...by].flatMap(([who, marks]) =>
    marks.slice(1).map((b, i): Walk => {
      const a = marks[i]!;
      return { who, words: `${a.id} to ${b.id}`, a: a.at, b: b.at };
    }),
  );
}

export const crosses = (points: readonly P[], w: Pick<Walk, 'a' | 'b'>): boolean =>
  points.slice(1).some((q, i) => cut(points[i]!, q, w.a, w.b));

type P = readonly [number, number];
/** Whether two lines cross on the floor. */
function cut(p: P, q: P, a: P, b: P): boolean {
  const side = (o: P, d: P, x: P) => (d[0] - o[0]) * (x[1] - o[1]) - (d[1] - o[1]) * (x[0] - o[0]);
  return side(p, q, a) * side(p, q, b) < 0 && side(a, b, p) * side(a, b, q) < 0;
}

/** The other way round the walls, other sockets, tape. `helps`: what a route must do to be offered. */
function ways(c: SchemeContext, id: string, l: RigLamp, helps: (r: LeadRoute) => boolean): Idea[] {
  const { place } = c;
  const feed = l.feed!;
  const w = here(c);
  const ideas: Idea[] = [];
  const at = place.supply.sockets[feed.socket]!.at;
  const now = leadRoute(place, at, l);
  for (const way of ['left', 'right'] as const) {
    const r = leadRoute(place, at, { ...l, feed: { ...feed, way } });
    if (same(r, now) || !helps(r)) continue;
    ideas.push(
      plugInto(
        w,
        id,
        { ...feed, way },
        `Lay the lead of ${l.number} round to the ${way} of its socket, ${m(r.lengthM, 1)}${elsewhere(c, l, now, r)}`,
        longer(c, l, r),
      ),
    );
  }
  const others = Object.entries(place.supply.sockets)
    .filter(([k, s]) => k !== feed.socket && !s.dead && !s.keepOff)
    .map(([k, s]) => ({ k, s, r: leadRoute(place, s.at, { ...l, feed: feedInto(undefined, k) }) }))
    .filter(({ r }) => helps(r))
    .sort((x, y) => x.r.lengthM - y.r.lengthM);
  for (const { k, s, r } of others.slice(0, 2)) {
    const { way: _, ...rest } = feedInto(feed, k);
    ideas.push(
      plugInto(
        w,
        id,
        rest,
        `Plug ${l.number} into ${s.words ?? k}, ${m(r.lengthM, 1)}${elsewhere(c, l, now, r)}`,
        longer(c, l, r),
      ),
    );
  }
  ideas.push(
    plugInto(
      w,
      id,
      { ...feed, taped: true },
      `Tape the lead of ${l.number} down and cover it where it shows`,
      'tape, and a mat or rug the colour of the floor',
    ),
  );
  return ideas;
}

/** Other angles that look where the lead would lie then and does not now; what stands in between is not asked. */
function elsewhere(c: SchemeContext, l: RigLamp, now: LeadRoute, then: LeadRoute): string {
  const inView = (view: View, r: LeadRoute): number =>
    STEP_M *
    stepsOf(onFloor(l, r)).filter(
      (p) =>
        seenAt(onFrame(view, p)) && !throughWall(c.place.outline, [view.eye[0], view.eye[1]], [p[0], p[1]]),
    ).length;
  const seen = Object.entries(c.angle.rig.scene.angles ?? {})
    .filter(([id]) => id !== c.angle.angle)
    .filter(([, a]) => {
      const view = viewOf(a);
      return inView(view, then) > inView(view, now) + SHORT_M;
    })
    .map(([id]) => id);
  return seen.length ? `; ${seen.join(' and ')} may see it then` : '';
}
const seenAt = (f: OnFrame): boolean => f.depthM > 0 && Math.abs(f.x) < 1 && Math.abs(f.y) < 1;

const same = (a: LeadRoute, b: LeadRoute): boolean => Math.abs(a.lengthM - b.lengthM) < 1e-6;

/** What must be fetched where the leads it has are too short for a route; a lead nobody measured is not asked. */
function longer(c: SchemeContext, l: RigLamp, r: LeadRoute): string | undefined {
  const have = l.feed!.leads.map((x) => c.shoot.kit.leads[x.kit]?.lengthM);
  if (have.some((x) => x === undefined)) return undefined;
  const sum = have.reduce((s: number, x) => s + x!, 0);
  return sum >= r.lengthM ? undefined : `${m(r.lengthM - sum, 1)} more lead`;
}
