/** JSON as a person reads it: what fits on a line stands on one line, everything else one entry a line. */

const WIDTH = 110;

/**
 * Text of plain data, stable: the same data gives the same text, keys in the order they have. What JSON cannot
 * hold (undefined, functions) is left out as JSON.stringify leaves it out. No final newline.
 */
export function printJson(value: unknown): string {
  return put(value, '', 0, true);
}

/** `used`: columns already taken on the line by the key. */
function put(value: unknown, indent: string, used: number, top = false): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  const line = top ? undefined : flat(value, WIDTH - indent.length - used);
  if (line !== undefined) return line;
  const inner = `${indent}  `;
  if (Array.isArray(value))
    return value.length ? `[\n${value.map((v) => inner + put(v, inner, 0)).join(',\n')}\n${indent}]` : '[]';
  const rows = Object.entries(value)
    .filter(([, v]) => v !== undefined)
    .map(([k, v]) => {
      const key = `${JSON.stringify(k)}: `;
      return inner + key + put(v, inner, key.length);
    });
  return rows.length ? `{\n${rows.join(',\n')}\n${indent}}` : '{}';
}

/** The value on one line of at most `room` columns (a comma may follow), or undefined. */
function flat(value: unknown, room: number): string | undefined {
  if (room < 2) return undefined;
  if (typeof value !== 'object' || value === null) {
    const text = JSON.stringify(value) ?? 'null';
    return text.length < room ? text : undefined;
  }
  const parts: string[] = [];
  let left = room - 4;
  const array = Array.isArray(value);
  for (const [k, v] of array ? value.map((x, i) => [i, x] as const) : Object.entries(value)) {
    if (v === undefined && !array) continue;
    const key = array ? '' : `${JSON.stringify(k)}: `;
    const text = flat(v, left - key.length);
    if (text === undefined) return undefined;
    parts.push(key + text);
    left -= key.length + text.length + 2;
  }
  if (parts.length === 0) return array ? '[]' : '{}';
  return array ? `[${parts.join(', ')}]` : `{ ${parts.join(', ')} }`;
}
