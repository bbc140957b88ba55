/**
 * The areas of the program that stand in place of the wall: each a name, a word and what fills the page under the bar.
 * Light is the wall itself. Adding one is a line here and a file of its own.
 */
import { lazy, Suspense } from 'react';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { OnSet } from './OnSet.tsx';
import { Power } from './PowerPanel.tsx';

export interface AreaProps {
  shoot: Shoot;
  scene: string;
  angles: AngleRef[];
  /** The angle that is chosen, or the first. */
  angle: string;
}
export interface Area {
  id: string;
  words: string;
  /** Absent: Light, which the app lays out itself. */
  Page?: (p: AreaProps) => React.ReactNode;
}

// Paper is fetched when it is first looked at.
const Book = lazy(() => import('./BookArea.tsx').then((m) => ({ default: m.Book })));

export const AREAS: readonly Area[] = [
  { id: 'light', words: 'Light' },
  {
    id: 'power',
    words: 'Power',
    Page: (p) => <Power shoot={p.shoot} scene={p.scene} angle={p.angle} />,
  },
  {
    id: 'onset',
    words: 'On set',
    Page: (p) => <OnSet scene={p.scene} angle={p.angle} angles={p.angles} />,
  },
  {
    id: 'book',
    words: 'Book',
    Page: (p) => (
      <Suspense fallback={<p className="quiet">Laying out …</p>}>
        <Book {...p} />
      </Suspense>
    ),
  },
];
