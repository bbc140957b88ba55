/** What is wrong with a file, in plain words: “scene rent, lamp L1: at: needs three numbers (the first is “a”)”. */
import type { z } from 'zod';

const NOUN: Record<string, string> = {
  places: 'place',
  scenes: 'scene',
  angles: 'angle',
  lamps: 'lamp',
  marks: 'mark',
  spots: 'spot',
  flags: 'flag',
  openings: 'opening',
  furniture: 'furniture',
  rigging: 'rigging',
  circuits: 'circuit',
  houseLoads: 'house load',
  sockets: 'socket',
  leads: 'lead',
  supports: 'support',
  sheets: 'sheet',
  multiways: 'multiway',
  cheats: 'cheat of lamp',
};
/** Keys that say nothing to the person who reads. */
const SILENT = new Set(['rig', 'supply', 'kit']);
const THREE = new Set(['at', 'aim', 'lookAt', 'from', 'to', 'normal', 'facing', 'toward']);
const ORDINAL = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth'];

/** One sentence for one complaint of the schema; `raw` is what was read. */
export function sentence(issue: z.core.$ZodIssue, raw?: unknown): string {
  const path = [...issue.path];
  let says = what(issue, at(raw, path));
  const last = path.at(-1);
  if (THREE.has(String(last))) {
    // A place or a direction.
    const list = at(raw, path);
    const numbers = dims(path);
    if (issue.code === 'invalid_type')
      says = `${list === undefined ? 'is missing: ' : ''}needs ${numbers}${given(list)}`;
    else if (Array.isArray(list)) says = `needs ${numbers}, has ${list.length}`;
  } else if (typeof last === 'number' && THREE.has(String(path.at(-2)))) {
    // One of the three is told of its list.
    path.pop();
    const nth = ORDINAL[last] ?? `${last + 1}th`;
    says =
      issue.code === 'invalid_type'
        ? `needs ${dims(path)}, the ${nth} is ${shown(at(raw, issue.path))}`
        : `the ${nth} ${says}`;
  }
  const who = place(path);
  return `${[...who, says].join(': ')}.`;
}

/** A mark stands on the floor: two numbers; everything else has three. */
const dims = (path: readonly PropertyKey[]) => (path.at(-3) === 'marks' ? 'two numbers' : 'three numbers');

/** “scene rent, lamp L1” and the field within it. */
function place(path: readonly PropertyKey[]): string[] {
  const owners: string[] = [];
  const field: string[] = [];
  for (let i = 0; i < path.length; i++) {
    const key = String(path[i]);
    const noun = NOUN[key];
    if (noun && typeof path[i + 1] === 'string') {
      owners.push(`${noun} ${String(path[++i])}`);
      field.length = 0;
    } else if (SILENT.has(key) && i + 1 < path.length) {
      if (key === 'kit') owners.push('kit');
    } else if (typeof path[i] === 'number')
      field.push(`${ORDINAL[path[i] as number] ?? `${Number(path[i]) + 1}th`} entry`);
    else field.push(key);
  }
  const out = [];
  if (owners.length) out.push(owners.join(', '));
  if (field.length) out.push(field.join(', '));
  return out.length ? out : ['The shoot'];
}

function what(issue: z.core.$ZodIssue, value: unknown): string {
  switch (issue.code) {
    case 'invalid_type':
      return value === undefined
        ? `is missing (${needs(issue.expected)})`
        : needs(issue.expected) + given(value);
    case 'too_big':
      return issue.origin === 'number' || issue.origin === 'int'
        ? `is ${shown(value)}; at most ${issue.maximum} can be right`
        : `is too long (at most ${issue.maximum}${typeof value === 'string' ? ' letters' : ''}${count(value)})`;
    case 'too_small':
      return issue.origin === 'number' || issue.origin === 'int'
        ? `is ${shown(value)}; it must be ${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}`
        : `is too short (at least ${issue.minimum}${count(value)})`;
    case 'invalid_value':
      return `must be ${list(issue.values.map((v) => `“${String(v)}”`))}${given(value)}`;
    case 'invalid_format':
      return `${shown(value)} cannot be read here${issue.message.startsWith('Invalid') ? '' : `: ${issue.message}`}`;
    case 'invalid_key':
      return `“${String(issue.path.at(-1))}” cannot be a name here: a letter first, then letters, digits, - or _, at most 40`;
    case 'invalid_union': {
      // The form that fits best is the one meant.
      const best = [...issue.errors].sort((a, b) => weight(a) - weight(b))[0]?.[0];
      return best
        ? `${best.path.length ? `${best.path.join(', ')}: ` : ''}${what(best, at(value, best.path))}`
        : 'has none of the forms it may have';
    }
    default:
      return issue.message.replace(/^Invalid input: /, '');
  }
}

/** A form whose `kind` is wrong is not the one meant. */
const weight = (issues: readonly z.core.$ZodIssue[]): number =>
  issues.length + (issues.some((i) => i.path.at(-1) === 'kind' || i.path.length === 0) ? 1000 : 0);

const count = (v: unknown): string => (Array.isArray(v) || typeof v === 'string' ? `, has ${v.length}` : '');

const NEEDS: Record<string, string> = {
  number: 'needs a number',
  int: 'needs a whole number',
  string: 'needs words in quotation marks',
  boolean: 'needs true or false',
  array: 'needs a list',
  tuple: 'needs a list of numbers',
  record: 'needs a group of named things in { }',
  object: 'needs a group of values in { }',
};
const needs = (expected: string): string => NEEDS[expected] ?? `needs ${expected}`;
const given = (v: unknown): string => (v === undefined ? '' : `, has ${shown(v)}`);
const list = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;

/** A value as one may print it in a sentence: short. */
export function shown(v: unknown): string {
  if (Array.isArray(v)) return `a list of ${v.length}`;
  if (typeof v === 'object' && v !== null) return 'a group';
  if (typeof v === 'string') return `“${v.length > 40 ? `${v.slice(0, 40)}…` : v}”`;
  return v === undefined ? 'nothing' : String(v);
}

/** The value at a path, undefined where there is none. */
function at(raw: unknown, path: readonly PropertyKey[]): unknown {
  let v = raw;
  for (const key of path) {
    if (typeof v !== 'object' || v === null || !Object.hasOwn(v, key)) return undefined;
    v = (v as Record<PropertyKey, unknown>)[key];
  }
  return v;
}
