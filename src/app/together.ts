/** Workers of light told what will be asked of them, joined so that people and place are built once between them. */
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { ToLight } from './messages.ts';

/** Workers for so many angles: one each, up to one less than processors, of those two at least. */
export const workersFor = (angles: number): number =>
  Math.max(1, Math.min(angles, 7, Math.max(2, (navigator.hardwareConcurrency || 4) - 1)));

/**
 * So many of them begin; the others come once every angle was seen. Code that has just begun to run is compiled beside
 * it: with a worker on every processor they would all wait for that, and each would have the same compiled.
 */
export const openersOf = (workers: number): number =>
  Math.max(1, Math.min(workers, (navigator.hardwareConcurrency || 4) >> 1));

/** `builders`: how many of them, the first, build. */
export function tellTogether(
  workers: readonly Worker[],
  shoot: Shoot,
  angles: readonly AngleRef[],
  builders: number,
): void {
  const firsts = angles.slice(0, workers.length);
  const ports = workers.map((): (MessagePort | undefined)[] => workers.map(() => undefined));
  for (let a = 0; a < workers.length; a++)
    for (let b = a + 1; b < workers.length; b++) {
      const { port1, port2 } = new MessageChannel();
      ports[a]![b] = port1;
      ports[b]![a] = port2;
    }
  workers.forEach((worker, own) => {
    const transfer = ports[own]!.filter((port) => port !== undefined);
    const expected = { shoot, firsts, own, builders };
    worker.postMessage({ kind: 'expect', expected, ports: ports[own]! } satisfies ToLight, transfer);
  });
}
