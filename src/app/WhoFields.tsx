/** Who stands on a mark, told in one sentence: figure, posture, what they look at, skin, hair, what they wear. */
import { useState } from 'react';
import { SKIN_CLASSES } from '../colour/reflectance.ts';
import type { Edit } from '../shoot/edits.ts';
import { looksOf } from '../shoot/looks.ts';
import {
  CLOTHS,
  FIGURES,
  figureOf,
  HAIRS,
  type Hue,
  hueWords,
  inPosture,
  POSTURE_WORDS,
  type Posture,
  readHue,
} from '../shoot/persons.ts';
import type { Mark, Shoot } from '../shoot/schema.ts';
import { type Choice, type InPlace, OpenChoices, Word } from './Choices.tsx';

const CUTS: Record<NonNullable<Mark['cut']>, string> = {
  own: 'own cut',
  crop: 'cropped',
  afro: 'afro',
  bald: 'bald',
};
type Worn = NonNullable<Mark['wears']>[number];
const WEARS: Record<Worn, string> = {
  spectacles: 'spectacles',
  'brimmed-hat': 'a brimmed hat',
  'flat-cap': 'a flat cap',
  'knitted-cap': 'a knitted cap',
};
type Cloth = NonNullable<Mark['topCloth']>;
const CLOTH_WORDS: Record<Cloth, string> = { plain: 'matt', satin: 'satin', leather: 'leather', wet: 'wet' };

const choices = <K extends string>(words: Readonly<Record<K, string>>, on: (k: K) => boolean): Choice[] =>
  (Object.entries(words) as [K, string][]).map(([id, w]) => ({ id, words: w, found: [], on: on(id) }));
const hues = (list: readonly Hue[], now: string): Choice[] =>
  list.map((h) => ({ id: h.hex, words: h.words, found: h.found, on: h.hex === now, hex: h.hex }));

export function WhoFields(p: {
  shoot: Shoot;
  scene: string;
  mark: string;
  /** The turn of the face is this angle's alone. */
  angle?: string | undefined;
  act: (edit: Edit | readonly Edit[]) => unknown;
}) {
  const [open, setOpen] = useState<string>();
  const scene = p.shoot.scenes[p.scene]!;
  const place = p.shoot.places[scene.place]!;
  const m = scene.marks[p.mark];
  if (!m) return null;
  const own = figureOf(m.person) ?? FIGURES[0]!;
  const change = (changes: Partial<Record<keyof Mark, unknown>>) =>
    p.act({ edit: 'setMark', args: { scene: p.scene, mark: p.mark, changes } });
  const looks = looksOf(scene, place, p.mark);
  const skin = m.complexion ?? own.complexion;
  const hair = m.hair ?? own.hair;
  const top = m.top ?? own.top;
  const bottom = m.bottom ?? own.bottom;
  const wears = m.wears ?? [];

  const hueRead = (list: readonly Hue[]) => (text: string) => {
    const r = readHue(list, text);
    return typeof r === 'string' ? r : { id: r.hex };
  };
  const put: Record<string, InPlace> = {
    person: {
      label: `Who is on ${p.mark}`,
      list: FIGURES.map((f) => ({ ...f, on: f.id === m.person })),
      // Another comes with skin and hair of their own; clothes belong to the part.
      pick: (person) =>
        change({
          ...inPosture(place, m, m.posture, person),
          person,
          complexion: undefined,
          hair: undefined,
          cut: undefined,
        }),
    },
    posture: {
      label: `How ${p.mark} is`,
      list: choices(POSTURE_WORDS, (k) => k === m.posture),
      pick: (k) => change(inPosture(place, m, k as Posture)),
    },
    looks: {
      label: `What ${p.mark} looks at`,
      list: looks.map((l) => ({ id: l.at, words: l.words, found: [], on: l.at === m.looksAt })),
      pick: (at) =>
        p.act({
          edit: 'lookAt',
          args: { scene: p.scene, mark: p.mark, at, ...(p.angle === undefined ? {} : { angle: p.angle }) },
        }),
    },
    skin: {
      label: `Skin of ${p.mark}`,
      list: SKIN_CLASSES.map((k) => ({ id: k, words: k.replace('-', ' '), found: [], on: k === skin })),
      pick: (complexion) => change({ complexion }),
    },
    cut: {
      label: `Hair of ${p.mark}`,
      list: choices(CUTS, (k) => k === (m.cut ?? 'own')),
      pick: (cut) => change({ cut: cut === 'own' ? undefined : cut }),
    },
    hair: {
      label: `Hair colour of ${p.mark}`,
      list: hues(HAIRS, hair),
      pick: (hex) => change({ hair: hex }),
      read: hueRead(HAIRS),
    },
    wears: {
      label: `What ${p.mark} wears on the head`,
      list: choices(WEARS, (k) => wears.includes(k)),
      stays: true,
      pick: (k) => {
        const has = wears.includes(k as Worn);
        // One hat at a time.
        const rest = wears.filter((w) => w !== k && (k === 'spectacles' || w === 'spectacles'));
        const now = has ? wears.filter((w) => w !== k) : [...rest, k as Worn];
        return change({ wears: now.length ? now : undefined });
      },
    },
    top: {
      label: `Top of ${p.mark}`,
      list: hues(CLOTHS, top),
      pick: (hex) => change({ top: hex }),
      read: hueRead(CLOTHS),
    },
    topCloth: {
      label: `Cloth of the top of ${p.mark}`,
      list: choices(CLOTH_WORDS, (k) => k === (m.topCloth ?? 'plain')),
      pick: (k) => change({ topCloth: k === 'plain' ? undefined : k }),
    },
    bottom: {
      label: `Trousers or skirt of ${p.mark}`,
      list: hues(CLOTHS, bottom),
      pick: (hex) => change({ bottom: hex }),
      read: hueRead(CLOTHS),
    },
    bottomCloth: {
      label: `Cloth of the trousers or skirt of ${p.mark}`,
      list: choices(CLOTH_WORDS, (k) => k === (m.bottomCloth ?? 'plain')),
      pick: (k) => change({ bottomCloth: k === 'plain' ? undefined : k }),
    },
  };
  const w = (k: string, words: string) => (
    <Word k={k} open={open} onOpen={setOpen}>
      {words}
    </Word>
  );
  const at = looks.find((l) => l.at === m.looksAt)?.words;
  const now = open === undefined ? undefined : put[open];
  return (
    <div className="who">
      <p>
        <b>{p.mark}</b> is {w('person', m.person === undefined ? 'nobody yet' : own.words)},{' '}
        {w('posture', m.posture)}, looking {at ? 'at ' : ''}
        {w('looks', at ?? 'ahead')}. Skin {w('skin', skin.replace('-', ' '))}, hair{' '}
        {w('hair', hueWords(HAIRS, hair))}, {w('cut', CUTS[m.cut ?? 'own'])}. Wears{' '}
        {w('wears', wears.map((x) => WEARS[x]).join(' and ') || 'nothing on the head')}, above{' '}
        {w('top', hueWords(CLOTHS, top))} {w('topCloth', CLOTH_WORDS[m.topCloth ?? 'plain'])}, below{' '}
        {w('bottom', hueWords(CLOTHS, bottom))} {w('bottomCloth', CLOTH_WORDS[m.bottomCloth ?? 'plain'])}.
      </p>
      <OpenChoices key={open} of={now} onLeave={() => setOpen(undefined)} />
    </div>
  );
}
