/** The place as a hand on the plan meets it: what can be clamped to, what is left of the kit, where a lamp cannot be. */
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { KitThing, Shoot, Support } from '../shoot/schema.ts';
import { underfoot } from './room.ts';
import { cannotStand } from './standing.ts';

/** Of the things of this kind in the kit, the first that is not all in use in the angle. */
function spare(shoot: Shoot, ref: AngleRef, kind: string): { id: string; thing: KitThing } | undefined {
  const used = new Map<string, number>();
  for (const lamp of Object.values(rigFor(shoot, ref).lamps))
    if (lamp.support.kit !== undefined) used.set(lamp.support.kit, (used.get(lamp.support.kit) ?? 0) + 1);
  const found = Object.entries(shoot.kit.supports).find(
    ([id, thing]) => thing.kind === kind && thing.count > (used.get(id) ?? 0),
  );
  return found && { id: found[0], thing: found[1] };
}

export function groundOf(shoot: Shoot, ref: AngleRef) {
  const place = shoot.places[shoot.scenes[ref.scene]!.place]!;
  const clamp = spare(shoot, ref, 'clamp');
  const stand = spare(shoot, ref, 'stand');
  const kitOf = (s: Support) => (s.kit === undefined ? undefined : shoot.kit.supports[s.kit]);
  return {
    outline: place.outline,
    rooms: Object.values(place.rooms ?? {}).map((r) => r.outline),
    holders: Object.entries(place.rigging).map(([id, r]) => ({
      id,
      words: r.words ?? `the ${r.kind}`,
      from: r.from,
      to: r.to,
    })),
    refuses: (support: Support, at: readonly [number, number, number]) =>
      cannotStand(place, support, at, kitOf(support)),
    restsOn: (at: readonly [number, number]) => underfoot(place, at[0], at[1]),
    clamp: clamp && ({ kind: 'clamp', kit: clamp.id, bond: true } as Support),
    stand: stand && {
      support: {
        kind: 'stand',
        kit: stand.id,
        ...(stand.thing.footM === undefined ? {} : { footM: stand.thing.footM }),
      } as Support,
      lowestM: stand.thing.heightM?.[0] ?? 0.5,
      highestM: stand.thing.heightM?.[1] ?? 3,
    },
  };
}
