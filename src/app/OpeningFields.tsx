/**
 * A window, door or gap told: its measures as figures, and in a sentence what is in it, what lies behind it and at what
 * level, what hangs before it and how far that is drawn. The same on the plan and while a room is told.
 */
import { useState } from 'react';
import { leadsTo } from '../setup/gaps.ts';
import type { Edit } from '../shoot/edits.ts';
import { HANGINGS, type HungKind, hungAt } from '../shoot/hung.ts';
import { drawn, hang, wallUp } from '../shoot/moreOpenings.ts';
import { LEAF_DEG, withLeaf } from '../shoot/openings.ts';
import { outlineOf } from '../shoot/rooms.ts';
import type { Opening, Shoot } from '../shoot/schema.ts';
import { lengthFigure, lengthUnit, lightFigure, lightUnit, unitsOf } from '../shoot/units.ts';
import { wallLengthM, wallWord } from '../shoot/walls.ts';
import { type InPlace, OpenChoices, Word } from './Choices.tsx';
import { behindWords, IN_IT, inIt, NEUTRALS, openingName, panesWords } from './openingWords.ts';
import { Typed } from './Typed.tsx';
import { readDegrees, readKelvin, readLength, readLight, readShare } from './typing.ts';

type Act = (edit: Edit | readonly Edit[]) => unknown;
interface Of {
  shoot: Shoot;
  scene: string;
  id: string;
  act: Act;
}

/** An opening and the edits of it; undefined: it is there no more. */
function openingOf(p: Of) {
  const scene = p.shoot.scenes[p.scene]!;
  const place = p.shoot.places[scene.place]!;
  const o = place.openings[p.id];
  if (!o) return undefined;
  const put = (opening: Opening) =>
    p.act({ edit: 'setOpening', args: { place: scene.place, id: p.id, opening } });
  /** Told: supposed no more; what is undefined goes. */
  const change = (changes: Partial<Record<keyof Opening, unknown>>) => {
    const next: Record<string, unknown> = { ...o, guessed: undefined, ...changes };
    for (const [k, v] of Object.entries(next)) if (v === undefined) delete next[k];
    return put(next as Opening);
  };
  return { scene, place, placeId: scene.place, o, put, change };
}

const round = (v: number) => +v.toFixed(3);

/** Where it is in its wall, how wide, how high. */
export function OpeningMeasures(p: Of & { onGone?: () => void }) {
  const at = openingOf(p);
  if (!at) return null;
  const { place, placeId, o, change } = at;
  const units = unitsOf(p.shoot, p.scene);
  const name = openingName(o);
  const length = (words: string, label: string, value: number, onValue: (v: number) => unknown) => (
    <span className="pair">
      <span className="faint">{words}</span>
      <Typed
        value={value}
        digits={2}
        unit=""
        show={(v) => lengthFigure(v, units)}
        label={`${name}: ${label}, ${lengthUnit(units)}`}
        read={(text) => readLength(text, units.length)}
        onValue={onValue}
      />
    </span>
  );
  const high = o.headM - o.sillM;
  return (
    <>
      {length('along', 'from the corner of its wall', o.fromM, (fromM) =>
        p.act({ edit: 'moveOpening', args: { place: placeId, id: p.id, fromM } }),
      )}
      {length('wide', 'wide', o.toM - o.fromM, (v) => change({ toM: round(o.fromM + v) }))}
      {length('high', 'high', high, (v) => change({ headM: round(o.sillM + v) }))}
      {length('sill', 'its lower edge above the floor', o.sillM, (v) =>
        change({ sillM: v, headM: round(v + high) }),
      )}
      {p.onGone ? (
        <button
          type="button"
          className="tiny"
          onClick={() => {
            const refused = p.act(wallUp(place, placeId, p.id));
            if (typeof refused !== 'string') p.onGone?.();
          }}
        >
          wall it up
        </button>
      ) : null}
    </>
  );
}

const KINDS: Record<Opening['kind'], string> = { window: 'window', door: 'door', gap: 'gap' };
const level = (text: string, units: ReturnType<typeof unitsOf>) => {
  if (/^(0|as the (day|night)|day|night|none)$/i.test(text.trim())) return 0;
  const v = readLight(text, units.light);
  return typeof v === 'number' && v > 200_000 ? 'light up to 200 000 lx' : v;
};

