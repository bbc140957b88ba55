/** A piece of furniture or a thing in the beam, told in figures: where it is, its size, its turn, what it is of. */
import { useState } from 'react';
import { DIFFUSIONS } from '../light/diffusion.ts';
import type { Edit } from '../shoot/edits.ts';
import { hangingOf } from '../shoot/hung.ts';
import { drawn } from '../shoot/moreOpenings.ts';
import type { Finish, Furniture, RigFlag } from '../shoot/schema.ts';
import { Choices, Word } from './Choices.tsx';
import { Length } from './Length.tsx';
import { PatternFields } from './PatternFields.tsx';
import { Typed } from './Typed.tsx';
import { readDegrees, readShare } from './typing.ts';

type Act = (edit: Edit | readonly Edit[]) => unknown;
const DEG = Math.PI / 180;

function Lengths(p: {
  of: string;
  words: readonly string[];
  values: readonly number[];
  onValues: (v: number[]) => unknown;
}) {
  return p.words.map((word, k) => (
    <span key={word} className="pair">
      <span className="faint">{word}</span>
      <Length
        value={p.values[k]!}
        bare
        label={`${p.of}: ${word}`}
        onValue={(to) => p.onValues(p.values.map((v, i) => (i === k ? to : v)))}
      />
    </span>
  ));
}

function Turn(p: { of: string; word: string; value: number; onValue: (v: number) => unknown }) {
  return (
    <span className="pair">
      <span className="faint">{p.word}</span>
      <Typed
        value={p.value}
        digits={0}
        unit="°"
        label={`${p.of}: ${p.word}, degrees`}
        read={readDegrees}
        onValue={p.onValue}
      />
    </span>
  );
}

/** So many of a thing's finishes can be told here: the largest come first. */
const MOST_PARTS = 6;

function SendsBack(p: { of: string; finish: Finish; onFinish: (f: Finish) => unknown }) {
  const { finish } = p;
  return (
    <span className="pair">
      <span className="faint">{finish.words ?? 'reflects'}</span>
      <Typed
        value={finish.reflectance * 100}
        digits={0}
        unit={finish.guessed ? '% ?' : '%'}
        label={`${p.of}: per cent of the light it sends back${finish.guessed ? ', only supposed' : ''}`}
        read={readShare}
        onValue={(v) => p.onFinish({ ...finish, reflectance: v / 100, guessed: false })}
      />
    </span>
  );
}

export function FurnitureFields(p: {
  place: string;
  id: string;
  thing: Furniture;
  act: Act;
  /** Absent: taking away is offered elsewhere. */
  onGone?: () => void;
}) {
  const { thing: f } = p;
  const name = f.words ?? p.id;
  const change = (changes: Partial<Furniture>) =>
    p.act({ edit: 'setFurniture', args: { place: p.place, id: p.id, furniture: { ...f, ...changes } } });
  const move = (args: Record<string, unknown>) =>
    p.act({ edit: 'moveFurniture', args: { place: p.place, id: p.id, to: f.at, ...args } });
  return (
    <>
      <Lengths of={name} words={['x', 'y', 'up']} values={f.at} onValues={(to) => move({ to })} />
      <Lengths
        of={name}
        words={['wide', 'deep', 'high']}
        values={f.sizeM}
        onValues={(v) => (v.every((m) => m > 0.004) ? change({ sizeM: [v[0]!, v[1]!, v[2]!] }) : TOO_SMALL)}
      />
      <Turn of={name} word="turned" value={f.turnDeg ?? 0} onValue={(turnDeg) => move({ turnDeg })} />
      {f.shape ? null : <SendsBack of={name} finish={f.finish} onFinish={(finish) => change({ finish })} />}
      {Object.entries(f.finishes ?? {})
        .slice(0, MOST_PARTS)
        .map(([part, finish]) => (
          <SendsBack
            key={part}
            of={`${name}, ${finish.words ?? part}`}
            finish={finish}
            onFinish={(told) => change({ finishes: { ...f.finishes, [part]: told } })}
          />
        ))}
      {hangingOf(f)?.measures.map((q) => {
        const k = q.unit === '%' ? 100 : 1;
        return (
          <span key={q.key} className="pair">
            <span className="faint">{q.words}</span>
            <Typed
              value={(f.detail?.[q.key] ?? q.usual) * k}
              digits={0}
              unit={q.unit}
              label={`${name}: ${q.words}, ${q.unit === '%' ? 'per cent' : 'degrees'}`}
              read={q.unit === '%' ? readShare : readDegrees}
              onValue={(v) => p.act(drawn(p.place, p.id, f, q, v / k))}
            />
          </span>
        );
      })}
      {p.onGone ? (
        <button
          type="button"
          className="tiny"
          onClick={() => {
            p.act({ edit: 'setFurniture', args: { place: p.place, id: p.id } });
            p.onGone?.();
          }}
        >
          take away
        </button>
      ) : null}
    </>
  );
}

