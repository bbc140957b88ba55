/** Opening what a person gives the page: by choosing, dropping or pasting. What cannot be opened changes nothing. */
import { type Opened, openShoot, saveShoot } from '../shoot/file.ts';
import { newHistory } from '../shoot/history.ts';
import { broughtIn } from './bringing.ts';
import { type FileText, shootIn, textOfFile } from './fileText.ts';
import { openKept, theShelf, unkept } from './keeper.ts';
import { useKept } from './kept.ts';
import OpenWorker from './open.worker.ts?worker';
import { type Refusal, refuse } from './refused.ts';
import { goesTo, saveAsFile } from './saving.ts';
import { markOf } from './seal.ts';
import { read } from './shelf.ts';
import { useStore } from './store.ts';

type At = Refusal['at'];
/** Larger texts are read in a worker. */
const LARGE = 2_000_000;

/** One at a time: the last that was asked for. */
let turn = 0;

/** A file; `handle`: the same on the disk, to save to again. */
export async function openFile(file: File, at?: At, handle?: FileSystemFileHandle): Promise<void> {
  if (await broughtIn(file, at)) return;
  await take(file.name, at, () => textOfFile(file), handle);
}
export async function openText(text: string, at?: At): Promise<void> {
  const name = 'What was pasted';
  if (!/^\s*[{<]/.test(text))
    return refuse({
      words: ['What was pasted is no shoot.', 'Copy the whole text of a shoot’s file. Nothing was changed.'],
      at,
    });
  await take(name, at, async () => shootIn(name, text), undefined);
}

async function take(
  name: string,
  at: At,
  textOf: () => Promise<FileText>,
  handle: FileSystemFileHandle | undefined,
): Promise<void> {
  const mine = ++turn;
  const slow = setTimeout(() => refuse({ words: [`Reading ${name} …`], at, busy: true }), 300);
  let said: string[] | undefined;
  let show: (() => void) | undefined;
  try {
    const got = await textOf();
    if (got.ok) {
      const opened = await parsed(got.text);
      if (opened.ok) show = () => void open(name, got.text, opened, handle);
      else said = [`${name} was not opened.`, ...opened.message];
    } else said = got.message;
  } catch (error) {
    said = [`${name} could not be read: ${(error as Error).message}.`, 'Nothing was changed.'];
  }
  clearTimeout(slow);
  if (mine !== turn) return;
  if (said) return refuse({ words: said, at });
  refuse(undefined);
  const title = useStore.getState().history?.shoot.title;
  if (show && unkept() && useKept.getState().trouble)
    refuse({
      words: [`What you changed in “${title}” is not kept and would be lost.`],
      at,
      acts: [
        { words: 'Save it as a file first', act: () => void saveAsFile() },
        { words: 'Open all the same', act: show },
      ],
    });
  else show?.();
}

function parsed(text: string): Promise<Opened> | Opened {
  if (text.length < LARGE) return openShoot(text);
  return new Promise((resolve, reject) => {
    const worker = new OpenWorker();
    const end = (then: () => void) => {
      worker.terminate();
      then();
    };
    worker.onmessage = (e: MessageEvent<Opened>) => end(() => resolve(e.data));
    worker.onerror = (e) => end(() => reject(new Error(e.message || 'the reader could not start')));
    worker.postMessage(text);
  });
}

/** Shows it. A file that is kept here already, letter by letter, opens with the steps made in it. */
async function open(
  name: string,
  text: string,
  { shoot, readOnly, notes }: Extract<Opened, { ok: true }>,
  handle: FileSystemFileHandle | undefined,
): Promise<void> {
  const mark = markOf(text);
  const shelf = theShelf();
  const known = useKept
    .getState()
    .cards.filter((c) => c.thrownMs === undefined && (c.from?.mark === mark || c.savedMark === mark));
  const about = [...notes];
  for (const card of shelf ? known : []) {
    const found = await read(shelf!, card.id);
    if (!found.ok) continue;
    if (saveShoot(found.history.shoot) === saveShoot(shoot)) {
      await openKept(card.id);
      return;
    }
    about.push(
      `This file was opened here before and changed since: that one is kept too, as “${found.card.title}”.`,
    );
  }
  const { begin, set } = useStore.getState();
  begin(newHistory(shoot), { fileName: name, origin: { kind: 'file', text }, readOnly, notes: about });
  if (handle) goesTo(handle);
  if (about.length) set({ panel: 'open' });
}
