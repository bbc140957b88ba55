/** Finding a thing by typing: by its own words, by nicknames, with a slip of the finger forgiven. */

/** What can be found: `words` are shown, `found` are other words by which it answers and are never shown. */
export interface Findable {
  words: string;
  found: readonly string[];
}

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

/** Asks a list again and again; its words are taken apart once. `left` says which are looked through this time. */
export function finder<T extends Findable>(
  list: readonly T[],
): (text: string, limit: number, left?: (item: T) => boolean) => T[] {
  const fields = list.map((k) => ({ item: k, own: typedWords(k.words), other: k.found.flatMap(typedWords) }));
  return (text, limit, left) => {
    const typed = typedWords(text);
    if (typed.length === 0) return [];
    const hits: { item: T; score: number; order: number }[] = [];
    fields.forEach(({ item, own, other }, order) => {
      if (left && !left(item)) return;
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
      hits.push({ item, score: score - 0.01 * own.length, order });
    });
    return hits
      .sort((a, b) => b.score - a.score || a.order - b.order)
      .slice(0, limit)
      .map((f) => f.item);
  };
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
