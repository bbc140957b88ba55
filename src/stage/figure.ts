/**
 * The figure of a finish: what is seen of boards, bricks, tiles or a rolled wall where one stands near. It shares a surface's
 * reflectance out over places and keeps its mean, so that light between walls, readings and patches know nothing of it.
 * Everything is in metres and fades where a pixel covers more than it could show.
 */
import { cloud, clouds, wholeAt } from '../maths/clouds.ts';
import type { Vec3 } from '../maths/vec3.ts';

export type FigureKind =
  | 'none'
  | 'boards'
  | 'wood'
  | 'panels'
  | 'bricks'
  | 'tiles'
  | 'slabs'
  | 'stone'
  | 'plaster'
  | 'pile'
  | 'cloth'
  | 'check'
  | 'motif'
  | 'ground'
  | 'marbled'
  | 'ruled';

/** A figure as it lies on one body: turned about the vertical with it. */
export interface Figure {
  kind: FigureKind;
  /** Joints are painted over: coursing shows, single bricks hardly. */
  painted?: boolean;
  /** Metres: side of a tile or slab. */
  sideM?: number;
  /** About the vertical, radians, and where the body stands, metres. */
  turnRad?: number;
  atM?: readonly [number, number];
}

const WORDS: readonly [RegExp, Figure][] = [
  [/\bruled\b|written page/, { kind: 'ruled' }],
  [/ceiling tile/, { kind: 'tiles', sideM: 0.6 }],
  [/quarry tile|floor tile/, { kind: 'tiles', sideM: 0.23 }],
  [/\btiles?\b|\btiled\b/, { kind: 'tiles', sideM: 0.15 }],
  [/(whitewash|paint|lime).*brick/, { kind: 'bricks', painted: true }],
  [/brick/, { kind: 'bricks' }],
  [/setts|cobble/, { kind: 'slabs', sideM: 0.14 }],
  [/slabs|flags\b|flagstone/, { kind: 'slabs', sideM: 0.45 }],
  [/\bply\b|panelling|matchboard/, { kind: 'panels' }],
  [/laminate|enamel|plastic|chipboard|cardboard|foam board/, { kind: 'none' }],
  [/boards|planks|floorboard|larch|pales|staves/, { kind: 'boards' }],
  [
    /\b(wood|oak|pine|beech|spruce|ash|teak|mahogany|walnut|timber|veneer|deal|ladder|bark)\b/,
    { kind: 'wood' },
  ],
  [/concrete|slate|stone|tarmac|asphalt|cement/, { kind: 'stone' }],
  [/patterned carpet/, { kind: 'motif' }],
  [/carpet|rug\b|coir/, { kind: 'pile' }],
  [/\bcheck/, { kind: 'check' }],
  [/cloth|serge|cushion|tweed|linen|canvas|curtain|muslin|wool|cotton/, { kind: 'cloth' }],
  [/soil|earth|grass|lawn|gravel|mud|sand\b/, { kind: 'ground' }],
  [/plaster|emulsion|render|distemper|whitewash|wallpaper/, { kind: 'plaster' }],
  [/\blino|marble/, { kind: 'marbled' }],
];

/** The figure that goes by a finish's words; nothing where they name none. */
export function figureIn(words: string | undefined): Figure | undefined {
  if (!words) return undefined;
  const low = words.toLowerCase();
  return WORDS.find(([said]) => said.test(low))?.[1];
}

/** How much of detail `sizeM` across is left where a pixel covers `pixelM`. */
const left = (sizeM: number, pixelM: number): number =>
  Math.max(0, Math.min(1, sizeM / Math.max(pixelM, 1e-9) - 0.7));

/** Clouds of a size, metres, as strong as told; none where a pixel covers them. */
function mottle(x: number, y: number, z: number, sizeM: number, strength: number, pixelM: number): number {
  const some = strength * left(sizeM, pixelM);
  return some === 0 ? 0 : some * cloud(x / sizeM, y / sizeM, z / sizeM);
}

