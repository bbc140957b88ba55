/** Edits of what was measured on the set, and of lights kept with people. */
import { z } from 'zod';
import { EditError, type EditKind, id, kind, newId, own, sceneOf, there } from './editing.ts';
import { Look, MeterReading, type Shoot } from './schema.ts';
import { stopWords } from './thirds.ts';

const readingOf = (s: Shoot, reading: string) => there(own(s.readings, reading), `reading ${reading}`);

/** How a value is said with its unit: 250 lx, 23 fc, T4, zebra at T4; stops to the nearest third. */
export function valueWords(r: Pick<MeterReading, 'how' | 'value' | 'zebraPercent'>): string {
  const v = Number(r.value.toPrecision(r.value >= 100 ? 3 : 2));
  switch (r.how) {
    case 'lux':
      return `${v} lx`;
    case 'footcandle':
      return `${v} fc`;
    case 'stop':
      return stopWords(r.value);
    case 'zebra':
      return `zebra${r.zebraPercent === undefined ? '' : ` ${r.zebraPercent} %`} at ${stopWords(r.value)}`;
  }
}

export const READING_EDITS = {
  /** Measured and kept: it corrects the heads that burned, and their kinds, everywhere. */
  keepReading: kind({ id: newId, reading: MeterReading }, (s, a) => {
    if (own(s.readings, a.id)) throw new EditError(`There is a reading ${a.id} already.`);
    const { reading } = a;
    const scene = sceneOf(s, reading.scene);
    there(own(scene.angles, reading.angle), `angle ${reading.angle}`);
    if ((reading.mark === undefined) === (reading.spot === undefined))
      throw new EditError('A reading is made at a mark or at a spot.');
    if (reading.mark !== undefined) there(own(scene.marks, reading.mark), `mark ${reading.mark}`);
    if (reading.spot !== undefined) there(own(scene.spots, reading.spot), `spot ${reading.spot}`);
    if ((reading.how === 'stop' || reading.how === 'zebra') && (!reading.ei || !reading.shutterS))
      throw new EditError('A reading by camera needs its index and shutter.');
    if (!reading.expected.some((e) => e.directLx + e.bouncedLx > 0))
      throw new EditError('Nothing was expected there, so the reading could correct no lamp.');
    s.readings = { ...s.readings, [a.id]: reading };
    return `${reading.mark ?? reading.spot}: ${valueWords(reading)} measured`;
  }),
  /** A reading that is doubted stays on the sheet and corrects nothing; or counts again. */
  setReadingAside: kind({ id, aside: z.boolean() }, (s, a) => {
    const r = readingOf(s, a.id);
    if (a.aside) r.aside = true;
    else delete r.aside;
    return `${r.mark ?? r.spot}, ${valueWords(r)}: ${a.aside ? 'set aside' : 'counts again'}`;
  }),
  dropReading: kind({ id }, (s, a) => {
    const r = readingOf(s, a.id);
    delete s.readings![a.id];
    return `${r.mark ?? r.spot}, ${valueWords(r)}: reading struck`;
  }),

  /** A light kept with a person; a look of that name is replaced. */
  keepLook: kind({ id: newId, look: Look }, (s, a) => {
    s.looks = { ...s.looks, [a.id]: a.look };
    return `${a.look.words || a.id}: light kept`;
  }),
  dropLook: kind({ id }, (s, a) => {
    const look = there(own(s.looks, a.id), `look ${a.id}`);
    delete s.looks![a.id];
    return `${look.words || a.id}: light no longer kept`;
  }),
} satisfies Record<string, EditKind>;
