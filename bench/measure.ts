/** Two ways of doing one thing, side by side: rounds in turn, processor time, ratios with their spread. */

/** One line of what the bench says. `ratio` is how many times better ours is; `low` and `high` are its extremes. */
export interface Line {
  name: string;
  ours: number;
  theirs: number;
  unit: string;
  ratio: number;
  low: number;
  high: number;
}

/** Seconds of processor time, all threads of this process, that something takes. */
export async function cpuSeconds(work: () => unknown): Promise<number> {
  const before = process.cpuUsage();
  await work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
}

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

/** A line out of rounds: `better` says whether more or less of the unit is better. */
export function lineOf(
  name: string,
  unit: string,
  better: 'more' | 'less',
  rounds: readonly { ours: number; theirs: number }[],
): Line {
  const ratios = rounds.map(({ ours, theirs }) => (better === 'more' ? ours / theirs : theirs / ours));
  return {
    name,
    ours: median(rounds.map((r) => r.ours)),
    theirs: median(rounds.map((r) => r.theirs)),
    unit,
    ratio: median(ratios),
    low: Math.min(...ratios),
    high: Math.max(...ratios),
  };
}
