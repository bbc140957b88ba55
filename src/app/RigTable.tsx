/** The rig: a row per lamp, a cell per angle with its job there. The row is the whole rig; a cell that angle. */

import { useState } from 'react';
import type { Shoot } from '../shoot/schema.ts';
import { Aloud } from './Aloud.tsx';
import { lampColour, lampDash } from './identity.ts';
import { Length } from './Length.tsx';
import { useStore } from './store.ts';
import { Teach } from './Teach.tsx';
import { Typed } from './Typed.tsx';
import { readShare, readShareOr } from './typing.ts';
import { useSaid } from './useUnits.ts';
import { type Cell, type Row, sheetWords } from './views.ts';

export function RigTable(p: { shoot: Shoot; scene: string; rows: Row[]; angles: string[] }) {
  const chosen = useStore((s) => s.angle);
  const lamp = useStore((s) => s.lamp);
  const only = useStore((s) => s.only);
  const act = useStore((s) => s.act);
  const set = useStore((s) => s.set);
  const [menu, setMenu] = useState<{ lamp: string; angle: string }>();
  return (
    <section
      className="rig"
      aria-label="Rig"
      data-several={p.angles.length > 3}
      data-many={p.angles.length > 4}
    >
      <Teach at="only" />
      <table>
        <thead>
          <tr>
            <th scope="col">
              <span className="aside">number</span>
            </th>
            <th scope="col">Rig</th>
            <th scope="col" className="beam">
              in the beam
            </th>
            <th scope="col">burns</th>
            <th scope="col" className="high">
              high
            </th>
            <th scope="col" className="gives">
              gives, alone{' '}
              <button
                type="button"
                className="tiny earns-key"
                title="What each lamp earns: struck in turn, what every angle loses"
                onClick={() => set({ panel: 'earns' })}
              >
                earns
              </button>
            </th>
            {p.angles.map((a) => (
              <th key={a} scope="col" className={a === chosen ? 'chosen angle' : 'angle'}>
                <button type="button" onClick={() => set({ angle: a })}>
                  {a}
                </button>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {p.rows.map((l) => (
            <LampRows
              key={l.id}
              {...p}
              row={l}
              chosen={chosen}
              picked={lamp === l.id}
              only={only}
              menu={menu?.lamp === l.id ? menu.angle : undefined}
              onMenu={(angle) => {
                setMenu(angle ? { lamp: l.id, angle } : undefined);
                // A cell is that angle's alone, and the plan says so.
                if (angle && angle !== BEAM) set({ lamp: l.id, angle, scope: 'angle' });
              }}
              act={act}
              set={set}
            />
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** The menu of what is in the beam, where a cell's menu is named by its angle. */
const BEAM = '·beam';

type Store = ReturnType<typeof useStore.getState>;

function LampRows(p: {
  scene: string;
  row: Row;
  angles: string[];
  chosen: string | undefined;
  picked: boolean;
  only: string | undefined;
  menu: string | undefined;
  onMenu: (angle: string | undefined) => void;
  act: Store['act'];
  set: Store['set'];
}) {
  const { row: l, act, scene } = p;
  const cell = l.cells.find((c) => c.angle === p.menu);
  const said = useSaid();
  const [first, ...more] = l.beam.split(', ');
  return (
    <>
      <tr
        style={{ '--lamp': lampColour(l.identity) } as React.CSSProperties}
        data-lamp={l.id}
        className={p.picked ? 'picked' : ''}
        onPointerDown={() => !p.picked && p.set({ lamp: l.id, scope: 'rig' })}
      >
        <td>
          <button
            type="button"
            className="number"
            aria-pressed={p.only === l.id}
            title={`only ${l.number} (hold ${l.identity})`}
            onClick={() => p.set({ only: p.only === l.id ? undefined : l.id })}
          >
            {l.number}
          </button>
        </td>
        <th scope="row" className="what">
          <svg width="16" height="6" aria-hidden="true">
            <line
              x1="0"
              x2="16"
              y1="3"
              y2="3"
              stroke={lampColour(l.identity)}
              strokeWidth={l.identity > 4 ? 1 : 2}
              strokeDasharray={lampDash(l.identity)}
            />
            {l.identity > 4 ? (
              <line
                x1="0"
                x2="16"
                y1="5.5"
                y2="5.5"
                stroke={lampColour(l.identity)}
                strokeDasharray={lampDash(l.identity)}
              />
            ) : null}
          </svg>
          <span className={l.on ? '' : 'out'}>{l.words}</span>
          <button
            type="button"
            className="tiny"
            aria-pressed={!l.on}
            onClick={() => act({ edit: 'switchLamp', args: { scene, lamp: l.id, on: !l.on } })}
          >
            {l.on ? 'out' : 'light it'}
          </button>
        </th>
        <td className="quiet beam">
          <button
            type="button"
            aria-expanded={p.menu === BEAM}
            aria-label={`In the beam of lamp ${l.number}: ${l.beam}`}
            title={l.beam}
            onClick={() => p.onMenu(p.menu === BEAM ? undefined : BEAM)}
          >
            {first}
            {more.length ? (
              <>
                <span className="rest">, {more.join(', ')}</span>
                {/* No text: what is said aloud says them all. */}
                <span className="count-more" data-more={` +${more.length}`} />
              </>
            ) : null}
          </button>
        </td>
        <td>
          <Burn scene={scene} row={l} />
        </td>
        <td className="high">
          <Length
            value={l.heightM}
            label={`Lamp ${l.number} of the rig: height`}
            onValue={(v) => act({ edit: 'raiseLamp', args: { scene, lamp: l.id, heightM: v } })}
          />
        </td>
        <td className="quiet gives">
          <button
            type="button"
            title={`${l.warmth} ${l.volts}. Meter ${l.number} alone${l.givesOn ? ` at ${l.givesOn}` : ''}`}
            disabled={!l.givesOn}
            onClick={() => p.set({ panel: 'meter', meter: { mark: l.givesOn, toward: l.id, lamps: [l.id] } })}
          >
            <span className="read-dot" data-metered={l.metered} />
            {l.givesOn} <span className="ink">{l.gives}</span> <span className="faint">{l.band}</span>
          </button>
        </td>
        {l.cells.map((c) => (
          <CellOf
            key={c.angle}
            c={c}
            chosen={c.angle === p.chosen}
            open={p.menu === c.angle}
            onMenu={p.onMenu}
          />
        ))}
      </tr>
      {p.menu === BEAM ? (
        <tr className="below" style={{ '--lamp': lampColour(l.identity) } as React.CSSProperties}>
          <td />
          <td colSpan={5 + p.angles.length}>
            <InTheBeam scene={scene} lamp={l.id} number={l.number} onShut={() => p.onMenu(undefined)} />
          </td>
        </tr>
      ) : null}
      {cell ? (
        <tr className="below" style={{ '--lamp': lampColour(l.identity) } as React.CSSProperties}>
          <td />
          <td colSpan={5 + p.angles.length}>
            <span className="where-it-goes">
              {l.number} in {cell.angle} only:
            </span>
            <button
              type="button"
              onClick={() => {
                act({ edit: 'switchLamp', args: { scene, angle: cell.angle, lamp: l.id, on: !cell.on } });
                p.onMenu(undefined);
              }}
            >
              {cell.on ? 'out' : 'light it'}
            </button>
            <span className="pair">
              burns{' '}
              <Typed
                value={cell.level * 100}
                digits={0}
                unit="%"
                label={`Lamp ${l.number} in ${cell.angle} only: burns, per cent or a change in stops`}
                read={readShareOr(cell.afterStops)}
                onValue={(v) =>
                  act({ edit: 'setLevel', args: { scene, angle: cell.angle, lamp: l.id, level: v / 100 } })
                }
              />
            </span>
            <CheatActs
              scene={scene}
              lamp={l.id}
              angle={cell.angle}
              angles={p.angles}
              cheats={cell.cheats}
              act={act}
            />
            <button type="button" className="plain" onClick={() => p.onMenu(undefined)}>
              shut
            </button>
            <span className="faint says-cell">{said(cell.says)}</span>
          </td>
        </tr>
      ) : null}
      {groupsOf(l.cheats.filter((c) => c.angle !== p.menu)).map((c) => (
        <tr
          key={c.angles.join()}
          className="below"
          style={{ '--lamp': lampColour(l.identity) } as React.CSSProperties}
        >
          <td />
          <td colSpan={5 + p.angles.length}>
            <span className="where-it-goes">in {c.angles.join(', ')}</span>{' '}
            <span className="quiet">{said(c.words)}</span>
            {c.angles.length === 1 ? (
              <CheatActs scene={scene} lamp={l.id} angle={c.angles[0]!} angles={p.angles} cheats act={act} />
            ) : (
              c.angles.map((angle) => (
                <button
                  key={angle}
                  type="button"
                  onClick={() => act({ edit: 'endCheat', args: { scene, angle, lamp: l.id } })}
                >
                  {angle} as the rig
                </button>
              ))
            )}
          </td>
        </tr>
      ))}
    </>
  );
}

/** Angles that cheat a lamp alike, in one line. */
function groupsOf(cheats: Row['cheats']): { angles: string[]; words: string }[] {
  const groups = new Map<string, { angles: string[]; words: string }>();
  for (const { angle, words } of cheats) {
    const group = groups.get(words) ?? { angles: [], words };
    group.angles.push(angle);
    groups.set(words, group);
  }
  return [...groups.values()];
}

function CheatActs(p: {
  scene: string;
  lamp: string;
  angle: string;
  angles: string[];
  cheats: boolean;
  act: Store['act'];
}) {
  const [elsewhere, setElsewhere] = useState(false);
  if (!p.cheats) return <span className="faint">now as the rig</span>;
  const args = { scene: p.scene, angle: p.angle, lamp: p.lamp };
  return (
    <>
      <button type="button" onClick={() => p.act({ edit: 'endCheat', args })}>
        as the rig
      </button>
      <button type="button" onClick={() => p.act({ edit: 'makeCheatTheRig', args })}>
        make it the rig
      </button>
      <button type="button" aria-expanded={elsewhere} onClick={() => setElsewhere(!elsewhere)}>
        cheat elsewhere
      </button>
      {elsewhere
        ? p.angles
            .filter((a) => a !== p.angle)
            .map((a) => (
              <button
                key={a}
                type="button"
                className="elsewhere"
                aria-label={`The same in ${a}`}
                onClick={() => {
                  setElsewhere(false);
                  p.act({ edit: 'cheatElsewhere', args: { ...args, to: [a] } });
                }}
              >
                {a}
              </button>
            ))
        : null}
    </>
  );
}

function CellOf(p: { c: Cell; chosen: boolean; open: boolean; onMenu: (angle: string | undefined) => void }) {
  const { c } = p;
  return (
    <td className={`cell${p.chosen ? ' chosen' : ''}`} data-cheats={c.cheats} data-trouble={c.trouble >= 2}>
      <button
        type="button"
        title={c.says}
        aria-expanded={p.open}
        onClick={() => p.onMenu(p.open ? undefined : c.angle)}
      >
        <Aloud says={c.says}>
          <em
            className={`${c.trouble >= 2 ? 'job-trouble' : ''} ${c.job === 'rests' || c.job === 'out' ? 'faint' : ''}`}
          >
            {c.job}
          </em>
          {c.stops ? <span className="faint stops"> {c.stops}</span> : null}
          {c.more ? <em className="faint more"> {c.more}</em> : null}
        </Aloud>
      </button>
    </td>
  );
}

/** Burn: a line to slide along and a number to type. */
export function Burn(p: { scene: string; row: Row; wide?: boolean }) {
  const { row: l, scene } = p;
  const { act, drag, drop } = useStore.getState();
  const level = (v: number) => ({ edit: 'setLevel', args: { scene, lamp: l.id, level: v } });
  return (
    <span className="burn">
      <input
        type="range"
        min={0}
        max={100}
        value={Math.round(l.level * 100)}
        style={{ '--share': `${Math.round(l.level * 100)}%` } as React.CSSProperties}
        aria-label={`Lamp ${l.number}: burns, per cent`}
        onChange={(e) => drag(level(Number(e.target.value) / 100), {})}
        onPointerUp={drop}
        onKeyUp={drop}
        onBlur={drop}
      />
      <Typed
        value={l.level * 100}
        digits={0}
        unit="%"
        label={`Lamp ${l.number}: burns, per cent or a change in stops`}
        read={readShareOr(l.afterStops)}
        onValue={(v) => act(level(v / 100))}
      />
    </span>
  );
}

/** Sheets of the kit and scrims, put in and taken out; the first press of a lamp's row that is not an angle's. */
function InTheBeam(p: { scene: string; lamp: string; number: string; onShut: () => void }) {
  const kit = useStore((s) => s.history?.shoot.kit);
  const lamp = useStore((s) => s.history?.shoot.scenes[p.scene]?.rig.lamps[p.lamp]);
  const act = useStore((s) => s.act);
  if (!kit || !lamp) return null;
  const args = { scene: p.scene, lamp: p.lamp };
  const owned = Object.values(kit.sheets).map((s) => s.kind);
  const kinds = [...new Set([...owned, ...lamp.sheets])];
  const sheets = (next: string[]) => act({ edit: 'setSheets', args: { ...args, sheets: next } });
  return (
    <span className="in-the-beam">
      <span className="where-it-goes">In the beam of {p.number}, whole rig:</span>
      {kinds.map((kind) => {
        const inIt = lamp.sheets.includes(kind);
        return (
          <button
            key={kind}
            type="button"
            aria-pressed={inIt}
            onClick={() => sheets(inIt ? lamp.sheets.filter((x) => x !== kind) : [...lamp.sheets, kind])}
          >
            {sheetWords(kind)}
          </button>
        );
      })}
      {(['half', 'full'] as const).map((scrim) => {
        const inIt = lamp.scrims.includes(scrim);
        return (
          <button
            key={scrim}
            type="button"
            aria-pressed={inIt}
            onClick={() =>
              act({
                edit: 'setScrims',
                args: {
                  ...args,
                  scrims: inIt ? lamp.scrims.filter((x) => x !== scrim) : [...lamp.scrims, scrim],
                },
              })
            }
          >
            {scrim} scrim
          </button>
        );
      })}
      <span className="pair">
        focus{' '}
        <Typed
          value={lamp.focus * 100}
          digits={0}
          unit="% to spot"
          label={`Lamp ${p.number}: focus, per cent toward spot`}
          read={readShare}
          onValue={(v) => act({ edit: 'focusLamp', args: { ...args, focus: v / 100 } })}
        />
      </span>
      <button type="button" className="plain" onClick={p.onShut}>
        shut
      </button>
    </span>
  );
}
