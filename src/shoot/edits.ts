/**
 * Named edits: everything that changes a shoot, as data. An edit checks its arguments, changes a draft, and
 * says in words what it did; it yields patches forward and back. An edit after which the shoot's own file could not
 * be opened is refused.
 */
import { applyPatches, enablePatches, type Patch, produceWithPatches } from 'immer';
import { sentence } from './complaint.ts';
import { ANGLE_EDITS } from './editAngles.ts';
import { DAY_EDITS } from './editDay.ts';
import { EditError, type EditKind } from './editing.ts';
import { LAMP_EDITS } from './editLamps.ts';
import { PLACE_EDITS } from './editPlace.ts';
import { READING_EDITS } from './editReadings.ts';
import { ROOM_EDITS } from './editRoom.ts';
import { type Order, ordersOf, reordered } from './order.ts';
import { faults } from './references.ts';
import type { Shoot } from './schema.ts';
import { UNDER_EDITS } from './underEdits.ts';

export { EditError } from './editing.ts';

enablePatches();

export interface Edit {
  edit: string;
  args: Record<string, unknown>;
}
export interface Edited {
  shoot: Shoot;
  patches: Patch[];
  inverse: Patch[];
  /** Where what the inverse puts back stood in its list. */
  orders: Order[];
  /** What was done, in the past tense: “1 moved 0.60 m in OA”. */
  says: string;
}

export const EDITS = {
  ...LAMP_EDITS,
  ...ANGLE_EDITS,
  ...DAY_EDITS,
  ...PLACE_EDITS,
  ...READING_EDITS,
  ...ROOM_EDITS,
  ...UNDER_EDITS,
};
export type EditName = keyof typeof EDITS;

/** Applies one edit. Throws an EditError with a sentence if the name or the arguments do not fit. */
export function applyEdit(shoot: Shoot, edit: Edit): Edited {
  const found = (EDITS as Record<string, EditKind>)[edit.edit];
  if (!found || !Object.hasOwn(EDITS, edit.edit))
    throw new EditError(`There is no edit called ${edit.edit}.`);
  const args = found.args.safeParse(edit.args);
  if (!args.success) throw new EditError(`${edit.edit}: ${sentence(args.error.issues[0]!, edit.args)}`);
  let says = '';
  const [next, patches, inverse] = produceWithPatches(shoot, (draft) => {
    says = found.apply(draft as Shoot, args.data);
  });
  // Refuse what would lead nowhere (what led nowhere before is not this edit's fault).
  const broken = faults(next);
  if (broken.length) {
    const before = new Set(faults(shoot));
    const fault = broken.find((b) => !before.has(b));
    if (fault !== undefined) throw new EditError(`${edit.edit} cannot be done. ${fault}`);
  }
  return { shoot: next, patches, inverse, orders: ordersOf(shoot, inverse), says };
}

/** Several edits as one, in order; all of them or none. */
export function applyEdits(shoot: Shoot, edits: readonly Edit[]): Edited {
  const out: Edited = { shoot, patches: [], inverse: [], orders: [], says: '' };
  const said: string[] = [];
  for (const edit of edits) {
    const e = applyEdit(out.shoot, edit);
    out.shoot = e.shoot;
    out.patches.push(...e.patches);
    out.inverse.unshift(...e.inverse);
    out.orders.unshift(...e.orders);
    said.push(e.says);
  }
  out.says = said.join('; ');
  return out;
}

/** Patches applied; with the orders of a step back, what comes back stands where it stood. */
export const patched = (shoot: Shoot, patches: readonly Patch[], orders: readonly Order[] = []): Shoot =>
  reordered(applyPatches(shoot, patches as Patch[]), orders);
