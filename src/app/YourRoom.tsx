/** One's own room told: three numbers, who is in it, what is in its walls and on its floor, what one owns; then lit. */
import { type KeyboardEvent, useEffect, useRef, useState } from 'react';
import type { Region } from '../shoot/kit.ts';
import { rectangle, wallFinish } from '../shoot/newShoot.ts';
import { regionWord } from '../shoot/region-words.ts';
import { HOW, HOW_WORDS, type How, middleOf } from '../shoot/seatings.ts';
import { freeFloor, tellPeople } from '../shoot/tell.ts';
import { roomThing, searchThings } from '../shoot/things.ts';
import { lengthFigure, unitsOf } from '../shoot/units.ts';
import { WALL_TONES } from '../shoot/usualRoom.ts';
import { atWall, boundsOf, nearestWall, type Point, wallWord } from '../shoot/walls.ts';
import { RoomKit } from './RoomKit.tsx';
import { carryTo, closeRound, RoomPlan, tapWith } from './RoomPlan.tsx';
import { type Chosen, lightIt, type Teller, type Tool, useRoom, useTeller } from './roomDraft.ts';
import { Typed } from './Typed.tsx';
import { readLength } from './typing.ts';

const REGIONS: Record<Region, string> = {
  uk: 'UK',
  eu: 'Europe',
  na: 'North America',
  au: 'Australia',
  jp: 'Japan',
};

