/** What is done to kept shoots in their list: opened, renamed, copied, thrown away, put back. */
import { act, newHistory } from '../shoot/history.ts';
import { list, openKept, openOwn, settled, theShelf } from './keeper.ts';
import { useKept } from './kept.ts';
import { type Refusal, refuse } from './refused.ts';
import { type Card, mark, newId, read, THROWN_DAYS, write } from './shelf.ts';
import { useStore } from './store.ts';
import { tell } from './windows.ts';

type At = Refusal['at'];

/** Does something to a shoot that no window has open; else says so. */
async function alone(card: Card, at: At, doing: () => Promise<void>): Promise<void> {
  const locked = async () => {
    try {
      await navigator.locks.request(`rushlight-shoot-${card.id}`, { ifAvailable: true }, async (lock) => {
        if (lock) return doing();
        refuse({ words: [`“${card.title}” is open in another window: do it there, or shut it first.`], at });
      });
    } catch (error) {
      if ((error as Error).name !== 'SecurityError') throw error;
      await doing();
    }
  };
  try {
    await (navigator.locks === undefined ? doing() : locked());
  } catch (error) {
    refuse({ words: [`That could not be done to “${card.title}” (${(error as Error).message}).`], at });
  }
  await changedList();
}
async function changedList(): Promise<void> {
  await list();
  tell({ kind: 'shelf' });
}

export async function openCardOf(card: Card, at: At): Promise<void> {
  await settled();
  const why = await openKept(card.id);
  if (why) refuse({ words: why, at });
}

export async function rename(card: Card, title: string, at: At): Promise<void> {
  const edit = { edit: 'rename', args: { title } };
  if (card.id === useKept.getState().id) {
    const why = useStore.getState().act(edit);
    if (why) refuse({ words: [why], at });
    return;
  }
  await alone(card, at, async () => {
    const shelf = theShelf()!;
    const found = await read(shelf, card.id);
    if (!found.ok) return refuse({ words: found.message, at });
    const history = act(found.history, edit);
    await write(shelf, found.card, { entries: 0, characters: 0 }, { history, entries: undefined });
  });
}

/** A copy of its own, without the steps that led to it. */
export async function duplicate(card: Card, at: At): Promise<void> {
  const shelf = theShelf();
  if (!shelf) return;
  await settled();
  const found = await read(shelf, card.id);
  if (!found.ok) return refuse({ words: found.message, at });
  const titles = new Set(useKept.getState().cards.map((c) => c.title));
  let title = `${found.history.shoot.title.slice(0, 1900)}, copy`;
  for (let n = 2; titles.has(title); n++) title = title.replace(/, copy( \d+)?$/, `, copy ${n}`);
  const { shoot } = act(found.history, { edit: 'rename', args: { title } });
  const fresh: Card = { ...card, id: newId(), title, madeMs: Date.now(), seq: 0 };
  delete fresh.savedMark;
  delete fresh.from;
  try {
    await write(
      shelf,
      fresh,
      { entries: 0, characters: 0 },
      { history: newHistory(shoot), entries: undefined },
    );
  } catch (error) {
    refuse({ words: [`It could not be copied (${(error as Error).name}).`], at });
  }
  await changedList();
}

/** Into the bin, where it stays for a while. The one that is open gives way to the one kept before it. */
export async function throwAway(card: Card, at: At): Promise<void> {
  const shelf = theShelf();
  if (!shelf) return;
  if (card.id === useKept.getState().id) {
    await settled();
    if (useKept.getState().reading)
      return refuse({ words: ['Another window writes this shoot: throw it away there.'], at });
    await mark(shelf, card.id, (c) => ({ ...c, thrownMs: Date.now() }));
    const next = useKept.getState().cards.find((c) => c.id !== card.id && c.thrownMs === undefined);
    if (!next || (await openKept(next.id)) !== undefined) await openOwn();
    useStore.getState().set({ panel: 'open' });
    await changedList();
  } else await alone(card, at, () => mark(shelf, card.id, (c) => ({ ...c, thrownMs: Date.now() })));
  if (useKept.getState().cards.some((c) => c.id === card.id && c.thrownMs !== undefined))
    refuse({
      words: [`“${card.title}” is thrown away. It can be put back for ${THROWN_DAYS} days.`],
      at,
      acts: [{ words: 'Put it back', act: () => void putBack(card) }],
    });
}

export async function putBack(card: Card): Promise<void> {
  const shelf = theShelf();
  if (!shelf) return;
  await mark(shelf, card.id, ({ thrownMs: _, ...c }) => c);
  await changedList();
}
