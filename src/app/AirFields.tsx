/** What hangs in the air and what falls, told in a sentence; how it is lit in the chosen angle, and what is wrong with it. */
import { useState } from 'react';
import type { AirReading } from '../readings/airReading.ts';
import { listed } from '../scheme/listed.ts';
import type { Edit } from '../shoot/edits.ts';
import type { Scene, Shoot } from '../shoot/schema.ts';
import { unitsOf } from '../shoot/units.ts';
import { type Choice, Choices, Word } from './Choices.tsx';
import { Cures } from './Cures.tsx';
import { useStore } from './store.ts';
import { Typed } from './Typed.tsx';
import { foldTroubles } from './troubleViews.ts';
import { hazeFigure, readFall, readHaze, seesWords } from './typingAir.ts';
import { useSaid } from './useUnits.ts';

type Air = NonNullable<Scene['air']>;

/** Airs one can name at a glance; their figures as the document has them explained (common practice, no source). */
const HAZES: readonly { id: string; words: string; found: string[]; haze?: NonNullable<Air['haze']> }[] = [
  { id: 'clear', words: 'nothing', found: ['clear', 'none', 'no haze'] },
  {
    id: 'thin',
    words: 'thin haze',
    found: ['light haze', 'beam', 'shaft'],
    haze: { extinctionPerM: 0.01, kind: 'haze' },
  },
  { id: 'haze', words: 'haze', found: ['smoke', 'beam'], haze: { extinctionPerM: 0.025, kind: 'haze' } },
  {
    id: 'smoke',
    words: 'thick haze',
    found: ['smoke', 'dense'],
    haze: { extinctionPerM: 0.06, kind: 'haze' },
  },
  { id: 'mist', words: 'mist', found: ['thin fog'], haze: { extinctionPerM: 0.03, kind: 'fog' } },
  { id: 'fog', words: 'fog', found: ['thick'], haze: { extinctionPerM: 0.15, kind: 'fog' } },
];
const FALLS: readonly { id: string; words: string; found: string[]; falls?: NonNullable<Air['falls']> }[] = [
  { id: 'dry', words: 'nothing', found: ['dry', 'none'] },
  { id: 'drizzle', words: 'light rain', found: ['drizzle'], falls: { kind: 'rain', mmPerH: 2 } },
  { id: 'rain', words: 'heavy rain', found: ['pouring', 'storm'], falls: { kind: 'rain', mmPerH: 10 } },
  { id: 'hose', words: 'rain from a hose', found: ['film rain'], falls: { kind: 'rain', mmPerH: 50 } },
  { id: 'flakes', words: 'light snow', found: ['flurry'], falls: { kind: 'snow', mmPerH: 1 } },
  { id: 'snow', words: 'heavy snow', found: ['blizzard'], falls: { kind: 'snow', mmPerH: 4 } },
];

/** Its word by kind and measure; between two names, the one below. */
const hazeWords = (h: Air['haze']): string =>
  h
    ? (HAZES.filter(
        (x) =>
          x.haze && x.haze.kind === (h.kind ?? 'haze') && x.haze.extinctionPerM <= h.extinctionPerM * 1.001,
      ).at(-1)?.words ?? (h.kind === 'fog' ? 'thin mist' : 'a trace of haze'))
    : 'nothing';
const fallWords = (f: Air['falls']): string =>
  f
    ? (FALLS.filter((x) => x.falls?.kind === f.kind && x.falls.mmPerH <= f.mmPerH * 1.001).at(-1)?.words ??
      (f.kind === 'rain' ? 'drizzle' : 'a few flakes'))
    : 'nothing';

