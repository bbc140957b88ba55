/**
 * Where can they stand: for a face turned one way, at every point of the floor what an incident meter would read
 * against the set stop, from which side the key comes, and whether light gets into the eyes. The same meters as at a
 * mark (`measure.ts`), held point by point in the place without that person; the person's own brow and nose are asked
 * apart, on the figure alone.
 */
import { dot, normalize, sub, type Vec3 } from '../maths/vec3.ts';
import { type AngleGeometry, type AngleWeights, lightsOf, type MarkGeometry } from '../setup/angle.ts';
import { meterToward, type Probe, probePoints } from '../setup/probes.ts';
import { assemble } from '../stage/assemble.ts';
import { cellPlace } from '../stage/people/faceGrid.ts';
import type { Body } from '../stage/stage.ts';
import { gather, NO_GUIDE } from '../transport/quick/gather.ts';
import type { LayerField, Room } from '../transport/quick/quick.ts';
import { closedLinks } from '../transport/quick/solve.ts';
import type { AbortSignalLike, SurfacePoints, Tracer } from '../transport/tracer.ts';
import { bearing } from './bearing.ts';
import { SAMPLES } from './lightAt.ts';
import { type LampAtFace, rolesAt } from './roles.ts';
import type { FloorGrid } from './standGrid.ts';

/** Points asked on every emitter, and links a meter has for what bounces: a map is looked at, not read off. */
const EMITTER_SAMPLES = 6;
const LINKS = 48;
/** Every so many cells of the face stand for it. */
const FACE_STEP = 7;
/** Directions to a lamp this near to each other shade a face alike, degrees. */
const ALIKE_DEG = 4;

/**
 * What was traced at the points of the floor: rated light, bare; no ray for a dimmer, a gel, a stop. A lamp is asked
 * once, by the meter that is turned to it: on another meter its light falls by the cosine between the two, which is
 * exact for a small lamp. Daylight comes from all round and is asked by every meter.
 */
export interface StandLight {
  grid: FloorGrid;
  eyeM: number;
  facingDeg: number;
  /** By light, in the order of `lightsOf`: inverse square back to the eyes, and lux by layer, of those asked. */
  toward: { nearer: Float32Array; layers: Map<number, Float32Array> }[];
  /** Turned as the face is: lux of daylight's layers; by layer 12 of what bounces. */
  front: { layers: Map<number, Float32Array>; bounced: Float32Array[] };
}

export interface StandPoint {
  at: readonly [number, number];
  /** Incident light over the set stop, stops; −∞: none. */
  overStops: number;
  key: string | undefined;
  side: 'left' | 'right' | undefined;
  /** How many eyes light gets into, 0–2; undefined: no figure to ask. */
  eyes: number | undefined;
}

export interface StandMap {
  grid: FloorGrid;
  points: StandPoint[];
}

const aheadOf = (facingDeg: number): Vec3 => {
  const a = (facingDeg * Math.PI) / 180;
  return [Math.cos(a), Math.sin(a), 0];
};
const eyesAt = (grid: FloorGrid, i: number, eyeM: number): Vec3 => {
  const [x, y] = grid.points[i]!;
  return [x, y, eyeM];
};

