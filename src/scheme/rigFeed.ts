/** Which socket feeds each lamp, through which of the leads one owns; nearest first, no lead into a lead. */
import type { KitLamp as LampKind } from '../light/kitlamps.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { kitKind } from '../shoot/kit.ts';
import { regionWord } from '../shoot/region-words.ts';
import type { Feed, RigMultiway, Shoot } from '../shoot/schema.ts';
import { outletsOf } from '../shoot/usualRoom.ts';

export interface Fed {
  feeds: Record<string, Feed>;
  multiways: Record<string, RigMultiway>;
  /** What could not be had, in sentences. */
  gave: string[];
}

/** A head's own flex, metres, and slack at stand and socket (common practice, no source). */
const OWN_FLEX_M = 1.5;
const SLACK_M = 0.5;

/** What a lead must measure from a socket to a head: along the floor at right angles, up the stand, less its own flex. */
export const leadNeedM = (socket: Vec3, at: Vec3): number =>
  Math.abs(socket[0] - at[0]) + Math.abs(socket[1] - at[1]) + at[2] + SLACK_M - OWN_FLEX_M;

export function feedAll(
  shoot: Shoot,
  placeId: string,
  lamps: readonly { id: string; number: string; at: Vec3; kind: LampKind }[],
): Fed {
  const supply = shoot.places[placeId]!.supply;
  const word = (w: 'socket' | 'lead') => regionWord(supply.region, w);
  const gave: string[] = [];
  const feeds: Fed['feeds'] = {};
  const multiways: Fed['multiways'] = {};
  const free = new Map<string, number>();
  for (const [id, s] of Object.entries(supply.sockets)) if (!s.dead) free.set(id, outletsOf(s.kind));
  for (const c of Object.values(supply.circuits))
    for (const l of Object.values(c.houseLoads))
      if (l.on && l.socket !== undefined && free.has(l.socket)) free.set(l.socket, free.get(l.socket)! - 1);
  // Leads whose plug fits here, shortest first; each once as often as it is owned.
  const leads = Object.entries(shoot.kit.leads)
    .filter(([, t]) => {
      const regions = kitKind(t.kind)?.regions;
      return !regions || regions.includes(supply.region);
    })
    .flatMap(([id, t]) =>
      Array.from({ length: t.count }, () => ({ id, lengthM: t.lengthM ?? 5, reel: t.reel ?? false })),
    )
    .sort((a, b) => a.lengthM - b.lengthM || Number(a.reel) - Number(b.reel));
  const blocks = Object.entries(shoot.kit.multiways).flatMap(([id, t]) =>
    Array.from({ length: t.count }, () => ({ id, thing: t })),
  );
  const hangs = new Map<string, string[]>();

  // The heaviest first: it gets the nearest outlet to itself.
  for (const lamp of [...lamps].sort((a, b) => b.kind.watts - a.kind.watts)) {
    if (lamp.kind.supply !== 'mains') continue;
    const near = [...free.keys()]
      .map((socket) => ({ socket, need: leadNeedM(supply.sockets[socket]!.at, lamp.at) }))
      .sort((a, b) => a.need - b.need);
    if (near.length === 0) {
      gave.push(`No live ${word('socket')} is told: ${lamp.number} is not plugged in.`);
      continue;
    }
    const fits = (need: number): number => (need <= 0 ? -1 : leads.findIndex((l) => l.lengthM >= need));
    const reach = (need: number): boolean => need <= 0 || fits(need) >= 0;
    let chosen = near.find((n) => free.get(n.socket)! > 0 && reach(n.need));
    if (!chosen) {
      // A block makes outlets of one; what was in the socket moves onto it.
      const at = near.find((n) => reach(n.need)) ?? near[0]!;
      const block = free.get(at.socket)! <= 0 ? blocks.shift() : undefined;
      if (block) {
        const id = `M${Object.keys(multiways).length + 1}`;
        const { ratingA, ways } = block.thing;
        multiways[id] = {
          kit: block.id,
          socket: at.socket,
          leads: [],
          ...(block.thing.words === undefined ? {} : { words: block.thing.words }),
          ...(ratingA === undefined ? {} : { ratingA }),
          ...(ways === undefined ? {} : { ways }),
        };
        const moved = hangs.get(at.socket)?.shift();
        if (moved !== undefined) feeds[moved]!.via = id;
        free.set(at.socket, (ways ?? 3) - (moved === undefined ? 0 : 1));
      } else if (free.get(at.socket)! <= 0)
        gave.push(`There are more plugs than outlets: ${lamp.number} wants a block of its own.`);
      chosen = at;
    }
    const feed: Feed = { socket: chosen.socket, leads: [] };
    const via = Object.entries(multiways).find(([, m]) => m.socket === chosen.socket)?.[0];
    if (via) feed.via = via;
    if (chosen.need > 0) {
      const k = fits(chosen.need);
      if (k >= 0) feed.leads.push({ kit: leads.splice(k, 1)[0]!.id, coiled: false });
      else {
        const longest = leads.pop();
        if (longest) feed.leads.push({ kit: longest.id, coiled: false });
        gave.push(
          `${lamp.number} wants a ${word('lead')} of ${Math.ceil(chosen.need)} m to ${chosen.socket}${longest ? `; the longest left is ${longest.lengthM} m` : ', and none is left'}.`,
        );
      }
    }
    feeds[lamp.id] = feed;
    hangs.set(chosen.socket, [...(hangs.get(chosen.socket) ?? []), lamp.id]);
    free.set(chosen.socket, free.get(chosen.socket)! - 1);
  }
  return { feeds, multiways, gave };
}
