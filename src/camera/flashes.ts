/** Light that flashes: how many strokes fall into one second. */

/** At most so many flashes in any second, for people who fall ill by them (broadcasters' rule; from memory). */
export const MOST_FLASHES = 3;

/** The most strokes that begin within any one second; times in seconds. */
export function mostInASecond(begins: readonly number[]): number {
  const t = [...begins].sort((a, b) => a - b);
  let most = 0;
  for (let i = 0; i < t.length; i++) {
    let n = 0;
    for (let j = i; j < t.length && t[j]! < t[i]! + 1; j++) n++;
    most = Math.max(most, n);
  }
  return most;
}
