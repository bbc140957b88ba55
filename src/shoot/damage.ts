/** Text that cannot be read as JSON: where it is broken, and how deep it nests. */

/** Greatest depth of brackets outside strings. */
export function depthOf(text: string): number {
  let depth = 0;
  let deepest = 0;
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (quoted) {
      if (c === 92) i++;
      else if (c === 34) quoted = false;
    } else if (c === 34) quoted = true;
    else if (c === 123 || c === 91) deepest = Math.max(deepest, ++depth);
    else if (c === 125 || c === 93) depth--;
  }
  return deepest;
}

/** Where the first text stands that is no word of JSON; undefined: every word is good (then it was cut short). */
function firstBadWord(text: string): number | undefined {
  const word = /\s+|[{}[\],:]|"(?:[^"\\\n]|\\.)*"|-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y;
  while (word.lastIndex < text.length) {
    const at = word.lastIndex;
    if (!word.test(text)) return text[at] === '"' && text.indexOf('"', at + 1) < 0 ? undefined : at;
  }
  return undefined;
}

/** What happened to a text that JSON.parse refused with `error`, at which line, and what to do. */
export function damage(text: string, error: unknown): string[] {
  const told = /position (\d+)/.exec(error instanceof Error ? error.message : '');
  const bad = firstBadWord(text);
  const position = bad ?? (told ? Number(told[1]) : text.length);
  const line = text.slice(0, position).split('\n').length;
  const around = text.slice(Math.max(0, position - 15), position + 15);
  return [
    bad === undefined && position >= text.trimEnd().length - 1
      ? `The file stops in the middle, at line ${line}: it was cut short, perhaps while it was copied.`
      : `The file is damaged at line ${line}: ${JSON.stringify(around)} cannot be read.`,
    'Open an earlier copy, or copy it again from where it came. The file itself was left as it is.',
  ];
}

/**
 * A key that stands twice in one group of text that parses, and the line of the second: a reader would silently
 * lose the first. Undefined: none.
 */
export function twiceNamed(text: string): { key: string; line: number } | undefined {
  const word = /"(?:[^"\\]|\\.)*"(\s*:)?|[{}[\]]/g;
  const open: (Set<string> | undefined)[] = [];
  for (const found of text.matchAll(word)) {
    const w = found[0];
    if (w === '{') open.push(new Set());
    else if (w === '[') open.push(undefined);
    else if (w === '}' || w === ']') open.pop();
    else if (found[1] !== undefined) {
      const key = JSON.parse(w.slice(0, w.length - found[1].length)) as string;
      const names = open.at(-1);
      if (names?.has(key)) return { key, line: text.slice(0, found.index).split('\n').length };
      names?.add(key);
    }
  }
  return undefined;
}

/** Names that plain objects have of themselves; a file that uses one as a key could reach into the program. */
const OWN_NAMES = new Set(Object.getOwnPropertyNames(Object.prototype).concat('prototype'));

/** The first key anywhere in `v` that no shoot may have, with its path; undefined: none. */
export function forbiddenKey(v: unknown, path = ''): string | undefined {
  if (typeof v !== 'object' || v === null) return undefined;
  for (const key of Object.keys(v)) {
    const here = path ? `${path}.${key}` : key;
    if (OWN_NAMES.has(key)) return here;
    const deeper = forbiddenKey((v as Record<string, unknown>)[key], here);
    if (deeper !== undefined) return deeper;
  }
  return undefined;
}
