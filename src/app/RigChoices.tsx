/** After one's room was lit: the rigs there are to begin with, tiny, with their reasons and their price. */
import { useState } from 'react';
import type { StartingRig } from '../scheme/startingRigs.ts';
import type { Shoot } from '../shoot/schema.ts';
import { boundsOf } from '../shoot/walls.ts';
import { lampColour } from './identity.ts';
import { takeRig, useRoom } from './roomDraft.ts';

export function RigChoices(p: { shoot: Shoot; scene: string }) {
  const { offered, set } = useRoom();
  const [why, setWhy] = useState(false);
  if (!offered) return null;
  const chosen = offered.rigs[offered.chosen];
  return (
    <fieldset className="rig-choices" aria-label="Rigs to begin with">
      <div className="row">
        {offered.rigs.map((r, i) => (
          <button
            key={r.name}
            type="button"
            className="boxed"
            aria-pressed={i === offered.chosen}
            onClick={() => takeRig(i)}
            title={`${r.price.lamps} lamps, ${r.price.amps.toFixed(1)} A, ${r.price.moves} moves between angles`}
          >
            <Tiny rig={r} shoot={p.shoot} scene={p.scene} />
            <span>
              {r.words}
              <br />
              <span className="faint">
                {r.price.lamps} {r.price.lamps === 1 ? 'lamp' : 'lamps'}, {r.price.amps.toFixed(1)} A
                {r.price.moves ? `, ${r.price.moves} carried` : ''}
              </span>
            </span>
          </button>
        ))}
        <span className="space" />
        <button type="button" className="tiny" aria-expanded={why} onClick={() => setWhy(!why)}>
          why
        </button>
        <button type="button" className="tiny" onClick={() => set({ offered: undefined })}>
          keep it
        </button>
      </div>
      {why && chosen ? (
        <ul className="reasons">
          {chosen.gave.map((x) => (
            <li key={x} className="ember-word">
              {x}
            </li>
          ))}
          {offered.says.map((x) => (
            <li key={x}>{x}</li>
          ))}
          {chosen.reasons.map((x) => (
            <li key={x}>{x}</li>
          ))}
          {offered.not.map((x) => (
            <li key={x.words} className="quiet">
              No {x.words}: {x.why}
            </li>
          ))}
        </ul>
      ) : chosen?.gave.length ? (
        <p className="ember-word">{chosen.gave[0]}</p>
      ) : null}
    </fieldset>
  );
}

/** Where the lamps of a rig stand and what they look at. */
function Tiny(p: { rig: StartingRig; shoot: Shoot; scene: string }) {
  const scene = p.shoot.scenes[p.scene]!;
  const outline = p.shoot.places[scene.place]!.outline;
  const b = boundsOf(outline);
  const span = Math.max(b.x1 - b.x0, b.y1 - b.y0);
  const lamps = p.rig.edits.flatMap((e) =>
    e.edit === 'addLamp' ? [(e.args as { lamp: { at: number[]; aim: number[] } }).lamp] : [],
  );
  const u = span / 40;
  return (
    <svg
      viewBox={`${b.x0 - u} ${-b.y1 - u} ${b.x1 - b.x0 + 2 * u} ${b.y1 - b.y0 + 2 * u}`}
      aria-hidden="true"
    >
      <path
        d={`${outline.map(([x, y], i) => `${i ? 'L' : 'M'}${x} ${-y}`).join('')}Z`}
        fill="none"
        stroke="var(--plan-wall)"
        strokeWidth={1.5 * u}
      />
      {Object.entries(scene.marks).map(([id, m]) => (
        <circle key={id} cx={m.at[0]} cy={-m.at[1]} r={1.6 * u} fill="var(--ink2)" />
      ))}
      {lamps.map((l, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a rig's lamps have no other order
        <g key={i} stroke={lampColour(i + 1)} fill={lampColour(i + 1)}>
          <path
            d={`M${l.at[0]} ${-l.at[1]!}L${l.at[0]! + (l.aim[0]! - l.at[0]!) * 0.6} ${-(l.at[1]! + (l.aim[1]! - l.at[1]!) * 0.6)}`}
            strokeWidth={0.9 * u}
          />
          <circle cx={l.at[0]} cy={-l.at[1]!} r={1.8 * u} stroke="none" />
        </g>
      ))}
    </svg>
  );
}
