/** What the commands ask of the physics: the one place where they meet. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Solution } from '../power/solve.ts';
import type { Survey } from '../scheme/survey.ts';
import type { Cure } from '../scheme/trouble.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { PeopleData } from '../stage/people/person.ts';
import type { Tracer } from '../transport/tracer.ts';
import { home } from './build.ts';
import { BadUse, type Effort } from './command.ts';

/** The tracers there are, by name; each is made when asked for. */
export const TRACERS: Readonly<Record<string, () => Promise<Tracer>>> = {
  pool: async () => (await import('../engine/node.ts')).nodePool(),
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

/** A solved supply. */
export interface Supplied {
  solution: Solution;
  cautions: readonly string[];
  /** Lamps that could not be counted, in words. */
  uncounted: readonly string[];
}

/** The supply of a scene's place with its rig plugged in, solved; for one angle, its cheats included. */
export async function powerOf(
  shoot: Shoot,
  at: { scene: string; angle: string | undefined },
): Promise<Supplied> {
  const { networkOf } = await import('../setup/network.ts');
  const { kindOf, loadOf } = await import('../setup/lamps.ts');
  const { solve } = await import('../power/solve.ts');
  const { cautions } = await import('../power/caution.ts');
  const scene = shoot.scenes[at.scene]!;
  const place = shoot.places[scene.place]!;
  const lamps =
    at.angle === undefined ? scene.rig.lamps : rigFor(shoot, { scene: at.scene, angle: at.angle }).lamps;
  const uncounted: string[] = [];
  const network = networkOf(place, shoot.kit, lamps, scene.rig.multiways, (id) => {
    const lamp = lamps[id]!;
    const head = shoot.kit.lamps[lamp.head];
    const kind = kindOf(head);
    if (head && kind) return loadOf(lamp, head, kind);
    uncounted.push(
      `lamp ${lamp.number} (${lamp.head}): of no kind that is known, so its watts are not counted`,
    );
    return undefined;
  });
  return { solution: solve(network), cautions: cautions(network), uncounted };
}
