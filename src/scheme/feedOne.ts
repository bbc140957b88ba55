/** Where one more lamp is plugged in, with everything that is plugged in already left as it is. */
import type { Vec3 } from '../maths/vec3.ts';
import { kitKind } from '../shoot/kit.ts';
import { regionWord } from '../shoot/region-words.ts';
import type { Feed, Shoot } from '../shoot/schema.ts';
import { outletsOf } from '../shoot/usualRoom.ts';
import { leadNeedM } from './rigFeed.ts';

/** The nearest live outlet that is free, by the shortest lead left that reaches; without: why it is not plugged in. */
export function feedOne(shoot: Shoot, sceneId: string, at: Vec3): { feed?: Feed; gave: string[] } {
  const scene = shoot.scenes[sceneId]!;
  const supply = shoot.places[scene.place]!.supply;
  const free = new Map<string, number>();
  for (const [id, s] of Object.entries(supply.sockets))
    if (!s.dead && s.keepOff === undefined) free.set(id, outletsOf(s.kind));
  const take = (socket: string | undefined) => {
    if (socket !== undefined && free.has(socket)) free.set(socket, free.get(socket)! - 1);
  };
  for (const c of Object.values(supply.circuits))
    for (const l of Object.values(c.houseLoads)) if (l.on) take(l.socket);
  const ways = new Map<string, number>();
  for (const [id, m] of Object.entries(scene.rig.multiways)) {
    take(m.socket);
    ways.set(id, m.ways ?? 3);
  }
  const used = new Map<string, number>();
  const uses = (leads: readonly { kit: string }[]) => {
    for (const l of leads) used.set(l.kit, (used.get(l.kit) ?? 0) + 1);
  };
  for (const m of Object.values(scene.rig.multiways)) uses(m.leads);
  for (const l of Object.values(scene.rig.lamps)) {
    if (!l.feed) continue;
    uses(l.feed.leads);
    if (l.feed.via === undefined) take(l.feed.socket);
    else ways.set(l.feed.via, (ways.get(l.feed.via) ?? 0) - 1);
  }
  const leads = Object.entries(shoot.kit.leads)
    .filter(([id, t]) => {
      const regions = kitKind(t.kind)?.regions;
      return t.count > (used.get(id) ?? 0) && (!regions || regions.includes(supply.region));
    })
    .map(([id, t]) => ({ id, lengthM: t.lengthM ?? 5 }))
    .sort((a, b) => a.lengthM - b.lengthM);
  const near = [
    ...[...free].filter(([, n]) => n > 0).map(([socket]) => ({ socket })),
    ...[...ways].filter(([, n]) => n > 0).map(([via]) => ({ socket: scene.rig.multiways[via]!.socket, via })),
  ]
    .flatMap((o) => {
      const s = supply.sockets[o.socket];
      return s ? [{ ...o, needM: leadNeedM(s.at as Vec3, at) }] : [];
    })
    .sort((a, b) => a.needM - b.needM);
  const [socketWord, leadWord] = [regionWord(supply.region, 'socket'), regionWord(supply.region, 'lead')];
  const first = near[0];
  if (!first) return { gave: [`no live ${socketWord} is free, so it is not plugged in`] };
  for (const o of near) {
    const lead = o.needM <= 0 ? undefined : leads.find((l) => l.lengthM >= o.needM);
    if (o.needM > 0 && !lead) continue;
    const { needM: _n, ...at0 } = o;
    return { feed: { ...at0, leads: lead ? [{ kit: lead.id, coiled: false }] : [] }, gave: [] };
  }
  const { needM, ...at0 } = first;
  return {
    feed: { ...at0, leads: [] },
    gave: [`it wants a ${leadWord} of ${Math.ceil(needM)} m to ${first.socket}, and none so long is left`],
  };
}
