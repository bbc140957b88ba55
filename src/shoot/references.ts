/** What a shoot says that cannot be: names that point at nothing, directions without length. As sentences. */
import { outlineOf, roomsIn, tooNear } from './rooms.ts';
import type { Feed, Place, Scene, Shoot, Support } from './schema.ts';

/** Own keys only: `toString` is in no shoot. */
const has = (group: object, id: string): boolean => Object.hasOwn(group, id);

/** What cannot be reckoned with; with any of these a shoot does not open, and no edit may leave one. */
export function faults(shoot: Shoot): string[] {
  const out: string[] = [];
  const want = (there: boolean, says: string) => {
    if (!there) out.push(says);
  };
  for (const [p, place] of Object.entries(shoot.places)) {
    for (const room of roomsIn(place)) {
      const area = areaM2(room.outline);
      want(
        area > 0.01,
        `Place ${p}${room.id === undefined ? '' : `, room ${room.id}`}: its outline ${area < -0.01 ? 'runs clockwise; list its corners the other way round' : 'encloses no floor'}.`,
      );
    }
    for (const [a, b] of tooNear(place))
      want(
        false,
        `Place ${p}: ${a} and ${b} share floor, or a wall without thickness; leave 2 cm at least between their walls.`,
      );
    for (const [o, opening] of Object.entries(place.openings)) {
      const who = `Place ${p}, opening ${o}`;
      const outline = outlineOf(place, opening);
      want(outline !== undefined, `${who}: there is no room ${opening.room}.`);
      const walls = outline?.length ?? Number.POSITIVE_INFINITY;
      want(opening.wall < walls, `${who}: there is no wall ${opening.wall} (walls are 0 to ${walls - 1}).`);
      want(
        opening.fromM < opening.toM,
        `${who}: it ends (${opening.toM} m) before it begins (${opening.fromM} m).`,
      );
      want(
        opening.sillM < opening.headM,
        `${who}: its head (${opening.headM} m) is not above its sill (${opening.sillM} m).`,
      );
    }
    want(
      (place.latitudeDeg === undefined) === (place.longitudeDeg === undefined),
      `Place ${p}: latitude and longitude go together.`,
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
    if (scene.day) want(isDate(scene.day.date), `Scene ${s}: there is no day ${scene.day.date}.`);
    if (place) sceneFaults(shoot, s, scene, place, want);
  }
  return out;
}

/** Is it a day of the calendar, as 2026-11-27? */
function isDate(date: string): boolean {
  const [y, m, d] = date.split('-').map(Number) as [number, number, number];
  const leap = (y % 4 === 0 && y % 100 !== 0) || y % 400 === 0;
  return (
    m >= 1 && m <= 12 && d >= 1 && d <= [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][m - 1]!
  );
}

const ORIGIN = [0, 0, 0];
const apart = (a: readonly number[], b: readonly number[]): boolean =>
  Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!) > 1e-6;

/** Floor area, square metres; negative where the corners run clockwise. */
const areaM2 = (outline: Place['outline']): number =>
  outline.reduce((sum, [x, y], i) => {
    const [x1, y1] = outline[(i + 1) % outline.length]!;
    return sum + (x * y1 - x1 * y) / 2;
  }, 0);

function sceneFaults(
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
    want(apart(lamp.at, lamp.aim), `${who}: it aims at itself.`);
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
  for (const [f, flag] of Object.entries(scene.rig.flags)) {
    want(apart(flag.facing, ORIGIN), `Scene ${s}, flag ${f}: its facing has no direction.`);
    for (const a of flag.angles ?? [])
      want(has(scene.angles, a), `Scene ${s}, flag ${f}: there is no angle ${a}.`);
  }
  for (const [p, spot] of Object.entries(scene.spots))
    want(apart(spot.normal, ORIGIN), `Scene ${s}, spot ${p}: its normal has no direction.`);
  for (const [a, angle] of Object.entries(scene.angles)) {
    want(apart(angle.at, angle.lookAt), `Scene ${s}, angle ${a}: the lens looks at itself.`);
    for (const [l, cheat] of Object.entries(angle.cheats)) {
      const lamp = has(scene.rig.lamps, l) ? scene.rig.lamps[l] : undefined;
      want(lamp !== undefined, `Scene ${s}, angle ${a}: it cheats a lamp ${l} that the rig has not.`);
      if (lamp)
        want(
          apart(cheat.at ?? lamp.at, cheat.aim ?? lamp.aim),
          `Scene ${s}, angle ${a}: lamp ${l} aims at itself there.`,
        );
    }
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
  for (const [p, place] of Object.entries(shoot.places))
    for (const [o, opening] of Object.entries(place.openings)) {
      const outline = outlineOf(place, opening) ?? place.outline;
      const a = outline[opening.wall]!;
      const b = outline[(opening.wall + 1) % outline.length]!;
      const wallM = Math.hypot(b[0] - a[0], b[1] - a[1]);
      tell(
        opening.fromM > -0.005 && opening.toM < wallM + 0.005,
        `Place ${p}, opening ${o}: it reaches past the end of its wall (${wallM.toFixed(2)} m).`,
      );
    }
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
    for (const [a, angle] of Object.entries(scene.angles))
      if (angle.cutFrom !== undefined)
        tell(
          has(scene.angles, angle.cutFrom),
          `Scene ${s}, angle ${a}: it is cut from ${angle.cutFrom}, which is not there.`,
        );
    for (const [m, way] of Object.entries(scene.rig.multiways))
      tell(
        way.kit === undefined || has(shoot.kit.multiways, way.kit),
        `Scene ${s}, multiway ${m}: the kit has no multiway ${way.kit}.`,
      );
    if (scene.day && place && place.latitudeDeg === undefined)
      tell(false, `Scene ${s}: it has a day, but place ${scene.place} has no latitude; 52° north is taken.`);
    for (const r of scene.day?.readings ?? [])
      tell(
        has(scene.marks, r.at) || has(scene.spots, r.at),
        `Scene ${s}: daylight was read at ${r.at}, which is neither a mark nor a spot.`,
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
