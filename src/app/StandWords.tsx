/** What the map of the floor says, in words; and the level along a walk from the mark to another or to a tap. */
import { useState } from 'react';
import { walk, walked } from '../readings/walk.ts';
import type { Shoot } from '../shoot/schema.ts';
import { Choices, Word } from './Choices.tsx';
import type { Stands } from './lights.ts';
import { askedOf, signed, standWords, walkWords } from './standing.ts';
import { useSaid } from './useUnits.ts';

/** Where a walk goes: to a mark, or to a point that was tapped. */
export type WalkTo = { mark: string } | { at: readonly [number, number] };
export const walkEnd = (shoot: Shoot, scene: string, to: WalkTo): readonly [number, number] | undefined =>
  'at' in to ? to.at : shoot.scenes[scene]!.marks[to.mark]?.at;

export function StandWords(p: {
  shoot: Shoot;
  scene: string;
  stands: Stands | undefined;
  to: WalkTo | undefined;
  onTo: (to: WalkTo | undefined | 'tap') => void;
  onAway: () => void;
}) {
  const [open, setOpen] = useState<string>();
  const said = useSaid();
  const { stands } = p;
  if (!stands?.map)
    return (
      <p className="stand-words" role="status">
        <em>Asking where they could stand …</em>{' '}
        <button type="button" className="tiny" onClick={p.onAway}>
          put away
        </button>
      </p>
    );
  const { map, mark } = stands;
  const marks = Object.keys(p.shoot.scenes[p.scene]!.marks).filter((m) => m !== mark);
  const asked = askedOf(p.shoot, p.scene, stands);
  const from = p.shoot.scenes[p.scene]!.marks[mark]?.at;
  const end = p.to && walkEnd(p.shoot, p.scene, p.to);
  const steps = from && end ? walk(map, from, end) : undefined;
  const w = steps && walked(steps, asked.target, asked.within);
  const name = p.to ? ('mark' in p.to ? p.to.mark : 'the tap') : 'somewhere';
  return (
    <div className="stand-words">
      <p role="status">
        <em>{said(standWords(p.shoot, p.scene, stands))}</em>{' '}
        <button type="button" className="tiny" onClick={p.onAway}>
          put away
        </button>
      </p>
      <p>
        {mark} walks to{' '}
        <Word k="walk" open={open} onOpen={setOpen}>
          {name}
        </Word>
        {w ? (
          <em>{said(walkWords(w, asked))}</em>
        ) : p.to ? (
          <em>: nobody can stand on the way there.</em>
        ) : (
          '.'
        )}
      </p>
      {open ? (
        <Choices
          label={`Where ${mark} walks to`}
          list={[
            ...marks.map((m) => ({
              id: m,
              words: m,
              found: [],
              on: p.to !== undefined && 'mark' in p.to && p.to.mark === m,
            })),
            { id: '.tap', words: 'a tap on the plan', found: ['point', 'place'], on: false },
            { id: '.none', words: 'nowhere', found: ['stay'], on: p.to === undefined },
          ]}
          onLeave={() => setOpen(undefined)}
          onPick={(id) => {
            setOpen(undefined);
            p.onTo(id === '.tap' ? 'tap' : id === '.none' ? undefined : { mark: id });
          }}
        />
      ) : null}
      {steps && w ? (
        <svg
          className="walk"
          viewBox="0 0 300 44"
          preserveAspectRatio="none"
          role="img"
          aria-label="Level along the walk"
        >
          <path
            className="range"
            d={`M0 ${y(asked.target + asked.within)}H300V${y(asked.target - asked.within)}H0Z`}
          />
          <path className="asked" d={`M0 ${y(asked.target)}H300`} />
          <path
            className="level"
            d={steps
              .map((s, i) =>
                s.overStops === undefined
                  ? ''
                  : `${i && steps[i - 1]!.overStops !== undefined ? 'L' : 'M'}${((300 * s.alongM) / Math.max(0.01, w.farM)).toFixed(1)} ${y(s.overStops)}`,
              )
              .join('')}
          />
        </svg>
      ) : null}
      {steps && w ? (
        <p className="walk-ends">
          <span>{mark}</span>
          <span>{signed(steps.find((s) => s.overStops !== undefined)?.overStops ?? 0)}</span>
          <span className="end">
            {signed(steps.findLast((s) => s.overStops !== undefined)?.overStops ?? 0)} {name}
          </span>
        </p>
      ) : null}
    </div>
  );
}

/** Three stops either way over the strip's height. */
const y = (stops: number): string => (22 - 7 * Math.max(-3, Math.min(3, stops))).toFixed(1);