/** `angle` is the place without the person; the tracer has it loaded. `room`: for what bounces; absent: direct alone. */
export async function standLight(
  tracer: Tracer,
  angle: AngleGeometry,
  grid: FloorGrid,
  face: { eyeM: number; facingDeg: number },
  bounce: { room: Room; fields: readonly LayerField[] } | undefined,
  options: { seed: number; signal?: AbortSignalLike },
): Promise<StandLight> {
  const lights = lightsOf(angle);
  const n = grid.points.length;
  const asked = { ...options, samples: EMITTER_SAMPLES };
  const day = angle.daylight.flatMap((d) => d.layers);
  const ask = async (points: SurfacePoints, layers: readonly number[]) => {
    const out = new Map<number, Float32Array>();
    for (const l of new Set(layers)) out.set(l, (await tracer.direct(points, l, asked)).diffuse);
    return out;
  };
  const toward: StandLight['toward'] = [];
  for (const light of lights) {
    const probes = grid.points.map((_, i) =>
      meterToward(eyesAt(grid, i, face.eyeM), light.at, face.facingDeg),
    );
    const broad = angle.daylight.includes(light);
    toward.push({
      nearer: Float32Array.from(probes, (p) => (broad ? 1 : p.nearer)),
      layers: await ask(probePoints(probes), [...light.layers, ...day]),
    });
  }
  const ahead = aheadOf(face.facingDeg);
  const points = probePoints(
    grid.points.map((_, i): Probe => {
      const eyes = eyesAt(grid, i, face.eyeM);
      return meterToward(eyes, [eyes[0] + ahead[0], eyes[1] + ahead[1], eyes[2]]);
    }),
  );
  const links = bounce && closedLinks(await tracer.links(points, LINKS, options), bounce.room.patches.count);
  const front: StandLight['front'] = { layers: await ask(points, day), bounced: [] };
  for (let l = 0; l < angle.transport.layers.length; l++) {
    const f = bounce?.fields[l];
    front.bounced.push(
      f && links
        ? await gather(tracer, bounce.room.patches, f.field, NO_GUIDE, points, links, LINKS, {
            ...options,
            guided: 0,
            sheen: f.sheen,
          })
        : new Float32Array(n * SAMPLES),
    );
  }
  return { grid, ...face, toward, front };
}

/** How a figure's own head shades its face: for a direction, the cosines that are left at some cells of it. */
export interface FaceShade {
  /** Of these cells the first so many are the left eye's, then the right eye's. */
  left: number;
  right: number;
  at: (dir: Vec3) => Float32Array;
}

/** Asks the figure alone, for every direction its lamps come from at the points. Leaves the figure loaded. */
export async function faceShade(
  tracer: Tracer,
  mark: MarkGeometry,
  body: Body,
  directions: readonly Vec3[],
  options: { signal?: AbortSignalLike },
): Promise<FaceShade | undefined> {
  const grid = mark.faceGrid;
  if (!grid) return undefined;
  const cells: { left: number[]; right: number[]; rest: number[] } = { left: [], right: [], rest: [] };
  for (let i = 0; i < grid.there.length; i++) {
    if (!grid.there[i]) continue;
    const { upM, leftM } = cellPlace(i);
    // The eyes as `readFace` finds them: 31 mm to each side of the middle, within 6 mm.
    if (Math.abs(upM) <= 0.005 && Math.abs(leftM - 0.031) <= 0.006) cells.left.push(i);
    else if (Math.abs(upM) <= 0.005 && Math.abs(-leftM - 0.031) <= 0.006) cells.right.push(i);
    else if (i % FACE_STEP === 0) cells.rest.push(i);
  }
  const all = [...cells.left, ...cells.right, ...cells.rest];
  const keys = new Map<string, Vec3>();
  for (const d of directions) keys.set(alike(d), keys.get(alike(d)) ?? d);
  await tracer.load({ stage: assemble([body]), layers: [] });
  const from = new Float32Array(3 * all.length * keys.size);
  const to = new Float32Array(from.length);
  let k = 0;
  for (const d of keys.values())
    for (const cell of all) {
      for (let c = 0; c < 3; c++) {
        from[k] = grid.position[3 * cell + c]!;
        to[k] = from[k]! + 0.6 * d[c]!;
        k++;
      }
    }
  const passed = await tracer.passes(from, to, options);
  const found = new Map<string, Float32Array>();
  let first = 0;
  for (const [key, d] of keys) {
    const own = new Float32Array(all.length);
    all.forEach((cell, i) => {
      const cos =
        grid.normal[3 * cell]! * d[0] + grid.normal[3 * cell + 1]! * d[1] + grid.normal[3 * cell + 2]! * d[2];
      own[i] = Math.max(0, cos) * passed[first + i]!;
    });
    first += all.length;
    found.set(key, own);
  }
  return { left: cells.left.length, right: cells.right.length, at: (dir) => found.get(alike(dir))! };
}

const alike = (d: Vec3): string => {
  const az = Math.round((Math.atan2(d[1], d[0]) * 180) / Math.PI / ALIKE_DEG);
  return `${az},${Math.round((Math.asin(Math.max(-1, Math.min(1, d[2]))) * 180) / Math.PI / ALIKE_DEG)}`;
};

