/** What the commands ask of the physics: the one place where they meet. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Supplied } from '../scheme/supplied.ts';
import type { Survey } from '../scheme/survey.ts';
import type { Cure } from '../scheme/trouble.ts';
import type { Trier } from '../scheme/tryCures.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { PeopleData } from '../stage/people/person.ts';
import type { Tracer } from '../transport/tracer.ts';
import { home } from './build.ts';
import { BadUse, type Effort } from './command.ts';

/** The tracers there are, by name; each is made when asked for. */
export const TRACERS: Readonly<Record<string, () => Promise<Tracer>>> = {
  pool: async () => (await import('../engine/node.ts')).nodePool(),
  fast: async () => (await import('../engine/fast.ts')).fastTracer(),
  plain: async () => (await import('../transport/plain.ts')).plainTracer(),
};

/** Does something with a tracer, and lets it go afterwards. */
export async function withTracer<T>(name: string, use: (tracer: Tracer) => Promise<T>): Promise<T> {
  const make = Object.hasOwn(TRACERS, name) ? TRACERS[name] : undefined;
  if (!make) throw new BadUse([`There is no tracer ${name}. Tracers: ${Object.keys(TRACERS).join(', ')}.`]);
  const tracer = await make();
  try {
    return await use(tracer);
  } finally {
    tracer.dispose();
  }
}

let people: Promise<PeopleData> | undefined;
/** The figures of people, from the program's own folder. */
export const figures = (): Promise<PeopleData> => {
  people ??= Promise.all([
    readFile(join(home, 'data/people/people.bin')),
    import('../stage/people/decode.ts'),
  ]).then(([bytes, { decodePeople }]) => decodePeople(bytes));
  return people;
};

/** One angle, looked at whole. */
export interface Surveyed {
  ref: AngleRef;
  survey: Survey;
}

/** Looks at angles one after the other. `size`: of the quick picture in which lamps and clipping are looked for. */
export async function surveys(
  shoot: Shoot,
  refs: readonly AngleRef[],
  effort: Effort,
  progress: (share: number, words: string) => void,
  size: { width: number; height: number } = { width: 640, height: 360 },
  earns = false,
  /** What else is to be tried against an angle while its light is at hand, and what was looked at before it. */
  use?: (ref: AngleRef, trial: Trier, before: readonly Surveyed[]) => Promise<void>,
): Promise<Surveyed[]> {
  const { surveyAngle } = await import('../scheme/survey.ts');
  const data = await figures();
  return withTracer(effort.tracer, async (tracer) => {
    const out: Surveyed[] = [];
    for (const [i, ref] of refs.entries()) {
      const words = `${ref.scene} ${ref.angle}`;
      progress(i / refs.length, words);
      const survey = await surveyAngle(tracer, shoot, ref, data, {
        seed: effort.seed,
        ...size,
        ...(effort.quick ? { quick: true } : {}),
        earns,
        ...(use ? { use: (trial: Trier) => use(ref, trial, out) } : {}),
        progress: (share) => progress((i + share) / refs.length, words),
      });
      out.push({ ref, survey });
    }
    return out;
  });
}

/** The document with a cure's edit made. */
export async function withCure(shoot: Shoot, cure: Cure): Promise<Shoot> {
  const { applyEdit, EditError } = await import('../shoot/edits.ts');
  try {
    return applyEdit(shoot, cure).shoot;
  } catch (error) {
    if (error instanceof EditError) throw new BadUse([`The cure cannot be made: ${error.message}`]);
    throw error;
  }
}

/** The supply of a scene's place with its rig plugged in, solved; for one angle, its cheats included. */
export async function powerOf(
  shoot: Shoot,
  at: { scene: string; angle: string | undefined },
): Promise<Supplied> {
  return (await import('../scheme/supplied.ts')).suppliedOf(shoot, at);
}
