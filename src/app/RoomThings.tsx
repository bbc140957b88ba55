/** What stands in a room, found by typing its name and set down by a tap; and how its walls are. */
import { useState } from 'react';
import { wallFinish } from '../shoot/newShoot.ts';
import { freeFloor } from '../shoot/tell.ts';
import { searchThings } from '../shoot/things.ts';
import { WALL_TONES } from '../shoot/usualRoom.ts';
import { setDown } from './bringing.ts';
import { FromFile } from './FromFile.tsx';
import { tapWith } from './RoomPlan.tsx';
import { type Teller, useRoom } from './roomDraft.ts';

export function RoomThings(p: { teller: Teller }) {
  const t = p.teller;
  const { set } = useRoom.getState();
  const [typed, setTyped] = useState('');
  const placeId = t.shoot.scenes[t.scene]!.place;
  const place = t.shoot.places[placeId]!;
  const found = typed ? searchThings(typed, 6) : [];
  const put = (id: string) => {
    set({ tool: `thing:${id}`, chosen: undefined, said: '' });
    setTyped('');
  };
  return (
    <fieldset>
      <legend>
        <strong>What stands in it</strong> <span className="quiet">and how its walls are</span>
      </legend>
      <input
        className="find"
        placeholder="a sofa, a fridge, a bed …"
        aria-label="Find a thing by name"
        value={typed}
        onChange={(e) => setTyped(e.target.value)}
        onKeyDown={(e) => {
          if (e.key !== 'Enter' || !found[0]) return;
          tapWith(t, `thing:${found[0].id}`, freeFloor(t.shoot, placeId));
          setTyped('');
        }}
      />
      <FromFile
        onFreeFloor={() => {
          const id = setDown(t, freeFloor(t.shoot, placeId));
          if (id) set({ chosen: { kind: 'furniture', id } });
        }}
      />
      <div className="chips">
        {found.map((x) => (
          <button key={x.id} type="button" className="boxed" onClick={() => put(x.id)}>
            {x.words}
          </button>
        ))}
        {WALL_TONES.map((x) => (
          <button
            key={x.words}
            type="button"
            className="boxed"
            aria-pressed={place.walls.reflectance === x.reflectance}
            onClick={() =>
              t.act({
                edit: 'setFinish',
                args: { place: placeId, surface: 'walls', finish: wallFinish(x.words) },
              })
            }
          >
            {x.words} walls
          </button>
        ))}
      </div>
    </fieldset>
  );
}
