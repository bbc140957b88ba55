/**
 * People and place built once between workers, instead of once in each: those that build do it by turns and hand each
 * part to the others as it is made. What does not come in time, a worker builds for itself.
 */
import { stageParts } from '../../setup/geometry.ts';
import type { PeopleData } from '../../stage/people/person.ts';
import type { Expected } from '../messages.ts';

interface Made {
  key: string;
  made: unknown;
}

/** Longer than this after its own share nobody waits for the others’. */
const PATIENCE_MS = 1500;

export async function buildShared(
  { shoot, firsts, own, builders }: Expected,
  people: PeopleData,
  /** To each of the others; none to itself. */
  neighbours: readonly (MessagePort | undefined)[],
): Promise<void> {
  const parts = stageParts(shoot, firsts, people, 'medium');
  const missing = new Set(parts.filter((_, i) => i % builders !== own).map((part) => part.key));
  let came: () => void = () => {};
  const all = new Promise<void>((resolve) => {
    came = resolve;
  });
  for (const neighbour of neighbours)
    if (neighbour)
      neighbour.onmessage = ({ data: { key, made } }: MessageEvent<Made>) => {
        parts.find((part) => part.key === key)?.take(made as never);
        missing.delete(key);
        if (missing.size === 0) came();
      };
  parts.forEach((part, i) => {
    if (i % builders !== own) return;
    const made = part.make();
    for (const neighbour of neighbours) neighbour?.postMessage({ key: part.key, made } satisfies Made);
  });
  const late = new Promise<void>((resolve) => setTimeout(resolve, PATIENCE_MS));
  if (missing.size > 0) await Promise.race([all, late]);
  for (const neighbour of neighbours) neighbour?.close();
}
