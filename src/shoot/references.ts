/** Names in a shoot that point at nothing, as sentences. */
import type { Feed, Place, Scene, Shoot, Support } from './schema.ts';

/** Own keys only: `toString` is in no shoot. */
const has = (group: object, id: string): boolean => Object.hasOwn(group, id);

/** What a shoot cannot be reckoned without; with any of these it does not open, and no edit may leave one. */
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
        has(place.supply.circuits, socket.circuit),
        `Place ${p}, socket ${s}: there is no circuit ${socket.circuit}.`,
      );
    for (const [c, circuit] of Object.entries(place.supply.circuits))
      for (const [l, load] of Object.entries(circuit.houseLoads))
        want(
          load.socket === undefined || has(place.supply.sockets, load.socket),
          `Place ${p}, circuit ${c}, house load ${l}: there is no socket ${load.socket}.`,
        );
  }
  for (const [s, scene] of Object.entries(shoot.scenes)) {
    const place = has(shoot.places, scene.place) ? shoot.places[scene.place] : undefined;
    want(place !== undefined, `Scene ${s}: there is no place ${scene.place}.`);
    if (place) sceneDangles(shoot, s, scene, place, want);
  }
  return out;
}

function sceneDangles(
  shoot: Shoot,
  s: string,
  scene: Scene,
  place: Place,
  want: (there: boolean, says: string) => void,
): void {
  const sockets = place.supply.sockets;
  const leads = (who: string, feed: Pick<Feed, 'leads'>) => {
    for (const lead of feed.leads)
      want(has(shoot.kit.leads, lead.kit), `${who}: the kit has no lead ${lead.kit}.`);
  };
  for (const [l, lamp] of Object.entries(scene.rig.lamps)) {
    const who = `Scene ${s}, lamp ${l}`;
    want(has(shoot.kit.lamps, lamp.head), `${who}: the kit has no head ${lamp.head}.`);
    if (!lamp.feed) continue;
    const { socket, via } = lamp.feed;
    want(has(sockets, socket), `${who}: the place has no socket ${socket}.`);
    if (via !== undefined) {
      want(has(scene.rig.multiways, via), `${who}: the rig has no multiway ${via}.`);
      const on = has(scene.rig.multiways, via) ? scene.rig.multiways[via]!.socket : socket;
      want(on === socket, `${who}: it is fed through ${via}, which is on socket ${on}, not ${socket}.`);
    }
    leads(who, lamp.feed);
  }
  for (const [m, way] of Object.entries(scene.rig.multiways)) {
    const who = `Scene ${s}, multiway ${m}`;
    want(has(sockets, way.socket), `${who}: the place has no socket ${way.socket}.`);
    leads(who, way);
  }
  for (const [f, flag] of Object.entries(scene.rig.flags))
    for (const a of flag.angles ?? [])
      want(has(scene.angles, a), `Scene ${s}, flag ${f}: there is no angle ${a}.`);
  for (const [a, angle] of Object.entries(scene.angles)) {
    for (const l of Object.keys(angle.cheats))
      want(has(scene.rig.lamps, l), `Scene ${s}, angle ${a}: it cheats a lamp ${l} that the rig has not.`);
    for (const [m, index] of Object.entries(angle.facings ?? {})) {
      const mark = has(scene.marks, m) ? scene.marks[m] : undefined;
      want(mark !== undefined, `Scene ${s}, angle ${a}: it turns a mark ${m} that is not there.`);
      if (mark)
        want(
          index < mark.facings.length,
          `Scene ${s}, angle ${a}: mark ${m} has ${mark.facings.length} facing${mark.facings.length > 1 ? 's' : ''}, it asks for number ${index + 1}.`,
        );
    }
  }
}

/** Names that lead nowhere yet harm nothing: told when the shoot opens, kept as they are. */
export function looseEnds(shoot: Shoot): string[] {
  const out: string[] = [];
  const tell = (there: boolean, says: string) => {
    if (!there) out.push(says);
  };
  for (const [s, scene] of Object.entries(shoot.scenes)) {
    const place = shoot.places[scene.place];
    const holds = (who: string, support: Support | undefined) => {
      if (support?.kit !== undefined)
        tell(has(shoot.kit.supports, support.kit), `${who}: the kit has no support ${support.kit}.`);
      if (support?.on !== undefined && place)
        tell(
          has(place.rigging, support.on) ||
            has(place.furniture, support.on) ||
            has(place.outside?.furniture ?? {}, support.on),
          `${who}: it holds to ${support.on}, which the place has not.`,
        );
    };
    for (const [l, lamp] of Object.entries(scene.rig.lamps)) holds(`Scene ${s}, lamp ${l}`, lamp.support);
    for (const [f, flag] of Object.entries(scene.rig.flags)) holds(`Scene ${s}, flag ${f}`, flag.support);
    for (const [m, way] of Object.entries(scene.rig.multiways))
      tell(
        way.kit === undefined || has(shoot.kit.multiways, way.kit),
        `Scene ${s}, multiway ${m}: the kit has no multiway ${way.kit}.`,
      );
    for (const [m, mark] of Object.entries(scene.marks))
      for (const a of mark.present ?? [])
        tell(has(scene.angles, a), `Scene ${s}, mark ${m}: there is no angle ${a}.`);
    const balances = [
      scene.camera.whiteBalance,
      ...Object.values(scene.angles).map((a) => a.camera?.whiteBalance),
    ];
    for (const b of balances) {
      if (b?.kind !== 'read') continue;
      if (typeof b.at === 'string')
        tell(
          has(scene.marks, b.at) || has(scene.spots, b.at),
          `Scene ${s}: the camera is balanced at ${b.at}, which is neither a mark nor a spot.`,
        );
      for (const l of b.lamps ?? [])
        tell(
          has(scene.rig.lamps, l),
          `Scene ${s}: the camera is balanced under a lamp ${l} that the rig has not.`,
        );
    }
    for (const [a, angle] of Object.entries(scene.angles)) {
      for (const w of angle.wishes) {
        tell(
          w.mark === undefined || has(scene.marks, w.mark),
          `Scene ${s}, angle ${a}: it wishes for a mark ${w.mark} that is not there.`,
        );
        tell(
          w.spot === undefined || has(scene.spots, w.spot),
          `Scene ${s}, angle ${a}: it wishes for a spot ${w.spot} that is not there.`,
        );
      }
      for (const m of angle.meant)
        tell(
          m.lamp === undefined || has(scene.rig.lamps, m.lamp),
          `Scene ${s}, angle ${a}: a trouble of a lamp ${m.lamp} is meant, and the rig has no such lamp.`,
        );
    }
  }
  return out;
}
