/**
 * The shelf: shoots kept in this browser. Each is written whole now and then, and between those times as a journal of
 * entries; a writing is one transaction, done altogether or not at all. Every record is sealed: one that was damaged is
 * passed over for the last good one before it, and nothing good is thrown away for it.
 */
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { openShoot, saveShoot } from '../shoot/file.ts';
import { type History, type Step, stepsOf } from '../shoot/history.ts';
import { type Entry, replay } from '../shoot/journal.ts';
import type { Shoot } from '../shoot/schema.ts';
import { sealOf } from './seal.ts';

/** What the list says of a kept shoot. */
export interface Card {
  id: string;
  title: string;
  madeMs: number;
  keptMs: number;
  /** Counts what was kept: one more with every entry. A writer who has another count was overtaken. */
  seq: number;
  /** Characters of its file, when it was last written whole. */
  size: number;
  scene: string;
  /** What it began as: a file, a page or a demo, by the mark of its text. */
  from?: { kind: string; name: string; mark: string };
  /** The text last saved or sent on, by its mark. */
  savedMark?: string;
  /** When it was thrown away; it can be put back for a while. */
  thrownMs?: number;
}

interface Sealed {
  id: string;
  seq: number;
  body: string;
  seal: string;
}
interface Plan extends DBSchema {
  shoots: { key: string; value: Card };
  wholes: { key: [string, number]; value: Sealed };
  entries: { key: [string, number]; value: Sealed };
  /** Files on the disk that shoots were saved to, where the browser hands those out. */
  files: { key: string; value: { id: string; handle: FileSystemFileHandle } };
  notes: { key: string; value: string };
}
export type Shelf = IDBPDatabase<Plan>;

/** Another window has written since. */
export class Overtaken extends Error {
  override name = 'Overtaken';
}

const ALL = ['shoots', 'wholes', 'entries', 'files', 'notes'] as const;
const STRICT = { durability: 'strict' } as const;
/** Entries between two whole writings, at most; characters of them, at most. */
const ENTRIES = 40;
const CHARACTERS = 200_000;
/** How long what was thrown away can be put back. */
export const THROWN_DAYS = 30;
const DAY_MS = 86_400_000;
/** Longer than this no store takes to open; some that are broken never answer. */
const PATIENCE_MS = 5000;

/** Opens the shelf. Rejects where this browser keeps nothing for this page. `shut`: it was closed from outside. */
export async function openShelf(shut: (why: 'newer' | 'gone') => void): Promise<Shelf> {
  if (!('indexedDB' in globalThis)) throw new Error('no storage');
  const opening = openDB<Plan>('rushlight', 1, {
    upgrade(db) {
      db.createObjectStore('shoots', { keyPath: 'id' });
      db.createObjectStore('wholes', { keyPath: ['id', 'seq'] });
      db.createObjectStore('entries', { keyPath: ['id', 'seq'] });
      db.createObjectStore('files', { keyPath: 'id' });
      db.createObjectStore('notes');
    },
    blocking(_now, _wanted, event) {
      (event.target as IDBDatabase).close();
      shut('newer');
    },
    terminated: () => shut('gone'),
  });
  const late = new Promise<never>((_, no) => setTimeout(no, PATIENCE_MS, new Error('the storage is silent')));
  return Promise.race([opening, late]);
}

const of = (id: string) => IDBKeyRange.bound([id, 0], [id, Number.MAX_SAFE_INTEGER]);
const sealed = (id: string, seq: number, value: unknown): Sealed => {
  const body = JSON.stringify(value);
  return { id, seq, body, seal: sealOf(body) };
};
/** What a record holds, or undefined if it is not what was written. */
function unsealed<T>(record: Sealed | undefined): T | undefined {
  if (typeof record?.body !== 'string' || sealOf(record.body) !== record.seal) return undefined;
  return JSON.parse(record.body) as T;
}

/** Kept shoots, the last kept first; thrown ones too. */
export async function cards(shelf: Shelf): Promise<Card[]> {
  return (await shelf.getAll('shoots')).sort((a, b) => b.keptMs - a.keptMs);
}

/** What is new of a shoot: entries since its card's count, or (undefined) everything. */
export interface Writing {
  history: History;
  entries: Entry[] | undefined;
}
/** Counted per open shoot by its writer: what stands in the journal since it was last written whole. */
export interface Since {
  entries: number;
  characters: number;
}

/**
 * Keeps what is new: one transaction on the disk. Answers the card as it is now. A card with count 0 is a new shoot.
 * Throws Overtaken where the shelf has another count than the card.
 */