export function YourRoom() {
  const teller = useTeller();
  const { telling, chosen, tool, corners, said, set } = useRoom();
  const [typed, setTyped] = useState('');
  const form = useRef<HTMLElement>(null);
  useEffect(() => {
    // A finger has not asked for a keyboard yet.
    if (matchMedia('(pointer: fine)').matches)
      form.current?.querySelector<HTMLElement>('input')?.focus({ preventScroll: true });
  }, []);
  // What was chosen out of the list is carried by the keys: the list's own button is gone by then.
  useEffect(() => {
    if (chosen && document.activeElement === document.body) form.current?.focus({ preventScroll: true });
  }, [chosen]);
  // Z is a step back of what is told, not of the shoot behind it.
  const now = useRef(teller);
  now.current = teller;
  useEffect(() => {
    const down = (e: globalThis.KeyboardEvent) => {
      if (e.code !== 'KeyZ' || e.target instanceof HTMLInputElement) return;
      if (useRoom.getState().telling !== 'draft') return;
      e.preventDefault();
      e.stopImmediatePropagation();
      now.current?.back();
    };
    addEventListener('keydown', down, { capture: true });
    return () => removeEventListener('keydown', down, { capture: true });
  }, []);
  if (!teller) return null;
  const t = teller;
  const placeId = t.shoot.scenes[t.scene]!.place;
  const place = t.shoot.places[placeId]!;
  const marks = t.shoot.scenes[t.scene]!.marks;
  const b = boundsOf(place.outline);
  const { region } = place.supply;
  const count = Math.max(1, Math.min(3, Object.keys(marks).length)) as 1 | 2 | 3;
  const how: How = place.furniture.sofa ? 'sofa' : place.furniture.table ? 'table' : 'standing';
  const draft = telling === 'draft';
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
  const arm = (next: Tool) => (e: React.MouseEvent) => {
    // From the keyboard there is no tap to come: it goes to a free place at once, to be carried with the arrows.
    if (e.detail === 0 && next !== 'corner') {
      const wallTool = next === 'door' || next === 'window' || next === 'socket';
      tapWith(t, next, wallTool ? freeWall(t) : freeFloor(t.shoot, placeId));
      return;
    }
    set({ tool: tool === next ? undefined : next, corners: [], chosen: undefined, said: '' });
  };
  const found = typed ? searchThings(typed, 6) : [];
  const put = (id: string) => {
    set({ tool: `thing:${id}`, chosen: undefined, said: '' });
    setTyped('');
  };
  const hint =
    tool === 'corner'
      ? corners.length > 2
        ? 'Tap the first corner again to close.'
        : 'Tap the corners one by one, as one walks round.'
      : tool === 'door' || tool === 'window' || tool === 'socket'
        ? `Tap the wall where the ${tool === 'socket' ? regionWord(region, 'socket') : tool} is.`
        : tool === 'person'
          ? 'Tap where they are.'
          : tool
            ? `Tap where the ${roomThing(tool.slice(6))?.words} stands.`
            : 'Drag what stands elsewhere; dashed is only supposed.';
  const keys = (e: KeyboardEvent) => {
    if (e.target instanceof HTMLInputElement) return;
    if (e.key === 'Escape') {
      e.stopPropagation();
      if (tool) set({ tool: undefined, corners: [] });
      else if (chosen) set({ chosen: undefined });
      else set({ telling: undefined });
      return;
    }
    if (!chosen || chosen.kind === 'head') return;
    const by: Record<string, Point> = {
      ArrowLeft: [-0.05, 0],
      ArrowRight: [0.05, 0],
      ArrowUp: [0, 0.05],
      ArrowDown: [0, -0.05],
    };
    const d = by[e.key];
    if (d) {
      e.preventDefault();
      e.stopPropagation();
      const at = whereIs(t, chosen);
      if (at) t.act(carryTo(t, chosen, [at[0] + d[0], at[1] + d[1]]));
    } else if (e.key === 'Delete' || e.key === 'Backspace') {
      e.preventDefault();
      e.stopPropagation();
      remove(t, chosen);
    } else if (e.key === '[' || e.key === ']') turn(t, chosen, e.key === '[' ? 15 : -15);
  };
  return (
    <section ref={form} className="your-room" aria-label="Your room" tabIndex={-1} onKeyDown={keys}>
      <header>
        <h2>
          <em>{draft ? 'Now your room' : 'This room'}</em>
        </h2>
        <span className="quiet">Guess. You can measure later.</span>
        <span className="space" />
        <button type="button" disabled={!t.last} onClick={t.back} title={t.last ? `Undoes: ${t.last}` : ''}>
          Back a step
        </button>
        <button
          type="button"
          className="quiet"
          onClick={() => set({ telling: undefined, tool: undefined, chosen: undefined })}
        >
          {draft ? 'leave it for now' : 'done'}
        </button>
      </header>
      <div className="room-plan-side">
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
        <div className="room-tools">
          {(['door', 'window', 'socket'] as const).map((k) => (
            <button key={k} type="button" className="boxed" aria-pressed={tool === k} onClick={arm(k)}>
              {k === 'socket' ? regionWord(region, 'socket') : k}
            </button>
          ))}
          <button type="button" className="boxed" aria-pressed={tool === 'person'} onClick={arm('person')}>
            one more person
          </button>
          <button type="button" className="boxed" aria-pressed={tool === 'corner'} onClick={arm('corner')}>
            corners
          </button>
          {tool === 'corner' && corners.length > 2 ? (
            <button type="button" className="boxed" onClick={() => closeRound(t)}>
              close
            </button>
          ) : null}
          <span className="quiet hint">{hint}</span>
        </div>
        <RoomPlan teller={t} />
        {chosen && chosen.kind !== 'head' ? <ChosenRow teller={t} chosen={chosen} /> : <Told teller={t} />}
      </div>
      <div className="room-words">
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
        <RoomKit teller={t} />
        {said ? (
          <p role="alert" className="wrong">
            {said}
          </p>
        ) : null}
        <div className="light-it">
          <button type="button" className="lit" onClick={() => lightIt(t)}>
            {Object.keys(t.shoot.scenes[t.scene]!.angles).length ? 'Light it anew' : 'Light it'}
          </button>
          <span className="quiet">
            {draft
              ? 'The usual angles and up to three rigs to begin with.'
              : 'Takes the rig away and offers up to three others.'}
          </span>
        </div>
      </div>
    </section>
  );
}

/** A point of the longest stretch of wall with nothing in it. */
function freeWall(t: Teller): Point {
  const place = t.shoot.places[t.shoot.scenes[t.scene]!.place]!;
  const taken: Point[] = [
    ...Object.values(place.openings).map((o) => atWall(place.outline, o.wall, (o.fromM + o.toM) / 2)),
    ...Object.values(place.supply.sockets).map((s): Point => [s.at[0], s.at[1]]),
  ];
  let best: Point = atWall(place.outline, 0, 1);
  let most = -1;
  const middle = middleOf(place.outline).at;
  place.outline.forEach((_, wall) => {
    for (let along = 0.6; along < 60; along += 0.3) {
      const p = atWall(place.outline, wall, along);
      if (nearestWall(place.outline, p).offM > 0.01) break;
      const clear = Math.min(...taken.map((q) => Math.hypot(q[0] - p[0], q[1] - p[1])), 9);
      const d = clear - 0.01 * Math.hypot(p[0] - middle[0], p[1] - middle[1]);
      if (d > most) [best, most] = [p, d];
    }
  });
  return best;
}