const TOO_SMALL = 'A thing measures 5 mm at least.';
const KINDS: Record<RigFlag['kind'], string> = {
  flag: 'black flag',
  board: 'black board',
  'net-half': 'half net',
  'net-full': 'full net',
  bounce: 'bounce board',
  frame: 'diffusion frame',
};

export function FlagFields(p: {
  scene: string;
  angle: string;
  id: string;
  flag: RigFlag;
  act: Act;
  onGone: () => void;
}) {
  const [open, setOpen] = useState<string>();
  const { flag: f } = p;
  const name = f.words ?? p.id;
  const set = (changes: Record<string, unknown>) =>
    p.act({ edit: 'setFlag', args: { scene: p.scene, flag: p.id, changes } });
  const move = (to: readonly number[], facing?: readonly number[]) =>
    p.act({
      edit: 'moveFlag',
      args: { scene: p.scene, flag: p.id, to: [...to], ...(facing ? { facing: [...facing] } : {}) },
    });
  const [x, y, z] = f.facing;
  const turned = Math.atan2(y, x) / DEG;
  const tipped = Math.atan2(z, Math.hypot(x, y)) / DEG;
  const face = (turnDeg: number, tipDeg: number) => {
    const t = Math.max(-89, Math.min(89, tipDeg)) * DEG;
    const a = turnDeg * DEG;
    return move(
      f.at,
      [Math.cos(a) * Math.cos(t), Math.sin(a) * Math.cos(t), Math.sin(t)].map((v) => +v.toFixed(4)),
    );
  };
  const alone = f.angles !== undefined;
  return (
    <>
      <Word k="kind" open={open} onOpen={setOpen}>
        {f.pattern ? 'card' : KINDS[f.kind]}
      </Word>
      {f.kind === 'frame' ? (
        <Word k="sheet" open={open} onOpen={setOpen}>
          {(f.sheet ?? 'full-white').replaceAll('-', ' ')}
        </Word>
      ) : null}
      <Lengths of={name} words={['x', 'y', 'h']} values={f.at} onValues={(to) => move(to)} />
      <Lengths
        of={name}
        words={['wide', 'tall']}
        values={f.sizeM}
        onValues={(v) => (v.every((m) => m > 0.004) ? set({ sizeM: [v[0], v[1]] }) : TOO_SMALL)}
      />
      <Turn of={name} word="faces" value={turned} onValue={(v) => face(v, tipped)} />
      <Turn of={name} word="tipped" value={tipped} onValue={(v) => face(turned, v)} />
      <Turn of={name} word="rolled" value={f.rollDeg ?? 0} onValue={(rollDeg) => set({ rollDeg })} />
      {f.kind === 'flag' || f.kind === 'board' ? (
        <PatternFields name={name} flag={f} set={set} open={open} onOpen={setOpen} />
      ) : null}
      <button
        type="button"
        className="tiny"
        aria-pressed={alone}
        title={
          alone ? 'Stands in these angles; press for all' : `Stands in all angles; press for ${p.angle} only`
        }
        onClick={() => set({ angles: alone ? undefined : [p.angle] })}
      >
        {alone ? `for ${f.angles!.join(', ')}` : 'for all angles'}
      </button>
      <button
        type="button"
        className="tiny"
        onClick={() => {
          p.act({ edit: 'removeFlag', args: { scene: p.scene, flag: p.id } });
          p.onGone();
        }}
      >
        take down
      </button>
      {open === 'kind' ? (
        <Choices
          label={`What ${name} is`}
          list={Object.entries(KINDS).map(([id, words]) => ({ id, words, found: [], on: id === f.kind }))}
          onLeave={() => setOpen(undefined)}
          onPick={(kind) => {
            const words = KINDS[kind as RigFlag['kind']];
            const refused = set({
              kind,
              words,
              finish: undefined,
              pattern: undefined,
              ...(kind === 'frame' ? { sheet: f.sheet ?? 'full-white' } : { sheet: undefined }),
            });
            setOpen(undefined);
            return refused;
          }}
        />
      ) : null}
      {open === 'sheet' ? (
        <Choices
          label={`Sheet in ${name}`}
          list={DIFFUSIONS.map((d) => ({ id: d.id, words: d.words, found: [], on: d.id === f.sheet }))}
          onLeave={() => setOpen(undefined)}
          onPick={(sheet) => {
            const refused = set({ sheet });
            setOpen(undefined);
            return refused;
          }}
        />
      ) : null}
    </>
  );
}