/** Share of a pixel at `x` that lies on lines of breadth `wide` about every whole multiple of `every`, metres. */
function lines(x: number, every: number, wide: number, pixelM: number): number {
  const half = Math.max(pixelM, 1e-6) / 2;
  // Length of line below x: whole lines, and the part of one.
  const below = (at: number): number => {
    const n = Math.floor(at / every + 0.5);
    const rest = at - n * every;
    return n * wide + Math.max(-wide / 2, Math.min(wide / 2, rest));
  };
  return (below(x + half) - below(x - half)) / (2 * half);
}

/** What of a body's surface a figure needs: along it and up it (on the flat: east and north of the body), metres. */
let along = 0;
let up = 0;
let face = 0;

function spread(f: Figure, x: number, y: number, z: number, nx: number, ny: number): void {
  const c = Math.cos(f.turnRad ?? 0);
  const s = Math.sin(f.turnRad ?? 0);
  const dx = x - (f.atM?.[0] ?? 0);
  const dy = y - (f.atM?.[1] ?? 0);
  const flat = Math.hypot(nx, ny);
  if (flat < 0.6) {
    along = c * dx + s * dy;
    up = c * dy - s * dx;
    face = Math.round(z * 20);
    return;
  }
  const hx = -ny / flat;
  const hy = nx / flat;
  along = hx * dx + hy * dy;
  // Up the slope, or up the wall.
  up = flat > 0.9 ? z : z / flat;
  face = Math.round(20 * (dx * nx + dy * ny)) + 977;
}

/** Streaks that run along `a`, one board's after another by `seed`. */
function streaks(a: number, b: number, seed: number, p: number): number {
  const fine = 0.1 * left(0.011, p);
  const finest = 0.07 * left(0.0035, p);
  return (
    0.06 * left(0.07, p) * clouds(a / 1.3, b / 0.07, seed) +
    (fine > 0 ? fine * clouds(a / 0.45, b / 0.011, seed + 17) : 0) +
    (finest > 0 ? finest * clouds(a / 0.2, b / 0.0035, seed + 31) : 0)
  );
}

/** Courses of `long` × `high` pieces with joints `joint` broad, every second one set off by half. */
function pieces(
  long: number,
  high: number,
  joint: number,
  p: number,
  tones: { each: number; joint: number; half: boolean },
): number {
  const row = Math.floor(up / high);
  const shift = tones.half && row & 1 ? long / 2 : 0;
  const column = Math.floor((along + shift) / long);
  const across = lines(up, high, joint, p);
  const gap = across + (1 - across) * lines(along + shift, long, joint, p);
  const share = joint / high + (1 - joint / high) * (joint / long);
  const body = (1 - share * tones.joint) / (1 - share);
  const one = body * (1 + tones.each * wholeAt(column, row, face) * left(high * 0.7, p));
  return gap * tones.joint + (1 - gap) * one;
}

/** Boards `wide` broad across `b`, grain along `a`. */
function boards(a: number, b: number, wide: number, gap: number, p: number, each: number): number {
  const n = Math.floor(b / wide);
  const on = lines(b, wide, gap, p);
  const dark = 0.3;
  const share = gap / wide;
  const body = (1 - share * dark) / (1 - share);
  const wood = 1 + each * wholeAt(n, face, 5) * left(wide * 0.7, p) + streaks(a, b, 40 * n + face, p);
  return on * dark + (1 - on) * body * wood;
}

/** Lines of a page, metres, and what stands on some of them: strokes of a pen, in two columns and a margin. */
const RULE_M = 0.008;
function ruled(p: number): number {
  const line = lines(up, RULE_M, 0.0003, p);
  const row = Math.floor(up / RULE_M);
  const cell = Math.floor(along / 0.03);
  const written = wholeAt(row, cell, 11) > -0.2;
  // A hand's height above its line, strokes that lean.
  const on = up / RULE_M - row;
  const hand = written && on > 0.12 && on < 0.5 ? 1 : 0;
  const wobble = 0.0012 * clouds(along / 0.003, up / 0.004, 3);
  const ink = hand * lines(along + 0.3 * up + wobble, 0.0024, 0.0006, p);
  const clear = left(0.003, p);
  // Shares of a large page: rules, and ink where three in five places are written on.
  const rules = 0.0003 / RULE_M;
  const inked = 0.6 * 0.38 * (0.0006 / 0.0024);
  const drawn = (1 - 0.35 * line) * (1 - 0.72 * ink * clear);
  return drawn / ((1 - 0.35 * rules) * (1 - 0.72 * inked * clear));
}

