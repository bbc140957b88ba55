/**
 * What is finer than triangles: stitches of a knitted garment, the unevenness of woven cloth, of skin and of lips. A height
 * over the surface, as a function of the place at rest (so that it goes with the body), and a shade: the share by which
 * that spot sends back more or less than its material's mean. Both have mean nothing, and both fade where they are
 * finer than what a pixel covers, so that nothing shimmers. Gauge of the knit: 20 stitches and 28 rows to 10 cm (common
 * practice for a jumper of middling yarn); heights and shades by eye, no source.
 */
import { lump, lumps, wholeAt } from '../maths/clouds.ts';
import type { Vec3 } from '../maths/vec3.ts';

/** A tube of cloth at rest: trunk, sleeve. Stitches go round it. */
export interface Tube {
  from: Vec3;
  /** Unit and at right angles: along the tube, where the angle is none, and a quarter turn on. */
  along: Vec3;
  out: Vec3;
  across: Vec3;
  /** Usual girth, metres; and where the tube ends, metres from `from` (below `rib` of it the knit is ribbed). */
  girthM: number;
  endM: number;
  /** What lies farther from its line is another tube's, metres. */
  reachM: number;
  /** A band about the neck: how far from the tube's line, and along it, its edge lies, by sectors of the turn; metres. */
  collar?: { off: readonly number[]; at: readonly number[]; ribM: number };
}

/** Where skin has a nail or creases at a joint, at rest: a place and the ways along the finger, across it and out of it. */
export interface Finger {
  at: Vec3;
  along: Vec3;
  across: Vec3;
  out: Vec3;
  /** Half of a nail's length and width, metres; absent: a joint. */
  half?: readonly [number, number];
}

export type Relief =
  | { kind: 'knit' | 'woven'; tubes: readonly Tube[] }
  | { kind: 'skin'; fingers: readonly Finger[] }
  | { kind: 'lips' };

/** Steps in which rest places are kept, metres: 16-bit numbers reach 4 m. */
export const REST_STEP_M = 1.25e-4;

/** What a spot has: gradient of the height at rest (3, no unit), and its shade, a factor about 1. */
export const spot = new Float64Array(4);

const STITCH_M = 0.005;
const ROW_M = 0.1 / 28;
/** Width of a rib, two stitches and two; the band of them at a hem. */
const RIB_M = 4 * STITCH_M;
const BAND_M = 0.055;
/** Height of a stitch and of a rib, metres; share by which hollows are darker. */
const STITCH_HIGH_M = 0.0003;
const RIB_HIGH_M = 0.0009;
const HOLLOW = 0.75;
const RIB_HOLLOW = 0.25;

/** 0 where a length is under `from` pixels, 1 from `to` on. */
const seen = (lengthM: number, pixelM: number, from: number, to: number): number => {
  const t = Math.max(0, Math.min(1, (lengthM / pixelM - from) / (to - from)));
  return t * t * (3 - 2 * t);
};

/** Adds lumps `sizeM` wide and `highM` high, `shade` darker in the hollows; stretched by `sx`, `sy`, `sz`. */
function addLumps(
  x: number,
  y: number,
  z: number,
  sizeM: number,
  highM: number,
  shade: number,
  pixelM: number,
  sx = 1,
  sy = 1,
  sz = 1,
): void {
  const much = seen(sizeM, pixelM, 1.5, 4);
  if (much === 0) return;
  lumps((x * sx) / sizeM, (y * sy) / sizeM, (z * sz) / sizeM);
  const k = (much * highM) / sizeM;
  spot[0]! += k * sx * lump[1]!;
  spot[1]! += k * sy * lump[2]!;
  spot[2]! += k * sz * lump[3]!;
  spot[3]! += much * shade * lump[0]!;
}

