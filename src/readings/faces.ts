/**
 * Faces read all over: how every layer's direct light lies on them, and what that says: the key's pattern, which
 * eyes are lit, whose light is caught in them, how much of the face the camera sees is in shade.
 */
import { dot, normalize, sub, type Vec3 } from '../maths/vec3.ts';
import { type AngleGeometry, type AngleWeights, lightsOf, type MarkGeometry } from '../setup/angle.ts';
import { PROBE_MATERIAL } from '../setup/probes.ts';
import { cellPlace, type FaceGrid } from '../stage/people/faceGrid.ts';
import type { AbortSignalLike, SurfacePoints, Tracer } from '../transport/tracer.ts';
import { bearing } from './bearing.ts';
import { edgeOnCheekMm, type KeyOnFace, keyOnFace, litCells } from './pattern.ts';

/** Direct light on a mark's face. */
export interface FaceLight {
  mark: string;
  grid: FaceGrid;
  /** Per layer, a lux per cell of the grid, at rated volts, bare. */
  layers: Float32Array[];
}

export interface FaceReading {
  /** The key's doing; undefined: no key. */
  key:
    | (KeyOnFace & {
        lamp: string;
        /** On the side of the face that the camera sees more of, or less; undefined: camera or key near the front. */
        side: 'broad' | 'short' | undefined;
        /** Width of a shadow's soft edge on the cheek, mm. */
        edgeMm: number;
        softness: 'hard' | 'medium' | 'soft' | 'very soft';
      })
    | undefined;
  /** Any light, within two stops of the face's own level, on the person's left and right eye. */
  eyesLit: { left: boolean; right: boolean };
  /** Lamps whose image lies on the cornea as the camera sees it. */
  catchlights: { lamp: string; eye: 'left' | 'right' }[];
  /**
   * Share of the face the camera sees that is two stops or more under its lit part, bounced light counted; 0–1.
   * Undefined: it sees too little of it.
   */
  shadeShare: number | undefined;
}

/** Light on the faces of an angle that somebody sees: `marks` by id. The tracer must have the scene loaded. */
export async function lightOnFaces(
  tracer: Tracer,
  angle: AngleGeometry,
  marks: readonly string[],
  options: { seed: number; samples: number; signal?: AbortSignalLike },
): Promise<FaceLight[]> {
  const out: FaceLight[] = [];
  for (const mark of angle.marks) {
    const grid = mark.faceGrid;
    if (!grid || !marks.includes(mark.id)) continue;
    const { points, spread } = pointsOnFace(grid);
    const layers: Float32Array[] = [];
    for (let l = 0; l < angle.transport.layers.length; l++) {
      const { diffuse } = await tracer.direct(points, l, options);
      layers.push(spread(diffuse));
    }
    out.push({ mark: mark.id, grid, layers });
  }
  return out;
}

/** The cells that are there as points for a tracer, and values at them spread over the grid again. */
export function pointsOnFace(grid: FaceGrid) {
  const cells = cellsOf(grid);
  return {
    points: pointsOf(grid, cells),
    spread(values: Float32Array): Float32Array {
      const all = new Float32Array(grid.there.length);
      cells.forEach((cell, i) => {
        all[cell] = values[i]!;
      });
      return all;
    },
  };
}

function cellsOf(grid: FaceGrid): number[] {
  const out: number[] = [];
  for (let i = 0; i < grid.there.length; i++) if (grid.there[i]) out.push(i);
  return out;
}

function pointsOf(grid: FaceGrid, cells: readonly number[]): SurfacePoints {
  const position = new Float32Array(3 * cells.length);
  const normal = new Float32Array(3 * cells.length);
  cells.forEach((cell, i) => {
    position.set(grid.position.subarray(3 * cell, 3 * cell + 3), 3 * i);
    normal.set(grid.normal.subarray(3 * cell, 3 * cell + 3), 3 * i);
  });
  return {
    count: cells.length,
    position,
    faceNormal: normal,
    normal,
    toEye: normal,
    material: new Uint16Array(cells.length).fill(PROBE_MATERIAL),
    patch: new Uint32Array(cells.length).fill(4294967295),
  };
}

/** Half-way between camera and lamp must lie within this of the gaze: the cornea is a cap [CHECKS-CAMERA §4.6]. */
const CORNEA_DEG = 45;

