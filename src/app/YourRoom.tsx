/** One's own room told: three numbers, who is in it, what is in its walls and on its floor, what one owns; then lit. */
import { type KeyboardEvent, useEffect, useRef } from 'react';
import { regionWord } from '../shoot/region-words.ts';
import { freeFloor } from '../shoot/tell.ts';
import { roomThing } from '../shoot/things.ts';
import { unitsOf } from '../shoot/units.ts';
import type { Point } from '../shoot/walls.ts';
import { AirFields } from './AirFields.tsx';
import { ChosenInRoom } from './ChosenInRoom.tsx';
import { DayFields } from './DayFields.tsx';
import { OtherRooms } from './OtherRooms.tsx';
import { RoomKit } from './RoomKit.tsx';
import { RoomPeople } from './RoomPeople.tsx';
import { carryTo, closeRound, RoomPlan, tapWith } from './RoomPlan.tsx';
import { RoomSize } from './RoomSize.tsx';
import { RoomThings } from './RoomThings.tsx';
import { lightIt, type Tool, useRoom, useTeller } from './roomDraft.ts';
import { freeWall, remove, turn, whereIs } from './roomHands.ts';
import { ToldInRoom } from './ToldInRoom.tsx';
import { UnderFields } from './UnderPicture.tsx';
import { UnitsTold } from './useUnits.ts';

export function YourRoom() {
  const teller = useTeller();
  const { telling, chosen, tool, corners, said, set } = useRoom();
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
  const { region } = place.supply;
  const draft = telling === 'draft';
  const units = unitsOf(t.shoot, t.scene);
  const arm = (next: Tool) => (e: React.MouseEvent) => {
    // From the keyboard there is no tap to come: it goes to a free place at once, to be carried with the arrows.
    if (e.detail === 0 && next !== 'corner') {
      const wallTool = next === 'door' || next === 'window' || next === 'socket' || next === 'room';
      tapWith(t, next, wallTool ? freeWall(t) : freeFloor(t.shoot, placeId));
      return;
    }
    set({ tool: tool === next ? undefined : next, corners: [], chosen: undefined, said: '' });
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
          : tool === 'room'
            ? 'Tap the wall it lies behind.'
            : tool === 'known'
              ? corners.length < 2
                ? `Tap ${corners.length ? 'the other' : 'one'} end of a length you know: a wall, a door.`
                : 'Type how long it is; a further tap begins anew.'
              : tool === 'lay'
                ? 'Drag the picture; arrows move it, [ and ] turn it.'
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
    if (tool !== 'lay' && (!chosen || chosen.kind === 'head')) return;
    const by: Record<string, Point> = {
      ArrowLeft: [-0.05, 0],
      ArrowRight: [0.05, 0],
      ArrowUp: [0, 0.05],
      ArrowDown: [0, -0.05],
    };
    const d = by[e.key];
    const under = t.shoot.under?.[placeId];
    if (tool === 'lay' && under) {
      const turned = e.key === '[' ? 0.5 : e.key === ']' ? -0.5 : undefined;
      if (!d && turned === undefined) return;
      e.preventDefault();
      e.stopPropagation();
      const changes = d
        ? { at: [+(under.at[0] + d[0]).toFixed(3), +(under.at[1] + d[1]).toFixed(3)] }
        : { turnDeg: +((under.turnDeg ?? 0) + turned!).toFixed(2) };
      t.act({ edit: 'changeUnder', args: { place: placeId, changes } });
      return;
    }
    if (!chosen) return;
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
    <UnitsTold.Provider value={units}>
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
          <div className="room-sizes">
            <RoomSize teller={t} />
            <OtherRooms teller={t} />
          </div>
          <div className="room-tools">
            {(['door', 'window', 'socket'] as const).map((k) => (
              <button key={k} type="button" className="boxed" aria-pressed={tool === k} onClick={arm(k)}>
                {k === 'socket' ? regionWord(region, 'socket') : k}
              </button>
            ))}
            <button type="button" className="boxed" aria-pressed={tool === 'person'} onClick={arm('person')}>
              one more person
            </button>
            <button type="button" className="boxed" aria-pressed={tool === 'room'} onClick={arm('room')}>
              one more room
            </button>
            <button type="button" className="boxed" aria-pressed={tool === 'corner'} onClick={arm('corner')}>
              corners
            </button>
            {tool === 'corner' && corners.length > 2 ? (
              <button type="button" className="boxed" onClick={() => closeRound(t)}>
                close
              </button>
            ) : null}
            <UnderFields
              place={placeId}
              outline={place.outline}
              under={t.shoot.under?.[placeId]}
              act={(e) => t.act(e) || useRoom.getState().said}
              tools={{
                now: tool,
                points: corners,
                arm: (next) => set({ tool: next, corners: [], chosen: undefined, said: '' }),
              }}
            />
            <span className="quiet hint">{hint}</span>
          </div>
          <RoomPlan teller={t} />
          {chosen && chosen.kind !== 'head' ? (
            <ChosenInRoom teller={t} chosen={chosen} />
          ) : (
            <ToldInRoom teller={t} />
          )}
        </div>
        <div className="room-words">
          <RoomPeople teller={t} />
          <RoomThings teller={t} />
          <fieldset>
            <legend>
              <strong>When</strong>
            </legend>
            <DayFields
              shoot={t.shoot}
              scene={t.scene}
              act={(e) => (t.act(e) ? undefined : useRoom.getState().said)}
            />
            <AirFields
              shoot={t.shoot}
              scene={t.scene}
              act={(e) => (t.act(e) ? undefined : useRoom.getState().said)}
              unlit={draft}
            />
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
    </UnitsTold.Provider>
  );
}
