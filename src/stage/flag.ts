/** Things on stands that shape light: flags, boards, nets, bounce boards, frames of diffusion. True to size edge-on. */
import { neutral } from '../colour/reflectance.ts';
import { add, DEG, normalize, scale, type Vec3 } from '../maths/vec3.ts';
import { box, cylinder, panel } from './build.ts';
import { BLACK_CLOTH, BLACK_PAINT, type FinishSpec, GREY_STEEL, materialOf } from './finish.ts';
import { bodyOf, draft, type Frame, looking, slotOf, WORLD } from './mesh.ts';
import { type PatternSpec, patternBody } from './patternBody.ts';
import type { Body, Material, PartKind } from './stage.ts';
import { buildSupport } from './support.ts';

/** A thing that shapes light, as told. */
export interface FlagSpec {
  id: string;
  words: string;
  kind: 'flag' | 'board' | 'net-half' | 'net-full' | 'bounce' | 'frame';
  /** Middle, metres. */
  at: Vec3;
  /** The way its face looks; need not be unit. */
  facing: Vec3;
  /** Width and height, metres. */
  sizeM: readonly [number, number];
  /** About `facing`, degrees. */
  rollDeg?: number;
  finish?: FinishSpec;
  /** Of a net or frame: share of light that goes straight through, 0–1. Nets: half a stop and one stop if untold. */
  straight?: number;
  /** Of a frame: share that goes through altogether, 0–1. What it sends back is never more than the rest. */
  passes?: number;
  /** Cut in it, or hanging in its place: flags and boards only. */
  pattern?: PatternSpec;
  /** End of the arm that holds it, metres; a stand under it if `stand` is given. */
  arm?: Vec3;
  stand?: { baseZ: number; footM: number };
}

/** Thickness of cloth on wire, of board, metres. */
const CLOTH_M = 0.003;
const BOARD_M = 0.005;
const WIRE_M = 0.005;

/** x across, y up, z the way it faces. */
export function frameOfFlag(s: FlagSpec): Frame {
  const f = looking(s.at, s.facing);
  const r = (s.rollDeg ?? 0) * DEG;
  if (r === 0) return f;
  return {
    ...f,
    x: add(scale(f.x, Math.cos(r)), scale(f.y, Math.sin(r))),
    y: add(scale(f.y, Math.cos(r)), scale(f.x, -Math.sin(r))),
  };
}

/** Nets stop half a stop and one stop by common practice (no source); a frame nobody measured passes none straight. */
function straightOf(s: FlagSpec): number {
  return s.straight ?? (s.kind === 'net-half' ? 2 ** -0.5 : s.kind === 'net-full' ? 0.5 : 0);
}

function clothOf(s: FlagSpec): Material {
  if (s.kind === 'flag') return s.finish ? materialOf(s.finish) : BLACK_CLOTH;
  if (s.kind === 'board') return s.finish ? materialOf(s.finish) : { ...BLACK_CLOTH, name: 'black velvet' };
  if (s.kind === 'bounce') return materialOf(s.finish ?? { words: 'white board', reflectance: 0.85 });
  const rest = s.finish ? materialOf(s.finish) : undefined;
  return {
    name: s.finish?.words ?? (s.kind === 'frame' ? 'diffusion' : 'black net'),
    reflectance: rest?.reflectance ?? neutral(s.kind === 'frame' ? Math.min(0.4, 1 - (s.passes ?? 0)) : 0.03),
    kind: 'sheet',
    straight: straightOf(s),
  };
}

/** The thing itself, and its stand if it has one. */
export function buildFlag(s: FlagSpec): Body[] {
  const d = draft(frameOfFlag(s));
  const [w, h] = s.sizeM;
  const x = w / 2;
  const y = h / 2;
  const cloth = slotOf(d, clothOf(s));
  const through = s.kind === 'net-half' || s.kind === 'net-full' || s.kind === 'frame';
  if (through) {
    // The sheet is exactly its size; wire or tube runs round outside it (a net's fourth side is open).
    panel(d, [-x, -y, 0], [w, 0, 0], [0, h, 0], cloth);
    const r = s.kind === 'frame' ? 0.0125 : WIRE_M / 2;
    const wire = slotOf(d, s.kind === 'frame' ? GREY_STEEL : BLACK_PAINT);
    cylinder(d, [-x - r, -y - 2 * r, 0], [-x - r, y + 2 * r, 0], r, wire);
    if (s.kind === 'frame') cylinder(d, [x + r, -y - 2 * r, 0], [x + r, y + 2 * r, 0], r, wire);
    cylinder(d, [-x, -y - r, 0], [x, -y - r, 0], r, wire);
    cylinder(d, [-x, y + r, 0], [x, y + r, 0], r, wire);
  } else if (s.pattern && s.kind !== 'bounce') patternBody(d, s.pattern, w, h, cloth);
  else {
    const t = (s.kind === 'flag' ? CLOTH_M : BOARD_M) / 2;
    box(d, [-x, -y, -t], [x, y, t], cloth);
  }
  const part = {
    id: `flag:${s.id}`,
    words: s.words,
    kind: (through ? 'sheet' : 'flag') as PartKind,
    moving: true,
  };
  const out = [bodyOf(d, part)];
  if (s.arm) {
    // From the nearer edge of the thing to the arm's end.
    const f = frameOfFlag(s);
    const away = normalize([s.arm[0] - s.at[0], s.arm[1] - s.at[1], s.arm[2] - s.at[2]]);
    const along = (v: Vec3): number => v[0] * away[0] + v[1] * away[1] + v[2] * away[2];
    const [ax, ay] = [along(f.x), along(f.y)];
    const edge =
      Math.abs(ax) * h > Math.abs(ay) * w
        ? add(s.at, scale(f.x, Math.sign(ax) * x))
        : add(s.at, scale(f.y, (Math.sign(ay) || -1) * y));
    const a = draft(WORLD);
    cylinder(a, edge, s.arm, 0.006, slotOf(a, BLACK_PAINT));
    out.push(
      bodyOf(a, { id: `support:${s.id}/arm`, words: `the arm of ${s.words}`, kind: 'support', moving: true }),
    );
    if (s.stand)
      out.push(
        buildSupport({ kind: 'stand', id: s.id, words: `the stand of ${s.words}`, top: s.arm, ...s.stand }),
      );
  } else if (s.stand) {
    const top = add(s.at, scale(frameOfFlag(s).y, -y));
    out.push(buildSupport({ kind: 'stand', id: s.id, words: `the stand of ${s.words}`, top, ...s.stand }));
  }
  return out;
}
