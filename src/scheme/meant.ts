/** Small questions that several finders of trouble ask: is this face the picture’s business; is it meant. */
import { wrap } from '../readings/bearing.ts';
import type { Meant } from '../shoot/schema.ts';
import type { SchemeContext } from './context.ts';
import type { Trouble } from './trouble.ts';

/** Whether the lens sees this face at all: in frame and not turned more than 110° away. */
export function nearTo(c: SchemeContext, markId: string): boolean {
  const mark = c.angle.marks.find((g) => g.id === markId)!;
  if (mark.part < 0 || !c.seen.has(mark.part)) return false;
  const eye = c.angle.view.eye;
  const toCamera = (Math.atan2(eye[1] - mark.eyes[1], eye[0] - mark.eyes[0]) * 180) / Math.PI;
  return Math.abs(wrap(toCamera - mark.facingDeg)) < 110;
}

/** Marks troubles that the angle says are meant, by kind, lamp and subject. */
export function withMeant(troubles: readonly Trouble[], meant: readonly Meant[]): Trouble[] {
  return troubles.map((t) => {
    const said = meant.find(
      (x) =>
        x.kind === t.kind &&
        (x.lamp === undefined || x.lamp === t.lamp) &&
        (x.subject === undefined || x.subject === t.subject),
    );
    return said ? { ...t, meant: said.word ?? 'meant' } : t;
  });
}
