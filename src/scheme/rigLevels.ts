/** How bright every lamp of a rig is set: all together, so that key, back and fill keep their steps. */
import type { Bench, Put } from './rigBench.ts';
import { BACK_OVER, ceilingOf, givesOf } from './rigBench.ts';
import { diffusionStock, rangeOf, type Settled, type Stock, sentLm, settle } from './rigLight.ts';

export interface Levels {
  /** What the key gives by itself, lux. */
  keyLx: number;
  /** What a meter turned to it reads, lux: with what the room sends back. The stop follows it. */
  readLx: number;
  settled: Settled[];
}

/**
 * The level of the key nearest to what the set stop asks for at which no lamp has to give more or less than it can.
 * Where there is none, the least that all together miss, the key counting most. What walls and ceiling send back adds to
 * the key: it is reckoned as an even share of the room's light, and the key brought down by as much.
 */
export function levels(b: Bench, puts: readonly Put[]): Levels {
  const bare = levelsFor(b, puts, b.wantLx);
  const first = bare.keyLx + roundLx(b, puts, bare.settled);
  const made = levelsFor(b, puts, b.wantLx * (bare.keyLx / first));
  return { ...made, readLx: made.keyLx + roundLx(b, puts, made.settled) };
}

/** Light that goes round the room once it has met a wall, lux anywhere: Φρ̄ / (A (1 − ρ̄)) (integrating-sphere mean). */
function roundLx(b: Bench, puts: readonly Put[], settled: readonly Settled[]): number {
  const { areaM2, meanReflectance } = ceilingOf(b.place, [0, 0, 0]);
  const sent = puts.reduce((s, p, i) => s + sentLm(p.head, settled[i]!.setting), 0);
  return (sent * meanReflectance) / (areaM2 * (1 - meanReflectance));
}

function levelsFor(b: Bench, puts: readonly Put[], wantLx: number): Omit<Levels, 'readLx'> {
  const stock = diffusionStock(b.shoot);
  const ranges = puts.map((p) => {
    const [low, high] = rangeOf(p.head, givesOf(b, p, p.placed.at, p.placed.aim), stock);
    const spare = p.job === 'back' ? 2 ** -BACK_OVER : 1;
    return {
      low: low * 2 ** p.underStops * spare,
      high: high * 2 ** p.underStops,
      weight: p.job === 'key' ? 2 : 1,
    };
  });
  let keyLx = wantLx;
  let least = Number.POSITIVE_INFINITY;
  for (let k = -36; k <= 60; k++) {
    const lx = wantLx * 2 ** (k / 12);
    const missed = ranges.reduce(
      (s, r) => s + r.weight * (Math.max(0, Math.log2(r.low / lx)) + Math.max(0, Math.log2(lx / r.high))),
      0,
    );
    const cost = missed + 0.2 * Math.abs(k / 12);
    if (cost < least - 1e-9) [least, keyLx] = [cost, lx];
  }
  return { keyLx, settled: puts.map((p) => settleOne(b, p, keyLx, stock)) };
}

function settleOne(b: Bench, p: Put, keyLx: number, stock: Stock): Settled {
  const gives = givesOf(b, p, p.placed.at, p.placed.aim);
  const settled = settle(
    p.head,
    gives,
    keyLx / 2 ** p.underStops,
    stock,
    p.job !== 'back' && p.job !== 'bounce',
  );
  for (const s of settled.setting.sheets) stock.set(s, (stock.get(s) ?? 1) - 1);
  return settled;
}