/** Which tube a place belongs to: the first whose line is near enough and that has begun. */
function tubeAt(tubes: readonly Tube[], x: number, y: number, z: number): Tube {
  for (let i = 1; i < tubes.length; i++) {
    const { from, along, reachM } = tubes[i]!;
    const a = x - from[0];
    const b = y - from[1];
    const c = z - from[2];
    const t = a * along[0] + b * along[1] + c * along[2];
    if (t > 0 && a * a + b * b + c * c - t * t < reachM * reachM) return tubes[i]!;
  }
  return tubes[0]!;
}

/** Stitches in columns, each of two legs that lean together; ribs near a hem. */
function addKnit(tubes: readonly Tube[], x: number, y: number, z: number, pixelM: number): void {
  const tube = tubeAt(tubes, x, y, z);
  const { from, along, out, across, girthM, endM } = tube;
  const a = x - from[0];
  const b = y - from[1];
  const c = z - from[2];
  const t = a * along[0] + b * along[1] + c * along[2];
  const p = a * out[0] + b * out[1] + c * out[2];
  const q = a * across[0] + b * across[1] + c * across[2];
  const r2 = Math.max(1e-4, p * p + q * q);
  const stitches = 4 * Math.round(girthM / RIB_M);
  const perTurn = stitches / (2 * Math.PI);
  const u = Math.atan2(q, p) * perTurn;
  const v = t / ROW_M;
  // How the count of stitches and of rows grows, by place.
  const gu = perTurn / r2;
  const ux = gu * (p * across[0] - q * out[0]);
  const uy = gu * (p * across[1] - q * out[1]);
  const uz = gu * (p * across[2] - q * out[2]);
  const widthM = (Math.sqrt(r2) * 2 * Math.PI) / stitches;

  // Ribs at the hem.
  const band = Math.max(0, Math.min(1, (t - (endM - BAND_M)) / 0.004));
  if (band > 0) {
    const much = band * seen(4 * widthM, pixelM, 2, 5);
    const angle = (Math.PI / 2) * u;
    const k = -much * RIB_HIGH_M * 0.5 * (Math.PI / 2) * Math.sin(angle);
    spot[0]! += k * ux;
    spot[1]! += k * uy;
    spot[2]! += k * uz;
    spot[3]! += much * RIB_HOLLOW * Math.cos(angle);
  }

  // Legs: bulges between the grooves, slanted, with the rows' rhythm along them.
  // Under an arm, where the tube is wide, stitches fade with the others.
  const much = seen(Math.min(widthM, STITCH_M), pixelM, 4.5, 9);
  const column = Math.floor(u);
  const s = u - column;
  const leg = s < 0.5 ? 2 * s : 2 - 2 * s;
  const turn = s < 0.5 ? 2 : -2;
  const w = v + 0.55 * leg;
  if (much > 0) {
    const bulge = Math.sin(Math.PI * leg);
    const across2 = bulge * bulge;
    const rhythm = 0.6 + 0.4 * Math.cos(2 * Math.PI * w);
    const h = across2 * rhythm;
    const hl =
      Math.PI * Math.sin(2 * Math.PI * leg) * rhythm -
      across2 * 0.4 * 2 * Math.PI * 0.55 * Math.sin(2 * Math.PI * w);
    const hv = -across2 * 0.4 * 2 * Math.PI * Math.sin(2 * Math.PI * w);
    const k = much * STITCH_HIGH_M;
    const ku = k * hl * turn;
    const kv = (k * hv) / ROW_M;
    spot[0]! += ku * ux + kv * along[0];
    spot[1]! += ku * uy + kv * along[1];
    spot[2]! += ku * uz + kv * along[2];
    // Its mean over a stitch is 0.3.
    spot[3]! += much * HOLLOW * (h - 0.3);
  }
  // No two stitches and no two rows of yarn are quite alike.
  const wide = seen(widthM, pixelM, 1.5, 4);
  if (wide > 0)
    spot[3]! += wide * 0.07 * wholeAt(((column % stitches) + stitches) % stitches, Math.floor(w), 7);
}

const COLLAR_M = 0.022;
const COLLAR_HIGH_M = 0.0005;
const SEAM_M = 0.002;
const SEAM_HIGH_M = 0.0006;

