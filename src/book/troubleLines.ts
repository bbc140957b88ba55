/** Troubles that are left in an angle, as lines; what is meant is said so. */
import type { Read } from '../scheme/read.ts';
import type { StoryLine } from './changeLines.ts';

const POWER: ReadonlySet<string> = new Set([
  'circuit-over',
  'plug-over',
  'lead-over',
  'long-load',
  'power-not-checked',
]);

/** `power`: those of the supply too. `most`: so many are told; how many more there are is said. Notes (severity 0) are left to the power sheet. */
export function troubleLines(
  read: Read | undefined,
  { most, power = true }: { most: number; power?: boolean },
): StoryLine[] {
  if (!read)
    return [{ text: 'Not read yet: no light was computed for this angle.', gapMm: 1.5, face: 'bold' }];
  const left = read.troubles.filter((t) => t.meant === undefined && t.severity > 0);
  const found = left.filter((t) => power || !POWER.has(t.kind));
  const meant = read.troubles.filter((t) => t.meant !== undefined && t.severity > 0);
  const lines: StoryLine[] = [];
  if (found.length)
    lines.push({
      text: found.length === 1 ? 'Trouble left' : `Troubles left: ${found.length}`,
      face: 'bold',
      gapMm: 1.5,
    });
  if (found.length && most === 0) lines[0]!.text += ', on the screen';
  for (const t of found.slice(0, most)) lines.push({ text: t.says, gapMm: 0.4 });
  if (found.length > most && most > 0)
    lines.push({ text: `and ${found.length - most} more, on the screen.`, gapMm: 0.4 });
  if (found.length < left.length) lines.push({ text: 'Of power: see its sheet.', gapMm: 0.4 });
  if (meant.length)
    lines.push({
      text: `Meant: ${meant
        .map((t) => t.meant || t.says)
        .filter((x, i, all) => all.indexOf(x) === i)
        .join('; ')}.`,
      gapMm: found.length ? 0.6 : 1.5,
    });
  return lines;
}
