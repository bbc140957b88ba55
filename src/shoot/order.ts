/** Key order across a step back: what was taken out comes back to where it stood, not to the end of its list. */
import type { Patch } from 'immer';

/** A record, by its path, and the order its keys had. */
export interface Order {
  path: readonly (string | number)[];
  keys: readonly string[];
}

type Group = Record<string, unknown>;
const groupAt = (root: unknown, path: Order['path']): Group | undefined => {
  let v = root;
  for (const key of path) {
    if (typeof v !== 'object' || v === null || !Object.hasOwn(v, key)) return undefined;
    v = (v as Group)[key];
  }
  return typeof v === 'object' && v !== null && !Array.isArray(v) ? (v as Group) : undefined;
};

/** Records of `before` into which the inverse patches put a key back. */
export function ordersOf(before: object, inverse: readonly Patch[]): Order[] {
  const out = new Map<string, Order>();
  for (const p of inverse) {
    if (p.op !== 'add') continue;
    const path = p.path.slice(0, -1);
    const group = groupAt(before, path);
    if (group) out.set(JSON.stringify(path), { path, keys: Object.keys(group) });
  }
  return [...out.values()];
}

/** The same data with those records' keys in order; keys that the order does not know follow. */
export function reordered<T extends object>(root: T, orders: readonly Order[]): T {
  let out = root;
  for (const { path, keys } of orders) {
    const group = groupAt(out, path);
    if (!group) continue;
    const now = Object.keys(group);
    const known = new Set(keys);
    const wanted = [...keys.filter((k) => Object.hasOwn(group, k)), ...now.filter((k) => !known.has(k))];
    if (wanted.every((k, i) => k === now[i])) continue;
    out = replaced(out, path, Object.fromEntries(wanted.map((k) => [k, group[k]]))) as T;
  }
  return out;
}

/** A copy with the value at a path replaced; everything beside the path is shared. */
function replaced(root: unknown, path: Order['path'], value: unknown): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return value;
  const copy = Array.isArray(root) ? [...root] : { ...(root as Group) };
  (copy as Group)[key] = replaced((copy as Group)[key], rest, value);
  return copy;
}
