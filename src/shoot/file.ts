/** Opening and saving a shoot: parse at the edge, say what is wrong, where, and what to do; lose nothing. */
import type { z } from 'zod';
import { migrate } from './migrate.ts';
import { printJson } from './print.ts';
import { dangling } from './references.ts';
import { FORMAT, Shoot, VERSION } from './schema.ts';

export type Opened =
  | { ok: true; shoot: Shoot; readOnly: boolean; notes: string[] }
  | { ok: false; message: string[] };

/** Larger files are not shoots: the demo shoots are about 25 kB. */
export const MAX_BYTES = 20_000_000;
/** Deeper nesting than this is no shoot of ours (which needs 12). */
const MAX_DEPTH = 60;
const FORBIDDEN = new Set(['__proto__', 'constructor', 'prototype']);

export function openShoot(text: string): Opened {
  if (text.length > MAX_BYTES)
    return no(
      `The file is ${(text.length / 1e6).toFixed(0)} MB; a shoot is at most ${MAX_BYTES / 1e6} MB.`,
      'Open the shoot’s own file, not an archive or a picture. Nothing was changed.',
    );
  if (text.trim() === '')
    return no('The file is empty.', 'Open another copy; the file itself was left as it is.');

  // Read JSON; the depth is counted first, because a parser recurses.
  const depth = depthOf(text);
  if (depth > MAX_DEPTH)
    return no(`The file nests ${depth} levels deep; no shoot does.`, 'It was not written by this program.');
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch (e) {
    return no(...jsonTrouble(text, e));
  }
  const bad = forbiddenKey(raw, '');
  if (bad !== undefined)
    return no(
      `The file has a key “${bad}” that no shoot may have.`,
      'It was not opened, to keep this program whole.',
    );
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw))
    return no(
      'The file is JSON but not a shoot (a shoot is one object).',
      'Choose the file that ends in .json beside the shoot’s name.',
    );
  const file = raw as Record<string, unknown>;
  if (file.format !== FORMAT)
    return no(
      `The file does not say that it is a shoot (format is ${said(file.format)}, expected “${FORMAT}”).`,
      'Choose a file saved by this program.',
    );
  const version = file.version as { major?: unknown; minor?: unknown } | undefined;
  if (typeof version?.major !== 'number' || typeof version.minor !== 'number')
    return no(
      'The file does not say which version it is.',
      'Add "version": {"major": 1, "minor": 0} if you wrote it by hand.',
    );

  const notes: string[] = [];
  let readOnly = false;
  let current: unknown = file;
  if (version.major > VERSION.major) {
    readOnly = true;
    notes.push(
      `This shoot was saved by a newer program (version ${version.major}.${version.minor}); it opens to read only, so that nothing in it is lost. Get the newer program to change it.`,
    );
  } else if (version.major < VERSION.major) {
    const moved = migrate(file, version.major);
    if (moved === undefined)
      return no(
        `Version ${version.major} of the file is not known to this program.`,
        'Open it with the program that saved it.',
      );
    current = moved;
    notes.push(
      `This shoot was saved by an older program (version ${version.major}); it was brought up to date.`,
    );
  }

  const parsed = Shoot.safeParse(current);
  if (!parsed.success) {
    const lines = parsed.error.issues.slice(0, 8).map((i) => sentence(i));
    if (parsed.error.issues.length > 8) lines.push(`… and ${parsed.error.issues.length - 8} more.`);
    lines.push('The file was left as it is. Mend these places, or open an earlier copy.');
    return { ok: false, message: lines };
  }
  const missing = dangling(parsed.data);
  if (missing.length)
    return {
      ok: false,
      message: [
        ...missing.slice(0, 8),
        'The file was left as it is. Mend these names, or open an earlier copy.',
      ],
    };
  return { ok: true, shoot: parsed.data, readOnly, notes };
}

/** The text of a shoot's file: stable, readable, one final newline. */
export const saveShoot = (shoot: Shoot): string => `${printJson(shoot)}\n`;

const no = (...message: string[]): Opened => ({ ok: false, message });
const said = (v: unknown): string => (v === undefined ? 'missing' : `“${String(v).slice(0, 40)}”`);

/** Greatest depth of brackets outside strings. */
function depthOf(text: string): number {
  let depth = 0;
  let deepest = 0;
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (quoted) {
      if (c === 92) i++;
      else if (c === 34) quoted = false;
    } else if (c === 34) quoted = true;
    else if (c === 123 || c === 91) deepest = Math.max(deepest, ++depth);
    else if (c === 125 || c === 93) depth--;
  }
  return deepest;
}

/** Where the first text stands that is no word of JSON; undefined: every word is good (then it was cut short). */
function firstBadWord(text: string): number | undefined {
  const word = /\s+|[{}[\],:]|"(?:[^"\\\n]|\\.)*"|-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y;
  while (word.lastIndex < text.length) {
    const at = word.lastIndex;
    if (!word.test(text)) return text[at] === '"' && text.indexOf('"', at + 1) < 0 ? undefined : at;
  }
  return undefined;
}

function jsonTrouble(text: string, e: unknown): string[] {
  const given = /position (\d+)/.exec(e instanceof Error ? e.message : '');
  const bad = firstBadWord(text);
  const position = bad ?? (given ? Number(given[1]) : text.length);
  const line = text.slice(0, position).split('\n').length;
  return [
    bad === undefined && position >= text.trimEnd().length - 1
      ? `The file stops in the middle, at line ${line}: it was cut short, perhaps while it was copied.`
      : `The file is damaged at line ${line}: ${JSON.stringify(text.slice(Math.max(0, position - 15), position + 15))} cannot be read.`,
    'Open an earlier copy, or copy it again from where it came. The file itself was left as it is.',
  ];
}

function forbiddenKey(v: unknown, path: string): string | undefined {
  if (typeof v !== 'object' || v === null) return undefined;
  for (const key of Object.keys(v)) {
    if (FORBIDDEN.has(key)) return path ? `${path}.${key}` : key;
    const deeper = forbiddenKey((v as Record<string, unknown>)[key], path ? `${path}.${key}` : key);
    if (deeper !== undefined) return deeper;
  }
  return undefined;
}

const NOUN: Record<string, string> = {
  places: 'place',
  scenes: 'scene',
  angles: 'angle',
  lamps: 'lamp',
  marks: 'mark',
  spots: 'spot',
  flags: 'flag',
  openings: 'opening',
  furniture: 'furniture',
  circuits: 'circuit',
  sockets: 'socket',
  leads: 'lead',
  supports: 'support',
  sheets: 'sheet',
  multiways: 'multiway',
  cheats: 'cheat of lamp',
};

/** “scene kitchen, lamp L1, at: needs three numbers” from a path and what zod says. */
export function sentence(issue: z.core.$ZodIssue): string {
  const parts: string[] = [];
  const path = issue.path.map(String);
  for (let i = 0; i < path.length; i++) {
    const noun = NOUN[path[i]!];
    if (noun && path[i + 1] !== undefined) parts.push(`${noun} ${path[++i]}`);
    else if (path[i] !== 'rig' && path[i] !== 'supply')
      parts.push(/^\d+$/.test(path[i]!) ? `entry ${Number(path[i]) + 1}` : path[i]!);
  }
  return `${parts.join(', ') || 'The shoot'}: ${issue.message.replace(/^Invalid input: /, '')}.`;
}
