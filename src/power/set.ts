/** How a generator or power station stands under its loads. */
import { size } from './draw.ts';
import { judgeFloating } from './generator.ts';
import { currentAt, powerFactorOf } from './load.ts';
import type { Flow } from './loadflow.ts';
import type { Load, Network } from './network.ts';
import type { DeviceAnswer } from './solution.ts';
import { type Level, percent, worse } from './verdict.ts';

/** A generator or power station: volt-amps, watts, and what floats. */
export function judgeSet(
  network: Network,
  loads: readonly Load[],
  flow: Flow,
  nominalV: number,
  notChecked: Set<string>,
): DeviceAnswer[] {
  const { source } = network;
  if (source.kind === 'mains') return [];
  const on = loads.filter((l) => l.on);
  const va = on.reduce((s, l) => s + currentAt(l, nominalV) * nominalV, 0);
  const watts = on.reduce((s, l) => s + currentAt(l, nominalV) * nominalV * powerFactorOf(l), 0);
  const shares: [string, number, number | undefined][] = [
    ['VA', va, source.continuousVa],
    ['W', watts, source.continuousW],
  ];
  const parts: string[] = [];
  let level: Level = 'within';
  for (const [unit, drawn, rated] of shares) {
    if (rated === undefined) {
      if (unit === 'VA') {
        parts.push('not checked: what it holds for hours');
        level = worse(level, 'not-checked');
      }
      notChecked.add(`${source.kind}: the ${unit} it holds for hours`);
      continue;
    }
    const share = drawn / rated;
    level = worse(level, share > 1 + 1e-9 ? 'over' : share > 0.8 + 1e-9 ? 'warn' : 'within');
    parts.push(
      `${Math.ceil(drawn - 1e-6)} ${unit}: ${share > 1 ? 'over' : 'within'} ${Math.floor(rated)} ${unit} (${percent(share)})${share > 0.8 && share <= 1 ? ', over the 80 % line' : ''}`,
    );
  }
  // What starts while the rest runs.
  for (const load of on) {
    if (load.startTimes === undefined && load.kind === 'magnetic') {
      level = worse(level, 'not-checked');
      parts.push(`not checked: what ${load.words} draws while it starts`);
    }
    if (load.startTimes === undefined || source.continuousVa === undefined) continue;
    const start = va + (load.startTimes - 1) * currentAt(load, nominalV) * nominalV;
    if (start > source.continuousVa) {
      level = 'over';
      parts.push(`${Math.ceil(start)} VA while ${load.words} starts: over`);
    }
  }
  const floating = judgeFloating(source.bondedNeutral, on.filter((l) => l.classI).length);
  for (const load of on)
    if (load.classI === undefined) notChecked.add(`${load.words}: whether it needs its earth`);
  notChecked.add(`${source.kind}: surge of cold lamps, start figures, fuel`);
  if (source.bondedNeutral === undefined) notChecked.add(`${source.kind}: bond between neutral and earth`);
  const rated = source.continuousVa === undefined ? undefined : source.continuousVa / nominalV;
  return [
    {
      id: source.kind,
      words: source.kind,
      circuit: undefined,
      currentA: size(flow.sourceI),
      nominalCurrentA: va / nominalV,
      planningCurrentA: va / nominalV,
      ratingA: rated,
      limitA: rated,
      share: rated === undefined ? undefined : va / nominalV / rated,
      marginA: rated === undefined ? undefined : rated - va / nominalV,
      level: worse(level, floating.level),
      verdict: [...parts, floating.words].join('; '),
    },
  ];
}