/**
 * Factor on a surface's diffuse reflectance at a place on it; its mean over a large surface is 1.
 * `normal`: the face's; `pixelM`: what a pixel covers there, metres.
 */
export function toneAt(f: Figure, at: Readonly<Vec3>, normal: Readonly<Vec3>, pixelM: number): number {
  const [x, y, z] = at;
  const p = pixelM;
  const spots = (sizeM: number, strength: number): number => mottle(x, y, z, sizeM, strength, p);
  switch (f.kind) {
    case 'none':
      return 1;
    case 'plaster':
      return 1 + spots(0.9, 0.035) + spots(0.16, 0.03) + spots(0.03, 0.025) + spots(0.006, 0.03);
    case 'stone':
      return 1 + spots(0.6, 0.09) + spots(0.14, 0.08) + spots(0.035, 0.08) + spots(0.005, 0.1);
    case 'pile':
      return 1 + spots(0.7, 0.06) + spots(0.06, 0.06) + spots(0.012, 0.12) + spots(0.005, 0.16);
    case 'cloth':
      return 1 + spots(0.2, 0.04) + spots(0.012, 0.05) + spots(0.0025, 0.1);
    case 'ground':
      return 1 + spots(0.8, 0.12) + spots(0.11, 0.14) + spots(0.03, 0.2) + spots(0.009, 0.2);
    case 'marbled': {
      const bend = spots(0.25, 1);
      return 1 + spots(0.8, 0.05) + 0.06 * cloud(x / 0.05 + 2 * bend, y / 0.12, z / 0.05) * left(0.05, p);
    }
    default:
  }
  spread(f, x, y, z, normal[0], normal[1]);
  const flat = Math.hypot(normal[0], normal[1]) < 0.6;
  switch (f.kind) {
    case 'bricks':
      // A brick of 215 × 65 mm with joints of 10 mm.
      return (
        pieces(0.225, 0.075, 0.01, p, {
          each: f.painted ? 0.03 : 0.2,
          joint: f.painted ? 0.82 : 1.25,
          half: true,
        }) *
        (1 + spots(0.7, 0.05) + spots(0.02, 0.06))
      );
    case 'tiles': {
      const side = f.sideM ?? 0.15;
      return pieces(side, side, side > 0.4 ? 0.012 : 0.003, p, { each: 0.025, joint: 0.6, half: false });
    }
    case 'slabs': {
      const side = f.sideM ?? 0.45;
      return (
        pieces(side, side, 0.008, p, { each: 0.14, joint: 0.5, half: true }) *
        (1 + spots(0.3, 0.06) + spots(0.03, 0.1) + spots(0.006, 0.1))
      );
    }
    case 'boards':
      return flat ? boards(along, up, 0.15, 0.005, p, 0.14) : boards(up, along, 0.15, 0.005, p, 0.14);
    case 'panels':
      return flat ? boards(along, up, 0.2, 0.004, p, 0.05) : boards(up, along, 0.2, 0.004, p, 0.05);
    case 'ruled':
      return ruled(p);
    case 'wood':
      return 1 + (flat ? streaks(along, up, face, p) : streaks(up, along, face, p));
    case 'check': {
      const band = (at: number): number => lines(at, 0.05, 0.025, p) - 0.5;
      const thin = (at: number): number => lines(at + 0.0125, 0.05, 0.004, p) - 0.08;
      return (
        1 +
        0.3 * (band(along) + band(up)) +
        0.4 * (thin(along) + thin(up)) +
        0.08 * cloud(x / 0.003, y / 0.003, z / 0.003) * left(0.003, p)
      );
    }
    default: {
      // A diamond with a heart, every quarter metre.
      const k = (2 * Math.PI) / 0.26;
      const a = Math.cos(k * (along + up));
      const b = Math.cos(k * (along - up));
      return (
        1 +
        (0.3 * a * b + 0.12 * (Math.cos(2 * k * along) + Math.cos(2 * k * up))) * left(0.06, p) +
        spots(0.7, 0.05) +
        spots(0.006, 0.12)
      );
    }
  }
}