export function AirFields(p: {
  shoot: Shoot;
  scene: string;
  act: (edit: Edit | readonly Edit[]) => unknown;
  /** True: the shoot is one that is only being told, whose angles nobody has lit yet. */
  unlit?: boolean;
}) {
  const [open, setOpen] = useState<string>();
  const chosen = useStore((s) => s.angle);
  const scene = p.shoot.scenes[p.scene]!;
  const units = unitsOf(p.shoot, p.scene);
  const { haze, falls, ...other } = scene.air ?? {};
  const tell = (air: { haze: Air['haze']; falls: Air['falls'] }) => {
    const told = {
      ...other,
      ...(air.haze ? { haze: air.haze } : {}),
      ...(air.falls ? { falls: air.falls } : {}),
    } as Air;
    return p.act({
      edit: 'setAir',
      args: { scene: p.scene, ...(air.haze || air.falls ? { air: told } : {}) },
    });
  };
  const pick = (k: 'haze' | 'falls', id: string) => {
    setOpen(undefined);
    const next = { haze, falls };
    if (k === 'haze') next.haze = HAZES.find((x) => x.id === id)?.haze;
    else next.falls = FALLS.find((x) => x.id === id)?.falls;
    if (!next[k] && !(k === 'haze' ? haze : falls)) return;
    return tell(next);
  };
  const [hazed, fallen] = [hazeWords(haze), fallWords(falls)];
  const options = (list: readonly { id: string; words: string; found: string[] }[], now: string): Choice[] =>
    list.map((x) => ({ id: x.id, words: x.words, found: x.found, on: x.words === now }));
  return (
    <div className="air-told">
      <p className="told-line">
        In the air{' '}
        <Word k="haze" open={open} onOpen={setOpen}>
          {hazed}
        </Word>
        {haze ? (
          <>
            , which takes{' '}
            <Typed
              value={haze.extinctionPerM}
              digits={4}
              unit="of the light a metre"
              show={hazeFigure}
              label="Share of light the air takes a metre, per cent, or how far one sees through it"
              read={readHaze(units.length)}
              onValue={(extinctionPerM) => tell({ haze: { ...haze, extinctionPerM }, falls })}
            />
            : one sees about {seesWords(haze.extinctionPerM, units)}
          </>
        ) : null}
        ; {falls ? '' : 'falling '}
        <Word k="falls" open={open} onOpen={setOpen}>
          {fallen}
        </Word>
        {falls ? (
          <>
            {' '}
            falling where no roof is,{' '}
            <Typed
              value={falls.mmPerH}
              digits={1}
              unit="mm of water an hour"
              label="Water that falls, millimetres an hour"
              read={readFall}
              onValue={(mmPerH) => tell({ haze, falls: { ...falls, mmPerH } })}
            />
          </>
        ) : null}
        .
        {haze && haze.kind !== 'fog' ? (
          <span className="faint"> It sets off smoke alarms: ask the owner who may see to them.</span>
        ) : null}
      </p>
      {open === 'haze' ? (
        <Choices
          label="In the air"
          list={options(HAZES, hazed)}
          onLeave={() => setOpen(undefined)}
          onPick={(id) => pick('haze', id)}
        />
      ) : null}
      {open === 'falls' ? (
        <Choices
          label="Falling"
          list={options(FALLS, fallen)}
          onLeave={() => setOpen(undefined)}
          onPick={(id) => pick('falls', id)}
        />
      ) : null}
      {(haze || falls) && !p.unlit ? <AirLit shoot={p.shoot} scene={p.scene} angle={chosen} /> : null}
    </div>
  );
}

/** How the air is lit, angle by angle, the chosen one first; and what is wrong with it. */
function AirLit(p: { shoot: Shoot; scene: string; angle: string | undefined }) {
  const results = useStore((s) => s.steady ?? s.results);
  const said = useSaid();
  const scene = p.shoot.scenes[p.scene]!;
  const ids = Object.keys(scene.angles).sort((a, b) => Number(b === p.angle) - Number(a === p.angle));
  const read = ids.flatMap((id) => (results[id]?.air ? [{ id, air: results[id].air }] : []));
  const number = (lamp: string) => scene.rig.lamps[lamp]?.number ?? lamp;
  const folds = foldTroubles(results, ids).filter((f) => f.kind === 'air-not-lit');
  return (
    <div className="air-lit">
      <p className="told-line">
        <em>{read.length ? '' : 'Asking how it is lit …'}</em>
        {read.map(({ id, air }) => (
          <span key={id} className="air-angle">
            <b>{id}</b> <em>{airWords(air, number)}</em>{' '}
          </span>
        ))}
      </p>
      {folds.map((fold) => (
        <div key={fold.key} className="air-trouble" data-severity={fold.severity}>
          {fold.lines.map((line) => (
            <p key={line.says}>
              <b>{listed(line.angles)}</b> <span className="trouble-says">{said(line.says)}</span>
            </p>
          ))}
          <Cures scene={p.scene} fold={fold} few />
        </div>
      ))}
    </div>
  );
}

/** “2.3 stops more from behind than from the front, most by 2; 3.1 under grey.” */
function airWords(air: AirReading, number: (lamp: string) => string | number): string {
  if (air.ratioStops === undefined) return 'no lamp lights it.';
  const ratio = Number.isFinite(air.ratioStops)
    ? `${Math.abs(air.ratioStops).toFixed(1)} stops ${air.ratioStops < 0 ? 'less' : 'more'} from behind than from the front`
    : `lit only from ${air.ratioStops > 0 ? 'behind' : 'the front'}`;
  const grey = `${Math.abs(air.overGreyStops).toFixed(1)} ${air.overGreyStops < 0 ? 'under' : 'over'} grey`;
  return `${ratio}${air.lamps[0] ? `, most by ${number(air.lamps[0].lamp)}` : ''}; ${grey}.`;
}
