/** What hands do in a room that is told: where a thing goes without a tap, where it is, turning it, taking it away. */
import { freeWall as wallFree, wallUp } from '../shoot/moreOpenings.ts';
import { outlineOf } from '../shoot/rooms.ts';
import { atWall, type Point } from '../shoot/walls.ts';
import { type Chosen, type Teller, useRoom } from './roomDraft.ts';

/** A point of the longest stretch of wall with nothing in it. */
export const freeWall = (t: Teller): Point => wallFree(t.shoot.places[t.shoot.scenes[t.scene]!.place]!);

export function whereIs(t: Teller, c: Chosen): Point | undefined {
  const place = t.shoot.places[t.shoot.scenes[t.scene]!.place]!;
  if (c.kind === 'mark') return t.shoot.scenes[t.scene]!.marks[c.id]?.at;
  if (c.kind === 'socket') {
    const s = place.supply.sockets[c.id];
    return s && [s.at[0], s.at[1]];
  }
  if (c.kind === 'opening') {
    const o = place.openings[c.id];
    return o && atWall(outlineOf(place, o) ?? place.outline, o.wall, (o.fromM + o.toM) / 2);
  }
  const f = place.furniture[c.id];
  return f && [f.at[0], f.at[1]];
}

export function remove(t: Teller, c: Chosen): void {
  const place = t.shoot.scenes[t.scene]!.place;
  const done =
    c.kind === 'mark'
      ? t.act({ edit: 'removeMark', args: { scene: t.scene, mark: c.id } })
      : c.kind === 'socket'
        ? t.act({ edit: 'setSocket', args: { place, id: c.id } })
        : c.kind === 'opening'
          ? t.act(wallUp(t.shoot.places[place]!, place, c.id))
          : t.act({ edit: 'setFurniture', args: { place, id: c.id } });
  if (done) useRoom.getState().set({ chosen: undefined });
}

export function turn(t: Teller, c: Chosen, byDeg: number): void {
  const scene = t.shoot.scenes[t.scene]!;
  if (c.kind === 'mark') t.act({ edit: 'turnMark', args: { scene: t.scene, mark: c.id, byDeg } });
  if (c.kind !== 'furniture') return;
  const f = t.shoot.places[scene.place]!.furniture[c.id]!;
  t.act({
    edit: 'moveFurniture',
    args: { place: scene.place, id: c.id, to: f.at, turnDeg: ((f.turnDeg ?? 0) + byDeg) % 360 },
  });
}
