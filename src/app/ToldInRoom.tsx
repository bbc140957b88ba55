/** All that is told of a room so far, each to be chosen without a pointer. */
import { outlineOf } from '../shoot/rooms.ts';
import { wallWord } from '../shoot/walls.ts';
import { type Chosen, type Teller, useRoom } from './roomDraft.ts';

export function ToldInRoom(p: { teller: Teller }) {
  const t = p.teller;
  const { set } = useRoom.getState();
  const place = t.shoot.places[t.shoot.scenes[t.scene]!.place]!;
  const list: [Chosen, string][] = [
    ...Object.keys(t.shoot.scenes[t.scene]!.marks).map((id): [Chosen, string] => [{ kind: 'mark', id }, id]),
    ...Object.entries(place.openings).map(([id, o]): [Chosen, string] => [
      { kind: 'opening', id },
      `${o.words ?? o.kind} ${wallWord(outlineOf(place, o) ?? place.outline, o.wall, place.northDeg)}${o.guessed ? '?' : ''}`,
    ]),
    ...Object.entries(place.supply.sockets).map(([id, s]): [Chosen, string] => [
      { kind: 'socket', id },
      `${id}${s.dead ? ' dead' : ''}${s.guessed ? '?' : ''}`,
    ]),
    ...Object.entries(place.furniture).map(([id, f]): [Chosen, string] => [
      { kind: 'furniture', id },
      f.words ?? id,
    ]),
  ];
  return (
    <fieldset className="told" aria-label="What is told so far; ? is only supposed">
      {list.map(([c, words]) => (
        <button
          key={`${c.kind}:${c.id}`}
          type="button"
          className="tiny"
          onClick={() => set({ chosen: c, tool: undefined })}
        >
          {words}
        </button>
      ))}
    </fieldset>
  );
}
