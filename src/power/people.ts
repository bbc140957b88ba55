/** What stands between a fault and a person: the RCDs on the way, what leaks through them, who works in the wet. */
import type { Circuit, Load, Network, Node, RcdType } from './network.ts';
import { judgeLeakage, rcdCounts, UNSTATED_LEAKAGE_MA } from './rcd.ts';
import { type Level, worse } from './verdict.ts';

/** A plug-in RCD and everything that hangs on it. */
export interface PlugInRcd {
  /** Node it is on. */
  readonly node: string;
  readonly counted: boolean;
  readonly leakageMa: number;
  readonly level: Level;
  readonly words: string;
}

/** Answers of one circuit. */
export interface PeopleAnswer {
  readonly leakageMa: number;
  readonly leakage: { readonly level: Level; readonly words: string };
  readonly rcd: { readonly counted: boolean; readonly words: string };
  readonly plugInRcds: readonly PlugInRcd[];
  readonly wet: { readonly level: Level; readonly words: string };
  /** Whether an RCD that counts stands ahead of a load on this way. */
  readonly counts: (way: readonly Node[]) => boolean;
  readonly notChecked: readonly string[];
}

/** Leakage reckoned for a load, mA: stated, or 3.5 for electronics that state none; nothing is known of the rest. */
const leakageOf = (load: Load): number =>
  load.leakageMa ?? (load.kind === 'electronic' ? UNSTATED_LEAKAGE_MA : 0);

const electronic = (loads: readonly Load[]): boolean => loads.some((l) => l.kind === 'electronic');
const total = (loads: readonly Load[]): number => loads.reduce((sum, l) => sum + leakageOf(l), 0);

/** Leakage judged; with loads left out of the sum it is never a pass. */
function judgeSum(
  loads: readonly Load[],
  ma: number,
  type: RcdType | undefined,
): { level: Level; words: string } {
  const { level, words } = judgeLeakage(total(loads), ma, type);
  const all = loads.every((l) => l.leakageMa !== undefined || l.kind === 'electronic');
  return all ? { level, words } : { level: worse(level, 'not-checked'), words: `${words}, as far as told` };
}

/** Checks the board's RCD, each plug-in one, and the loads out of doors. `placed`: the loads that are on, with their ways. */
export function checkPeople(
  network: Network,
  circuit: Circuit,
  placed: readonly { load: Load; way: readonly Node[] }[],
): PeopleAnswer {
  const notChecked: string[] = [];
  const on = placed.map((p) => p.load);
  const silent = on.filter((l) => l.leakageMa === undefined);
  const reckoned = silent.filter((l) => l.kind === 'electronic').map((l) => l.words);
  const untold = silent.filter((l) => l.kind !== 'electronic').map((l) => l.words);
  if (reckoned.length > 0)
    notChecked.push(`standing leakage, reckoned as ${UNSTATED_LEAKAGE_MA} mA each: ${reckoned.join(', ')}`);
  if (untold.length > 0) notChecked.push(`standing leakage, left out: ${untold.join(', ')}`);

  // The board's own.
  const leakageMa = total(on);
  const rcd = rcdCounts(
    { ma: circuit.rcdMa, type: circuit.rcdType, electronic: electronic(on) },
    network.source,
  );
  if (circuit.rcdMa === undefined) notChecked.push('RCD');
  else if (circuit.rcdMa !== 'none' && circuit.rcdType === undefined) notChecked.push('RCD type');
  const leakage =
    typeof circuit.rcdMa === 'number'
      ? judgeSum(on, circuit.rcdMa, circuit.rcdType)
      : {
          level: 'not-checked' as const,
          words: circuit.rcdMa === 'none' ? 'no RCD at the board' : 'not checked: RCD not told',
        };

  // Those plugged in along the way.
  const byNode = new Map<Node, Load[]>();
  for (const { load, way } of placed)
    for (const n of way) if (n.rcd) byNode.set(n, [...(byNode.get(n) ?? []), load]);
  const counting = new Set<Node>();
  const plugInRcds = [...byNode].map(([n, loads]): PlugInRcd => {
    const { ma, type } = n.rcd!;
    const answer = rcdCounts({ ma, type, electronic: electronic(loads) }, network.source);
    if (answer.counted) counting.add(n);
    if (ma === undefined) notChecked.push(`mA of ${n.words}`);
    if (type === undefined) notChecked.push(`RCD type of ${n.words}`);
    const leak =
      ma === undefined
        ? { level: 'not-checked' as const, words: 'not checked: mA not marked' }
        : judgeSum(loads, ma, type);
    return {
      node: n.id,
      counted: answer.counted,
      leakageMa: total(loads),
      level: answer.counted ? leak.level : worse(leak.level, 'not-checked'),
      words: `${answer.words}; ${leak.words}`,
    };
  });
  const counts = (way: readonly Node[]): boolean => rcd.counted || way.some((n) => counting.has(n));

  // Out of doors nothing goes without one that counts.
  const outside = placed.filter(({ load }) => load.outdoors);
  const bare = outside.filter(({ way }) => !counts(way)).map(({ load }) => load.words);
  const wet =
    bare.length > 0
      ? { level: 'over' as const, words: `out of doors with no RCD that counts: ${bare.join(', ')}` }
      : outside.length > 0
        ? {
            level: 'within' as const,
            words: 'out of doors: an RCD that counts stands ahead; rain covers not checked',
          }
        : { level: 'not-checked' as const, words: 'nothing said to be out of doors' };
  return { leakageMa, leakage, rcd, plugInRcds, wet, counts, notChecked };
}
