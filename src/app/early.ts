/**
 * What need not wait: workers of light and the figures of people are fetched while the page is still being read, and
 * once the shoot is read, people and place are built while the screen is drawn for the first time.
 */
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { type Figures, peopleFigures } from './assets.ts';
import LightWorker from './light.worker.ts?worker';
import type { ToLight } from './messages.ts';
import { openersOf, tellTogether, workersFor } from './together.ts';

/** Shoots mostly have this many angles or more. */
const AT_ONCE = 4;

/** The figures of people, asked for once. */
export const people: Promise<Figures> = peopleFigures();

/** Workers that nobody looks after yet. */
let waiting: Worker[] = [];
/** When the first shoot was read, by the page's clock. */
let readMs: number | undefined;

function spawn(): Worker {
  const worker = new LightWorker();
  people.then(
    (bytes) => worker.postMessage({ kind: 'people', bytes } satisfies ToLight),
    () => {},
  );
  return worker;
}

/** A worker of light that has been given its people. */
export const lightWorker = (): Worker => waiting.shift() ?? spawn();

/** When the shoot that is shown first was read; later ones count from now. */
export function begunMs(): number {
  const ms = readMs ?? performance.now();
  readMs = undefined;
  return ms;
}

/** The first shoot is read: its people and place are built between the workers that wait. Once. */
export function expect(shoot: Shoot, angles: readonly AngleRef[]): void {
  readMs = performance.now();
  const count = openersOf(workersFor(angles.length));
  while (waiting.length < count) begin();
  for (const worker of waiting.splice(count)) worker.terminate();
  if (angles.length > 0) tellTogether(waiting, shoot, angles, count);
}

function begin(): void {
  const worker = spawn();
  waiting.push(worker);
  // One that cannot start is left to be tried, and complained of, by who needs it.
  worker.onerror = () => {
    waiting = waiting.filter((w) => w !== worker);
  };
}

for (let i = openersOf(workersFor(AT_ONCE)); i > 0; i--) begin();
