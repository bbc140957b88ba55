/**
 * The keeper: whatever is done to the open shoot goes to the shelf at once, without being asked. One window writes a
 * shoot; others follow it. What cannot be kept is said.
 */
import { type History, leave } from '../shoot/history.ts';
import { entriesBetween, replay } from '../shoot/journal.ts';
import { shootInPage, shootText } from './assets.ts';
import { type Kept, useKept } from './kept.ts';
import { markOf } from './seal.ts';
import { type Seat, takeSeat, type Why } from './seat.ts';
import * as onShelf from './shelf.ts';
import { type Origin, type State, useStore } from './store.ts';
import { hear, tell } from './windows.ts';

/** One open shoot on its way to the shelf. */
interface Desk {
  origin: Origin;
  card: onShelf.Card | undefined;
  /** As it stands on the shelf, or as it was opened; and as it stands now. */
  base: History;
  now: History;
  since: onShelf.Since;
  gap: boolean;
  seat: Seat | undefined;
  writes: boolean;
  busy: boolean;
  /** Another shoot was opened since; the seat is left when all is kept. */
  retired: boolean;
  /** The file's form is a newer one: nothing of it may be changed. */
  newer: boolean;
  retry: ReturnType<typeof setTimeout> | undefined;
}

const DEMO = 'slack-water';
const RETRY_MS = 15_000;
const POLITE_MS = 1500;
const kept = useKept.getState().set;
const store = () => useStore.getState();

let shelf: onShelf.Shelf | undefined;
let desk: Desk | undefined;
/** A shoot just read from the shelf, for the desk that is about to be set up. */
let arriving: Extract<onShelf.Found, { ok: true }> | undefined;
const pageMark = () => {
  const text = shootInPage();
  return text === undefined ? '' : markOf(text);
};

/* ------------------------------------------------------------------------------------ what is open */

const news = (d: Desk): boolean =>
  d.card ? d.card.seq === 0 || entriesBetween(d.base, d.now)?.length !== 0 : changed(d);
const changed = (d: Desk): boolean => entriesBetween(d.base, d.now)?.length !== 0;

/** A shoot was opened: a desk for it; the one before is cleared. */
function sitDown(s: State): void {
  const last = desk;
  const found = arriving;
  arriving = undefined;
  const d: Desk = {
    origin: s.origin!,
    card: found?.card,
    base: s.history!,
    now: s.history!,
    since: { entries: 0, characters: 0 },
    gap: found?.gap ?? false,
    seat: undefined,
    writes: false,
    busy: false,
    retired: false,
    newer: s.readOnly,
    retry: undefined,
  };
  desk = d;
  kept({
    id: d.card?.id,
    keptMs: d.card?.keptMs,
    behind: false,
    reading: undefined,
    saved: undefined,
    file: undefined,
  });
  remember(d);
  if (last) {
    last.retired = true;
    if (last.writes || (last.card && last.card.seq === 0)) void pump(last);
    else last.seat?.leave();
  }
  if (d.card) {
    // Until the seat is taken, a moment later, nothing may be changed.
    queueMicrotask(() => {
      if (desk === d)
        store().set({ readOnly: true, onlyRead: 'One moment: the shoot is just being opened.' });
    });
    d.seat = takeSeat(d.card.id, hears(d));
    shelf?.get('files', d.card.id).then(
      (f) => f && d === desk && kept({ file: f.handle }),
      () => {},
    );
  } else if (d.origin.kind === 'file' || d.origin.kind === 'made') adopt(d);
}

/** Gives a shoot its place on the shelf. */
function adopt(d: Desk): void {
  if (!shelf || d.card || d.newer) return;
  const { text, kind } = d.origin;
  d.card = {
    id: onShelf.newId(),
    title: d.now.shoot.title,
    madeMs: Date.now(),
    keptMs: 0,
    seq: 0,
    size: 0,
    scene: store().scene,
    ...(text === undefined ? {} : { from: { kind, name: store().fileName, mark: markOf(text) } }),
  };
  d.seat = takeSeat(d.card.id, hears(d));
}

