/** Sheets to cut for the day: which, for which head, how large, how many; and how much of the roll that takes. */
import { diffusionById } from '../light/diffusion.ts';
import { gelById } from '../light/gels.ts';
import { kindOf } from '../setup/lamps.ts';
import { kitKind } from '../shoot/kit.ts';
import { anglesOf, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';

export interface Cut {
  sheet: string;
  words: string;
  kind: 'gel' | 'diffusion' | 'other';
  /** “lamp 1, 300 W fresnel”. */
  forWhat: string;
  widthM: number;
  heightM: number;
  count: number;
  /** Angles that use it; empty: all of the scene's. */
  angles: string[];
}
export interface CutTotal {
  sheet: string;
  words: string;
  pieces: number;
  /** Of a roll of this width, metres, rounded up to half a metre. */
  rollM: number;
  held: number | undefined;
}

/** Hand's breadth on every side of the housing, to reach the doors and be pegged (common practice, no source). */
const MARGIN_M = 0.06;
const STEP_M = 0.05;
/** Width of the usual roll, metres (common practice, no source). */
export const ROLL_M = 1.22;

const up = (v: number, step: number) => Math.ceil(v / step - 1e-9) * step;

/** What is cut from a roll; a crate is not. Sheets that nobody knows are listed too. */
const sortOf = (id: string): Cut['kind'] | undefined =>
  gelById(id) ? 'gel' : diffusionById(id) ? 'diffusion' : /crate/.test(id) ? undefined : 'other';

export function cutList(shoot: Shoot): Cut[] {
  const cuts = new Map<string, Cut & { all: Set<string> }>();
  const add = (key: string, cut: Omit<Cut, 'count' | 'angles'>, count: number, angle: string) => {
    const c = cuts.get(key) ?? { ...cut, count: 0, angles: [], all: new Set<string>() };
    c.count = Math.max(c.count, count);
    c.all.add(angle);
    cuts.set(key, c);
  };
  for (const ref of anglesOf(shoot)) {
    const rig = rigFor(shoot, ref);
    for (const [id, lamp] of Object.entries(rig.lamps)) {
      const kind = kindOf(shoot.kit.lamps[lamp.head]);
      for (const sheet of new Set(lamp.sheets)) {
        const sort = sortOf(sheet);
        if (!sort) continue;
        const [w, h] = kind ? [kind.housing.widthM, kind.housing.heightM] : [0.3, 0.3];
        add(
          `${ref.scene}/${id}/${sheet}`,
          {
            sheet,
            words: sheetWords(sheet),
            kind: sort,
            forWhat: `lamp ${lamp.number}, ${shoot.kit.lamps[lamp.head]?.words ?? kind?.words ?? lamp.head}`,
            widthM: up(w + 2 * MARGIN_M, STEP_M),
            heightM: up(h + 2 * MARGIN_M, STEP_M),
          },
          lamp.sheets.filter((s) => s === sheet).length,
          ref.angle,
        );
      }
    }
    for (const [id, f] of Object.entries(rig.flags)) {
      if (f.kind !== 'frame' || !f.sheet) continue;
      add(
        `${ref.scene}/${id}/${f.sheet}`,
        {
          sheet: f.sheet,
          words: sheetWords(f.sheet),
          kind: sortOf(f.sheet) ?? 'other',
          forWhat: `frame ${id}${f.words ? `, ${f.words}` : ''}`,
          widthM: up(f.sizeM[0] + 0.1, STEP_M),
          heightM: up(f.sizeM[1] + 0.1, STEP_M),
        },
        1,
        ref.angle,
      );
    }
  }
  return [...cuts].map(([key, { all, ...c }]) => {
    const scene = shoot.scenes[key.split('/')[0]!]!;
    return { ...c, angles: all.size === Object.keys(scene.angles).length ? [] : [...all] };
  });
}

export const sheetWords = (id: string): string => kitKind(id)?.words ?? id.replaceAll('-', ' ');

/** Roll by sheet: pieces laid side by side across it, row under row. */
export function cutTotals(shoot: Shoot, cuts: readonly Cut[]): CutTotal[] {
  return [...new Set(cuts.map((c) => c.sheet))].map((sheet) => {
    const own = cuts.filter((c) => c.sheet === sheet);
    const sizes = own
      .flatMap((c) => Array.from({ length: c.count }, () => turned(c)))
      .sort((a, b) => b.long - a.long);
    let length = 0;
    let left = 0;
    for (const s of sizes) {
      if (s.across > left + 1e-9) {
        length += s.long;
        left = ROLL_M;
      }
      left -= s.across;
    }
    const kit = Object.values(shoot.kit.sheets).filter((t) => t.kind === sheet);
    return {
      sheet,
      words: sheetWords(sheet),
      pieces: sizes.length,
      rollM: up(length, 0.5),
      held: kit.length ? kit.reduce((n, t) => n + t.count, 0) : undefined,
    };
  });
}

/** Across the roll as it wastes least; what is wider than the roll both ways is joined, and counted along it twice. */
function turned(c: Cut): { across: number; long: number } {
  const [small, large] = c.widthM < c.heightM ? [c.widthM, c.heightM] : [c.heightM, c.widthM];
  if (large <= ROLL_M) return { across: large, long: small };
  if (small <= ROLL_M) return { across: small, long: large };
  return { across: ROLL_M, long: large * Math.ceil(small / ROLL_M) };
}
