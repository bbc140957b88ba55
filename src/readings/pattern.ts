/**
 * What a key does to a face, read off the shadows it casts there, and never off its angles: angles only settle what
 * shadows leave open. Names and tests [CHECKS-CAMERA §4.1, §4.3].
 */
import { cellPlace, FACE_CELL_M, FACE_COLUMNS, FACE_ROWS, type FaceGrid } from '../stage/people/faceGrid.ts';

export type Pattern =
  | 'butterfly'
  | 'loop'
  | 'Rembrandt'
  | 'split'
  | 'kicker'
  | 'back'
  | 'top'
  | 'under'
  | 'none';

export interface KeyOnFace {
  pattern: Pattern;
  /** Shares 0–1 of the light's own side and the far one. */
  nearEye: number;
  farEye: number;
  nearCheek: number;
  farCheek: number;
  farHalf: number;
  /** Lit patch on the far cheek that is cut off from the near side, mm². */
  islandMm2: number;
  /** Mean offset of the nose's shadow from the middle, mm, + to the far side; undefined without one. */
  noseShadowAsideMm: number | undefined;
}

/** Islands smaller than this are none [CHECKS-CAMERA §4.3]. */
const ISLAND_MM2 = 40;

/**
 * Cells that the light reaches: more than half of what would come unshaded by the cosine there, and not grazing
 * (n·L > .03). `lux`: one a cell, this light alone and direct; `to`: unit, from the face to the light.
 */
export function litCells(grid: FaceGrid, lux: ArrayLike<number>, to: readonly number[]): Uint8Array {
  const n = grid.there.length;
  const cosine = new Float32Array(n);
  // The brightest cells by their cosine tell how much there is; the mean of the best twentieth, so that no glint rules.
  const full: number[] = [];
  for (let i = 0; i < n; i++) {
    if (!grid.there[i]) continue;
    cosine[i] = [0, 1, 2].reduce((s, k) => s + grid.normal[3 * i + k]! * to[k]!, 0);
    if (cosine[i]! > 0.1 && lux[i]! > 0) full.push(lux[i]! / cosine[i]!);
  }
  full.sort((a, b) => b - a);
  const best = full.slice(0, Math.max(1, full.length >> 2));
  const unshaded = best.length ? best[best.length >> 1]! : 0;
  const lit = new Uint8Array(n);
  for (let i = 0; i < n; i++)
    if (grid.there[i] && cosine[i]! > 0.03 && lux[i]! > 0.5 * unshaded * cosine[i]!) lit[i] = 1;
  return lit;
}

/** `azimuthDeg`, `elevationDeg` of the light from the way the face looks; `leftward`: it stands to the person's left. */
export function keyOnFace(
  grid: FaceGrid,
  lit: Uint8Array,
  light: { azimuthDeg: number; elevationDeg: number; leftward: boolean },
): KeyOnFace {
  const out = light.leftward ? 1 : -1;
  const n = grid.there.length;
  const share = (leftM: number, upM: number, halfM: number) => {
    let all = 0;
    let yes = 0;
    for (let i = 0; i < n; i++) {
      const p = cellPlace(i);
      if (!grid.there[i] || Math.abs(p.leftM - leftM) > halfM || Math.abs(p.upM - upM) > halfM) continue;
      all++;
      yes += lit[i]!;
    }
    return all ? yes / all : 0;
  };
  let farAll = 0;
  let farLit = 0;
  let dark = 0;
  let darkAside = 0;
  for (let i = 0; i < n; i++) {
    if (!grid.there[i]) continue;
    const { upM, leftM } = cellPlace(i);
    if (leftM * out < 0 && upM < 0.03 && upM > -0.1) {
      farAll++;
      farLit += lit[i]!;
    }
    if (upM < grid.noseBaseM && upM > grid.lipM && Math.abs(leftM) <= 0.02 && !lit[i]) {
      dark++;
      darkAside -= leftM * out;
    }
  }
  const eye = 0.031;
  const k: Omit<KeyOnFace, 'pattern'> = {
    nearEye: share(out * eye, 0, 0.005),
    farEye: share(-out * eye, 0, 0.005),
    nearCheek: share(out * 0.04, -0.03, 0.005),
    farCheek: share(-out * 0.04, -0.03, 0.005),
    farHalf: farAll ? farLit / farAll : 0,
    islandMm2: island(lit, out),
    noseShadowAsideMm: dark > 0 ? (1000 * darkAside) / dark : undefined,
  };
  return { ...k, pattern: nameOf(k, light) };
}

