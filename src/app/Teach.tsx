/** The one line of the demo that says what to try, shown at the thing it speaks of. */
import { useStore } from './store.ts';
import { type Lesson, learn, lessonNow, useTeach } from './teaching.ts';

const WORDS: Record<Lesson, { mouse: string; finger: string }> = {
  pull: {
    mouse: 'press the face and pull its light',
    finger: 'press the face and pull its light',
  },
  cure: {
    mouse: 'point at a cure to try it; a press keeps it',
    finger: 'tap a cure to try it; a second tap keeps it',
  },
  only: { mouse: 'hold 1: that lamp alone', finger: 'hold a lamp’s number: that lamp alone' },
  room: { mouse: 'three figures and who is in it', finger: 'three figures and who is in it' },
};

export function Teach(p: { at: Lesson; phone?: boolean }) {
  const now = useTeach((s) => lessonNow(s.done));
  // A finger cannot point without pressing.
  const finger = p.phone || matchMedia('(hover: none)').matches;
  const demo = useStore((s) => s.origin?.kind === 'demo');
  if (!demo || now !== p.at) return null;
  return (
    <p className="teach" data-lesson={p.at}>
      <b>Try it:</b> <span>{WORDS[p.at][finger ? 'finger' : 'mouse']}</span>
      <button type="button" className="plain" onClick={() => learn(p.at)}>
        not now
      </button>
    </p>
  );
}
