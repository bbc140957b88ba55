/** Edits of the picture that lies under a place's plan. */
import { z } from 'zod';
import { EditError, type EditKind, fixed, floorPoint, id, kind, own, placeOf, there } from './editing.ts';
import type { Shoot } from './schema.ts';
import { scaledBy, Underlay } from './underlay.ts';

const underOf = (s: Shoot, place: string): Underlay => {
  placeOf(s, place);
  return there(own(s.under, place), 'picture under this plan');
};

export const UNDER_EDITS = {
  /** A picture laid under the plan of a place in place of the one before; without `under`: taken away. */
  layUnder: kind({ place: id, under: Underlay.optional() }, (s, a) => {
    placeOf(s, a.place);
    if (a.under) {
      s.under = { ...s.under, [a.place]: a.under };
      return `${a.under.name ?? 'A picture'} laid under the plan`;
    }
    underOf(s, a.place);
    delete s.under![a.place];
    if (Object.keys(s.under!).length === 0) delete s.under;
    return 'Picture under the plan taken away';
  }),
  changeUnder: kind(
    { place: id, changes: z.strictObject(Underlay.omit({ picture: true, px: true }).shape).partial() },
    (s, a) => {
      Object.assign(underOf(s, a.place), a.changes);
      const { at, widthM, turnDeg, hidden } = a.changes;
      if (hidden !== undefined) return `Picture under the plan ${hidden ? 'hidden' : 'shown'}`;
      if (widthM !== undefined) return `Picture under the plan ${fixed(widthM)} m wide`;
      if (turnDeg !== undefined) return `Picture under the plan turned to ${fixed(turnDeg, 1)}°`;
      return at ? 'Picture under the plan moved' : 'Picture under the plan changed';
    },
  ),
  /** Its scale by one known length between two points of the plan. */
  scaleUnder: kind(
    { place: id, from: floorPoint, to: floorPoint, lengthM: z.number().gt(0).max(1000) },
    (s, a) => {
      const u = underOf(s, a.place);
      const changes = scaledBy(u, a.from, a.to, a.lengthM);
      if (typeof changes === 'string') throw new EditError(changes);
      Object.assign(u, changes);
      return `Picture under the plan scaled: ${fixed(a.lengthM)} m known, ${fixed(u.widthM)} m wide`;
    },
  ),
} satisfies Record<string, EditKind>;