export function readFace(
  angle: AngleGeometry,
  weights: AngleWeights,
  mark: MarkGeometry,
  light: FaceLight,
  key: string | undefined,
  bouncedLx: number,
): FaceReading {
  const { grid } = light;
  const n = grid.there.length;
  const byLamp = new Map<string, Float32Array>();
  const total = new Float32Array(n);
  for (const lamp of lightsOf(angle)) {
    const own = new Float32Array(n);
    for (const l of lamp.layers) {
      const w = weights.layers[l]!.white[1];
      const lux = light.layers[l]!;
      for (let i = 0; i < n; i++) own[i]! += w * lux[i]!;
    }
    for (let i = 0; i < n; i++) total[i]! += own[i]!;
    byLamp.set(lamp.id, own);
  }
  const present = cellsOf(grid);
  const place = (i: number): Vec3 => [
    grid.position[3 * i]!,
    grid.position[3 * i + 1]!,
    grid.position[3 * i + 2]!,
  ];
  const seen = present.filter((i) => {
    const d = sub(angle.view.eye, place(i));
    return d[0] * grid.normal[3 * i]! + d[1] * grid.normal[3 * i + 1]! + d[2] * grid.normal[3 * i + 2]! > 0;
  });
  // The lit part's level: the ninth of ten cells, so that no bright edge rules.
  const levels = seen.map((i) => total[i]! + bouncedLx).sort((a, b) => a - b);
  const level = levels[Math.floor(0.9 * levels.length)] ?? 0;
  const shadeShare =
    seen.length > 0.1 * present.length
      ? levels.filter((v) => v < level / 4).length / levels.length
      : undefined;

  const eyeCells = (left: boolean) =>
    present.filter((i) => {
      const { upM, leftM } = cellPlace(i);
      return Math.abs(upM) <= 0.005 && Math.abs((left ? leftM : -leftM) - 0.031) <= 0.006;
    });
  const eyes = { left: eyeCells(true), right: eyeCells(false) };
  const reached = (cells: number[], lux: Float32Array, over: number) =>
    cells.filter((i) => lux[i]! > over).length >= Math.max(1, cells.length / 4);
  const withBounce = total.map((v) => v + bouncedLx);
  const eyesLit = {
    left: level > 0 && reached(eyes.left, withBounce, level / 4),
    right: level > 0 && reached(eyes.right, withBounce, level / 4),
  };

  const catchlights: FaceReading['catchlights'] = [];
  for (const eye of ['left', 'right'] as const) {
    const cornea = eye === 'left' ? mark.face?.eyeL : mark.face?.eyeR;
    if (!cornea) continue;
    const toCamera = normalize(sub(angle.view.eye, cornea.position));
    if (dot(toCamera, cornea.normal) <= 0) continue;
    for (const lamp of angle.lamps) {
      if (!reached(eyes[eye], byLamp.get(lamp.id)!, 1e-3)) continue;
      const half = normalize(
        [0, 1, 2].map((k) => toCamera[k]! + normalize(sub(lamp.at, cornea.position))[k]!) as unknown as Vec3,
      );
      if (dot(half, cornea.normal) > Math.cos((CORNEA_DEG * Math.PI) / 180))
        catchlights.push({ lamp: lamp.id, eye });
    }
  }
  return { key: keyOf(angle, mark, grid, key, byLamp), eyesLit, catchlights, shadeShare };
}

function keyOf(
  angle: AngleGeometry,
  mark: MarkGeometry,
  grid: FaceGrid,
  key: string | undefined,
  byLamp: ReadonlyMap<string, Float32Array>,
): FaceReading['key'] {
  const lamp = lightsOf(angle).find((l) => l.id === key);
  if (!lamp) return undefined;
  // Where the face truly looks: a turned head takes its pattern along.
  const facing = mark.face?.facing;
  const facingDeg = facing ? (Math.atan2(facing[1], facing[0]) * 180) / Math.PI : mark.facingDeg;
  const at = bearing(mark.eyes, facingDeg, lamp.at);
  const camera = bearing(mark.eyes, facingDeg, angle.view.eye);
  const to = normalize(sub(lamp.at, mark.eyes));
  const read = keyOnFace(grid, litCells(grid, byLamp.get(lamp.id)!, to), {
    azimuthDeg: at.azimuthDeg,
    elevationDeg: at.elevationDeg,
    leftward: at.side === 'left',
  });
  const sided =
    at.azimuthDeg > 10 && at.azimuthDeg < 150 && camera.azimuthDeg > 10 && camera.azimuthDeg < 150;
  // Angular size, classes hard < 3°, medium to 15°, soft to 40° (common practice) [CHECKS-CAMERA §4.5].
  const wide = (2 * Math.atan(lamp.sizeM / (2 * at.distanceM)) * 180) / Math.PI;
  return {
    ...read,
    lamp: lamp.id,
    side: sided ? (at.side === camera.side ? 'broad' : 'short') : undefined,
    edgeMm: edgeOnCheekMm(lamp.sizeM, at.distanceM),
    softness: wide < 3 ? 'hard' : wide < 15 ? 'medium' : wide < 40 ? 'soft' : 'very soft',
  };
}

/** Pattern, side, edge, eyes and shade in words. `name`: a lamp's number by its id. */
export function faceWords(f: FaceReading, name: (lamp: string) => string): string {
  const parts: string[] = [];
  if (f.key && f.key.pattern !== 'none') {
    const edge = f.key.edgeMm < 1 ? 'under 1' : f.key.edgeMm.toFixed(0);
    parts.push(
      `${name(f.key.lamp)}: ${f.key.pattern}${f.key.side ? `, ${f.key.side} side` : ''}, ${f.key.softness} (edge ${edge} mm)`,
    );
  }
  const { left, right } = f.eyesLit;
  parts.push(left && right ? 'both eyes lit' : left ? 'left eye lit' : right ? 'right eye lit' : 'eyes dark');
  if (f.shadeShare !== undefined) {
    const of = (eye: 'left' | 'right') =>
      f.catchlights
        .filter((c) => c.eye === eye)
        .map((c) => name(c.lamp))
        .join(', ');
    const [l, r] = [of('left'), of('right')];
    if (!l && !r) parts.push('no catchlight');
    else if (l === r) parts.push(`catchlight ${l} in both`);
    else
      parts.push(
        `catchlight ${[l && `${l} in the left`, r && `${r} in the right`].filter((x) => x).join(', ')}`,
      );
    parts.push(`${Math.round(100 * f.shadeShare)} % of the face seen two stops under`);
  }
  return parts.join('; ');
}
