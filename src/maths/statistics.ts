/** Plain statistics of a list of numbers. */

export const mean = (values: ArrayLike<number>): number => {
  let s = 0;
  for (let i = 0; i < values.length; i++) s += values[i]!;
  return s / values.length;
};

/** The value below which `share` (0–1) of the list lies; linear between ranks. */
export function quantile(values: ArrayLike<number>, share: number): number {
  const sorted = Float64Array.from(values).sort();
  const at = share * (sorted.length - 1);
  const i = Math.floor(at);
  const next = sorted[Math.min(i + 1, sorted.length - 1)]!;
  return sorted[i]! + (next - sorted[i]!) * (at - i);
}