const hears = (d: Desk) => ({
  writes: (guarded: boolean) => void begins(d, guarded),
  reads: (why: Why) => {
    d.writes = false;
    if (d !== desk) return;
    kept({ reading: why });
    store().set({ readOnly: true, onlyRead: READS });
  },
});
const READS = 'Another window writes this shoot; here it can be looked at. Take over to change it here.';

/** The seat is ours: catch up with what was written meanwhile, then write. */
async function begins(d: Desk, guarded: boolean): Promise<void> {
  const waited = useKept.getState().reading !== undefined && d === desk;
  if (d.card && d.card.seq > 0 && shelf) {
    try {
      await catchUp(d);
    } catch (error) {
      failed(d, error);
    }
  }
  d.writes = true;
  if (d === desk) {
    kept({ reading: undefined, guarded });
    store().set({ readOnly: d.newer });
    if (waited) say('The other window has let go: this one writes the shoot now.');
  }
  void pump(d);
}

/** Reads the shoot anew if the shelf is further on. */
async function catchUp(d: Desk): Promise<void> {
  const id = d.card!.id;
  const card = await shelf!.get('shoots', id);
  if (!card || card.seq === d.card!.seq || news(d)) return;
  const found = await onShelf.read(shelf!, id);
  if (!found.ok) return;
  d.card = found.card;
  d.gap = found.gap;
  d.since = { entries: 0, characters: 0 };
  shows(d, found.history);
}

/** A history that came from the shelf or from another window. */
function shows(d: Desk, history: History): void {
  d.base = history;
  d.now = history;
  if (d === desk) store().follow(history);
}

/** Which shoot this tab opens when it is loaded again. */
function remember(d: Desk): void {
  const { fileName } = store();
  const where = d.card ? { id: d.card.id } : d.origin.kind === 'demo' ? { demo: fileName } : undefined;
  try {
    const key = `rushlight-shoot${pageMark()}`;
    if (where) sessionStorage.setItem(key, JSON.stringify(where));
    else sessionStorage.removeItem(key);
  } catch {
    // No storage: the tab opens what it would have opened.
  }
  if (d.card && d.card.seq > 0) shelf?.put('notes', d.card.id, 'last').catch(() => {});
}

/* ------------------------------------------------------------------------------------ to the shelf */

/** Writes until nothing is new. */
async function pump(d: Desk): Promise<void> {
  if (d.busy) return;
  d.busy = true;
  try {
    while (d.writes && d.card && news(d)) {
      shelf ??= await onShelf.openShelf(shut);
      const now = d.now;
      const was = d.card.seq;
      const first = was === 0;
      const entries = first || d.gap ? undefined : entriesBetween(d.base, now);
      const card = d === desk ? { ...d.card, scene: store().scene } : d.card;
      d.card = await onShelf.write(shelf, card, d.since, { history: now, entries });
      d.base = now;
      d.gap = false;
      tell({ kind: 'kept', id: d.card.id, was, seq: d.card.seq, entries });
      if (d === desk) {
        kept({ id: d.card.id, keptMs: d.card.keptMs, behind: news(d), trouble: undefined });
        if (first) remember(d);
      }
      if (first || useKept.getState().cards.every((c) => c.id !== d.card!.id)) await list();
      void askPromise();
    }
  } catch (error) {
    failed(d, error);
  } finally {
    d.busy = false;
  }
  if (d.retired && (d.writes || !news(d))) d.seat?.leave();
}

