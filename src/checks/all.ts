/** Every check there is, by subject; each subject is loaded when asked for. */
import type { CheckRow } from './row.ts';

/** What some checks need handed in. */
export interface CheckTools {
  /** data/people/people.bin */
  people: () => Promise<Uint8Array>;
}

type Gather = (tools: CheckTools) => Promise<CheckRow[]>;

/** Subject → its rows. */
export const SUBJECTS: Readonly<Record<string, Gather>> = {
  colour: async () => (await import('./colour.ts')).rows(),
  light: async () => (await import('./light.ts')).rows(),
  camera: async () => (await import('./camera.ts')).rows(),
  power: async () => (await import('./power.ts')).rows(),
};

/** The rows of some subjects (all by default), in order. */
export async function allRows(
  tools: CheckTools,
  subjects: readonly string[] = Object.keys(SUBJECTS),
): Promise<CheckRow[]> {
  const rows: CheckRow[] = [];
  for (const subject of subjects) rows.push(...(await SUBJECTS[subject]!(tools)));
  return rows;
}