/** All the ways that lamps shine at the points. */
export const directionsOf = (angle: AngleGeometry, light: StandLight): Vec3[] =>
  lightsOf(angle).flatMap((lamp) =>
    light.grid.points.map((_, i) => normalize(sub(lamp.at, eyesAt(light.grid, i, light.eyeM)))),
  );

/** From what was traced and what burns how: the map. No ray. */
export function standMap(
  angle: AngleGeometry,
  weights: AngleWeights,
  light: StandLight,
  eRefLx: number,
  shade: FaceShade | undefined,
): StandMap {
  const lights = lightsOf(angle);
  const luminous = (l: number) => weights.layers[l]!.white[1];
  const ahead = aheadOf(light.facingDeg);
  const points = light.grid.points.map((at, i): StandPoint => {
    const eyes = eyesAt(light.grid, i, light.eyeM);
    const to = lights.map((l) => normalize(sub(l.at, eyes)));
    const bounceOf = (l: number) => {
      const w = weights.layers[l]!;
      let sum = 0;
      for (let k = 0; k < SAMPLES; k++)
        sum += w.matrix[SAMPLES + k]! * light.front.bounced[l]![i * SAMPLES + k]!;
      return sum * (w.bounceGain ?? 1);
    };
    const sum = (n: number, of: (l: number) => number) =>
      lights[n]!.layers.reduce((s, l) => s + luminous(l) * of(l), 0);
    const own = lights.map((_, n) => sum(n, (l) => light.toward[n]!.layers.get(l)![i]!));
    // Direct lux of light `n` on a meter turned `way`, of which `layers` were asked.
    const on = (n: number, way: Vec3, layers: ReadonlyMap<number, Float32Array>): number =>
      angle.daylight.includes(lights[n]!)
        ? sum(n, (l) => layers.get(l)![i]!)
        : own[n]! * Math.max(0, dot(to[n]!, way));
    const rows = lights.map(
      (lamp, n): LampAtFace => ({
        lamp: lamp.id,
        bearing: bearing(eyes, light.facingDeg, lamp.at),
        directLx: own[n]! * light.toward[n]!.nearer[i]!,
        frontLx: on(n, ahead, light.front.layers),
        bouncedLx: lamp.layers.reduce((s, l) => s + bounceOf(l), 0),
        practicalInFrame: false,
        backgroundShare: 0,
      }),
    );
    const bouncedLx = rows.reduce((s, r) => s + r.bouncedLx, 0);
    const roles = rolesAt(rows, eRefLx, bouncedLx);
    const k = rows.findIndex((r) => roles.get(r.lamp) === 'key');
    const key = rows[k];
    // The meter toward the key, all lamps burning; without a key as the face looks.
    let incident = bouncedLx;
    rows.forEach((r, n) => {
      if (!key) incident += r.frontLx;
      else incident += n === k ? r.directLx : on(n, to[k]!, light.toward[k]!.layers);
    });
    return {
      at,
      overStops: incident > 0 ? Math.log2(incident / eRefLx) : Number.NEGATIVE_INFINITY,
      key: key?.lamp,
      side: key?.bearing.side,
      eyes: shade && eyesLit(shade, rows, to, bouncedLx),
    };
  });
  return { grid: light.grid, points };
}

/** An eye is lit where a quarter of it has light within two stops of the face's lit part, as `readFace` has it. */
function eyesLit(
  shade: FaceShade,
  rows: readonly { directLx: number }[],
  directions: readonly Vec3[],
  bouncedLx: number,
): number {
  let total: Float32Array | undefined;
  rows.forEach((r, n) => {
    if (r.directLx <= 0) return;
    const own = shade.at(directions[n]!);
    total ??= new Float32Array(own.length).fill(bouncedLx);
    for (let i = 0; i < own.length; i++) total[i]! += own[i]! * r.directLx;
  });
  if (!total) return 0;
  const sorted = Float32Array.from(total).sort();
  const level = sorted[Math.floor(0.9 * sorted.length)]!;
  const lit = (from: number, n: number) => {
    let over = 0;
    for (let i = from; i < from + n; i++) if (total![i]! > level / 4) over++;
    return over >= Math.max(1, n / 4);
  };
  return Number(lit(0, shade.left)) + Number(lit(shade.left, shade.right));
}
