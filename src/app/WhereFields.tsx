/** What can be dragged of a thing on the plan, as figures to type. */
import type { Ref } from '../drawing/display.ts';
import { sharpIn, sharpWords } from '../readings/depth.ts';
import type { Edit } from '../shoot/edits.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { Length } from './Length.tsx';
import { OpeningMeasures } from './OpeningFields.tsx';
import { useStore } from './store.ts';
import { FlagFields, FurnitureFields } from './ThingFields.tsx';
import { Typed } from './Typed.tsx';
import { readDegrees, readLens, readShare } from './typing.ts';
import { useSaid } from './useUnits.ts';

const NAMES = ['east', 'north', 'height'] as const;
const SHORT = ['x', 'y', 'h'] as const;

const metres = (m: number) => `${m.toFixed(2)} m`;

/** Two or three lengths in a row. */
function Place(p: { of: string; at: readonly number[]; onAt: (at: number[]) => unknown; words?: string }) {
  return (
    <span className="pair">
      {p.words ? <span className="faint">{p.words}</span> : null}
      {p.at.map((v, k) => (
        <span key={NAMES[k]} className="pair">
          <span className="faint">{SHORT[k]}</span>
          <Length
            value={v}
            bare
            label={`${p.of}: ${NAMES[k]}`}
            onValue={(to) => p.onAt(p.at.map((c, i) => (i === k ? to : c)))}
          />
        </span>
      ))}
    </span>
  );
}

export function WhereFields(p: {
  shoot: Shoot;
  scene: string;
  angle: string;
  of: Ref;
  alone: boolean;
  /** It is there no more. */
  onGone: () => void;
}) {
  const { scene, angle, of } = p;
  const act = useStore((s) => s.act);
  const said = useSaid();
  const rig = rigFor(p.shoot, { scene, angle });
  const edit = (name: string, args: Edit['args']) => act({ edit: name, args: { scene, ...args } });

  if (of.kind === 'lamp') {
    const lamp = p.alone ? rig.lamps[of.id] : rig.scene.rig.lamps[of.id];
    if (!lamp) return null;
    const where = { lamp: of.id, ...(p.alone ? { angle } : {}) };
    const name = `Lamp ${lamp.number}`;
    return (
      <>
        <Place of={name} at={lamp.at} onAt={(to) => edit('moveLamp', { ...where, to })} />
        <Place
          of={`${name} aims`}
          words="aims"
          at={lamp.aim}
          onAt={(at) => edit('aimLamp', { ...where, at })}
        />
        <span className="pair">
          <span className="faint">spot</span>
          <Typed
            value={lamp.focus * 100}
            digits={0}
            unit="%"
            label={`${name}: per cent toward spot`}
            read={readShare}
            onValue={(v) => edit('focusLamp', { ...where, focus: v / 100 })}
          />
        </span>
        {p.alone ? null : (
          <Away words="strike" onAway={() => edit('removeLamp', { lamp: of.id })} onGone={p.onGone} />
        )}
      </>
    );
  }
  if (of.kind === 'mark') {
    const mark = rig.scene.marks[of.id];
    if (!mark) return null;
    const index = rig.angle.facings?.[of.id] ?? 0;
    return (
      <>
        <Place of={of.id} at={mark.at} onAt={(to) => edit('moveMark', { mark: of.id, to })} />
        <span className="pair">
          <span className="faint">faces</span>
          <Typed
            value={mark.facings[p.alone ? index : 0] ?? mark.facings[0]!}
            digits={0}
            unit="°"
            label={`${of.id} faces, degrees from east, counter-clockwise${p.alone ? `, ${angle} only` : ''}`}
            read={readDegrees}
            onValue={(deg) => edit('setFacing', { mark: of.id, deg, ...(p.alone ? { angle } : {}) })}
          />
        </span>
        <span className="pair">
          <span className="faint">eyes</span>
          <Length
            value={mark.eyeM}
            label={`${of.id}: height of the eyes`}
            onValue={(eyeM) => edit('setMark', { mark: of.id, changes: { eyeM } })}
          />
        </span>
        <StandPress mark={of.id} />
        <Away words="take away" onAway={() => edit('removeMark', { mark: of.id })} onGone={p.onGone} />
      </>
    );
  }
  if (of.kind === 'camera') {
    const a = rig.scene.angles[of.id];
    if (!a) return null;
    return (
      <>
        <Place of={`Camera ${of.id}`} at={a.at} onAt={(to) => edit('moveCamera', { angle: of.id, to })} />
        <Place
          of={`Camera ${of.id} looks`}
          words="looks"
          at={a.lookAt}
          onAt={(at) => edit('aimCamera', { angle: of.id, at })}
        />
        <span className="pair">
          <Typed
            value={a.focalMm}
            digits={a.focalMm % 1 ? 1 : 0}
            unit="mm"
            label={`Lens of ${of.id}, millimetres`}
            read={readLens}
            onValue={(focalMm) => edit('setLens', { angle: of.id, focalMm })}
          />
        </span>
        <em className="sharp">
          {said(`S${sharpWords(sharpIn(rigFor(p.shoot, { scene, angle: of.id }), of.id), metres).slice(1)}.`)}
        </em>
      </>
    );
  }
  if (of.kind === 'flag') {
    const f = rig.flags[of.id];
    if (!f) return null;
    return <FlagFields scene={scene} angle={angle} id={of.id} flag={f} act={act} onGone={p.onGone} />;
  }
  if (of.kind === 'furniture') {
    const f = rig.place.furniture[of.id];
    if (!f) return null;
    return <FurnitureFields place={rig.scene.place} id={of.id} thing={f} act={act} onGone={p.onGone} />;
  }
  if (of.kind === 'opening')
    return <OpeningMeasures shoot={p.shoot} scene={scene} id={of.id} act={act} onGone={p.onGone} />;
  return null;
}

/** Asks the plan where this one could stand. */
function StandPress(p: { mark: string }) {
  const on = useStore((s) => s.stand === p.mark);
  const { set } = useStore.getState();
  return (
    <button
      type="button"
      className="tiny"
      aria-pressed={on}
      title="A map of the floor: where a face turned this way has its light"
      onClick={() => set({ stand: on ? undefined : p.mark, stands: undefined })}
    >
      where else?
    </button>
  );
}

/** Takes it away, unless that is refused. */
function Away(p: { words: string; onAway: () => unknown; onGone: () => void }) {
  return (
    <button
      type="button"
      className="tiny"
      onClick={() => {
        if (typeof p.onAway() !== 'string') p.onGone();
      }}
    >
      {p.words}
    </button>
  );
}
