/** A room in three numbers, and where in the world it stands: volts and plugs. */
import type { Region } from '../shoot/kit.ts';
import { rectangle } from '../shoot/newShoot.ts';
import { lengthFigure, unitsOf } from '../shoot/units.ts';
import { boundsOf } from '../shoot/walls.ts';
import { type Teller, useRoom } from './roomDraft.ts';
import { Typed } from './Typed.tsx';
import { readLength } from './typing.ts';

const REGIONS: Record<Region, string> = {
  uk: 'UK',
  eu: 'Europe',
  na: 'North America',
  au: 'Australia',
  jp: 'Japan',
};

export function RoomSize(p: { teller: Teller }) {
  const t = p.teller;
  const draft = useRoom((s) => s.telling) === 'draft';
  const placeId = t.shoot.scenes[t.scene]!.place;
  const place = t.shoot.places[placeId]!;
  const b = boundsOf(place.outline);
  const { region } = place.supply;
  const resize = (w: number, d: number, h?: number) =>
    t.act({
      edit: 'setOutline',
      args: {
        place: placeId,
        outline:
          place.outline.length === 4
            ? rectangle(w, d)
            : place.outline.map(([x, y]) => [
                +(((x - b.x0) * w) / (b.x1 - b.x0)).toFixed(3),
                +(((y - b.y0) * d) / (b.y1 - b.y0)).toFixed(3),
              ]),
        ...(h === undefined ? {} : { ceilingM: h }),
        carry: draft,
      },
    });
  const units = unitsOf(t.shoot, t.scene);
  const figure = (v: number) => lengthFigure(v, units);
  const size = (text: string): number | string => {
    const v = readLength(text, units.length);
    return typeof v === 'number' && (v < 1.2 || v > 60) ? 'a length from 1.2 to 60 m' : v;
  };
  return (
    <p className="room-size">
      <Typed
        value={b.x1 - b.x0}
        digits={2}
        unit="by"
        label="Width, metres or 12ft"
        show={figure}
        read={size}
        onValue={(v) => resize(v, b.y1 - b.y0)}
      />
      <Typed
        value={b.y1 - b.y0}
        digits={2}
        unit={units.length === 'imperial' ? ',' : 'm,'}
        label="Depth, metres or 12ft"
        show={figure}
        read={size}
        onValue={(v) => resize(b.x1 - b.x0, v)}
      />
      <Typed
        value={place.ceilingM ?? 3}
        digits={2}
        unit="high"
        label="Height, metres or 8ft"
        show={figure}
        read={size}
        onValue={(v) => resize(b.x1 - b.x0, b.y1 - b.y0, v)}
      />
      <select
        aria-label="Where in the world: volts and plugs"
        value={region}
        onChange={(e) => t.act({ edit: 'setRegion', args: { place: placeId, region: e.target.value } })}
      >
        {Object.entries(REGIONS).map(([r, words]) => (
          <option key={r} value={r}>
            {words}
          </option>
        ))}
      </select>
      <span className="quiet">{place.supply.nominalV} V</span>
    </p>
  );
}
