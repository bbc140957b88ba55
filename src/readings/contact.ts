/**
 * A head under one key from every side: the pattern of each place by the shadows it casts, and the names that the craft
 * gives to that place [CHECKS-CAMERA §4.1, §4.3].
 */
import type { FaceGrid } from '../stage/people/faceGrid.ts';
import type { Layer } from '../transport/scene.ts';
import type { Tracer } from '../transport/tracer.ts';
import { pointsOnFace } from './faces.ts';
import { keyOnFace, litCells, type Pattern } from './pattern.ts';

export const AZIMUTHS_DEG = Array.from({ length: 13 }, (_, i) => 15 * i);
export const ELEVATIONS_DEG = [60, 45, 30, 15, 0];
/** From the key to the face, metres. */
export const KEY_AT_M = 2;

export interface ContactCell {
  az: number;
  el: number;
  /** Unit, from the face to the light. */
  to: readonly [number, number, number];
  layer: Layer;
}

/** Keys about a head that looks north (+y) with its eyes at `eyeM`, from its left; rows from above. `keyLx` at the eyes. */
export function keysAbout(acrossM: number, eyeM: number, keyLx: number): ContactCell[] {
  const rad = Math.PI / 180;
  return ELEVATIONS_DEG.flatMap((el) =>
    AZIMUTHS_DEG.map((az) => {
      const to = [
        -Math.sin(az * rad) * Math.cos(el * rad),
        Math.cos(az * rad) * Math.cos(el * rad),
        Math.sin(el * rad),
      ] as const;
      const centre = [KEY_AT_M * to[0], KEY_AT_M * to[1], eyeM + KEY_AT_M * to[2]] as const;
      const axis = [-to[0], -to[1], -to[2]] as const;
      // Any direction at right angles to the beam will do: the disc is round.
      const up = [-Math.cos(az * rad), -Math.sin(az * rad), 0] as const;
      const layer: Layer = {
        id: `${az} ${el}`,
        lamp: `${az} ${el}`,
        emitters: [
          {
            shape: { kind: 'disc', centre, axis, up, radiusM: acrossM / 2 },
            beam: { kind: 'cosine', peakCd: keyLx * KEY_AT_M ** 2, exponent: 1 },
          },
        ],
        key: JSON.stringify([az, el, acrossM]),
        ownParts: [],
      };
      return { az, el, to, layer };
    }),
  );
}

/** The pattern of every cell; the tracer must have the head and the cells' layers loaded, in order. */
export async function patternsOf(
  tracer: Tracer,
  grid: FaceGrid,
  cells: readonly ContactCell[],
  seed: number,
): Promise<Pattern[]> {
  const points = pointsOnFace(grid);
  const out: Pattern[] = [];
  for (const [l, { az, el, to }] of cells.entries()) {
    const { diffuse } = await tracer.direct(points.points, l, { seed, samples: 8 });
    const lit = litCells(grid, points.spread(diffuse), to);
    out.push(keyOnFace(grid, lit, { azimuthDeg: az, elevationDeg: el, leftward: true }).pattern);
  }
  return out;
}

/** Azimuths of the published places, degrees from the face [CHECKS-CAMERA §4.1]; the sheet says: good to about ten. */
const PLACES: readonly (readonly [Pattern, number, number])[] = [
  ['butterfly', 0, 10],
  ['loop', 15, 40],
  ['Rembrandt', 45, 75],
  ['split', 85, 95],
  ['kicker', 110, 150],
  ['back', 150, 180],
];
const CAUTION_DEG = 10;
/** From here up both eyes are going, from the front: top light [CHECKS-CAMERA §4.3]. */
const TOP_DEG = 55;

/**
 * Names that the place has, give or take ten degrees round; heights are hints only, but that from high up it may be top
 * light.
 */
export function namesAt(az: number, el: number): Pattern[] {
  const names = PLACES.filter(([, from, to]) => az >= from - CAUTION_DEG && az <= to + CAUTION_DEG).map(
    ([name]) => name,
  );
  return el >= TOP_DEG && az <= 90 ? [...names, 'top'] : names;
}

/** Share of the cells, 0–1, whose pattern is one of their names. */
export const shareNamed = (cells: readonly ContactCell[], patterns: readonly Pattern[]): number =>
  cells.filter(({ az, el }, i) => namesAt(az, el).includes(patterns[i]!)).length / cells.length;
