/** Names in a shoot that point at nothing, as sentences. */
import type { Shoot } from './schema.ts';

export function dangling(shoot: Shoot): string[] {
  const out: string[] = [];
  const want = (there: boolean, says: string) => {
    if (!there) out.push(says);
  };
  for (const [p, place] of Object.entries(shoot.places)) {
    const walls = place.outline.length;
    for (const [o, opening] of Object.entries(place.openings))
      want(
        opening.wall < walls,
        `Place ${p}, opening ${o}: there is no wall ${opening.wall} (walls are 0 to ${walls - 1}).`,
      );
    for (const [s, socket] of Object.entries(place.supply.sockets))
      want(
        socket.circuit in place.supply.circuits,
        `Place ${p}, socket ${s}: there is no circuit ${socket.circuit}.`,
      );
  }
  for (const [s, scene] of Object.entries(shoot.scenes)) {
    const place = shoot.places[scene.place];
    want(place !== undefined, `Scene ${s}: there is no place ${scene.place}.`);
    if (!place) continue;
    const sockets = place.supply.sockets;
    for (const [l, lamp] of Object.entries(scene.rig.lamps)) {
      const at = `Scene ${s}, lamp ${l}`;
      want(lamp.head in shoot.kit.lamps, `${at}: the kit has no head ${lamp.head}.`);
      if (!lamp.feed) continue;
      want(lamp.feed.socket in sockets, `${at}: the place has no socket ${lamp.feed.socket}.`);
      if (lamp.feed.via)
        want(lamp.feed.via in scene.rig.multiways, `${at}: the rig has no multiway ${lamp.feed.via}.`);
      for (const lead of lamp.feed.leads)
        want(lead.kit in shoot.kit.leads, `${at}: the kit has no lead ${lead.kit}.`);
    }
    for (const [m, way] of Object.entries(scene.rig.multiways))
      want(way.socket in sockets, `Scene ${s}, multiway ${m}: the place has no socket ${way.socket}.`);
    for (const [f, flag] of Object.entries(scene.rig.flags))
      for (const a of flag.angles ?? [])
        want(a in scene.angles, `Scene ${s}, flag ${f}: there is no angle ${a}.`);
    for (const [a, angle] of Object.entries(scene.angles)) {
      for (const l of Object.keys(angle.cheats))
        want(l in scene.rig.lamps, `Scene ${s}, angle ${a}: it cheats a lamp ${l} that the rig has not.`);
      for (const m of Object.keys(angle.facings ?? {}))
        want(m in scene.marks, `Scene ${s}, angle ${a}: it turns a mark ${m} that is not there.`);
    }
  }
  return out;
}