function whereIs(t: Teller, c: Chosen): Point | undefined {
  const place = t.shoot.places[t.shoot.scenes[t.scene]!.place]!;
  if (c.kind === 'mark') return t.shoot.scenes[t.scene]!.marks[c.id]?.at;
  if (c.kind === 'socket') {
    const s = place.supply.sockets[c.id];
    return s && [s.at[0], s.at[1]];
  }
  if (c.kind === 'opening') {
    const o = place.openings[c.id];
    return o && atWall(place.outline, o.wall, (o.fromM + o.toM) / 2);
  }
  const f = place.furniture[c.id];
  return f && [f.at[0], f.at[1]];
}

function remove(t: Teller, c: Chosen): void {
  const place = t.shoot.scenes[t.scene]!.place;
  const done =
    c.kind === 'mark'
      ? t.act({ edit: 'removeMark', args: { scene: t.scene, mark: c.id } })
      : c.kind === 'socket'
        ? t.act({ edit: 'setSocket', args: { place, id: c.id } })
        : c.kind === 'opening'
          ? t.act({ edit: 'setOpening', args: { place, id: c.id } })
          : t.act({ edit: 'setFurniture', args: { place, id: c.id } });
  if (done) useRoom.getState().set({ chosen: undefined });
}

function turn(t: Teller, c: Chosen, byDeg: number): void {
  const scene = t.shoot.scenes[t.scene]!;
  if (c.kind === 'mark') t.act({ edit: 'turnMark', args: { scene: t.scene, mark: c.id, byDeg } });
  if (c.kind !== 'furniture') return;
  const f = t.shoot.places[scene.place]!.furniture[c.id]!;
  t.act({
    edit: 'moveFurniture',
    args: { place: scene.place, id: c.id, to: f.at, turnDeg: ((f.turnDeg ?? 0) + byDeg) % 360 },
  });
}

/** What is chosen, with its measures to type and a way out. */
function ChosenRow(p: { teller: Teller; chosen: Chosen }) {
  const { teller: t, chosen: c } = p;
  const { set } = useRoom.getState();
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
    const change = (changes: object) =>
      t.act({
        edit: 'setOpening',
        args: { place: placeId, id: c.id, opening: { ...o, guessed: false, ...changes } },
      });
    name = `${o.words ?? o.kind}, ${wallWord(place.outline, o.wall, place.northDeg)} wall`;
    fields = (
      <>
        {metres('from the corner', o.fromM, (v) =>
          t.act({ edit: 'moveOpening', args: { place: placeId, id: c.id, fromM: v } }),
        )}
        {metres('wide', o.toM - o.fromM, (v) => change({ toM: o.fromM + v }))}
        {metres('sill', o.sillM, (sillM) => change({ sillM }))}
        {metres('head', o.headM, (headM) => change({ headM }))}
        {o.kind === 'door' ? (
          <button
            type="button"
            className="tiny"
            onClick={() => change({ fill: o.fill === 'open' ? 'shut' : 'open' })}
          >
            {o.fill === 'open' ? 'open' : 'shut'}
          </button>
        ) : null}
      </>
    );
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
          onClick={() =>
            t.act({
              edit: 'setMark',
              args: {
                scene: t.scene,
                mark: c.id,
                changes:
                  m.posture === 'seated'
                    ? { posture: 'standing', eyeM: 1.62 }
                    : { posture: 'seated', eyeM: 1.2, seatM: 0.45 },
              },
            })
          }
        >
          {m.posture}
        </button>
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
    const change = (k: number) => (v: number) =>
      t.act({
        edit: 'setFurniture',
        args: {
          place: placeId,
          id: c.id,
          furniture: { ...f, sizeM: f.sizeM.map((s, i) => (i === k ? v : s)) },
        },
      });
    name = f.words ?? c.id;
    fields = (
      <>
        {metres('wide', f.sizeM[0], change(0))}
        {metres('deep', f.sizeM[1], change(1))}
        {metres('high', f.sizeM[2], change(2))}
        <button type="button" className="tiny" onClick={() => turn(t, c, 15)}>
          turn
        </button>
      </>
    );
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
    </div>
  );
}

/** All that is told so far, each to be chosen without a pointer. */
function Told(p: { teller: Teller }) {
  const t = p.teller;
  const { set } = useRoom.getState();
  const place = t.shoot.places[t.shoot.scenes[t.scene]!.place]!;
  const list: [Chosen, string][] = [
    ...Object.keys(t.shoot.scenes[t.scene]!.marks).map((id): [Chosen, string] => [{ kind: 'mark', id }, id]),
    ...Object.entries(place.openings).map(([id, o]): [Chosen, string] => [
      { kind: 'opening', id },
      `${o.words ?? o.kind} ${wallWord(place.outline, o.wall, place.northDeg)}${o.guessed ? '?' : ''}`,
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
