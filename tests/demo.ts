/** The demo shoots surveyed once for all the tests that look at them: readings by paths, small quick pictures. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Survey, type SurveyOptions, surveyAngle } from '../src/scheme/survey.ts';
import { openShoot } from '../src/shoot/file.ts';
import { anglesOf } from '../src/shoot/rigFor.ts';
import type { Shoot } from '../src/shoot/schema.ts';
import { decodePeople, type PeopleData } from '../src/stage/people/person.ts';
import { plainTracer } from '../src/transport/plain.ts';

const root = join(import.meta.dirname, '..');
let people: PeopleData | undefined;
export const peopleData = (): PeopleData => {
  people ??= decodePeople(new Uint8Array(readFileSync(join(root, 'data/people/people.bin'))));
  return people;
};

export function shootNamed(name: string): Shoot {
  const opened = openShoot(readFileSync(join(root, `shoots/${name}.json`), 'utf8'));
  if (!opened.ok) throw new Error(opened.message.join('\n'));
  return opened.shoot;
}

/**
 * Some angles of one scene with the quick light: enough for what stands where and what is seen. Cures, which take a small
 * picture each, are tried only in the angles of `tried`.
 */
export async function glanced(
  shoot: Shoot,
  scene: string,
  angles: readonly string[],
  tried: readonly string[] = [],
): Promise<Record<string, Survey>> {
  const tracer = plainTracer();
  const out: Record<string, Survey> = {};
  for (const angle of angles)
    out[angle] = await surveyAngle(tracer, shoot, { scene, angle }, peopleData(), {
      seed: 7,
      width: 320,
      height: 180,
      quick: true,
      detail: 'far',
      cures: tried.includes(angle),
    });
  return out;
}

/** Every angle of a shoot, by its id. */
export async function surveyed(
  shoot: Shoot,
  only?: readonly string[],
  more: Partial<SurveyOptions> = {},
): Promise<Record<string, Survey>> {
  const tracer = plainTracer();
  const out: Record<string, Survey> = {};
  for (const ref of anglesOf(shoot))
    if (!only || only.includes(ref.angle))
      out[ref.angle] = await surveyAngle(tracer, shoot, ref, peopleData(), {
        seed: 7,
        width: 256,
        height: 144,
        maxPaths: 512,
        detail: 'far',
        ...more,
      });
  return out;
}

/**
 * Direct lux of a lamp at a mark as if it burned at rated volts: the hand-worked figures are nominal. A
 * filament's light follows its volts; the others' is their level, which the figures include.
 */
export function nominalLx(survey: Survey, mark: string, lamp: string): number {
  const l = lampAt(survey, mark, lamp);
  const w = survey.weights.lamps.find((x) => x.id === lamp)!;
  const level = survey.angle.rig.lamps[lamp]!.level;
  return level < 1 ? l.directLx : l.directLx / w.lightFactor;
}

export const lampAt = (survey: Survey, mark: string, lamp: string) =>
  survey.reading.marks.find((m) => m.mark === mark)!.lamps.find((x) => x.lamp === lamp)!;
export const troubleOf = (survey: Survey, kind: string, lamp?: string, subject?: string) =>
  survey.troubles.find(
    (t) =>
      t.kind === kind &&
      (lamp === undefined || t.lamp === lamp) &&
      (subject === undefined || t.subject === subject),
  );
