/**
 * A room as bodies: floor, ceiling, each wall with its inside, outside and reveals, what is in the openings, and the
 * ground around. Together floor, walls and ceiling are one closed shell, so that no light slips in at a corner.
 */
import { add, DEG, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { panel } from './build.ts';
import { type FinishSpec, materialOf } from './finish.ts';
import { bodyOf, type Draft, draft, newPatch, polygon, slotOf } from './mesh.ts';
import { leafBody, paneBody, shutBody } from './opening.ts';
import { clipToBox, convexPieces, meets, setOut, signedArea, subtract, type Vec2 } from './outline.ts';
import { within } from './party.ts';
import { gable, type Plane, planesOf, type SlopeSpec, slopedPlate, steepest, under } from './slope.ts';
import type { Body, PartKind } from './stage.ts';

/** A hole in a wall and what fills it. */
export interface OpeningSpec {
  kind: 'door' | 'window' | 'gap';
  words?: string;
  /** Wall i runs from outline corner i to corner i + 1. */
  wall: number;
  /** Along the wall from its first corner, metres. */
  fromM: number;
  toM: number;
  sillM: number;
  headM: number;
  fill: 'open' | 'shut' | 'glass';
  /** A hinged leaf of an open door stands this far open; hinged at `fromM`, into the room; minus: outward. */
  leafDeg?: number;
  /** Of leaf or frame; absent: as the wall (leaf), white gloss (frame). */
  finish?: FinishSpec;
  /** Glazing bars between the panes: standing, lying. */
  bars?: readonly [across: number, up: number];
  /** What neutral sheets on the glass pass, 0–1; absent: bare. */
  passes?: number;
  /** Into another room: how thick the wall between is, metres; absent: as all walls. */
  deepM?: number;
}

/** A room as its neighbours have to know it. */
export interface Neighbour {
  outline: readonly Vec2[];
  heightM: number;
}

/** A room as told. */
export interface RoomSpec {
  /** Floor corners, metres, counter-clockwise seen from above. */
  outline: readonly Vec2[];
  /** Absent: no ceiling, walls 3 m. */
  ceilingM?: number;
  /** Parts of the ceiling that rise from walls, under `ceilingM`; the roof lies over them. */
  slopes?: readonly SlopeSpec[];
  floor: FinishSpec;
  ceiling?: FinishSpec;
  walls: FinishSpec;
  /** Walls that differ, by number. */
  wallFinishes?: Readonly<Record<string, FinishSpec>>;
  openings: Readonly<Record<string, OpeningSpec>>;
  /** `reach`: the ground runs at least this far west, south, east, north, metres of the plan. */
  outside?: {
    groundM: number;
    ground: FinishSpec;
    reach?: readonly [west: number, south: number, east: number, north: number];
  };
  /** Thickness of walls, floor and roof, metres; absent: 0.2. Boards are thinner, and narrow a beam less. */
  wallM?: number;
  /** Put before the names of its parts, so that they differ from another room's: `hall:`. */
  id?: string;
  /** What it is called: “of the hall”; absent: the only room. */
  of?: string;
  /** Rooms beside it: nothing of this one's outside is drawn inside them. */
  beside?: readonly Neighbour[];
  /** Holes that openings of other rooms make in its walls. */
  cuts?: readonly { wall: number; u0: number; u1: number; v0: number; v1: number }[];
  /** Largest side of a patch inside, metres; absent: `patchOfRoom`. */
  patchM?: number;
}

/** Thickness of walls, floor and roof where nobody tells it, metres (judgement: a brick and plaster). */
export const WALL_M = 0.2;
/** Inside faces run on this far behind each other at corners, metres: a ray aimed at the very edge is stopped. */
const LAP_M = 2e-5;
/** Outside of one room so near to another's inside is taken away, metres. */
const BESIDE_M = 1e-3;
/** Patches of the ground near the house, and of the outside of the house, metres. */
const OUTSIDE_PATCH_M = 1;
const SHELL_PATCH_M = 2;
/** The ground reaches this far beyond the walls, metres. */
const GROUND_M = 6;
const NEAR_M = 2;
/** No ground is drawn further off than this from the origin, metres: beyond it lies the far ground. */
const FURTHEST_M = 120;
const OPEN_WALL_M = 3;

const perimeter = (p: readonly Vec2[]): number =>
  p.reduce((s, a, i) => {
    const b = p[(i + 1) % p.length]!;
    return s + Math.hypot(b[0] - a[0], b[1] - a[1]);
  }, 0);

/** 25 cm, and larger in a hall whose inside would need more than some 2,800 patches. */
export function patchOfRoom(spec: RoomSpec): number {
  const area =
    2 * Math.abs(signedArea(spec.outline)) + perimeter(spec.outline) * (spec.ceilingM ?? OPEN_WALL_M);
  return spec.patchM ?? Math.max(0.25, Math.sqrt(area / 2800));
}

/** A flat face of any outline at height z, cut by a grid; one patch a cell. */
function plate(
  d: Draft,
  outline: readonly Vec2[],
  z: number,
  up: boolean,
  slot: number,
  patchM: number,
  without: readonly (readonly Vec2[])[] = [],
): void {
  const xs = outline.map((p) => p[0]);
  const ys = outline.map((p) => p[1]);
  const x0 = Math.min(...xs);
  const y0 = Math.min(...ys);
  const w = Math.max(...xs) - x0;
  const h = Math.max(...ys) - y0;
  const nx = Math.max(1, Math.ceil(w / patchM - 1e-3));
  const ny = Math.max(1, Math.ceil(h / patchM - 1e-3));
  let pieces = convexPieces(outline);
  for (const part of without.flatMap((o) => convexPieces(o)))
    pieces = pieces.flatMap((p) => (meets(p, part) ? subtract(p, part) : [p]));
  const grid = (i: number, n: number, from: number, size: number): number =>
    i === n ? from + size : from + (size * i) / n;
  for (let j = 0; j < ny; j++)
    for (let i = 0; i < nx; i++) {
      const p = newPatch(d);
      for (const piece of pieces) {
        const cut = clipToBox(
          piece,
          grid(i, nx, x0, w),
          grid(j, ny, y0, h),
          grid(i + 1, nx, x0, w),
          grid(j + 1, ny, y0, h),
        );
        if (!cut.length) continue;
        const corners = cut.map(([x, y]): Vec3 => [x, y, z]);
        polygon(d, up ? corners : corners.reverse(), slot, p);
      }
    }
}

/** Bodies made, and what is to be said about them. */
export interface Made {
  bodies: Body[];
  /** What could not be built as told, in words. */
  notes: string[];
}

/** Bodies of a room (parts `floor`, `ceiling`, `roof`, `wall:<i>`, `opening:<id>`, `ground`), and notes. */
export function buildRoom(spec: RoomSpec): Made {
  const notes: string[] = [];
  let outline = spec.outline;
  if (signedArea(outline) < 0)
    notes.push('The outline runs clockwise: walls are numbered as told, seen from outside.');
  if (outline.length < 3 || Math.abs(signedArea(outline)) < 1e-6)
    return { bodies: [], notes: ['The outline encloses no floor.'] };
  if (signedArea(outline) < 0) outline = [...outline].reverse();
  const n = outline.length;
  const patchM = patchOfRoom(spec);
  const height = spec.ceilingM ?? OPEN_WALL_M;
  const wallM = Math.max(0.02, spec.wallM ?? WALL_M);
  const slopes = spec.ceilingM === undefined ? [] : (spec.slopes ?? []).filter((s) => s.wall < n);
  if (slopes.length < (spec.slopes?.length ?? 0))
    notes.push(
      spec.ceilingM === undefined
        ? 'Sloping ceilings need a height of the room, and were left out.'
        : 'A ceiling slopes from a wall that is not there, and was left out.',
    );
  const planes = slopes.length ? planesOf(outline, slopes, height) : undefined;
  // So thick that the roof clears the wall under it, where it runs on down over the wall.
  const lidM = planes ? wallM * (1 + steepest(planes)) : wallM;
  const roofZ = spec.ceilingM === undefined ? height : height + lidM;
  const baseZ = Math.min(0, spec.outside?.groundM ?? 0) - wallM;
  const outer = setOut(outline, wallM);
  const lapped = setOut(outline, LAP_M);
  const bodies: Body[] = [];
  const floorM = materialOf(spec.floor, undefined, { kind: 'marbled' });
  const make = (id: string, words: string, kind: PartKind, work: (d: Draft) => void): void => {
    const d = draft(undefined, patchM);
    work(d);
    const of = spec.of === undefined ? '' : ` of ${spec.of}`;
    bodies.push(bodyOf(d, { id: `${spec.id ?? ''}${id}`, words: `${words}${of}`, kind, moving: false }));
  };
  // Inside its neighbours nothing of the outside of this room is drawn.
  const beside = (spec.beside ?? []).map((b) => ({ ...b, outline: setOut(b.outline, BESIDE_M) }));
  const over = (z: number) => beside.filter((b) => z < b.heightM + BESIDE_M).map((b) => b.outline);

  // Floor and ceiling: inside face at the grid, outer face coarse.
  make('floor', 'the floor', 'room', (d) => {
    plate(d, lapped, 0, true, slotOf(d, floorM), patchM);
    plate(d, outer, baseZ, false, slotOf(d, floorM), SHELL_PATCH_M * 2);
  });
  if (spec.ceilingM !== undefined) {
    const m = materialOf(spec.ceiling ?? { words: 'ceiling', reflectance: 0.7 }, undefined, {
      kind: 'plaster',
    });
    make('ceiling', 'the ceiling', 'room', (d) =>
      planes
        ? slopedPlate(d, lapped, planes, 0, false, slotOf(d, m), patchM)
        : plate(d, lapped, height, false, slotOf(d, m), patchM),
    );
    make('outside:roof', 'the roof', 'outside', (d) =>
      planes
        ? slopedPlate(d, outer, planes, lidM, true, slotOf(d, m), SHELL_PATCH_M)
        : plate(d, outer, roofZ, true, slotOf(d, m), SHELL_PATCH_M, over(roofZ)),
    );
  }

  // Openings by wall, kept inside their wall and clear of each other.
  const holes: { id: string; o: OpeningSpec; u0: number; u1: number; v0: number; v1: number }[][] =
    outline.map(() => []);
  for (const [id, o] of Object.entries(spec.openings)) {
    const a = outline[o.wall];
    if (!a) {
      notes.push(`${o.words ?? id}: there is no wall ${o.wall}.`);
      continue;
    }
    const b = outline[(o.wall + 1) % n]!;
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const u0 = Math.max(0.001, Math.min(o.fromM, o.toM));
    const u1 = Math.min(l - 0.001, Math.max(o.fromM, o.toM));
    const v0 = Math.max(0, o.sillM);
    // Under a slope the lower of its two upper corners rules.
    const roof = planes
      ? Math.min(
          ...[u0, u1].map((u) =>
            under(planes, a[0] + ((b[0] - a[0]) * u) / l, a[1] + ((b[1] - a[1]) * u) / l),
          ),
        )
      : height;
    const v1 = Math.min(roof - 0.001, o.headM);
    const others = holes[o.wall]!;
    if (u1 - u0 < 0.001 || v1 - v0 < 0.001)
      notes.push(`${o.words ?? id}: lies outside its wall and was left out.`);
    else if (others.some((h) => u0 < h.u1 && u1 > h.u0 && v0 < h.v1 && v1 > h.v0))
      notes.push(`${o.words ?? id}: overlaps another opening and was left out.`);
    else {
      if (u0 > o.fromM + 0.002 || u1 < o.toM - 0.002 || v1 < o.headM - 0.002)
        notes.push(`${o.words ?? id}: was cut to fit its wall.`);
      others.push({ id, o, u0, u1, v0, v1 });
    }
  }

  // Walls.
  for (let i = 0; i < n; i++) {
    const a = outline[i]!;
    const b = outline[(i + 1) % n]!;
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const along: Vec3 = [(b[0] - a[0]) / l, (b[1] - a[1]) / l, 0];
    const out: Vec3 = [along[1], -along[0], 0];
    const at = (u: number, t: number, z: number): Vec3 => [
      a[0] + along[0] * u + out[0] * t,
      a[1] + along[1] * u + out[1] * t,
      z,
    ];
    const finish = spec.wallFinishes?.[String(i)] ?? spec.walls;
    const paint = materialOf(finish, undefined, { kind: 'plaster' });
    const mine = holes[i]!;
    make(`wall:${i}`, wallWords(out), 'room', (d) => {
      const s = slotOf(d, paint);
      // Inside face, seen from the room: front toward −out.
      const inner = at(l + LAP_M, 0, -LAP_M);
      const back = scale(along, -l - 2 * LAP_M);
      const through = (spec.cuts ?? []).filter((c) => c.wall === i);
      const cuts = [...mine, ...through].map((h) => ({
        u0: l + LAP_M - h.u1,
        u1: l + LAP_M - h.u0,
        v0: h.v0 < LAP_M ? 0 : h.v0 + LAP_M,
        v1: h.v1 + LAP_M,
      }));
      if (planes) gable(d, inner, back, topsOf(planes, inner, back, LAP_M), s, { holes: cuts });
      else panel(d, inner, back, [0, 0, height + 2 * LAP_M], s, { holes: cuts });
      // Outside face between the mitres.
      const p = outer[i]!;
      const q = outer[(i + 1) % n]!;
      const from: Vec3 = [p[0], p[1], baseZ];
      const span: Vec3 = [q[0] - p[0], q[1] - p[1], 0];
      const start = (p[0] - a[0]) * along[0] + (p[1] - a[1]) * along[1];
      const outside = {
        patchM: SHELL_PATCH_M,
        holes: [
          ...[...mine, ...through].map((h) => ({
            u0: h.u0 - start,
            u1: h.u1 - start,
            v0: h.v0 - baseZ,
            v1: h.v1 - baseZ,
          })),
          ...beside.flatMap((b) =>
            within(b.outline, p, q).map(([u0, u1]) => ({
              u0,
              u1,
              v0: -BESIDE_M - baseZ,
              v1: b.heightM + BESIDE_M - baseZ,
            })),
          ),
        ],
      };
      if (planes) gable(d, from, span, topsOf(planes, from, span, lidM), s, outside);
      else panel(d, from, span, [0, 0, roofZ - baseZ], s, outside);
      // Top of a wall without a ceiling.
      if (spec.ceilingM === undefined) {
        const parts = Math.max(1, Math.ceil(l / SHELL_PATCH_M));
        for (let k = 0; k < parts; k++) {
          const inner = (t: number): Vec3 => at(l * t, 0, height);
          const rim = (t: number): Vec3 => [p[0] + span[0] * t, p[1] + span[1] * t, height];
          const t0 = k / parts;
          const t1 = (k + 1) / parts;
          const top = [rim(t0), rim(t1), inner(t1), inner(t0)];
          const patch = newPatch(d);
          let pieces: Vec2[][] = [top.map(([x, y]): Vec2 => [x, y])];
          for (const part of over(height).flatMap((o) => convexPieces(o)))
            pieces = pieces.flatMap((c) => (meets(c, part) ? subtract(c, part) : [c]));
          for (const c of pieces)
            polygon(
              d,
              c.map(([x, y]): Vec3 => [x, y, height]),
              s,
              patch,
            );
        }
      }
      // Reveals; a doorway's lower one is floor.
      for (const h of mine) {
        // Into another room a hair further than its face.
        const deep = scale(out, h.o.deepM === undefined ? wallM : h.o.deepM + LAP_M);
        const w = h.u1 - h.u0;
        const tall = h.v1 - h.v0;
        const lower = h.v0 < 0.02 ? slotOf(d, floorM) : s;
        panel(d, at(h.u0, 0, h.v0), deep, scale(along, w), lower);
        panel(d, at(h.u0, 0, h.v1), scale(along, w), deep, s);
        panel(d, at(h.u0, 0, h.v0), [0, 0, tall], deep, s);
        panel(d, at(h.u1, 0, h.v0), deep, [0, 0, tall], s);
      }
    });

    // What is in the openings.
    for (const h of mine) {
      const place = {
        frame: { origin: at(h.u0, 0, h.v0), x: along, y: scale(out, -1), z: [0, 0, 1] as Vec3 },
        widthM: h.u1 - h.u0,
        heightM: h.v1 - h.v0,
        wallM: h.o.deepM ?? wallM,
      };
      const part = {
        id: `opening:${h.id}`,
        words: h.o.words ?? `the ${h.o.kind}`,
        kind: 'opening' as const,
        moving: false,
      };
      const leafM = materialOf(h.o.finish ?? finish);
      if (h.o.fill === 'glass') {
        bodies.push(
          paneBody(
            place,
            part,
            materialOf(
              h.o.finish ?? { words: 'white gloss paint', reflectance: 0.75, glossF0: 0.04, roughness: 0.35 },
            ),
            h.o.bars,
            h.o.passes,
          ),
        );
      } else if (h.o.fill === 'shut') bodies.push(shutBody(place, part, leafM, h.o.kind));
      else if (h.o.leafDeg) bodies.push(leafBody(place, part, leafM, h.o.leafDeg * DEG));
    }
  }

  // Ground around, with the house cut out.
  if (spec.outside) {
    const m = materialOf(spec.outside.ground, undefined, { kind: 'ground' });
    const z = spec.outside.groundM;
    make('outside:ground', 'the ground outside', 'outside', (d) =>
      ground(
        d,
        [outer, ...(spec.beside ?? []).map((b) => setOut(b.outline, wallM))],
        z,
        slotOf(d, m),
        spec.outside?.reach,
      ),
    );
  }
  return { bodies, notes };
}

/** Heights over `corner` of each plane, `raise` above it, where a wall starts and where it ends. */
const topsOf = (
  planes: readonly Plane[],
  corner: Vec3,
  u: Vec3,
  raise: number,
): (readonly [number, number])[] => {
  const q = add(corner, u);
  return planes.map((p) => {
    const over = (v: Vec3): number => under([p], v[0], v[1]) + raise - corner[2];
    return [over(corner), over(q)] as const;
  });
};

/** Ground in cells of 1 m near the house, 2 m about it and 4 m further off, the house cut out of them. */
function ground(
  d: Draft,
  outers: readonly (readonly Vec2[])[],
  z: number,
  slot: number,
  reach?: readonly [number, number, number, number],
): void {
  const xs = outers.flatMap((o) => o.map((p) => p[0]));
  const ys = outers.flatMap((o) => o.map((p) => p[1]));
  const [west, east] = [Math.min(...xs), Math.max(...xs)];
  const [south, north] = [Math.min(...ys), Math.max(...ys)];
  const house = outers.flatMap((o) => convexPieces(o));
  const big = 4 * OUTSIDE_PATCH_M;
  // Whole cells beyond every side.
  const x0 = Math.max(-FURTHEST_M, Math.min(west - GROUND_M, reach?.[0] ?? west));
  const y0 = Math.max(-FURTHEST_M, Math.min(south - GROUND_M, reach?.[1] ?? south));
  const nx = Math.ceil((Math.min(FURTHEST_M, Math.max(east + GROUND_M, reach?.[2] ?? east)) - x0) / big);
  const ny = Math.ceil((Math.min(FURTHEST_M, Math.max(north + GROUND_M, reach?.[3] ?? north)) - y0) / big);
  const cell = (x: number, y: number, size: number): void => {
    const off = Math.max(west - x - size, x - east, south - y - size, y - north);
    if (size > OUTSIDE_PATCH_M && off < (size > 2 * OUTSIDE_PATCH_M ? GROUND_M : NEAR_M)) {
      const half = size / 2;
      for (const a of [0, half]) for (const b of [0, half]) cell(x + a, y + b, half);
      return;
    }
    let pieces: Vec2[][] = [
      [
        [x, y],
        [x + size, y],
        [x + size, y + size],
        [x, y + size],
      ],
    ];
    if (off < 0) for (const part of house) pieces = pieces.flatMap((p) => subtract(p, part));
    const patch = newPatch(d);
    for (const p of pieces)
      polygon(
        d,
        p.map(([px, py]): Vec3 => [px, py, z]),
        slot,
        patch,
      );
  };
  for (let j = 0; j < ny; j++) for (let i = 0; i < nx; i++) cell(x0 + i * big, y0 + j * big, big);
}

/** A wall's name by the way out of the room through it, x east, y north. */
function wallWords(out: Vec3): string {
  const names = ['east', 'north-east', 'north', 'north-west', 'west', 'south-west', 'south', 'south-east'];
  const k = Math.round((Math.atan2(out[1], out[0]) / Math.PI) * 4);
  return `the ${names[(k + 8) % 8]} wall`;
}

/** Middle of an edge of the outline, metres: where a wall's name may be written. */
export const wallMiddle = (outline: readonly Vec2[], i: number): Vec3 => {
  const a = outline[i]!;
  const b = outline[(i + 1) % outline.length]!;
  return add([a[0], a[1], 0], scale(sub([b[0], b[1], 0], [a[0], a[1], 0]), 0.5));
};
