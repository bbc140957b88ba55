/** Every check there is, by subject; each subject is loaded when asked for. */
import type { CheckRow } from './row.ts';

/** What some checks need handed in. */
export interface CheckTools {
  /** data/people/people.bin */
  people: () => Promise<Uint8Array>;
}

/** One subject's checks. */
export interface Subject {
  rows: (tools: CheckTools) => Promise<CheckRow[]>;
  /** Takes tens of seconds. */
  slow?: true;
}

/** Subject by name, in the order in which they are told. */
export const SUBJECTS: Readonly<Record<string, Subject>> = {
  colour: { rows: async () => (await import('./colour.ts')).rows() },
  light: { rows: async () => (await import('./light.ts')).rows() },
  camera: { rows: async () => (await import('./camera.ts')).rows() },
  power: { rows: async () => (await import('./power.ts')).rows() },
  people: {
    rows: async (tools) =>
      (await import('./people.ts')).rows(
        (await import('../stage/people/decode.ts')).decodePeople(await tools.people()),
      ),
  },
  transport: {
    slow: true,
    rows: async () =>
      (await import('./transport.ts')).rows((await import('../transport/plain.ts')).plainTracer),
  },
};

/** The rows of some subjects (all by default), in order. `before` is told each subject as it begins. */
export async function allRows(
  tools: CheckTools,
  subjects: readonly string[] = Object.keys(SUBJECTS),
  before: (subject: string, done: number, of: number) => void = () => {},
): Promise<CheckRow[]> {
  const rows: CheckRow[] = [];
  for (const [i, name] of subjects.entries()) {
    const subject = SUBJECTS[name];
    if (!subject) throw new Error(`there are no checks of ${name}`);
    before(name, i, subjects.length);
    rows.push(...(await subject.rows(tools)));
  }
  return rows;
}
