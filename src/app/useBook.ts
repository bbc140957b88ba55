/** What the book is made from, as the screen has it now: made anew a moment after the light has stopped changing. */
import { useEffect, useState } from 'react';
import { type BookFacts, keyOf, type StandOnPaper } from '../book/facts.ts';
import type { PaperName, Picture } from '../book/page.ts';
import { editionOf } from '../shoot/edition.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { Outlines } from './messages.ts';
import { paperFonts, pictureOf } from './paper.ts';
import { askedOf, drawingOf, standWords } from './standing.ts';
import { useStore } from './store.ts';

const WAIT_MS = 450;

/** Outlines of a stage's parts where the workers sent them, moved with whoever moved since. */
export const outlineIn = (shoot: Shoot, scene: string, outlines: Outlines | undefined) => (part: string) => {
  const o = outlines?.[part];
  if (!o?.loops.length) return undefined;
  const mark = part.startsWith('person:') ? shoot.scenes[scene]?.marks[part.slice(7)] : undefined;
  const [dx, dy] = mark ? [mark.at[0] - o.at[0], mark.at[1] - o.at[1]] : [0, 0];
  return o.loops.map((l) => l.map(([x, y]): readonly [number, number] => [x + dx, y + dy]));
};

const dayWords = (day: Date): string =>
  `${day.getDate()} ${day.toLocaleString('en', { month: 'short' })} ${day.getFullYear()}`;

export async function factsNow(
  shoot: Shoot,
  angles: readonly AngleRef[],
  paper: PaperName,
  drawnFor: string,
): Promise<BookFacts> {
  const { results, pictures, outlines } = useStore.getState();
  const sent: Record<string, Picture> = {};
  for (const ref of angles) {
    const p = pictures[ref.angle];
    if (p) sent[keyOf(ref)] = await pictureOf(p);
  }
  const stands = standsNow(shoot, angles);
  return {
    shoot,
    angles,
    ...(stands ? { stands: [stands] } : {}),
    reads: new Map(
      angles.flatMap((ref) => (results[ref.angle] ? [[keyOf(ref), results[ref.angle]!] as const] : [])),
    ),
    pictures: sent,
    outlines: (ref) => outlineIn(shoot, ref.scene, outlines[ref.angle]),
    paper,
    date: dayWords(new Date()),
    version: editionOf(shoot),
    ...(drawnFor ? { drawnFor } : {}),
  };
}

/** The map of the floor that is asked for on the screen, once it is there. */
function standsNow(shoot: Shoot, angles: readonly AngleRef[]): StandOnPaper | undefined {
  const { stands, stand } = useStore.getState();
  const ref = angles.find((a) => a.angle === stands?.angle);
  if (!stands?.map || !ref || stands.mark !== stand || !shoot.scenes[ref.scene]?.marks[stands.mark])
    return undefined;
  return {
    ref,
    mark: stands.mark,
    drawing: drawingOf(stands.map, askedOf(shoot, ref.scene, stands)),
    says: standWords(shoot, ref.scene, stands),
  };
}

/** The facts of the angles wanted; undefined until the first are made. */
export function useBook(
  shoot: Shoot,
  angles: readonly AngleRef[],
  paper: PaperName,
  drawnFor: string,
): BookFacts | undefined {
  const results = useStore((s) => s.results);
  const pictures = useStore((s) => s.pictures);
  const outlines = useStore((s) => s.outlines);
  const stands = useStore((s) => s.stands);
  const [facts, setFacts] = useState<BookFacts>();
  // biome-ignore lint/correctness/useExhaustiveDependencies: whatever of these changed, all is taken from the store
  useEffect(() => {
    let gone = false;
    const wait = setTimeout(
      async () => {
        await paperFonts();
        const made = await factsNow(shoot, angles, paper, drawnFor);
        if (!gone) setFacts(made);
      },
      facts ? WAIT_MS : 0,
    );
    return () => {
      gone = true;
      clearTimeout(wait);
    };
  }, [shoot, angles, paper, drawnFor, results, pictures, outlines, stands]);
  return facts;
}
