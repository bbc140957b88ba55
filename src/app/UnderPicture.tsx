/** The picture under a plan: as it lies there, and the line by which it is laid, scaled, turned, dimmed, hidden. */

import { useId, useRef, useState } from 'react';
import type { Edit } from '../shoot/edits.ts';
import { heightM, type Underlay } from '../shoot/underlay.ts';
import { boundsOf, type Outline, type Point } from '../shoot/walls.ts';
import { FileInput } from './FileInput.tsx';
import { Length } from './Length.tsx';
import { readPicture } from './readPicture.ts';
import { refuse } from './refused.ts';
import { Typed } from './Typed.tsx';
import { readDegrees, readLength, readShare } from './typing.ts';
import { useUnits } from './useUnits.ts';

/** In a drawing whose y goes down. */
export function UnderImage({ under }: { under: Underlay | undefined }) {
  if (!under || under.hidden) return null;
  const [w, h] = [under.widthM, heightM(under)];
  return (
    <image
      className="under-picture"
      href={under.picture}
      x={under.at[0] - w / 2}
      y={-under.at[1] - h / 2}
      width={w}
      height={h}
      preserveAspectRatio="none"
      opacity={under.seen ?? 0.35}
      transform={under.turnDeg ? `rotate(${-under.turnDeg} ${under.at[0]} ${-under.at[1]})` : undefined}
    />
  );
}

/** Fitted about the room until its scale is known: as wide as the room, with its walls' own margin. */
export async function layPicture(
  file: File,
  place: string,
  outline: Outline,
  act: (edit: Edit) => unknown,
  at?: { x: number; y: number },
): Promise<void> {
  const read = await readPicture(file);
  if (Array.isArray(read)) return refuse({ words: read, at });
  const b = boundsOf(outline);
  const [w, h] = [b.x1 - b.x0, b.y1 - b.y0];
  const widthM = +(1.15 * Math.max(w, (h * read.px[0]) / read.px[1])).toFixed(3);
  act({
    edit: 'layUnder',
    args: {
      place,
      under: { ...read, at: [+((b.x0 + b.x1) / 2).toFixed(3), +((b.y0 + b.y1) / 2).toFixed(3)], widthM },
    },
  });
}

export type UnderTool = 'lay' | 'known';

export function UnderFields(p: {
  place: string;
  outline: Outline;
  under: Underlay | undefined;
  act: (edit: Edit) => unknown;
  /** Where a hand can lay it and tap two points. */
  tools?: {
    now: string | undefined;
    points: readonly Point[];
    arm: (tool: UnderTool | undefined) => void;
  };
}) {
  const input = useRef<HTMLInputElement>(null);
  const { under, tools } = p;
  const change = (changes: Partial<Underlay>) =>
    p.act({ edit: 'changeUnder', args: { place: p.place, changes } });
  const file = (
    <FileInput
      of={input}
      accept="image/png,image/jpeg,image/webp"
      label="A photograph or a sketch of the plan"
      onFile={(chosen) => void layPicture(chosen, p.place, p.outline, p.act)}
    />
  );
  if (!under)
    return (
      <span className="under-fields">
        {file}
        <button
          type="button"
          className="boxed"
          title="A photograph of a plan, or a sketch, to trace over; or drop it on this page"
          onClick={() => input.current?.click()}
        >
          photo or sketch under it
        </button>
      </span>
    );
  return (
    <span className="under-fields">
      {file}
      <span className="quiet">Under it {under.name ?? 'a picture'},</span>{' '}
      <Length
        value={under.widthM}
        label="Width of the picture under the plan"
        onValue={(widthM) => change({ widthM })}
      />{' '}
      wide{under.known ? '' : ' (supposed)'}, turned{' '}
      <Typed
        value={under.turnDeg ?? 0}
        digits={1}
        unit="°"
        label="The picture under the plan, turned, degrees"
        read={readDegrees}
        onValue={(turnDeg) => change({ turnDeg })}
      />
      , seen{' '}
      <Typed
        value={Math.round(100 * (under.seen ?? 0.35))}
        digits={0}
        unit="%"
        label="How strongly the picture under the plan shows, per cent"
        read={readShare}
        onValue={(v) => change({ seen: Math.max(0.05, v / 100) })}
      />{' '}
      {tools ? (
        <>
          <button
            type="button"
            className="boxed"
            aria-pressed={tools.now === 'known'}
            onClick={() => tools.arm(tools.now === 'known' ? undefined : 'known')}
          >
            scale it
          </button>
          <button
            type="button"
            className="boxed"
            aria-pressed={tools.now === 'lay'}
            onClick={() => tools.arm(tools.now === 'lay' ? undefined : 'lay')}
          >
            move it
          </button>
        </>
      ) : null}
      <button type="button" className="tiny" onClick={() => change({ hidden: !under.hidden })}>
        {under.hidden ? 'show it' : 'hide it'}
      </button>
      <button type="button" className="tiny" onClick={() => input.current?.click()}>
        another
      </button>
      <button
        type="button"
        className="tiny"
        onClick={() => p.act({ edit: 'layUnder', args: { place: p.place } })}
      >
        take it away
      </button>
      {tools?.now === 'known' && tools.points.length === 2 ? (
        <Known
          onLength={(lengthM) => {
            const [from, to] = tools.points;
            const said = p.act({ edit: 'scaleUnder', args: { place: p.place, from, to, lengthM } });
            if (said !== false && typeof said !== 'string') tools.arm(undefined);
            return said;
          }}
        />
      ) : null}
    </span>
  );
}

/** The known length between the two points. */
function Known(p: { onLength: (metres: number) => unknown }) {
  const units = useUnits();
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState('');
  const id = useId();
  const take = () => {
    const v = readLength(text, units.length);
    if (typeof v === 'string' || v <= 0)
      return setWrong(`Not read. Type ${typeof v === 'string' ? v : 'a length over nothing'}.`);
    const said = p.onLength(v);
    if (typeof said === 'string') setWrong(said);
  };
  return (
    <span className="known">
      Between the two points:{' '}
      <input
        // biome-ignore lint/a11y/noAutofocus: asked for by the two taps before
        autoFocus
        className="typed"
        style={{ width: '9ch' }}
        value={text}
        maxLength={40}
        placeholder={units.length === 'imperial' ? '12ft6' : '3.85'}
        aria-label="The known length between the two points"
        aria-invalid={wrong !== ''}
        aria-describedby={wrong ? id : undefined}
        onChange={(e) => {
          setText(e.target.value);
          setWrong('');
        }}
        onKeyDown={(e) => {
          if (e.key === 'Enter') take();
        }}
      />
      <button type="button" className="boxed" onClick={take}>
        it is so long
      </button>
      {wrong ? (
        <span id={id} role="alert" className="wrong">
          {wrong}
        </span>
      ) : null}
    </span>
  );
}
