/** Files of the person's: read with words for what is wrong, written whole or not at all. */
import { randomBytes } from 'node:crypto';
import {
  closeSync,
  fsyncSync,
  openSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { BadUse } from './command.ts';

/** No shoot comes near this; a film file given by mistake does. */
const LARGEST_BYTES = 64e6;

const WHY: Record<string, string> = {
  ENOENT: 'there is no such file or folder',
  EACCES: 'it may not be read or written by this user',
  EPERM: 'it may not be read or written by this user',
  EISDIR: 'it is a folder',
  ENOTDIR: 'part of the path is not a folder',
  ENOSPC: 'the disk is full',
  EROFS: 'the disk cannot be written',
  ENAMETOOLONG: 'the name is too long',
};

/** The same error in words, as a bad use; anything unknown is passed on. */
export function inWords(path: string, doing: string, error: unknown): never {
  const why = WHY[(error as NodeJS.ErrnoException).code ?? ''];
  if (why === undefined) throw error;
  throw new BadUse([`${path} cannot be ${doing}: ${why}.`]);
}

/** The text of a file. */
export function readText(path: string): string {
  try {
    const { size } = statSync(path);
    if (size > LARGEST_BYTES)
      throw new BadUse([`${path} is too large for a shoot (${Math.round(size / 1e6)} MB).`]);
    return readFileSync(path, 'utf8');
  } catch (error) {
    if (error instanceof BadUse) throw error;
    return inWords(path, 'read', error);
  }
}

/**
 * Writes a file so that a reader, or a power cut, finds the old one or the new one and never half: to a temporary file
 * beside it, onto the disk, then renamed. A link is followed; the file's mode is kept.
 */
export function writeWhole(path: string, data: string | Uint8Array): void {
  let target = path;
  let mode = 0o666;
  try {
    target = realpathSync(path);
    mode = statSync(target).mode & 0o777;
  } catch {
    // There is none yet.
  }
  const temporary = join(dirname(target), `.${basename(target)}.${randomBytes(6).toString('hex')}`);
  try {
    const file = openSync(temporary, 'wx', mode);
    try {
      const bytes = typeof data === 'string' ? Buffer.from(data) : data;
      for (let at = 0; at < bytes.length; ) at += writeSync(file, bytes, at);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    // A folder's name ends badly here too: renaming onto it fails.
    renameSync(temporary, target);
  } catch (error) {
    rmSync(temporary, { force: true });
    inWords(path, 'written', error);
  }
  // The name itself is on the disk only when the folder is.
  try {
    const folder = openSync(dirname(target), 'r');
    try {
      fsyncSync(folder);
    } finally {
      closeSync(folder);
    }
  } catch {
    // Not every system lets a folder be synced.
  }
}
