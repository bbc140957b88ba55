/** The day held to a meter: what it said against what the formulas give where it was held. */
import { glassTransmittance } from '../light/glass.ts';
import { bouncedLx, throughGap } from '../light/openings.ts';
import { cross, normalize, sub, type Vec3 } from '../maths/vec3.ts';
import { type RoomShape, roomBy } from '../shoot/rooms.ts';
import type { Day, DayReading, Place, Scene } from '../shoot/schema.ts';
import { type StillHalf, withMoving } from '../stage/assemble.ts';
import { signedArea } from '../stage/outline.ts';
import { FAR_M } from '../transport/far.ts';
import { reaches, type World, worldOf } from '../transport/intersect.ts';
import { outletsOf } from './gaps.ts';
import { passesOf } from './panes.ts';
import { luminanceOf, type SkyNow, skyNow, untold } from './skyNow.ts';
import { stillOf } from './still.ts';

/**
 * Lux a meter at a point reads of sky and far ground, turned to the opening that gives most there: straight through the
 * openings, past what stands still in the way (bars, curtains, a hedge outside), plus the room's mean of all bounces.
 * Sunshine itself is not in it, nor what people hide.
 */
export function expectedLx(place: Place, now: SkyNow, at: Vec3, grid = 32): number {
  const light = luminanceOf(now, place.outside?.ground.reflectance ?? 0.2);
  const outlets = outletsOf(place).filter((o) => o.opening?.light === undefined);
  const world = worldAt(place);
  const room = roomBy(place, [at[0], at[1]]);
  const own = (o: (typeof outlets)[number]) =>
    !place.rooms ||
    (o.opening ? o.opening.room === room.id : o.id === (room.id ? `roof-${room.id}` : 'roof'));
  let best = 0;
  let enters = 0;
  for (const o of outlets) {
    const glazed = o.opening?.fill === 'glass';
    const tint = passesOf(o.opening);
    const n = normalize(sub(o.middle, at));
    const lux = outlets.reduce((sum, p) => {
      const glass = passesOf(p.opening) * (p.opening?.fill === 'glass' ? glassTransmittance(0.8) : 1);
      // Downward one looks at ground that is lit, near or far alike.
      const through = (d: Vec3): number =>
        d[2] > 0 || !own(p) ? reaches(world, at[0], at[1], at[2], d[0], d[1], d[2], FAR_M) : glass;
      return sum + throughGap(p.gap, at, n, light, { grid, reaches: through });
    }, 0);
    best = Math.max(best, lux);
    // What comes in elsewhere and by a door bounces less here: left out.
    if (own(o)) enters += o.areaM2 * tint * (glazed ? glassTransmittance(0.7) : 1) * outsideLx(light, o.out);
  }
  const { areaM2, reflectance } = surfacesOf(place, room);
  return best + bouncedLx(enters, areaM2, reflectance);
}

const worlds = new Map<StillHalf, World>();
/** The place as rays meet it, nobody in it. */
function worldAt(place: Place): World {
  const { half } = stillOf(place);
  let world = worlds.get(half);
  if (!world) {
    world = worldOf(withMoving(half, [], {}));
    if (worlds.size > 4) worlds.clear();
    worlds.set(half, world);
  }
  return world;
}

