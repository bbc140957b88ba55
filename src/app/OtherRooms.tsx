/** The other rooms under the roof, a line each: name, size, height; and out it goes. Found and put there by its name. */

import { resized } from '../shoot/rooms.ts';
import type { Room } from '../shoot/schema.ts';
import { lengthFigure, unitsOf } from '../shoot/units.ts';
import { boundsOf } from '../shoot/walls.ts';
import type { Teller } from './roomDraft.ts';
import { Typed } from './Typed.tsx';
import { readLength } from './typing.ts';

export function OtherRooms(p: { teller: Teller }) {
  const t = p.teller;
  const placeId = t.shoot.scenes[t.scene]!.place;
  const place = t.shoot.places[placeId]!;
  const units = unitsOf(t.shoot, t.scene);
  const size = (text: string): number | string => {
    const v = readLength(text, units.length);
    return typeof v === 'number' && (v < 0.8 || v > 60) ? 'a length from 0.8 to 60 m' : v;
  };
  return Object.entries(place.rooms ?? {}).map(([id, room]) => {
    const b = boundsOf(room.outline);
    const [w, d] = [b.x1 - b.x0, b.y1 - b.y0];
    const set = (changes: Partial<Room>) =>
      t.act({ edit: 'setOtherRoom', args: { place: placeId, id, room: { ...room, ...changes } } });
    const sized = (
      label: string,
      unit: string,
      value: number,
      onValue: (v: number) => unknown,
    ): React.ReactNode => (
      <Typed
        value={value}
        digits={2}
        unit={unit}
        label={`${room.name}: ${label}, metres or 12ft`}
        show={(v) => lengthFigure(v, units)}
        read={size}
        onValue={onValue}
      />
    );
    return (
      <p key={id} className="room-size">
        <span className="faint">{room.name}</span>
        {sized('width', 'by', w, (v) => set({ outline: resized(place, id, v, d) }))}
        {sized('depth', units.length === 'imperial' ? ',' : 'm,', d, (v) =>
          set({ outline: resized(place, id, w, v) }),
        )}
        {sized('height', 'high', room.ceilingM ?? 3, (v) => set({ ceilingM: v }))}
        <button
          type="button"
          className="tiny"
          onClick={() => t.act({ edit: 'setOtherRoom', args: { place: placeId, id } })}
        >
          take away
        </button>
      </p>
    );
  });
}
