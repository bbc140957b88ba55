/** What the crew wants although it breaks a rule. */
import type { Meant } from '../shoot/schema.ts';

/** Marks troubles that the angle says are meant, by kind, lamp and subject. */
export function withMeant<T extends { kind: string; lamp?: string; subject?: string; meant?: string }>(
  troubles: readonly T[],
  meant: readonly Meant[],
): T[] {
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
