/** Ways to take a head or a stand out of the picture: slides, lifts, a clamp instead of the stand. */

import { add, distance, normalize, scale, type Vec3 } from '../maths/vec3.ts';
import { outsideDeg } from '../setup/view.ts';
import { boundsOfPlace, indoors, roomAt, sameRoom } from '../shoot/rooms.ts';
import { canStand } from './canStand.ts';
import { here, numberOf, rigLamp, type SchemeContext, windTo } from './context.ts';
import { carry, cheat, hold } from './cureEdits.ts';
import { clampNear, footHits, toBoxM } from './room.ts';
import { type Idea, m } from './trouble.ts';

/** Further than this a lamp is not carried for one angle, metres (judgement). */
const FURTHEST_M = 2;

/** Smallest slides to each side, nearer, further, and a lift, after which it is out of the picture by a degree. */
export function outOfFrame(c: SchemeContext, id: string, withStand = false): Idea[] {
  const rig = rigLamp(c, id);
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const { kind } = rig.support;
  if (kind !== 'stand' && kind !== 'clamp' && kind !== 'hung') return [];
  const view = c.angle.view;
  const headM = Math.max(0.15, lamp.sizeM);
  const column = kind === 'stand' && withStand ? columnOf(rig.support.baseM ?? 0, lamp.at[2]) : [];
  const clear = (at: Vec3) =>
    [-1, 1].every((s) =>
      [view.right, view.up].every((axis) => outsideDeg(view, add(at, scale(axis, s * headM))) > 1),
    ) &&
    column.every((z) =>
      [-0.1, 0, 0.1].every((d) => outsideDeg(view, add([at[0], at[1], z], scale(view.right, d))) > 0.5),
    );
  const sides = normalize([view.right[0], view.right[1], 0]);
  const away = normalize([view.forward[0], view.forward[1], 0]);
  const slides: { idea: Idea; d: number }[] = [];
  for (const [dir, s] of [
    [sides, 1],
    [sides, -1],
    [away, -1],
    [away, 1],
  ] as const) {
    for (let d = 0.1; d <= FURTHEST_M; d += 0.1) {
      const at = add(lamp.at, scale(dir, s * d));
      if (!sameRoom(c.place, [lamp.at[0], lamp.at[1]], [at[0], at[1]])) break;
      if (!canStand(c, id, at) || !clear(at)) continue;
      slides.push({
        d,
        idea: carry(here(c), id, at, `Slide ${rig.number} ${windTo(c, scale(dir, s))} ${m(d)}`),
      });
      break;
    }
  }
  const ideas = slides
    .sort((a, b) => a.d - b.d)
    .slice(0, 3)
    .map((x) => x.idea);
  const ceiling = (roomAt(c.place, [lamp.at[0], lamp.at[1]]) ?? c.place).ceilingM ?? Number.POSITIVE_INFINITY;
  if (!withStand)
    for (let d = 0.1; lamp.at[2] + d + headM < ceiling && d <= 1.2; d += 0.1) {
      const at: Vec3 = [lamp.at[0], lamp.at[1], lamp.at[2] + d];
      if (!clear(at)) continue;
      ideas.push(carry(here(c), id, at, `Raise ${rig.number} by ${m(d)}`));
      break;
    }
  return ideas;
}

const columnOf = (from: number, to: number): number[] =>
  Array.from({ length: 8 }, (_, i) => from + ((to - from) * i) / 7);

/** Let it hang from a beam, rail or cupboard near by instead of standing: clear of furniture, toward its aim. */
export function clampInstead(c: SchemeContext, id: string): Idea[] {
  const rig = rigLamp(c, id);
  if (rig.support.kind !== 'stand') return [];
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const holder = clampNear(c.place, lamp.at, 1.2);
  if (!holder) return [];
  const free = (at: Vec3) => {
    const room = roomAt(c.place, [at[0], at[1]]);
    return (
      room !== undefined &&
      Object.values(c.place.furniture).every((f) => toBoxM(f, at) > 0.12 + lamp.sizeM / 2) &&
      (room.ceilingM === undefined || at[2] < room.ceilingM - 0.15)
    );
  };
  let best: { at: Vec3; cost: number } | undefined;
  for (let i = 0; i < 16; i++)
    for (const out of [0.15, 0.25, 0.35, 0.45])
      for (const down of [0.25, 0.15, 0, -0.1, -0.25]) {
        const a = (i * Math.PI) / 8;
        const at: Vec3 = [
          holder.at[0] + out * Math.cos(a),
          holder.at[1] + out * Math.sin(a),
          holder.at[2] - down,
        ];
        if (!free(at)) continue;
        // As near to where it stood as may be, and well in reach of the clamp.
        const cost = distance(at, lamp.at) + 0.5 * out;
        if (!best || cost < best.cost) best = { at, cost };
      }
  if (!best) return [];
  const { at } = best;
  const changes = {
    at: at.map((v) => +v.toFixed(3)),
    support: {
      kind: 'clamp',
      on: holder.id,
      bond: true,
      dropM: +Math.max(0, holder.at[2] - at[2]).toFixed(2),
    },
  };
  const act = `Clamp ${numberOf(c, id)} to ${holder.words} instead`;
  const needs = `a clamp and a safety bond, head at (${at.map((v) => v.toFixed(2)).join(', ')})`;
  return [{ ...hold(here(c), id, changes, act), needs }];
}

/** Out, and carried off to the nearest clear floor that this angle does not see. */
export function clearAway(c: SchemeContext, id: string): Idea[] {
  const rig = rigLamp(c, id);
  if (rig.support.kind !== 'stand') return [];
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const foot = rig.support.footM ?? 0.45;
  const view = c.angle.view;
  const all = boundsOfPlace(c.place);
  let best: { at: Vec3; d: number } | undefined;
  for (let x = all.x0 + foot; x <= all.x1 - foot; x += 0.2)
    for (let y = all.y0 + foot; y <= all.y1 - foot; y += 0.2) {
      const at: Vec3 = [x, y, lamp.at[2]];
      const d = Math.hypot(x - lamp.at[0], y - lamp.at[1]);
      if (d < 0.1 || (best && best.d <= d)) continue;
      if (!indoors(c.place, [x, y]) || footHits(c.place, x, y, foot)) continue;
      if (Math.hypot(x - view.eye[0], y - view.eye[1]) < 0.7) continue;
      if (c.angle.marks.some((m) => Math.hypot(x - m.eyes[0], y - m.eyes[1]) < 0.5)) continue;
      const column = [...columnOf(rig.support.baseM ?? 0, lamp.at[2]), lamp.at[2] + 0.25];
      const clear = column.every((z) =>
        [-0.25, 0, 0.25].every((s) => outsideDeg(view, add([x, y, z], scale(view.right, s))) > 0.5),
      );
      if (clear) best = { at, d };
    }
  if (!best) return [];
  const at = best.at.map((v) => +v.toFixed(2));
  return [
    cheat(
      here(c),
      id,
      { at, on: false },
      `Clear ${rig.number} away to (${at[0]!.toFixed(2)}, ${at[1]!.toFixed(2)}), out`,
    ),
  ];
}