/** What is in it, behind it and before it, as a sentence. */
export function OpeningTold(p: Of) {
  const [open, setOpen] = useState<string>();
  const at = openingOf(p);
  if (!at) return null;
  const { scene, place, placeId, o, put, change } = at;
  const units = unitsOf(p.shoot, p.scene);
  const name = openingName(o);
  const outline = outlineOf(place, o) ?? place.outline;
  const far = leadsTo(place, o);
  const hung = hungAt(place, o);
  const day = scene.day !== undefined;
  const { light } = o;
  const w = (k: string, words: string) => (
    <Word k={k} open={open} onOpen={setOpen}>
      {words}
    </Word>
  );
  const shine = (changes: Partial<Record<keyof NonNullable<Opening['light']>, unknown>>) => {
    const next: Record<string, unknown> = { ...light, ...changes };
    for (const [k, v] of Object.entries(next)) if (v === undefined) delete next[k];
    return change({ light: next, inside: undefined });
  };
  const is = inIt(o);
  const lists: Record<string, InPlace> = {
    kind: {
      label: `What the ${name} is`,
      list: Object.entries(KINDS).map(([id, words]) => ({ id, words, found: [], on: id === o.kind })),
      pick: (kind) => {
        const first = IN_IT[kind as Opening['kind']][0]!;
        const said = Object.values(KINDS).includes(o.words ?? '');
        return change({
          ...{ kind, fill: first.fill, leafDeg: undefined, panes: undefined },
          ...(said ? { words: undefined } : {}),
        });
      },
    },
    wall: {
      label: `The wall that the ${name} is in`,
      list: outline.map((_, i) => ({
        id: String(i),
        words: `${wallWord(outline, i, place.northDeg)}, ${lengthFigure(wallLengthM(outline, i), units)} ${lengthUnit(units)}`,
        found: [],
        on: i === o.wall,
      })),
      pick: (i) => {
        const wall = Number(i);
        const fromM = round((wallLengthM(outline, wall) - (o.toM - o.fromM)) / 2);
        return p.act({ edit: 'moveOpening', args: { place: placeId, id: p.id, wall, fromM } });
      },
    },
    in: {
      label: `What is in the ${name}`,
      list: IN_IT[o.kind].map((x) => ({ ...x, on: x.id === is.id })),
      pick: (id) => {
        const to = IN_IT[o.kind].find((x) => x.id === id)!;
        return change({
          fill: to.fill,
          leafDeg: to.leafDeg,
          ...(to.fill === 'glass' ? {} : { panes: undefined }),
        });
      },
    },
    panes: {
      label: `Neutral sheets on the glass of the ${name}`,
      list: NEUTRALS.map((n) => ({ ...n, found: ['nd', 'grey'], on: o.panes?.includes(n.id) ?? false })),
      stays: true,
      pick: (id) => {
        const has = o.panes?.includes(id);
        const panes = has ? o.panes!.filter((x) => x !== id) : [...(o.panes ?? []), id];
        return p.act({ edit: 'setPanes', args: { place: placeId, opening: p.id, panes } });
      },
    },
    behind: {
      label: `What lies behind the ${name}`,
      list: [
        {
          id: 'day',
          words: day ? 'the day, as it has it' : 'the night',
          found: ['outside', 'sky'],
          on: !light && !o.inside,
        },
        // Which way it shines is asked once somebody has typed how much.
        ...(light
          ? [
              { id: 'in', words: 'its level shines in', found: ['lux', 'street'], on: !light.out },
              { id: 'out', words: 'lit from here, seen at night', found: ['lux'], on: light.out === true },
            ]
          : []),
        {
          id: 'inside',
          words: 'another room, dark',
          found: ['inside', 'hall', 'passage'],
          on: o.inside === true,
        },
      ],
      pick: (id) => {
        if (id === 'day') return change({ light: undefined, inside: undefined });
        if (id === 'inside') return change({ light: undefined, inside: true });
        if (id.startsWith('lux:')) return shine({ lux: Number(id.slice(4)) });
        return shine({ out: id === 'out' ? true : undefined });
      },
      read: (text) => {
        const lux = level(text, units);
        return typeof lux === 'number' && lux > 0 ? { id: `lux:${lux}` } : 'day, another room, or 300 lx';
      },
    },
    hung: {
      label: `What hangs at the ${name}`,
      list: HANGINGS.map((h) => ({
        id: h.kind,
        words: h.words,
        found: [...h.found],
        on: hung.some((x) => x.is.kind === h.kind),
      })),
      stays: true,
      pick: (kind) => p.act(hang(place, placeId, o, kind as HungKind)),
    },
  };
  const now = open === undefined ? undefined : lists[open];
  return (
    <div className="who opening">
      <p>
        <b>{name}</b>: a {w('kind', KINDS[o.kind])} in the{' '}
        {w('wall', wallWord(outline, o.wall, place.northDeg))} wall, {w('in', is.words)}
        {o.fill === 'open' && o.leafDeg ? (
          <>
            {' '}
            by{' '}
            <Typed
              value={o.leafDeg}
              digits={0}
              unit="°"
              label={`${name}: how far its leaf stands open, degrees; minus outward, 0 shut`}
              read={(text) => {
                const v = readDegrees(text);
                return typeof v === 'number' && Math.abs(v) > LEAF_DEG
                  ? `degrees from −${LEAF_DEG} to ${LEAF_DEG}`
                  : v;
              }}
              onValue={(deg) => {
                const { guessed: _, ...told } = o;
                return put(withLeaf(told as Opening, deg));
              }}
            />
          </>
        ) : null}
        {o.fill === 'glass' ? <>, its glass {w('panes', panesWords(o.panes))}</> : null}.{' '}
        {o.fill === 'shut' ? (
          <em>Shut: no light comes through.</em>
        ) : far ? (
          <>Behind it lies {behindWords(place, o, day)}.</>
        ) : (
          <>
            Behind it lies {w('behind', behindWords(place, o, day))}
            {o.inside ? null : (
              <>
                , giving{' '}
                <Typed
                  value={light?.lux ?? 0}
                  digits={0}
                  unit={light ? lightUnit(units) : ''}
                  show={(v) => (v > 0 ? lightFigure(v, units) : day ? 'as the day' : 'as the night')}
                  label={`${name}: light as told or metered; 0: as the ${day ? 'day' : 'night'} has it`}
                  read={(text) => level(text, units)}
                  onValue={(lux) => (lux > 0 ? shine({ lux }) : change({ light: undefined }))}
                />
              </>
            )}
            {light && !o.inside ? (
              <>
                {' by a meter '}
                <Typed
                  value={light.atM ?? 0}
                  digits={2}
                  unit={light.atM ? `${lengthUnit(units)} before it` : ''}
                  show={(v) => (v > 0 ? lengthFigure(v, units) : 'at the pane')}
                  label={`${name}: how far before it the meter was held; 0: at the pane`}
                  read={(text) => {
                    if (/pane/i.test(text)) return 0;
                    const v = readLength(text, units.length);
                    return typeof v === 'number' && v < 0 ? 'a length of 0 or more' : v;
                  }}
                  onValue={(m) => shine({ atM: m > 0 ? m : undefined })}
                />
                {', at '}
                <Typed
                  value={light.cctK ?? 6500}
                  digits={0}
                  unit="K"
                  label={`${name}: colour of the light behind it, kelvin`}
                  read={readKelvin(light.cctK ?? 6500)}
                  onValue={(cctK) => shine({ cctK })}
                />
              </>
            ) : null}
            .
          </>
        )}{' '}
        Before it {hung.length > 1 || hung[0]?.is.measures[0]?.key === 'openShare' ? 'hang ' : 'hangs '}
        {hung.length === 0
          ? w('hung', 'nothing')
          : hung.map(({ id, furniture, is: h }, i) => (
              <span key={id}>
                {i ? ' and ' : ''}
                {i === 0 ? w('hung', h.words) : h.words}
                {h.measures.map((q) => {
                  const k = q.unit === '%' ? 100 : 1;
                  return (
                    <span key={q.key}>
                      , {q.words}{' '}
                      <Typed
                        value={(furniture.detail?.[q.key] ?? q.usual) * k}
                        digits={0}
                        unit={q.unit}
                        label={`${h.words} at the ${name}: ${q.words}, ${q.unit === '%' ? 'per cent' : 'degrees'}`}
                        read={q.unit === '%' ? readShare : readDegrees}
                        onValue={(v) => p.act(drawn(placeId, id, furniture, q, v / k))}
                      />
                    </span>
                  );
                })}
              </span>
            ))}
        .
      </p>
      <OpenChoices key={open} of={now} onLeave={() => setOpen(undefined)} />
    </div>
  );
}
