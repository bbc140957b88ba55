/** The rig: a row per lamp, a cell per angle with its job there. The row is the whole rig; a cell that angle. */
import { lampColour } from './identity.ts';
import type { LampRow } from './model.ts';
import { Typed } from './Typed.tsx';

export function RigTable(p: {
  lamps: LampRow[];
  angles: string[];
  chosen: string | undefined;
  only: string | undefined;
  onLevel: (lamp: string, level: number, phase: 'move' | 'end') => void;
  onHeight: (lamp: string, heightM: number) => void;
  onSwitch: (lamp: string, on: boolean) => void;
  onOnly: (lamp: string | undefined) => void;
  onChooseAngle: (angle: string) => void;
  onCellSwitch: (lamp: string, angle: string, on: boolean) => void;
}) {
  return (
    <section className="rig" aria-label="Rig">
      <table>
        <thead>
          <tr>
            <th scope="col"> </th>
            <th scope="col">Rig</th>
            <th scope="col">in the beam</th>
            <th scope="col">burns</th>
            <th scope="col">high</th>
            <th scope="col">gives, alone</th>
            {p.angles.map((a) => (
              <th key={a} scope="col" className={a === p.chosen ? 'chosen' : ''}>
                <button type="button" onClick={() => p.onChooseAngle(a)}>
                  {a}
                </button>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {p.lamps.map((l) => (
            <tr
              key={l.id}
              style={{ '--lamp': lampColour(l.identity) } as React.CSSProperties}
              data-lamp={l.id}
            >
              <td>
                <button
                  type="button"
                  className="number"
                  aria-pressed={p.only === l.id}
                  title="only this lamp"
                  onClick={() => p.onOnly(p.only === l.id ? undefined : l.id)}
                >
                  {l.number}
                </button>
              </td>
              <td>
                {l.words}{' '}
                <button
                  type="button"
                  className="faint"
                  aria-pressed={!l.on}
                  onClick={() => p.onSwitch(l.id, !l.on)}
                >
                  out
                </button>
              </td>
              <td className="quiet">{l.beam}</td>
              <td>
                <span className="burn">
                  <input
                    type="range"
                    min={0}
                    max={100}
                    value={Math.round(l.level * 100)}
                    aria-label={`${l.words}: burns, per cent`}
                    onChange={(e) => p.onLevel(l.id, Number(e.target.value) / 100, 'move')}
                    onPointerUp={(e) => p.onLevel(l.id, Number(e.currentTarget.value) / 100, 'end')}
                    onKeyUp={(e) => p.onLevel(l.id, Number(e.currentTarget.value) / 100, 'end')}
                  />
                  <Typed
                    value={l.level * 100}
                    digits={0}
                    unit="%"
                    label={`${l.words}: burns`}
                    read={(t) => {
                      const v = Number.parseFloat(t);
                      return Number.isFinite(v) && v >= 0 && v <= 100 ? v : 'a share from 0 to 100 %';
                    }}
                    onValue={(v) => p.onLevel(l.id, v / 100, 'end')}
                  />
                </span>
              </td>
              <td>
                <Typed
                  value={l.heightM}
                  digits={2}
                  unit="m"
                  label={`${l.words}: height`}
                  read={readLength}
                  onValue={(v) => p.onHeight(l.id, v)}
                />
              </td>
              <td className="quiet">
                <em>{l.gives}</em>
              </td>
              {l.cells.map((c) => (
                <td
                  key={c.angle}
                  className={`cell${c.angle === p.chosen ? ' chosen' : ''}`}
                  data-cheats={c.cheats}
                  data-trouble={c.trouble}
                  title={c.says}
                >
                  <em className={c.trouble ? 'job-trouble' : ''}>{c.role === 'none' ? '—' : c.role}</em>{' '}
                  <span className="faint">{c.stops}</span>
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** A length typed in any usual way: 2.2, 2.2m, 220cm, 7ft2, 7'2". Metres, or what was expected. */
export function readLength(text: string): number | string {
  const t = text.trim().toLowerCase().replace(',', '.');
  const feet = /^(\d+(?:\.\d+)?)\s*(?:ft|')\s*(?:(\d+(?:\.\d+)?)\s*(?:in|")?)?$/.exec(t);
  if (feet) return (Number(feet[1]) * 12 + Number(feet[2] ?? 0)) * 0.0254;
  const metric = /^(-?\d+(?:\.\d+)?)\s*(m|cm|mm)?$/.exec(t);
  if (!metric) return 'a length such as 2.2, 220cm or 7ft2';
  const v = Number(metric[1]) * (metric[2] === 'cm' ? 0.01 : metric[2] === 'mm' ? 0.001 : 1);
  return v >= 0 && v <= 50 ? v : 'a height from 0 to 50 m';
}
