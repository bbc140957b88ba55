/** What one owns: tapped from the generic kit, again for two; anything else found by typing its name or nickname. */
import { useState } from 'react';
import { headsOf } from '../shoot/editRoom.ts';
import { KIT, kitKind } from '../shoot/kit.ts';
import { searchKit } from '../shoot/searchKit.ts';
import { owned, tellKit } from '../shoot/tell.ts';
import type { Teller } from './roomDraft.ts';
import { Typed } from './Typed.tsx';

/** Shown before anything is typed. */
const USUAL = [
  'fresnel-300',
  'fresnel-650',
  'open-face-800',
  'site-flood-500',
  'led-panel-60',
  'led-spot-200',
  'tube-36',
  'bulb-60',
];

export function RoomKit(p: { teller: Teller }) {
  const t = p.teller;
  const [typed, setTyped] = useState('');
  const [last, setLast] = useState<string>();
  const place = t.shoot.places[t.shoot.scenes[t.scene]!.place]!;
  const region = place.supply.region;
  const have = KIT.filter((k) => owned(t.shoot, k.id).count > 0).map((k) => k.id);
  const found = typed ? searchKit(typed, { region, limit: 6 }).map((k) => k.id) : [];
  const shown = [...new Set([...found, ...USUAL, ...have])];
  const tap = (id: string, by: number) => {
    const count = Math.max(0, owned(t.shoot, id).count + by);
    if (t.act(tellKit(t.shoot, id, count)) && by > 0) setLast(id);
  };
  return (
    <fieldset className="room-kit">
      <legend>
        <strong>Tap what you own.</strong> <span className="quiet">Tap again for two.</span>
      </legend>
      <input
        className="find"
        placeholder="or find by name: half white, c-stand …"
        aria-label="Find a lamp, stand, sheet or lead by name"
        value={typed}
        onChange={(e) => setTyped(e.target.value)}
        onKeyDown={(e) => {
          if (e.key === 'Enter' && found[0]) {
            tap(found[0], 1);
            setTyped('');
          }
          if (e.key === 'Escape' && typed) {
            e.stopPropagation();
            setTyped('');
          }
        }}
      />
      <div className="chips">
        {shown.map((id) => {
          const k = kitKind(id)!;
          const o = owned(t.shoot, id);
          return (
            <span key={id} className="chip" data-kit={id} data-own={o.count > 0} data-guessed={o.guessed}>
              <button
                type="button"
                onClick={() => tap(id, 1)}
                aria-label={`${k.words}: ${o.count}, tap for one more`}
              >
                {k.words}
                {o.count ? <b> {o.count}</b> : null}
                {o.guessed ? <span className="faint"> supposed</span> : null}
              </button>
              {o.count ? (
                <button
                  type="button"
                  className="less"
                  aria-label={`One ${k.words} less`}
                  onClick={() => tap(id, -1)}
                >
                  −
                </button>
              ) : null}
            </span>
          );
        })}
      </div>
      {last && kitKind(last)?.part === 'lamps' ? <Quirks teller={t} kind={last} /> : null}
    </fieldset>
  );
}

/** How the heads just tapped differ from their kind. */
function Quirks(p: { teller: Teller; kind: string }) {
  const t = p.teller;
  const heads = headsOf(t.shoot, p.kind);
  return (
    <ul className="quirks" aria-label="How this very head differs">
      {heads.map((id, i) => {
        const head = t.shoot.kit.lamps[id]!;
        const put = (changes: Record<string, unknown>) =>
          t.act({ edit: 'setHead', args: { id, head: JSON.parse(JSON.stringify({ ...head, ...changes })) } });
        const lux = head.reading?.kind === 'lux' ? head.reading : undefined;
        return (
          <li key={id}>
            <span className="quiet">
              {kitKind(p.kind)?.words}
              {heads.length > 1 ? ` ${i + 1}` : ''}:
            </span>
            <button
              type="button"
              className="tiny"
              aria-pressed={head.old === true}
              onClick={() => put({ old: !head.old })}
            >
              bulb old
            </button>
            {head.volts === undefined ? null : (
              <Typed
                value={head.volts}
                digits={0}
                unit="V marked"
                label={`Volts marked on ${id}`}
                read={readVolts}
                onValue={(volts) => put({ volts })}
              />
            )}
            <Typed
              value={lux?.lux ?? 0}
              digits={0}
              unit="lx at"
              label={`A reading of ${id}, lux; 0: none`}
              read={readLux}
              onValue={(v) =>
                put({
                  reading:
                    v > 0 ? { kind: 'lux', lux: v, distanceM: lux?.distanceM ?? 3, focus: 0 } : undefined,
                })
              }
            />
            <Typed
              value={lux?.distanceM ?? 3}
              digits={1}
              unit="m, flooded"
              label={`Distance of the reading of ${id}, metres`}
              read={(x) => (Number(x) > 0.2 ? Number(x) : 'a distance such as 3')}
              onValue={(v) => (lux ? put({ reading: { ...lux, distanceM: v } }) : undefined)}
            />
          </li>
        );
      })}
    </ul>
  );
}
const readVolts = (text: string) => {
  const v = Number(text.replace(/v$/i, ''));
  return v >= 12 && v <= 277 ? v : 'volts such as 230';
};
const readLux = (text: string) => {
  const v = Number(text.replace(/\s*lx$/i, ''));
  return v >= 0 && v <= 1e6 ? v : 'lux such as 250, or 0 for none';
};
