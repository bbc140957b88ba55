/** The score: lamps × angles, each cell that lamp alone in that angle. A column's cells add up to its picture. */

import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { Aloud } from './Aloud.tsx';
import { lampColour } from './identity.ts';
import { Burn } from './RigTable.tsx';
import { useStore } from './store.ts';
import { Canvas, Tile } from './Tile.tsx';
import { type Cell, type Row, signed } from './views.ts';
import { Where } from './Where.tsx';

export function Score(p: { shoot: Shoot; scene: string; angles: AngleRef[]; rows: Row[] }) {
  const chosen = useStore((s) => s.angle);
  const only = useStore((s) => s.only);
  const set = useStore((s) => s.set);
  return (
    <div className="score" style={{ '--angles': p.angles.length } as React.CSSProperties}>
      <div className="score-side">
        <div className="plan-cell">
          <Where shoot={p.shoot} scene={p.scene} />
        </div>
        {chosen ? <Tile key={chosen} shoot={p.shoot} scene={p.scene} angle={chosen} /> : null}
      </div>
      <div className="matrix">
        <div className="matrix-head">
          <p className="faint">Each picture is the sum of the column below it. Hollow: not metered.</p>
        </div>
        {p.angles.map((a) => (
          <div key={a.angle} className="matrix-head" data-chosen={a.angle === chosen}>
            <p>
              <strong>{a.angle}</strong>{' '}
              <span className="quiet">{p.shoot.scenes[p.scene]!.angles[a.angle]!.name}</span>
            </p>
            <Tile shoot={p.shoot} scene={p.scene} angle={a.angle} small />
          </div>
        ))}
        {p.rows.map((row) => (
          <div
            key={row.id}
            className="matrix-row"
            style={{ '--lamp': lampColour(row.identity) } as React.CSSProperties}
            data-lamp={row.id}
          >
            <div className="matrix-lamp">
              <p>
                <button
                  type="button"
                  className="number"
                  aria-pressed={only === row.id}
                  onClick={() => set({ only: only === row.id ? undefined : row.id, lamp: row.id })}
                >
                  {row.number}
                </button>{' '}
                <strong>{row.words}</strong>
              </p>
              <p className="quiet">{[row.beam, row.warmth].filter(Boolean).join(', ')}</p>
              <Burn scene={p.scene} row={row} />
            </div>
            {row.cells.map((c) => (
              <MatrixCell key={c.angle} lamp={row.id} cell={c} chosen={c.angle === chosen} />
            ))}
          </div>
        ))}
      </div>
    </div>
  );
}

function MatrixCell(p: { lamp: string; cell: Cell; chosen: boolean }) {
  const { cell: c } = p;
  const picture = useStore((s) => s.alone[`${p.lamp}/${c.angle}`]);
  const clip = useStore((s) => s.results[c.angle]?.exposure.clipStops ?? 3);
  const set = useStore((s) => s.set);
  const x = (v: number) => ((Math.max(-6, Math.min(6, v)) + 6) / 12) * 148;
  return (
    <button
      type="button"
      className="matrix-cell cell"
      data-chosen={p.chosen}
      data-cheats={c.cheats}
      data-trouble={c.trouble >= 2}
      title={c.says}
      onClick={() => set({ angle: c.angle, lamp: p.lamp, scope: 'angle' })}
    >
      <Aloud says={c.says}>
        <span className="alone">
          <Canvas picture={c.on ? picture : undefined} label={`${p.lamp} alone in ${c.angle}`} />
        </span>
        <span className="alone-says">
          <em
            className={`${c.trouble >= 2 ? 'job-trouble' : ''} ${c.job === 'rests' || c.job === 'out' ? 'faint' : ''}`}
          >
            {c.job}
          </em>
          <span className="faint">{c.from}</span>
        </span>
        <svg viewBox="0 0 148 16" aria-hidden="true">
          {[-4, -2, 0, 2, 4].map((s) => (
            <line
              key={s}
              x1={x(s)}
              x2={x(s)}
              y1={s === 0 ? 1 : 6}
              y2={s === 0 ? 15 : 10}
              stroke={s === 0 ? 'var(--ink2)' : 'var(--rule)'}
            />
          ))}
          <rect x={x(clip)} y={3} width={148 - x(clip)} height={10} fill="var(--rule)" opacity={0.7} />
          {c.dots.map((d) => (
            <g key={d.mark}>
              <line
                x1={x(d.stops - d.bandStops)}
                x2={x(d.stops + d.bandStops)}
                y1={8}
                y2={8}
                stroke="var(--lamp)"
                strokeWidth={3}
                opacity={0.45}
              />
              <circle
                cx={x(d.stops)}
                cy={8}
                r={3.6}
                fill="var(--card)"
                stroke="var(--lamp)"
                strokeWidth={1.8}
              />
            </g>
          ))}
        </svg>
        <span className="alone-stops">
          {c.dots.map((d) => (
            <span key={d.mark}>
              {c.dots.length > 1 ? `${d.mark} ` : ''}
              {signed(d.stops)}
            </span>
          ))}
        </span>
      </Aloud>
    </button>
  );
}
