/** A file the person chose, dropped or pasted: its text, or in sentences why it has none that could be a shoot. */
import { MAX_BYTES } from '../shoot/file.ts';

export type FileText = { ok: true; text: string } | { ok: false; message: string[] };

const LEFT = 'Nothing was changed.';
const no = (...message: string[]): FileText => ({ ok: false, message });
const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;

/** First bytes by which common files tell what they are; from memory. */
const KINDS: [what: string, bytes: (number | undefined)[]][] = [
  ['a picture (PNG)', [0x89, 0x50, 0x4e, 0x47]],
  ['a picture (JPEG)', [0xff, 0xd8, 0xff]],
  ['a picture (GIF)', [0x47, 0x49, 0x46, 0x38]],
  ['a picture or a film', [undefined, undefined, undefined, undefined, 0x66, 0x74, 0x79, 0x70]],
  ['a picture or a sound', [0x52, 0x49, 0x46, 0x46]],
  ['a PDF', [0x25, 0x50, 0x44, 0x46]],
  ['an archive; unpack it and choose the shoot in it', [0x50, 0x4b, 0x03, 0x04]],
  ['an archive; unpack it and choose the shoot in it', [0x1f, 0x8b]],
];
const kindOf = (head: Uint8Array): string | undefined =>
  KINDS.find(([, bytes]) => bytes.every((b, i) => b === undefined || b === head[i]))?.[0];

/** What is looked at before anything is read whole: size and first bytes. */
export async function textOfFile(file: File): Promise<FileText> {
  const name = `“${file.name}”`;
  if (file.size === 0)
    return no(`${name} is empty, or a folder.`, `Choose a shoot’s file, which ends in .json. ${LEFT}`);
  try {
    const head = new Uint8Array(await file.slice(0, 16).arrayBuffer());
    const kind = kindOf(head);
    if (kind) return no(`${name} is ${kind}, not a shoot.`, `A shoot’s file ends in .json. ${LEFT}`);
    if (file.size > MAX_BYTES)
      return no(
        `${name} has ${megabytes(file.size)}; a shoot has ${megabytes(MAX_BYTES)} at most, and mostly far less.`,
        `Choose the shoot’s own file. ${LEFT}`,
      );
    return plainText(name, new Uint8Array(await file.arrayBuffer()));
  } catch {
    return no(
      `${name} could not be read: it may be a folder, or it was moved or is held by another program.`,
      `Choose it again. ${LEFT}`,
    );
  }
}

function plainText(name: string, bytes: Uint8Array): FileText {
  // Some editors write two bytes a letter, and say so first.
  const wide =
    bytes[0] === 0xff && bytes[1] === 0xfe
      ? 'utf-16le'
      : bytes[0] === 0xfe && bytes[1] === 0xff
        ? 'utf-16be'
        : undefined;
  try {
    const text = new TextDecoder(wide ?? 'utf-8', { fatal: true }).decode(bytes);
    if (!text.includes('\0')) return shootIn(name, text);
  } catch {
    // Not text, said below.
  }
  return no(`${name} is not text, so it is no shoot.`, `A shoot’s file ends in .json. ${LEFT}`);
}

/** The shoot out of a one-file page, or the text itself. */
export function shootIn(name: string, text: string): FileText {
  if (!/^\s*<(!doctype|html)/i.test(text.slice(0, 200))) return { ok: true, text };
  const inside = /<script type="application\/json" id="rushlight-shoot">([^<]*)<\/script>/.exec(text);
  if (inside?.[1]) return { ok: true, text: inside[1] };
  return no(`${name} is a web page without a shoot in it.`, `A shoot’s file ends in .json. ${LEFT}`);
}
