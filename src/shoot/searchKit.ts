/** Finding kit by typing: by its own words, by nicknames, with a slip of the finger forgiven. */
import { KIT, type KitKind, type KitPart, type Region } from './kit.ts';

/** Lower case, no accents, figures apart from their units: “800W” as “800 w”, “2K” as “2 kw”. */
export function typedWords(text: string): string[] {
  return text
    .toLowerCase()
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/⁄/g, '/')
    .replace(/(\d)\s*k\b/g, '$1 kw')
    .replace(/(\d)(kw|w|m|ft|mm)\b/g, '$1 $2')
    .split(/[\s,;:()_-]+/)
    .filter(Boolean);
}

const fields = new Map(KIT.map((k) => [k, { own: typedWords(k.words), other: k.found.flatMap(typedWords) }]));

/** Kinds that answer to every word typed, best first; at most `limit`. */
export function searchKit(
  text: string,
  options: { part?: KitPart; region?: Region; limit?: number } = {},
): KitKind[] {
  const typed = typedWords(text);
  if (typed.length === 0) return [];
  const found: { kind: KitKind; score: number; order: number }[] = [];
  KIT.forEach((kind, order) => {
    if (options.part && kind.part !== options.part) return;
    if (options.region && kind.regions && !kind.regions.includes(options.region)) return;
    const { own, other } = fields.get(kind)!;
    let score = 0;
    for (const [i, word] of typed.entries()) {
      // The last word may still be on its way.
      const s = Math.max(
        answer(word, own, i === typed.length - 1),
        0.6 * answer(word, other, i === typed.length - 1),
      );
      if (s === 0) return;
      score += s;
    }
    // Of two that answer alike the plainer one first.
    found.push({ kind, score: score - 0.01 * own.length, order });
  });
  return found
    .sort((a, b) => b.score - a.score || a.order - b.order)
    .slice(0, options.limit ?? 20)
    .map((f) => f.kind);
}

/** 1 the word itself, 0.8 its beginning, 0.4 a slip away, 0 not. Figures must be right. */
function answer(typed: string, words: readonly string[], unfinished: boolean): number {
  let best = 0;
  for (const w of words) {
    if (w === typed) return 1;
    if (/^[\d./]+$/.test(typed)) continue;
    if (w.startsWith(typed) && (unfinished || typed.length >= 3)) best = Math.max(best, 0.8);
    else if (typed.length >= 4 && oneSlip(typed, w)) best = Math.max(best, 0.4);
  }
  return best;
}

/** One letter more, less, other, or two next to each other swapped. */
function oneSlip(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 1) return false;
  let i = 0;
  while (i < a.length && i < b.length && a[i] === b[i]) i++;
  let j = 0;
  while (j < a.length - i && j < b.length - i && a[a.length - 1 - j] === b[b.length - 1 - j]) j++;
  const x = a.slice(i, a.length - j);
  const y = b.slice(i, b.length - j);
  return (
    (x.length <= 1 && y.length <= 1) || (x.length === 2 && y.length === 2 && x[0] === y[1] && x[1] === y[0])
  );
}
