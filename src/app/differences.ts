/** What an act did to the faces that are seen, angle by angle, where it is more than a third of a stop. */
import type { AngleResult } from './messages.ts';
import { signed } from './views.ts';

export interface Difference {
  angle: string;
  mark: string;
  stops: number;
}

/** The greatest first. */
export function differences(
  from: Record<string, AngleResult>,
  to: Record<string, AngleResult>,
): Difference[] {
  const out: Difference[] = [];
  for (const [angle, r] of Object.entries(to))
    for (const m of r.marks) {
      const before = from[angle]?.marks.find((x) => x.mark === m.mark);
      if (!before || !r.facesSeen.includes(m.mark)) continue;
      const stops = m.overStops - before.overStops;
      if (Number.isFinite(stops) && Math.abs(stops) > 1 / 3) out.push({ angle, mark: m.mark, stops });
    }
  return out.sort((a, b) => Math.abs(b.stops) - Math.abs(a.stops));
}

/** “CA: A −0.7” */
export const differenceWords = (d: Difference): string => `${d.angle}: ${d.mark} ${signed(d.stops)}`;

/** For the ear: “In CA, A minus 0.7 stops. In W, A minus 0.7, B plus 0.4 stops.” Nothing where nothing differs. */
export function differencesAloud(list: readonly Difference[]): string {
  const byAngle = new Map<string, string[]>();
  for (const d of list) {
    const words = `${d.mark} ${d.stops < 0 ? 'minus' : 'plus'} ${Math.abs(d.stops).toFixed(1)}`;
    byAngle.set(d.angle, [...(byAngle.get(d.angle) ?? []), words]);
  }
  return [...byAngle].map(([angle, words]) => `In ${angle}, ${words.join(', ')} stops.`).join(' ');
}
