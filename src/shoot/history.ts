/**
 * Steps back and forward, by patches; plain data and pure functions. A drag is one step: `drag` begins it and goes
 * on with it, `drop` ends it, `leave` forgets it.
 */
import type { Patch } from 'immer';
import { applyEdits, type Edit, type Edited, patched } from './edits.ts';
import type { Order } from './order.ts';
import type { Shoot } from './schema.ts';

export interface Step {
  says: string;
  patches: Patch[];
  inverse: Patch[];
  orders: Order[];
}
export interface History {
  shoot: Shoot;
  done: Step[];
  undone: Step[];
  /** The shoot as it was when the drag under way began, and the drag so far. */
  held?: { from: Shoot; step: Step };
}

export const newHistory = (shoot: Shoot): History => ({ shoot, done: [], undone: [] });
/** The steps alone. */
export const stepsOf = ({ done, undone }: History): Pick<History, 'done' | 'undone'> => ({ done, undone });
/** Steps kept; the oldest go first. */
export const MOST = 500;

const listOf = (edits: Edit | readonly Edit[]): readonly Edit[] =>
  Array.isArray(edits) ? edits : [edits as Edit];
const stepOf = ({ says, patches, inverse, orders }: Edited): Step => ({ says, patches, inverse, orders });
const withStep = (h: History, shoot: Shoot, step: Step): History => ({
  shoot,
  done: [...h.done, step].slice(-MOST),
  undone: [],
});

/** One edit, or several together, as one step. A drag under way is dropped where it is first. */
export function act(history: History, edits: Edit | readonly Edit[]): History {
  const h = drop(history);
  const e = applyEdits(h.shoot, listOf(edits));
  return e.patches.length === 0 ? h : withStep(h, e.shoot, stepOf(e));
}

/** During a drag: each move is applied to the shoot as it was at the start, so that the step stays one. */
export function drag(h: History, edits: Edit | readonly Edit[]): History {
  const from = h.held?.from ?? h.shoot;
  const e = applyEdits(from, listOf(edits));
  return { ...h, shoot: e.shoot, held: { from, step: stepOf(e) } };
}

/** Ends a drag: one step, or none where nothing moved in the end. */
export function drop(h: History): History {
  if (!h.held) return h;
  const { from, step } = h.held;
  if (step.patches.length === 0) return { shoot: from, done: h.done, undone: h.undone };
  return withStep(h, h.shoot, step);
}

/** Leaves a drag as if it had never begun. */
export const leave = (h: History): History =>
  h.held ? { shoot: h.held.from, done: h.done, undone: h.undone } : h;

/** A step back; during a drag nothing happens. */
export function back(h: History): History {
  const step = h.done.at(-1);
  if (!step || h.held) return h;
  return {
    shoot: patched(h.shoot, step.inverse, step.orders),
    done: h.done.slice(0, -1),
    undone: [...h.undone, step],
  };
}
export function forward(h: History): History {
  const step = h.undone.at(-1);
  if (!step || h.held) return h;
  return { shoot: patched(h.shoot, step.patches), done: [...h.done, step], undone: h.undone.slice(0, -1) };
}

/** A step that was made elsewhere from this very shoot, made here. */
export function stepped(history: History, step: Step): History {
  const h = leave(history);
  return withStep(h, patched(h.shoot, step.patches), step);
}

/** What `back` would take back and `forward` would do again, in words; undefined: nothing. */
export const backSays = (h: History): string | undefined => (h.held ? undefined : h.done.at(-1)?.says);
export const forwardSays = (h: History): string | undefined => (h.held ? undefined : h.undone.at(-1)?.says);