/** Illuminance of an open plane with this normal under sky and ground, lux. */
function outsideLx(light: (d: Vec3) => number, normal: Vec3): number {
  const side: Vec3 = Math.abs(normal[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  const x = normalize(cross(side, normal));
  const y = cross(normal, x);
  const rings = 12;
  const spokes = 24;
  let sum = 0;
  for (let i = 0; i < rings; i++) {
    const c = Math.sqrt((i + 0.5) / rings);
    const s = Math.sqrt(1 - c * c);
    for (let j = 0; j < spokes; j++) {
      const a = ((j + 0.5) / spokes) * 2 * Math.PI;
      const d: Vec3 = [0, 1, 2].map(
        (k) => normal[k]! * c + x[k]! * s * Math.cos(a) + y[k]! * s * Math.sin(a),
      ) as unknown as Vec3;
      sum += light(d);
    }
  }
  return (Math.PI * sum) / (rings * spokes);
}

/** Inside of the shell: area and mean reflectance; openings count as 0.1. */
function surfacesOf(place: Place, room: RoomShape): { areaM2: number; reflectance: number } {
  const floor = Math.abs(signedArea(room.outline));
  const height = room.ceilingM ?? 3;
  let area = 2 * floor;
  let sum =
    floor * (room.floor.reflectance + (room.ceilingM === undefined ? 0 : (room.ceiling?.reflectance ?? 0.7)));
  room.outline.forEach((p, i) => {
    const q = room.outline[(i + 1) % room.outline.length]!;
    const wall = Math.hypot(q[0] - p[0], q[1] - p[1]) * height;
    area += wall;
    sum += wall * (room.wallFinishes?.[String(i)] ?? room.walls).reflectance;
  });
  for (const o of Object.values(place.openings)) {
    if (o.room !== room.id) continue;
    const hole = (o.toM - o.fromM) * (o.headM - o.sillM);
    sum += hole * (0.1 - (room.wallFinishes?.[String(o.wall)] ?? room.walls).reflectance);
  }
  return { areaM2: area, reflectance: Math.min(0.95, Math.max(0, sum / area)) };
}

/** Where a reading was taken. */
function placeOfReading(scene: Scene, r: DayReading): Vec3 | undefined {
  const mark = scene.marks[r.at];
  if (mark) return [mark.at[0], mark.at[1], mark.eyeM];
  const spot = scene.spots[r.at];
  return spot
    ? [
        spot.at[0] + 0.01 * spot.normal[0],
        spot.at[1] + 0.01 * spot.normal[1],
        spot.at[2] + 0.01 * spot.normal[2],
      ]
    : undefined;
}

/** The place with the neutral on its glass that was there when the meter was read: what is laid since darkens the room. */
function glazedAs(place: Place, r: DayReading): Place {
  const openings = Object.fromEntries(
    Object.entries(place.openings).map(([id, o]) => {
      const { panes: _, ...clear } = o;
      const panes = r.panes?.[id];
      return [id, panes?.length ? { ...clear, panes } : clear];
    }),
  ) as Place['openings'];
  return { ...place, openings };
}

const kept = new Map<string, number>();

/** How much the day is brighter than its formulas say, by the readings before and after, in stops between them. */
export function gainOf(scene: Scene, place: Place, day: Day): number {
  const readings = (day.readings ?? []).filter((r) => placeOfReading(scene, r));
  if (readings.length === 0) return 1;
  const gains = readings.map((r) => {
    const at = placeOfReading(scene, r)!;
    const then = glazedAs(place, r);
    const key = JSON.stringify([at, day.date, day.weather, day.skyType, r.hour, r.lux, placeKey(then)]);
    let g = kept.get(key);
    if (g === undefined) {
      const expected = expectedLx(then, skyNow(untold(day), place, r.hour), at);
      g = expected > 0 ? r.lux / expected : 1;
      if (kept.size > 100) kept.clear();
      kept.set(key, g);
    }
    return { hour: r.hour, g };
  });
  const { hour } = day;
  const after = gains.findIndex((x) => x.hour >= hour);
  // A level told is in the day's own figures already: the readings take its place.
  const told =
    day.levelLx === undefined ? 1 : skyNow(day, place).levelLx / skyNow(untold(day), place).levelLx;
  // How far between two readings: by the light itself where that moves one way, so that a falling day keeps falling.
  const log = (h: number): number => Math.log(skyNow(untold(day), place, h).skyLx);
  const share = (from: number, to: number): number => {
    const [a, m, b] = [log(from), log(hour), log(to)];
    if (Math.abs(b - a) > 0.2 && (m - a) * (m - b) <= 0) return (m - a) / (b - a);
    return to > from ? (hour - from) / (to - from) : 0;
  };
  const between = (): number => {
    if (after === 0) return gains[0]!.g;
    if (after < 0) return gains.at(-1)!.g;
    const [a, b] = [gains[after - 1]!, gains[after]!];
    return a.g ** (1 - share(a.hour, b.hour)) * b.g ** share(a.hour, b.hour);
  };
  return between() / told;
}

const placeKey = (p: Place): unknown => [
  p.outline,
  p.rooms,
  p.ceilingM,
  p.wallM,
  p.openings,
  p.floor.reflectance,
  p.walls.reflectance,
  p.ceiling?.reflectance,
  p.outside?.ground.reflectance,
  p.latitudeDeg,
  p.longitudeDeg,
  p.furniture,
  p.outside,
  p.utcOffsetH,
  p.northDeg,
];