const SAVE = 'Save the shoot as a file now, or send it on as one page.';
function failed(d: Desk, error: unknown): void {
  const { name = '', message = '' } = error as Error;
  if (name === 'Overtaken') return void fork(d);
  if (name === 'InvalidStateError') shelf = undefined;
  if (d === desk) {
    const why =
      name === 'QuotaExceededError' || /quota|full|space/i.test(message)
        ? [
            'This browser has no more room: what you change now is not kept.',
            `${SAVE} Or throw away a shoot.`,
          ]
        : [`This browser could not keep the last change (${name || message}).`, SAVE];
    kept({ trouble: why, behind: true });
  }
  clearTimeout(d.retry);
  d.retry = setTimeout(() => void pump(d), RETRY_MS);
}

/** Two windows wrote at once, which only a browser without locks allows: this one goes on as a shoot of its own. */
function fork(d: Desk): void {
  if (d !== desk) return;
  d.seat?.leave();
  d.card = undefined;
  d.writes = false;
  d.since = { entries: 0, characters: 0 };
  const title = `${d.now.shoot.title.slice(0, 1900)}, this window`;
  adopt(d);
  store().act({ edit: 'rename', args: { title } });
  say(`Another window changed this shoot too. Nothing is lost: this one goes on as “${title}”.`);
}

function shut(why: 'newer' | 'gone'): void {
  shelf = undefined;
  if (why === 'newer')
    kept({
      trouble: [
        'A newer Rushlight was opened in another window: this one cannot keep changes any more.',
        'Load this page again; if you changed something since, save it as a file first.',
      ],
    });
  else if (desk) void pump(desk);
}

let asked = false;
/** Asked once something of one's own is kept: that the browser does not clear it by itself. */
async function askPromise(): Promise<void> {
  if (asked) return;
  asked = true;
  let promise: 'given' | 'not given' | 'cannot be asked' = 'cannot be asked';
  try {
    promise = (await navigator.storage.persist()) ? 'given' : 'not given';
  } catch {
    // No such question in this browser.
  }
  kept({ promise });
  shelf?.put('notes', promise, 'promise').catch(() => {});
}
/** What the browser answered when it was asked before. */
async function promised(): Promise<void> {
  const before = (await shelf?.get('notes', 'promise')) as Kept['promise'] | undefined;
  const holds = (await navigator.storage?.persisted?.()) === true;
  const promise = holds ? 'given' : before === 'given' ? 'not given' : (before ?? 'not asked');
  kept({ promise });
}

/** Reads the list of kept shoots anew. */
export async function list(): Promise<void> {
  if (shelf) kept({ cards: await onShelf.cards(shelf) });
}
const say = (words: string) => store().set({ line: { words, back: false, stamp: Date.now() } });

/* ------------------------------------------------------------------------------------ other windows */

hear((m) => {
  if (m.kind === 'kept' || m.kind === 'shelf') void list();
  const d = desk;
  if (!d?.card || !('id' in m) || m.id !== d.card.id) return;
  if (m.kind === 'please') void pump(d).then(() => d.seat?.pass());
  if (m.kind !== 'kept' || d.writes) return;
  if (m.entries && m.was === d.card.seq) {
    try {
      const history = replay(d.base, m.entries);
      d.card = { ...d.card, seq: m.seq };
      shows(d, history);
      return;
    } catch {
      // Read it whole, below.
    }
  }
  void catchUp(d);
});

/** Writes here from now on; the other window is asked first, so that it can keep what it has. */
export function takeOver(): void {
  const d = desk;
  if (!d?.card || d.writes) return;
  tell({ kind: 'please', id: d.card.id });
  setTimeout(() => {
    if (!d.writes && d === desk) d.seat?.steal();
  }, POLITE_MS);
}

/* ------------------------------------------------------------------------------------------- doings */

/** Opens a kept shoot; sentences if it cannot be. */
export async function openKept(id: string): Promise<string[] | undefined> {
  if (!shelf) return ['Nothing is kept in this browser.'];
  const found = await onShelf.read(shelf, id);
  if (!found.ok) return found.message;
  arriving = found;
  store().begin(found.history, {
    fileName: found.card.title,
    origin: { kind: 'shelf', id },
    readOnly: found.readOnly,
    notes: found.notes,
    scene: found.card.scene,
  });
  if (found.notes.length) store().set({ panel: 'open' });
  return undefined;
}

