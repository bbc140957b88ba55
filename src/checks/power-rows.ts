/** What the power rows share: how a row is added, and one lamp. */
import { load, node, radial } from '../power/examples.ts';
import type { Circuit, Load } from '../power/network.ts';
import type { Level } from '../power/verdict.ts';
import { type CheckRow, row } from './row.ts';

/** Tolerance of what is exact but for the last bits of a double. */
export const EXACT = 1e-9;
/** Stands for a missing figure: such a row never holds. */
export const NONE = Number.NaN;

/** Ways to add a row: a figure, a yes, a level. */
export interface Rows {
  readonly add: (
    id: string,
    what: string,
    source: string,
    expected: number,
    got: number | undefined,
    unit: string,
    tolerance: number,
  ) => void;
  readonly holds: (id: string, what: string, source: string, got: boolean) => void;
  readonly stands: (
    id: string,
    what: string,
    source: string,
    expected: Level,
    got: Level | undefined,
  ) => void;
}

/** Rows that go into `out`, their ids led by `power-`. */
export function rowsInto(out: CheckRow[]): Rows {
  const add: Rows['add'] = (id, what, source, expected, got, unit, tolerance) => {
    out.push(row(`power-${id}`, what, source, expected, got ?? NONE, unit, tolerance));
  };
  const holds: Rows['holds'] = (id, what, source, got) => add(id, what, source, 1, got ? 1 : 0, 'verdict', 0);
  const stands: Rows['stands'] = (id, what, source, expected, got) =>
    holds(id, `${what}: ${expected}`, source, got === expected);
  return { add, holds, stands };
}

/** A tungsten lamp. */
export const lamp = (id: string, watts: number, ratedV = 230): Load =>
  load(id, 'tungsten', watts, { ratedV });

/** A circuit of loads, one on each of its sockets. */
export const plugged = (loads: readonly Load[], more: Partial<Circuit> = {}): Circuit =>
  radial(
    loads.map((l) => node(`socket ${l.id}`, 'socket', { loads: [l] })),
    more,
  );
