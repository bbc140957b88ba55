/** What is chosen in a room that is told, with its measures to type and a way out. */

import type { Edit } from '../shoot/edits.ts';
import { regionWord } from '../shoot/region-words.ts';
import { outlineOf } from '../shoot/rooms.ts';
import { lengthFigure, unitsOf } from '../shoot/units.ts';
import { wallWord } from '../shoot/walls.ts';
import { OpeningMeasures, OpeningTold } from './OpeningFields.tsx';
import { type Chosen, type Teller, useRoom } from './roomDraft.ts';
import { remove, turn } from './roomHands.ts';
import { FurnitureFields } from './ThingFields.tsx';
import { Typed } from './Typed.tsx';
import { readLength } from './typing.ts';
import { WhoFields } from './WhoFields.tsx';

export function ChosenInRoom(p: { teller: Teller; chosen: Chosen }) {
  const { teller: t, chosen: c } = p;
  const { set } = useRoom.getState();
  const act = (e: Edit | readonly Edit[]) => (t.act(e) ? undefined : useRoom.getState().said);
  const units = unitsOf(t.shoot, t.scene);
  const placeId = t.shoot.scenes[t.scene]!.place;
  const place = t.shoot.places[placeId]!;
  const metres = (label: string, value: number, onValue: (v: number) => void) => (
    <span className="pair">
      <span className="faint">{label}</span>
      <Typed
        value={value}
        digits={2}
        unit=""
        label={label}
        show={(v) => lengthFigure(v, units)}
        read={(text) => readLength(text, units.length)}
        onValue={onValue}
      />
    </span>
  );
  let name = '';
  let fields: React.ReactNode = null;
  if (c.kind === 'opening') {
    const o = place.openings[c.id];
    if (!o) return null;
    name = `${o.words ?? o.kind}, ${wallWord(outlineOf(place, o) ?? place.outline, o.wall, place.northDeg)} wall`;
    fields = <OpeningMeasures shoot={t.shoot} scene={t.scene} id={c.id} act={act} />;
  } else if (c.kind === 'socket') {
    const s = place.supply.sockets[c.id];
    if (!s) return null;
    name = `${regionWord(place.supply.region, 'socket')} ${c.id}`;
    fields = (
      <>
        {metres('high', s.at[2], (v) =>
          t.act({
            edit: 'setSocket',
            args: { place: placeId, id: c.id, socket: { ...s, at: [s.at[0], s.at[1], v], guessed: false } },
          }),
        )}
        <button
          type="button"
          className="tiny"
          aria-pressed={s.dead === true}
          onClick={() =>
            t.act({ edit: 'setSocketDead', args: { place: placeId, socket: c.id, dead: !s.dead } })
          }
        >
          dead
        </button>
      </>
    );
  } else if (c.kind === 'mark') {
    const m = t.shoot.scenes[t.scene]!.marks[c.id];
    if (!m) return null;
    name = c.id;
    fields = (
      <>
        {metres('eyes', m.eyeM, (eyeM) =>
          t.act({ edit: 'setMark', args: { scene: t.scene, mark: c.id, changes: { eyeM } } }),
        )}
        <button
          type="button"
          className="tiny"
          onClick={() => turn(t, c, 15)}
          aria-label="Turn 15° to the left"
        >
          turn
        </button>
        <button
          type="button"
          className="tiny"
          onClick={() => turn(t, c, -15)}
          aria-label="Turn 15° to the right"
        >
          turn right
        </button>
      </>
    );
  } else {
    const f = place.furniture[c.id];
    if (!f) return null;
    name = f.words ?? c.id;
    fields = <FurnitureFields place={placeId} id={c.id} thing={f} act={act} />;
  }
  return (
    <div className="chosen-row">
      <b>{name}</b>
      {fields}
      <button type="button" className="tiny" onClick={() => remove(t, c)}>
        take away
      </button>
      <button type="button" className="tiny" onClick={() => set({ chosen: undefined })}>
        done
      </button>
      {c.kind === 'mark' ? (
        <WhoFields key={c.id} shoot={t.shoot} scene={t.scene} mark={c.id} act={act} />
      ) : null}
      {c.kind === 'opening' ? (
        <OpeningTold key={c.id} shoot={t.shoot} scene={t.scene} id={c.id} act={act} />
      ) : null}
    </div>
  );
}