function nameOf(k: Omit<KeyOnFace, 'pattern'>, light: { azimuthDeg: number; elevationDeg: number }): Pattern {
  const az = Math.abs(light.azimuthDeg);
  const el = light.elevationDeg;
  if (el <= -20) return 'under';
  if (el >= 50 && k.nearEye + k.farEye < 1.2 && az < 90) return 'top';
  if (k.nearCheek < 0.2) return az >= 150 ? 'back' : az >= 90 ? 'kicker' : 'none';
  if (k.farHalf <= 0.2 && k.islandMm2 === 0) {
    // Both leave half a face dark; past the side it is no key any more but an edge: half way from 95° to 110°.
    return az > 102.5 ? 'kicker' : 'split';
  }
  // From near the front, lit patches beside chin and lip are no triangle.
  if (k.islandMm2 > 0 && az >= 20) return 'Rembrandt';
  // Lateral = P·tan(az) with P = 20 mm: within 4 mm it hangs straight [CHECKS-CAMERA §4.2].
  const aside = k.noseShadowAsideMm ?? 20 * Math.tan((az * Math.PI) / 180);
  if (az <= 15 && Math.abs(aside) < 4 && k.farHalf > 0.6) return 'butterfly';
  return 'loop';
}

/** Lit region between eyes and chin on the far cheek that does not join the near cheek, mm². */
function island(lit: Uint8Array, out: number): number {
  const inBand = (i: number) => {
    const { upM } = cellPlace(i);
    return upM < -0.003 && upM > -0.09;
  };
  const region = new Int32Array(lit.length).fill(-1);
  const sizes: { cells: number; left: number }[] = [];
  for (let s = 0; s < lit.length; s++) {
    if (!lit[s] || region[s]! >= 0 || !inBand(s)) continue;
    const id = sizes.length;
    const size = { cells: 0, left: 0 };
    sizes.push(size);
    const stack = [s];
    region[s] = id;
    while (stack.length) {
      const q = stack.pop()!;
      size.cells++;
      size.left += cellPlace(q).leftM;
      const [row, column] = [Math.floor(q / FACE_COLUMNS), q % FACE_COLUMNS];
      for (const [dr, dc] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        const [r, c] = [row + dr, column + dc];
        if (r < 0 || r >= FACE_ROWS || c < 0 || c >= FACE_COLUMNS) continue;
        const t = r * FACE_COLUMNS + c;
        if (!lit[t] || region[t]! >= 0 || !inBand(t)) continue;
        region[t] = id;
        stack.push(t);
      }
    }
  }
  // The near cheek's region, found about its middle.
  const near = new Set<number>();
  for (let i = 0; i < lit.length; i++) {
    const { upM, leftM } = cellPlace(i);
    if (region[i]! >= 0 && Math.abs(upM + 0.03) < 0.012 && Math.abs(leftM * out - 0.04) < 0.012)
      near.add(region[i]!);
  }
  let mm2 = 0;
  sizes.forEach((s, id) => {
    const area = s.cells * (FACE_CELL_M * 1000) ** 2;
    if (!near.has(id) && area > ISLAND_MM2 && (s.left / s.cells) * out < -0.012) mm2 += area;
  });
  return mm2;
}

/** Width of a shadow's soft edge on the cheek, mm: the nose's, from the light's size and distance [CHECKS-CAMERA §4.5]. */
export function edgeOnCheekMm(sizeM: number, distanceM: number): number {
  // From the tip of the nose to the cheek beside it: 35 mm (by measure on our own heads).
  const b = 0.035;
  return (1000 * sizeM * b) / Math.max(0.05, distanceM - b);
}