/** A neckband: ribs outward from the opening, up to the seam that holds it. */
function addCollar(tube: Tube, x: number, y: number, z: number, pixelM: number): void {
  const { from, along, out, across, collar } = tube;
  if (!collar) return;
  const a = x - from[0];
  const b = y - from[1];
  const c = z - from[2];
  const p = a * out[0] + b * out[1] + c * out[2];
  const q = a * across[0] + b * across[1] + c * across[2];
  const r = Math.sqrt(p * p + q * q);
  if (r > 0.2 || r < 0.01) return;
  const n = collar.off.length;
  const angle = Math.atan2(q, p);
  const sector = ((angle / (2 * Math.PI) + 1) % 1) * n;
  const i = Math.floor(sector) % n;
  const j = (i + 1) % n;
  const part = sector - Math.floor(sector);
  const dr = r - (collar.off[i]! + part * (collar.off[j]! - collar.off[i]!));
  const t = a * along[0] + b * along[1] + c * along[2];
  const dt = t - (collar.at[i]! + part * (collar.at[j]! - collar.at[i]!));
  const d = Math.sqrt(dr * dr + dt * dt);
  if (d > COLLAR_M + 3 * SEAM_M) return;
  const gx = (p * out[0] + q * across[0]) / r;
  const gy = (p * out[1] + q * across[1]) / r;
  const gz = (p * out[2] + q * across[2]) / r;
  const band = Math.max(0, Math.min(1, (COLLAR_M - d) / SEAM_M));
  const ribs = 2 * Math.round((Math.PI * collar.off.reduce((s, v) => s + v, 0)) / n / collar.ribM);
  const much = band * seen(collar.ribM, pixelM, 2, 5);
  if (much > 0) {
    const k = (-much * 0.5 * COLLAR_HIGH_M * ribs * Math.sin(ribs * angle)) / (r * r);
    spot[0]! += k * (p * across[0] - q * out[0]);
    spot[1]! += k * (p * across[1] - q * out[1]);
    spot[2]! += k * (p * across[2] - q * out[2]);
    spot[3]! += 0.16 * much * Math.cos(ribs * angle);
  }
  const off = (d - COLLAR_M) / SEAM_M;
  const seam = seen(2 * SEAM_M, pixelM, 1, 3) * Math.exp(-off * off);
  const k = (2 * off * SEAM_HIGH_M * seam) / (SEAM_M * Math.max(d, 1e-4));
  spot[0]! += k * (dr * gx + dt * along[0]);
  spot[1]! += k * (dr * gy + dt * along[1]);
  spot[2]! += k * (dr * gz + dt * along[2]);
  spot[3]! -= 0.3 * seam;
}

/** What is farther from the middle of a nail or a joint is not of it, metres; hands lie so far out at rest. */
const FINGER_M = 0.013;
const HANDS_M = 0.2;
const GROOVE_HIGH_M = 0.00025;
const GROOVE = 0.11;
const CREASE_M = 0.0019;
const CREASE_HIGH_M = 0.00006;
const CREASES_M = 0.0035;

