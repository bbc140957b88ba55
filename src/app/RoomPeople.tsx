/** How many people are in a room, and how: set down anew with what they sit at. */
import { HOW, HOW_WORDS, type How } from '../shoot/seatings.ts';
import { tellPeople } from '../shoot/tell.ts';
import type { Teller } from './roomDraft.ts';

export function RoomPeople(p: { teller: Teller }) {
  const t = p.teller;
  const scene = t.shoot.scenes[t.scene]!;
  const place = t.shoot.places[scene.place]!;
  const count = Math.max(1, Math.min(3, Object.keys(scene.marks).length)) as 1 | 2 | 3;
  const how: How = place.furniture.sofa ? 'sofa' : place.furniture.table ? 'table' : 'standing';
  return (
    <fieldset>
      <legend>
        <strong>Who is in it</strong>
      </legend>
      <div className="chips">
        {([1, 2, 3] as const).map((n) => (
          <button
            key={n}
            type="button"
            className="boxed"
            aria-pressed={count === n}
            onClick={() => t.act(tellPeople(t.shoot, t.scene, n, how))}
          >
            {['', 'one', 'two', 'three'][n]}
          </button>
        ))}
        {HOW.map((x) => (
          <button
            key={x}
            type="button"
            className="boxed"
            aria-pressed={how === x}
            onClick={() => t.act(tellPeople(t.shoot, t.scene, count, x))}
          >
            {HOW_WORDS[x]}
          </button>
        ))}
      </div>
    </fieldset>
  );
}
