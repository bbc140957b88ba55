/** Copies outside the browser: the shoot as a file, saved to the same file again where the browser allows that. */
import { saveShoot } from '../shoot/file.ts';
import type { Shoot } from '../shoot/schema.ts';
import { countedShoot } from './counted.ts';
import { openCard, theShelf } from './keeper.ts';
import { useKept } from './kept.ts';
import { keepAsFile } from './onePageOf.ts';
import { refuse } from './refused.ts';
import { markOf } from './seal.ts';
import { mark } from './shelf.ts';

/** A file's name from a title. */
export const nameOf = (title: string): string =>
  title
    .trim()
    .toLowerCase()
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 60) || 'shoot';

/** What the browser may offer beyond the usual. */
interface Disk {
  showSaveFilePicker?: (options: {
    suggestedName: string;
    types: { description: string; accept: Record<string, string[]> }[];
  }) => Promise<FileSystemFileHandle>;
}
interface Asked {
  queryPermission?: (wish: { mode: 'readwrite' }) => Promise<PermissionState>;
  requestPermission?: (wish: { mode: 'readwrite' }) => Promise<PermissionState>;
}

const TYPES = [{ description: 'Shoot', accept: { 'application/json': ['.json'] } }];

/** Saves to the file it came from or was saved to before, else to one that is chosen, else as a download. */
export async function saveAsFile({ another = false } = {}): Promise<void> {
  const shoot = countedShoot();
  if (!shoot) return;
  const text = saveShoot(shoot);
  const suggestedName = `${nameOf(shoot.title)}.json`;
  const { file } = useKept.getState();
  const { showSaveFilePicker: pick } = window as Disk;
  try {
    let handle = another || !file || !(await mayWrite(file)) ? undefined : file;
    if (handle && (await wrote(handle, text))) return noted(shoot, text, handle.name, handle);
    if (pick) {
      handle = await pick.call(window, { suggestedName, types: TYPES });
      if (await wrote(handle, text)) return noted(shoot, text, handle.name, handle);
    }
  } catch (error) {
    // Left by the person, or not allowed on this page: the usual way is left.
    if ((error as Error).name === 'AbortError') return;
  }
  keepAsFile(suggestedName, text, 'application/json');
  noted(shoot, text, suggestedName, undefined);
}

async function mayWrite(file: FileSystemFileHandle & Asked): Promise<boolean> {
  const mode = { mode: 'readwrite' } as const;
  if ((await file.queryPermission?.(mode)) === 'granted') return true;
  return file.requestPermission === undefined || (await file.requestPermission(mode)) === 'granted';
}

/** Writes it whole: the file stands as it was until the last letter is there. */
async function wrote(file: FileSystemFileHandle, text: string): Promise<boolean> {
  try {
    const out = await file.createWritable();
    await out.write(text);
    await out.close();
    return true;
  } catch (error) {
    refuse({
      words: [
        `“${file.name}” could not be written (${(error as Error).name === 'NotFoundError' ? 'it is not there any more' : 'its disk is full, or it may not be changed'}).`,
        'Save it under another name.',
      ],
      at: undefined,
      acts: [{ words: 'Save to another file', act: () => void saveAsFile({ another: true }) }],
    });
    throw new DOMException('told', 'AbortError');
  }
}

function noted(shoot: Shoot, text: string, name: string, handle: FileSystemFileHandle | undefined): void {
  const { set, file } = useKept.getState();
  set({ saved: { ms: Date.now(), name, shoot }, file: handle ?? file });
  marked(text);
  if (handle) goesTo(handle);
}

/** The open shoot is saved to this file from now on. */
export function goesTo(handle: FileSystemFileHandle): void {
  useKept.getState().set({ file: handle });
  const id = openCard()?.id;
  // Where a handle cannot be kept the file is asked for again.
  if (id)
    theShelf()
      ?.put('files', { id, handle })
      .catch(() => {});
}

/** Remembers the text that went out, to know it again when it comes back. */
export function marked(text: string): void {
  const id = openCard()?.id;
  const shelf = theShelf();
  if (id && shelf) mark(shelf, id, (card) => ({ ...card, savedMark: markOf(text) })).catch(() => {});
}
