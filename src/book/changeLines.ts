/** A change list as lines: strike, add, move and set told one by one, what is kept in one line. */
import type { AngleChanges, ChangeAct } from '../scheme/changes.ts';

export interface StoryLine {
  text: string;
  face?: 'plain' | 'bold' | 'said';
  gapMm?: number;
  hangMm?: number;
}

const ORDER: readonly ChangeAct[] = ['strike', 'move', 'set', 'add'];
const WORD: Record<ChangeAct, string> = {
  strike: 'Strike',
  move: 'Move',
  set: 'Set',
  add: 'Add',
  keep: 'Keep',
  out: 'Out',
};

export function changeLines(c: AngleChanges): StoryLine[] {
  const lines: StoryLine[] = [];
  for (const act of ORDER)
    for (const l of c.lamps.filter((x) => x.act === act))
      lines.push({
        text: `${WORD[act]} ${l.number}${act === 'strike' ? '' : `: ${l.says.join('; ')}`}`,
        gapMm: 0.4,
      });
  for (const flag of c.flags.filter((x) => x.act === 'strike'))
    lines.push({ text: `Strike ${flag.words}`, gapMm: 0.4 });
  for (const flag of c.flags.filter((x) => x.act === 'add'))
    lines.push({ text: `Add ${flag.words}`, gapMm: 0.4 });
  if (c.camera.length) lines.push({ text: `Camera: ${c.camera.join(', ')}`, gapMm: 0.4 });
  const kept = [
    ...c.lamps.filter((x) => x.act === 'keep').map((x) => x.number),
    ...c.flags.filter((x) => x.act === 'keep').map((x) => x.flag),
  ];
  if (kept.length) lines.push({ text: `Keep ${kept.join(', ')}`, gapMm: 0.4 });
  const out = c.lamps.filter((x) => x.act === 'out').map((x) => x.number);
  if (out.length) lines.push({ text: `Out ${out.join(', ')}`, gapMm: 0.4 });
  if (c.from && lines.every((l) => l.text.startsWith('Keep')))
    lines.unshift({ text: 'Only the camera moves.', gapMm: 0.4 });
  return lines;
}
