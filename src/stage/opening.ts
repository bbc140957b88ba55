/** What stands in an opening: a pane in its frame, a shut leaf, a leaf that hangs open. */
import { neutral } from '../colour/reflectance.ts';
import { box, cylinder, panel } from './build.ts';
import { CHROME, PANE } from './finish.ts';
import { bodyOf, type Draft, draft, type Frame, inFrame, slotOf, upright } from './mesh.ts';
import type { Body, Material, Part } from './stage.ts';

/** x along the wall, y into the room, z up; origin at the lower near corner on the inner face; the wall is at y < 0. */
export interface OpeningPlace {
  frame: Frame;
  widthM: number;
  heightM: number;
  wallM: number;
}

/** Frame and leaf go this far into the wall, so that no light passes beside them. */
const BED_M = 0.005;
export const FRAME_M = 0.06;
const LEAF_M = 0.04;

/** Width and depth of a glazing bar, metres (a common section; common practice, no source). */
const BAR_M = 0.022;
const BAR_DEEP_M = 0.04;

/**
 * A fixed window: a frame 6 cm wide, glazing bars if told, one pane in the middle of the wall; `passes`: share that
 * neutral sheets on the glass let through.
 */
export function paneBody(
  o: OpeningPlace,
  part: Part,
  bars: Material,
  [across, up]: readonly [number, number] = [0, 0],
  passes = 1,
): Body {
  const d = draft(o.frame);
  const s = slotOf(d, bars);
  const { widthM: w, heightM: h } = o;
  const y0 = -o.wallM / 2 - FRAME_M / 2;
  const y1 = y0 + FRAME_M;
  box(d, [-BED_M, y0, -BED_M], [FRAME_M, y1, h + BED_M], s);
  box(d, [w - FRAME_M, y0, -BED_M], [w + BED_M, y1, h + BED_M], s);
  box(d, [FRAME_M, y0, -BED_M], [w - FRAME_M, y1, FRAME_M], s);
  box(d, [FRAME_M, y0, h - FRAME_M], [w - FRAME_M, y1, h + BED_M], s);
  const middle = -o.wallM / 2;
  for (let k = 1; k <= across; k++) {
    const x = FRAME_M + ((w - 2 * FRAME_M) * k) / (across + 1);
    box(
      d,
      [x - BAR_M / 2, middle - BAR_DEEP_M / 2, FRAME_M],
      [x + BAR_M / 2, middle + BAR_DEEP_M / 2, h - FRAME_M],
      s,
    );
  }
  for (let k = 1; k <= up; k++) {
    const z = FRAME_M + ((h - 2 * FRAME_M) * k) / (up + 1);
    box(
      d,
      [FRAME_M, middle - BAR_DEEP_M / 2, z - BAR_M / 2],
      [w - FRAME_M, middle + BAR_DEEP_M / 2, z + BAR_M / 2],
      s,
    );
  }
  const glass = slotOf(
    d,
    passes < 1 ? { ...PANE, name: 'window glass, neutral', tint: neutral(passes) } : PANE,
  );
  const e = FRAME_M - BED_M;
  panel(d, [e, -o.wallM / 2, e], [w - 2 * e, 0, 0], [0, 0, h - 2 * e], glass, { patchM: 1e3 });
  return bodyOf(d, part);
}

/** A shut leaf (or a board that closes a gap or window) bedded into the reveals. */
export function shutBody(o: OpeningPlace, part: Part, leaf: Material, kind: 'door' | 'window' | 'gap'): Body {
  const d = draft(o.frame);
  const y0 = -Math.min(0.03, o.wallM / 4) - LEAF_M;
  box(d, [-BED_M, y0, -BED_M], [o.widthM + BED_M, y0 + LEAF_M, o.heightM + BED_M], slotOf(d, leaf), {
    without: ['x-', 'x+', 'z-', 'z+'],
  });
  if (kind === 'door') handle(d, o.widthM - 0.07, y0, y0 + LEAF_M, o.heightM);
  return bodyOf(d, part);
}

/** A leaf hinged at the near edge on the inner face, standing `open` radians into the room; minus: outward. */
export function leafBody(o: OpeningPlace, part: Part, leaf: Material, open: number): Body {
  const d = draft(o.frame);
  const inward = open >= 0;
  const hinge = upright([0.004, inward ? 0 : -o.wallM, 0.004], open);
  inFrame(d, hinge, () => {
    const y0 = inward ? -LEAF_M : 0;
    box(d, [0, y0, 0], [o.widthM - 0.008, y0 + LEAF_M, o.heightM - 0.008], slotOf(d, leaf));
    handle(d, o.widthM - 0.07, y0, y0 + LEAF_M, o.heightM);
  });
  return bodyOf(d, part);
}

/** A knob on each face of a leaf. */
function handle(d: Draft, x: number, y0: number, y1: number, heightM: number): void {
  if (heightM < 1.5) return;
  const s = slotOf(d, CHROME);
  cylinder(d, [x, y0, 1], [x, y0 - 0.05, 1], 0.024, s);
  cylinder(d, [x, y1, 1], [x, y1 + 0.05, 1], 0.024, s);
}
