/** Troubles as they are listed: the same one in several angles once, its cures for all of them together. Pure. */
import { listed } from '../scheme/listed.ts';
import type { Cure, Trouble } from '../scheme/trouble.ts';
import { keyOf } from '../scheme/trouble.ts';
import type { Edit } from '../shoot/edits.ts';
import type { AngleResult } from './messages.ts';
import { isOfAngle } from './views.ts';

/** A cure as it is offered: what is done where, what it takes and costs, what comes instead. */
export interface Offer {
  act: string;
  scope: string;
  notes: string[];
  but: string[];
  free: boolean;
  edits: Edit[];
  /** The whole in one line. */
  says: string;
}

export interface Listed {
  angle: string;
  t: Trouble;
}

export interface Fold {
  key: string;
  kind: string;
  lamp?: string;
  subject?: string;
  severity: number;
  /** Of the supply, whatever the angle. */
  ofSupply: boolean;
  angles: string[];
  /** What is said, with the angles it is said of. */
  lines: { angles: string[]; says: string }[];
  offers: Offer[];
  tried: boolean;
  entries: Listed[];
}

/** Troubles that nobody means, folded over angles, worst first; a lamp's stand together. */
export function foldTroubles(
  results: Readonly<Record<string, AngleResult>>,
  angles: readonly string[],
): Fold[] {
  const by = new Map<string, Listed[]>();
  for (const angle of angles)
    for (const t of results[angle]?.troubles ?? []) {
      if (t.meant !== undefined) continue;
      const key = keyOf(t);
      by.set(key, [...(by.get(key) ?? []), { angle, t }]);
    }
  const folds = [...by].map(([key, entries]) => foldOf(key, entries));
  const worst = new Map<string, number>();
  const group = (f: Fold) => f.lamp ?? (f.ofSupply ? ':supply' : ':');
  for (const f of folds) worst.set(group(f), Math.max(worst.get(group(f)) ?? 0, f.severity));
  return folds.sort(
    (a, b) =>
      worst.get(group(b))! - worst.get(group(a))! ||
      group(a).localeCompare(group(b), 'en', { numeric: true }) ||
      b.severity - a.severity ||
      a.key.localeCompare(b.key),
  );
}

export function foldOf(key: string, entries: readonly Listed[]): Fold {
  const first = entries[0]!.t;
  const lines: Fold['lines'] = [];
  for (const { angle, t } of entries) {
    const same = lines.find((l) => l.says === t.says);
    if (same) same.angles.push(angle);
    else lines.push({ angles: [angle], says: t.says });
  }
  return {
    key,
    kind: first.kind,
    ...(first.lamp === undefined ? {} : { lamp: first.lamp }),
    ...(first.subject === undefined ? {} : { subject: first.subject }),
    severity: Math.max(...entries.map((e) => e.t.severity)),
    ofSupply: !isOfAngle(first.kind),
    angles: entries.map((e) => e.angle),
    lines,
    offers: offersOf(entries),
    tried: entries.every((e) => e.t.tried),
    entries: [...entries],
  };
}

/** The same act in several angles is one offer; an act on the rig counts in all of them. */
function offersOf(entries: readonly Listed[]): Offer[] {
  const by = new Map<string, { angle: string; cure: Cure }[]>();
  for (const { angle, t } of entries)
    for (const cure of t.cures) {
      const key = `${cure.edit}|${cure.act}`;
      by.set(key, [...(by.get(key) ?? []), { angle, cure }]);
    }
  return (
    [...by.values()]
      // What helps in more of the angles comes first; among those, as each angle ranks them.
      .sort((a, b) => b.length - a.length)
      .map(offerOf)
  );
}

function offerOf(list: readonly { angle: string; cure: Cure }[]): Offer {
  const first = list[0]!.cure;
  const edits: Edit[] = [];
  const known = new Set<string>();
  for (const { cure } of list) {
    const content = JSON.stringify(cure.args);
    if (known.has(content)) continue;
    known.add(content);
    edits.push({ edit: cure.edit, args: cure.args });
  }
  const scope = edits.length > 1 ? `in ${listed(list.map((x) => x.angle))}` : first.scope;
  // A price that is the same everywhere is said once.
  const many = list.length > 1;
  const told = (of: (c: Cure) => readonly string[]): string[] => {
    const where = new Map<string, string[]>();
    for (const { angle, cure } of list)
      for (const words of of(cure)) where.set(words, [...(where.get(words) ?? []), angle]);
    return [...where].map(([words, angles]) =>
      many && angles.length < list.length ? `${listed(angles)}: ${words}` : words,
    );
  };
  const notes = [
    ...(first.needs ? [`needs ${first.needs}`] : []),
    ...told((c) => c.price),
    ...told((c) => (c.left ? [c.left] : [])),
  ];
  const but = told((c) => c.but);
  return {
    act: first.act,
    scope,
    notes,
    but,
    free: list.every((x) => x.cure.free),
    edits,
    says: `${first.act}${scope ? `, ${scope}` : ''}${notes.length ? ` (${notes.join('; ')})` : ''}${but.length ? `, but ${but.slice(0, 3).join(' and ')}` : ''}`,
  };
}

/** All cures that cost nothing, angle by angle, as one offer; undefined: there is none. */
export function freeOffer(
  results: Readonly<Record<string, AngleResult>>,
  angles: readonly string[],
): Offer | undefined {
  const edits: Edit[] = [];
  const acts: string[] = [];
  const taken = new Set<string>();
  for (const angle of angles)
    for (const cure of results[angle]?.free ?? []) {
      // One act on a thing: what another angle asks of the same lamp of the rig must wait for its turn.
      const { angle: where, lamp, mark, load } = cure.args;
      const thing = JSON.stringify([cure.edit, where, lamp, mark, load]);
      if (taken.has(thing)) continue;
      taken.add(thing);
      edits.push({ edit: cure.edit, args: cure.args });
      acts.push(`${cure.act}${cure.scope ? `, ${cure.scope}` : ''}`);
    }
  if (edits.length === 0) return undefined;
  return { act: acts.join('; '), scope: '', notes: [], but: [], free: true, edits, says: acts.join('; ') };
}

/** What is meant, the same in several angles once. */
export function foldMeant(
  results: Readonly<Record<string, AngleResult>>,
  angles: readonly string[],
): { key: string; word: string; entries: Listed[] }[] {
  const by = new Map<string, { key: string; word: string; entries: Listed[] }>();
  for (const angle of angles)
    for (const t of results[angle]?.troubles ?? []) {
      if (t.meant === undefined) continue;
      const key = `${keyOf(t)}|${t.meant}`;
      const had = by.get(key);
      if (had) had.entries.push({ angle, t });
      else by.set(key, { key, word: t.meant, entries: [{ angle, t }] });
    }
  return [...by.values()];
}
