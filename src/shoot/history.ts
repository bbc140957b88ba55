/** Steps back and forward, by patches. A drag is one step: begun, extended, ended. */
import type { Patch } from 'immer';
import { applyEdit, type Edit, patched } from './edits.ts';
import type { Shoot } from './schema.ts';

export interface Step {
  says: string;
  patches: Patch[];
  inverse: Patch[];
}
export interface History {
  shoot: Shoot;
  done: Step[];
  undone: Step[];
  /** The shoot as it was when the drag under way began. */
  held?: { from: Shoot; step: Step };
}

export const newHistory = (shoot: Shoot): History => ({ shoot, done: [], undone: [] });
const MOST = 500;

/** One edit, one step. */
export function act(h: History, edit: Edit): History {
  const e = applyEdit(h.shoot, edit);
  if (e.patches.length === 0) return h;
  return {
    shoot: e.shoot,
    done: [...h.done, { says: e.says, patches: e.patches, inverse: e.inverse }].slice(-MOST),
    undone: [],
  };
}

/** During a drag: each move is applied to the shoot as it was at the start, so that the step stays one. */
export function drag(h: History, edit: Edit): History {
  const from = h.held?.from ?? h.shoot;
  const e = applyEdit(from, edit);
  return {
    ...h,
    shoot: e.shoot,
    held: { from, step: { says: e.says, patches: e.patches, inverse: e.inverse } },
  };
}

export function drop(h: History): History {
  if (!h.held) return h;
  const { step } = h.held;
  if (step.patches.length === 0) return { shoot: h.held.from, done: h.done, undone: h.undone };
  return { shoot: h.shoot, done: [...h.done, step].slice(-MOST), undone: [] };
}

/** Leaves a drag as if it had never begun. */
export const leave = (h: History): History =>
  h.held ? { shoot: h.held.from, done: h.done, undone: h.undone } : h;

export function back(h: History): History {
  const step = h.done.at(-1);
  if (!step || h.held) return h;
  return { shoot: patched(h.shoot, step.inverse), done: h.done.slice(0, -1), undone: [...h.undone, step] };
}
export function forward(h: History): History {
  const step = h.undone.at(-1);
  if (!step || h.held) return h;
  return { shoot: patched(h.shoot, step.patches), done: [...h.done, step], undone: h.undone.slice(0, -1) };
}