/** All that is new is on the disk, or it is known why not. */
export const settled = async (): Promise<void> => {
  if (desk) await pump(desk);
};
/** Something would be lost if the page closed now: it is neither on the shelf nor in a file outside. */
export function unkept(): boolean {
  const { reading, saved } = useKept.getState();
  return desk !== undefined && !reading && news(desk) && saved?.shoot !== desk.now.shoot;
}
/** The open shoot's card, for those that add to it. */
export const openCard = (): onShelf.Card | undefined => desk?.card;
export const theShelf = (): onShelf.Shelf | undefined => shelf;

/** For tests and the curious. */
export const keptNow = () => ({
  id: desk?.card?.id,
  seq: desk?.card?.seq,
  writes: desk?.writes ?? false,
  behind: desk !== undefined && news(desk),
  /** The last step that is on the disk, in words. */
  last: desk?.base.done.at(-1)?.says,
});

/* -------------------------------------------------------------------------------------------- begin */

let begun = false;
/** Opens what is to be opened: this page's shoot, the one last worked on, or the demo. Once. */
export async function begin(): Promise<void> {
  if (begun) return;
  begun = true;
  useStore.subscribe((s, before) => {
    if (!s.history) return;
    if (s.origin !== before.origin) return sitDown(s);
    const d = desk;
    if (!d || s.history === before.history) return;
    d.now = leave(s.history);
    if (!news(d)) return;
    if (!d.card && !shelf) return kept({ behind: true });
    if (!d.card) adopt(d);
    kept({ behind: true });
    void pump(d);
  });
  addEventListener('beforeunload', (e) => {
    if (unkept()) e.preventDefault();
  });

  try {
    shelf = await onShelf.openShelf(shut);
    const nowMs = Date.now();
    void onShelf.clear(shelf, { nowMs }).then(list, () => {});
    await list();
    promised().catch(() => {});
  } catch (error) {
    kept({
      trouble: [
        `This browser keeps nothing for this page (${(error as Error).name === 'SecurityError' ? 'it does not allow it here' : 'storage is off, or the window is private'}): what you change is gone when it is closed.`,
        SAVE,
      ],
    });
  }

  const { cards } = useKept.getState();
  const there = (id: unknown) => cards.some((c) => c.id === id && c.thrownMs === undefined);
  const inPage = shootInPage();
  let wish: { id?: string; demo?: string } = {};
  try {
    wish = JSON.parse(sessionStorage.getItem(`rushlight-shoot${pageMark()}`) ?? '{}') as typeof wish;
  } catch {
    // Nothing was remembered.
  }
  const mine = cards.find(
    (c) => c.thrownMs === undefined && c.from?.kind === 'page' && c.from.mark === pageMark(),
  );
  const last = inPage === undefined && wish.demo === undefined ? await shelf?.get('notes', 'last') : mine?.id;
  const id = there(wish.id) ? wish.id : there(last) ? last : undefined;
  let why: string[] | undefined;
  if (id !== undefined) {
    why = await openKept(id);
    if (!why) {
      if (inPage !== undefined && id === mine?.id)
        say('It opens with what was changed in it in this browser.');
      return;
    }
  }
  await openOwn(wish.demo);
  if (why) store().set({ said: why, panel: 'open' });
}

/** The page's own shoot as it came, or a demo. */
export async function openOwn(demo = DEMO): Promise<void> {
  const inPage = shootInPage();
  try {
    const opened =
      inPage !== undefined
        ? store().open(inPage, 'this page', 'page')
        : store().open(await shootText(demo), demo, 'demo');
    if (!opened) store().set({ panel: 'open' });
  } catch (error) {
    store().set({ said: [String((error as Error).message)], panel: 'open' });
  }
}
