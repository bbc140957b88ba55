/** What the demo teaches: one line at a time at the thing it speaks of, gone once done; kept by the browser. */
import { create } from 'zustand';
import { useRoom } from './roomDraft.ts';
import { useStore } from './store.ts';

/** In the order in which they are said. */
export const LESSONS = ['pull', 'cure', 'only', 'room'] as const;
export type Lesson = (typeof LESSONS)[number];

const KEPT = 'rushlight-taught';
/** Where a browser keeps nothing, everything is taught anew. */
function kept(): Lesson[] {
  try {
    const list: unknown = JSON.parse(localStorage.getItem(KEPT) ?? '[]');
    return Array.isArray(list) ? LESSONS.filter((l) => list.includes(l)) : [];
  } catch {
    return [];
  }
}

export const useTeach = create<{ done: readonly Lesson[] }>(() => ({ done: kept() }));

export function learn(...lessons: readonly Lesson[]): void {
  const { done } = useTeach.getState();
  const next = LESSONS.filter((l) => done.includes(l) || lessons.includes(l));
  if (next.length === done.length) return;
  useTeach.setState({ done: next });
  try {
    localStorage.setItem(KEPT, JSON.stringify(next));
  } catch {
    // A private window: it holds for as long as the page.
  }
}

/** The lesson whose turn it is; none once all are done, and none on a shoot of one's own. */
export const lessonNow = (done: readonly Lesson[]): Lesson | undefined =>
  LESSONS.find((l) => !done.includes(l));

// What somebody does unasked is learnt as well.
useStore.subscribe((s, before) => {
  if (s.tried && !before.tried) learn('cure');
  if (s.only !== undefined && before.only === undefined) learn('only');
});
useRoom.subscribe((s) => s.telling !== undefined && learn('room'));
