/** Opening and saving a shoot: parse at the edge, say what is wrong, where, and what to do; lose nothing. */
import { sentence, shown } from './complaint.ts';
import { damage, depthOf, forbiddenKey, twiceNamed } from './damage.ts';
import { migrate } from './migrate.ts';
import { printJson } from './print.ts';
import { faults, looseEnds } from './references.ts';
import { shapesEverywhere, shapesOnce } from './sameShapes.ts';
import { FORMAT, Shoot, VERSION } from './schema.ts';

export type Opened =
  | { ok: true; shoot: Shoot; readOnly: boolean; notes: string[] }
  | { ok: false; message: string[] };

/** Characters; larger files are not shoots: the demo shoots are about 20 kB. */
export const MAX_BYTES = 20_000_000;
/** Deeper nesting than this is no shoot of ours (which needs 12). */
const MAX_DEPTH = 60;
const LEFT = 'The file was left as it is. Mend these places, or open an earlier copy.';

/**
 * Reads the text of a shoot's file. It never throws and changes nothing; `notes` tell what the person should know
 * though the shoot opened. A newer major version opens to read only; unknown keys are kept at every level.
 */
export function openShoot(text: string): Opened {
  if (text.length > MAX_BYTES)
    return no(
      `The file is ${(text.length / 1e6).toFixed(0)} MB; a shoot is at most ${MAX_BYTES / 1e6} MB.`,
      'Open the shoot’s own file, not an archive or a picture. Nothing was changed.',
    );
  const body = text.startsWith('\uFEFF') ? text.slice(1) : text;
  if (body.trim() === '')
    return no('The file is empty.', 'Open another copy; the file itself was left as it is.');

  // Read JSON; the depth is counted first, because a parser recurses.
  const depth = depthOf(body);
  if (depth > MAX_DEPTH)
    return no(`The file nests ${depth} levels deep; no shoot does.`, 'It was not written by this program.');
  let raw: unknown;
  try {
    raw = JSON.parse(body);
  } catch (e) {
    return no(...damage(body, e));
  }
  const twice = twiceNamed(body);
  if (twice)
    return no(
      `“${twice.key}” stands twice in one group, the second time at line ${twice.line}; one of them would be lost.`,
      'Take one of them out, or give it another name. The file was left as it is.',
    );
  const bad = forbiddenKey(raw);
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

  // See whether it is ours, and how old.
  const file = raw as Record<string, unknown>;
  if (file.format !== FORMAT)
    return no(
      `The file does not say that it is a shoot (format is ${file.format === undefined ? 'missing' : shown(file.format)}, expected “${FORMAT}”).`,
      'Choose a file saved by this program.',
    );
  const version = file.version as { major?: unknown; minor?: unknown } | undefined | null;
  if (typeof version?.major !== 'number' || typeof version.minor !== 'number')
    return no(
      'The file does not say which version it is.',
      'Add "version": {"major": 1, "minor": 0} if you wrote it by hand.',
    );
  const newer = version.major > VERSION.major;
  const notes: string[] = [];
  let current: unknown = file;
  if (newer)
    notes.push(
      `This shoot was saved by a newer program (version ${version.major}.${version.minor}); it opens to read only, so that nothing in it is lost. Get the newer program to change it.`,
    );
  else if (version.major < VERSION.major) {
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

  const lost = shapesEverywhere(current as Record<string, unknown>);
  if (lost.length) return no(...lost.slice(0, 8), LEFT);

  // Hold it to the schema, then see that every name in it leads somewhere.
  const parsed = Shoot.safeParse(current);
  const wrong = parsed.success
    ? faults(parsed.data)
    : parsed.error.issues.map((issue) => sentence(issue, current));
  if (!parsed.success || wrong.length) {
    const lines = wrong.slice(0, 8);
    if (wrong.length > 8) lines.push(`… and ${wrong.length - 8} more.`);
    lines.push(
      newer
        ? `It was saved by a newer program (version ${version.major}.${version.minor}) and cannot be read by this one. The file was left as it is.`
        : LEFT,
    );
    return { ok: false, message: lines };
  }
  notes.push(...looseEnds(parsed.data));
  return { ok: true, shoot: parsed.data, readOnly: newer, notes };
}

/** The text of a shoot's file: stable, readable, one final newline; opened and saved again it is the same text. */
export const saveShoot = (shoot: Shoot): string => `${printJson(shapesOnce(shoot))}\n`;

const no = (...message: string[]): Opened => ({ ok: false, message });