export async function write(shelf: Shelf, card: Card, since: Since, w: Writing): Promise<Card> {
  const records = (w.entries ?? []).map((e, i) => sealed(card.id, card.seq + 1 + i, e));
  const characters = records.reduce((sum, r) => sum + r.body.length, since.characters);
  const count = since.entries + records.length;
  const whole = w.entries === undefined || card.seq === 0 || count > ENTRIES || characters > CHARACTERS;
  const seq = card.seq + Math.max(1, records.length);
  const text = whole ? saveShoot(w.history.shoot) : undefined;
  const next: Card = { ...card, title: w.history.shoot.title, keptMs: Date.now(), seq };
  if (text !== undefined) next.size = text.length;
  const body =
    text === undefined ? undefined : sealed(card.id, seq, { text, ...stepsOf(w.history) } satisfies Whole);

  const tx = shelf.transaction(['shoots', 'wholes', 'entries', 'notes'], 'readwrite', STRICT);
  tx.done.catch(() => {});
  const [shoots, wholes, entries] = [
    tx.objectStore('shoots'),
    tx.objectStore('wholes'),
    tx.objectStore('entries'),
  ];
  const there = await shoots.get(card.id);
  if ((there?.seq ?? 0) !== card.seq) {
    tx.abort();
    throw new Overtaken(`kept ${there?.seq ?? 0}, known ${card.seq}`);
  }
  for (const r of records) entries.put(r);
  if (body) {
    wholes.put(body);
    // The whole before this one stays, with its journal, should this one be damaged.
    const kept = await wholes.getAllKeys(of(card.id));
    const before = kept.map((key) => key[1]).filter((n) => n < seq);
    for (const old of before.slice(0, -1)) wholes.delete([card.id, old]);
    const last = before.at(-1) ?? 0;
    if (last > 0) entries.delete(IDBKeyRange.bound([card.id, 0], [card.id, last]));
  }
  shoots.put(next);
  tx.objectStore('notes').put(card.id, 'last');
  await tx.done;
  since.entries = whole ? 0 : count;
  since.characters = whole ? 0 : characters;
  return next;
}

interface Whole {
  text: string;
  done: Step[];
  undone: Step[];
}

export type Found =
  | {
      ok: true;
      card: Card;
      history: History;
      readOnly: boolean;
      notes: string[];
      /** The next writing must be a whole one: the journal has a gap. */
      gap: boolean;
    }
  | { ok: false; message: string[]; text?: string };

/** A kept shoot with its steps. Where a record is damaged, as it was at the last good one, with a note that says so. */
export async function read(shelf: Shelf, id: string): Promise<Found> {
  const tx = shelf.transaction(['shoots', 'wholes', 'entries']);
  const [card, wholes, entries] = await Promise.all([
    tx.objectStore('shoots').get(id),
    tx.objectStore('wholes').getAll(of(id)),
    tx.objectStore('entries').getAll(of(id)),
  ]);
  if (!card) return { ok: false, message: ['This shoot is not kept here any more.'] };
  const journal = new Map(entries.map((e) => [e.seq, e]));
  let failed: Found | undefined;
  for (const record of wholes.reverse()) {
    const whole = unsealed<Whole>(record);
    if (!whole) continue;
    const { history, seq } = onwards(whole, record.seq, journal);
    const opened = openShoot(saveShoot(history.shoot));
    if (!opened.ok) {
      failed ??= { ok: false, message: opened.message, text: whole.text };
      continue;
    }
    // Steps that belong to an older form of the file lead nowhere in today's.
    const older = (JSON.parse(whole.text) as Partial<Shoot>).version?.major !== opened.shoot.version.major;
    const steps = older ? { done: [], undone: [] } : stepsOf(history);
    const lost = card.seq - seq;
    const notes = [...opened.notes];
    if (lost > 0)
      notes.unshift(
        `Part of what was kept of this shoot is damaged: it opens as it stood ${lost === 1 ? 'one step' : `${lost} steps`} earlier. Look it over before you go on.`,
      );
    return {
      ok: true,
      card,
      history: { shoot: opened.shoot, ...steps },
      readOnly: opened.readOnly,
      notes,
      gap: lost > 0 || older,
    };
  }
  return (
    failed ?? {
      ok: false,
      message: [
        `“${card.title}” is damaged in this browser’s storage and cannot be opened.`,
        'Open the last file you saved of it.',
      ],
    }
  );
}

/** From a whole through its journal as far as that is good. */
function onwards(whole: Whole, from: number, journal: ReadonlyMap<number, Sealed>) {
  let seq = from;
  let history: History = {
    shoot: JSON.parse(whole.text) as Shoot,
    done: whole.done,
    undone: whole.undone,
  };
  for (;;) {
    const entry = unsealed<Entry>(journal.get(seq + 1));
    if (!entry) return { history, seq };
    try {
      history = replay(history, [entry]);
    } catch {
      return { history, seq };
    }
    seq++;
  }
}

/** Changes a card; nothing of the shoot. */
export async function mark(shelf: Shelf, id: string, change: (card: Card) => Card): Promise<void> {
  const tx = shelf.transaction('shoots', 'readwrite', STRICT);
  const card = await tx.store.get(id);
  if (card) await tx.store.put(change(card));
  await tx.done;
}

/** Clears away for good: one shoot, or all that were thrown away long ago. */
export async function clear(shelf: Shelf, which: { id: string } | { nowMs: number }): Promise<void> {
  const tx = shelf.transaction(ALL, 'readwrite', STRICT);
  for (const card of await tx.objectStore('shoots').getAll()) {
    const old =
      'id' in which
        ? card.id === which.id
        : card.thrownMs !== undefined && which.nowMs - card.thrownMs > THROWN_DAYS * DAY_MS;
    if (!old) continue;
    tx.objectStore('shoots').delete(card.id);
    tx.objectStore('files').delete(card.id);
    for (const store of ['wholes', 'entries'] as const) tx.objectStore(store).delete(of(card.id));
  }
  await tx.done;
}

/** A fresh name for a shoot on the shelf. */
export const newId = (): string =>
  [...crypto.getRandomValues(new Uint8Array(9))].map((b) => b.toString(36).padStart(2, '0')).join('');
