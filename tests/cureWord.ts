/** Whether a cure kept its word, by troubles before and after it was made: what it broke, in words. */
import { type Cure, keyOf, type Trouble } from '../src/scheme/trouble.ts';

export function keptItsWord(
  before: readonly Trouble[],
  against: Trouble,
  cure: Cure,
  after: readonly Trouble[],
): string[] {
  const broken: string[] = [];
  const left = after.find((t) => keyOf(t) === keyOf(against));
  if (left && left.severity >= against.severity) {
    if (!cure.left) broken.push(`${against.says} stays, and it was not said: ${cure.says}`);
    else if (left.size >= against.size) broken.push(`${against.says} is not less: ${cure.says}`);
  }
  for (const t of after) {
    if (keyOf(t) === keyOf(against) || t.meant !== undefined) continue;
    const old = before.find((x) => keyOf(x) === keyOf(t));
    // New, or graver than it was, and as grave as what was cured: it must stand in the sentence.
    if (t.severity < Math.max(1, against.severity) || (old && old.severity >= t.severity)) continue;
    if (!cure.but.some((b) => tells(b, t.short))) broken.push(`not said: ${t.short} (${cure.says})`);
  }
  return broken;
}

/** Does `said` hold the sentence `short`? Figures may differ by a tenth: two quick readings of the dark differ so. */
function tells(said: string, short: string): boolean {
  const words = (text: string) => text.replace(/\d+(\.\d+)?/g, '#');
  const figures = (text: string) => (text.match(/\d+(\.\d+)?/g) ?? []).map(Number);
  const at = words(said).indexOf(words(short));
  if (at < 0) return false;
  const skipped = (words(said).slice(0, at).match(/#/g) ?? []).length;
  return figures(short).every((x, i) => Math.abs(figures(said)[skipped + i]! - x) <= 0.1 * x);
}