/** Nails: a plate that is smooth and a little lighter, its end more so, in a groove; and creases over the joints. */
function addFingers(fingers: readonly Finger[], x: number, y: number, z: number, pixelM: number): void {
  for (const { at, along, across, out, half } of fingers) {
    const a = x - at[0];
    const b = y - at[1];
    const c = z - at[2];
    if (a * a + b * b + c * c > FINGER_M * FINGER_M) continue;
    if (a * out[0] + b * out[1] + c * out[2] < (half ? -0.004 : 0)) continue;
    const t = a * along[0] + b * along[1] + c * along[2];
    if (!half) {
      const near = seen(CREASE_M, pixelM, 2, 5) * Math.exp(-((t / CREASES_M) ** 2));
      const turn = (2 * Math.PI * t) / CREASE_M;
      const wave = Math.cos(turn);
      const steep = (-2 * t * wave) / CREASES_M ** 2 - (Math.sin(turn) * 2 * Math.PI) / CREASE_M;
      for (let i = 0; i < 3; i++) spot[i]! += CREASE_HIGH_M * near * steep * along[i]!;
      spot[3]! += 0.05 * near * wave;
      continue;
    }
    const u = t / half[0];
    const v = (a * across[0] + b * across[1] + c * across[2]) / half[1];
    const q = u ** 4 + v ** 4;
    const r = Math.sqrt(Math.sqrt(q));
    if (r > 1.5) continue;
    const much = seen(half[1], pixelM, 2, 5);
    const plate = much * Math.max(0, Math.min(1, (0.98 - r) / 0.1));
    for (let i = 0; i < 3; i++) spot[i]! *= 1 - plate;
    const end = Math.max(0, Math.min(1, (u - 0.72) / 0.12));
    spot[3] = 1 + (spot[3]! - 1) * (1 - plate) + plate * (0.1 + 0.22 * end);
    const off = (r - 1) / GROOVE;
    const groove = seen(GROOVE * half[1], pixelM, 0.6, 1.6) * Math.exp(-off * off);
    spot[3]! -= 0.35 * groove * (1 - end);
    if (q < 1e-6) continue;
    const k = (2 * GROOVE_HIGH_M * groove * off) / (GROOVE * q ** 0.75);
    const ku = (k * u ** 3) / half[0];
    const kv = (k * v ** 3) / half[1];
    for (let i = 0; i < 3; i++) spot[i]! += ku * along[i]! + kv * across[i]!;
  }
}

/** Places at rest (metres) as steps. */
export function restSteps(places: Float32Array): Int16Array {
  const out = new Int16Array(places.length);
  for (let i = 0; i < out.length; i++) out[i] = Math.round(places[i]! / REST_STEP_M);
  return out;
}

/** Fills `spot` for a rest place (metres) of which a pixel covers `pixelM`. */
export function reliefAt(relief: Relief, x: number, y: number, z: number, pixelM: number): void {
  spot[0] = spot[1] = spot[2] = 0;
  spot[3] = 1;
  switch (relief.kind) {
    case 'knit':
      // The sheet itself is never quite flat.
      addLumps(x, y, z, 0.034, 0.0022, 0.02, pixelM);
      addLumps(x, y, z, 0.013, 0.0006, 0.03, pixelM);
      addKnit(relief.tubes, x, y, z, pixelM);
      if (relief.tubes[0]) addCollar(relief.tubes[0], x, y, z, pixelM);
      break;
    case 'woven':
      // Creases lie across: the hollows between them are long.
      addLumps(x, y, z, 0.024, 0.0014, 0.015, pixelM, 1, 1, 0.6);
      addLumps(x + 5, y, z, 0.009, 0.0004, 0.02, pixelM, 0.6, 0.6, 1);
      // Slubs: threads thicker for a little way, along and across.
      addLumps(x, y, z, 0.0016, 0.00004, 0.05, pixelM, 0.12, 0.12, 1);
      addLumps(x, y, z, 0.0016, 0.00004, 0.05, pixelM, 1, 1, 0.12);
      if (relief.tubes[0]) addCollar(relief.tubes[0], x, y, z, pixelM);
      break;
    case 'skin':
      addLumps(x, y, z, 0.011, 0.00016, 0.03, pixelM);
      addLumps(x, y, z, 0.0038, 0.00007, 0.02, pixelM);
      addLumps(x, y, z, 0.0013, 0.00004, 0.03, pixelM);
      addLumps(x, y, z, 0.0005, 0.00002, 0.03, pixelM);
      if (x > HANDS_M || x < -HANDS_M) addFingers(relief.fingers, x, y, z, pixelM);
      break;
    case 'lips':
      addLumps(x, y, z, 0.0016, 0.0001, 0.08, pixelM, 1, 0.3, 0.25);
      addLumps(x, y, z, 0.004, 0.00012, 0.04, pixelM);
      break;
  }
}
