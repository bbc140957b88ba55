/** Words placed where the paper is free: beside their thing, off lines, bodies and one another. Pixels of the screen. */
import type { DrawMark, Point } from './display.ts';

type Words = Extract<DrawMark, { kind: 'words' }>;

/** Where words came to stand: the middle of the line of text at its anchor, pixels from the thing. */
export interface Put {
  dx: number;
  dy: number;
  anchor: Words['anchor'];
}
export interface Box {
  x: number;
  y: number;
  w: number;
  h: number;
}

const HEIGHT = 18;
/** Width of a text, pixels: tabular figures of a semi-condensed face (measured on ours: 6.3 at 13 px). */
export const widthOf = (m: Words): number =>
  m.size === 'number'
    ? Math.max(20, 8 * m.text.length + 10)
    : m.text.length * (m.size === 'label' ? 7.4 : 6.4);

/** How much a line counts that is written over, by what it is of. */
function weight(m: DrawMark): number {
  if (m.tone === 'wall') return 1.6;
  if (m.tone === 'seen' || m.tone === 'outside') return 0;
  if (m.kind === 'line') return m.weight === 'hair' ? 0.5 : 1;
  return 1;
}

/** Length of the segment a–b inside a box. */
export function inside(a: Point, b: Point, r: Box): number {
  // Most lines of a plan pass nowhere near.
  if (a[0] < r.x && b[0] < r.x) return 0;
  if (a[1] < r.y && b[1] < r.y) return 0;
  if (a[0] > r.x + r.w && b[0] > r.x + r.w) return 0;
  if (a[1] > r.y + r.h && b[1] > r.y + r.h) return 0;
  let t0 = 0;
  let t1 = 1;
  const d = [b[0] - a[0], b[1] - a[1]] as const;
  const edges = [
    [-d[0], a[0] - r.x],
    [d[0], r.x + r.w - a[0]],
    [-d[1], a[1] - r.y],
    [d[1], r.y + r.h - a[1]],
  ] as const;
  for (const [p, q] of edges) {
    if (p === 0 && q < 0) return 0;
    if (p === 0) continue;
    const t = q / p;
    if (p < 0) t0 = Math.max(t0, t);
    else t1 = Math.min(t1, t);
    if (t0 >= t1) return 0;
  }
  return (t1 - t0) * Math.hypot(d[0], d[1]);
}

const overlap = (a: Box, b: Box): number =>
  Math.max(0, Math.min(a.x + a.w, b.x + b.w) - Math.max(a.x, b.x)) *
  Math.max(0, Math.min(a.y + a.h, b.y + b.h) - Math.max(a.y, b.y));

/** Sides of a thing, the preferred first: which way, and whether words run to the left. */
const SIDES: readonly (readonly [number, number])[] = [
  [0, -1],
  [1, 0],
  [0, 1],
  [-1, 0],
  [0.75, -0.75],
  [0.75, 0.75],
  [-0.75, -0.75],
  [-0.75, 0.75],
];

/**
 * Places for all words that may be placed (`clearM`), by their index in `marks`. `toPx` takes metres to pixels; `page`
 * is what can be seen. Words of the same thing stand in one row, the first of them nearest to it.
 */
export function placeWords(
  marks: readonly DrawMark[],
  toPx: (p: Point) => Point,
  pxPerM: number,
  page: Box,
): Map<number, Put> {
  const out = new Map<number, Put>();
  const segments: { a: Point; b: Point; w: number }[] = [];
  const taken: Box[] = [];
  const written: Box[] = [];
  const groups = new Map<string, { index: number; m: Words }[]>();
  marks.forEach((m, index) => {
    if (m.kind === 'words') {
      if (m.clearM === undefined || !m.ref) {
        const [x, y] = toPx(m.at);
        const w = widthOf(m);
        const left = m.anchor === 'middle' ? w / 2 : m.anchor === 'end' ? w : 0;
        written.push({ x: x + (m.dx ?? 0) - left, y: y + (m.dy ?? 0) - HEIGHT / 2, w, h: HEIGHT });
        return;
      }
      const key = `${m.ref.kind === 'height' ? 'lamp' : m.ref.kind}:${m.ref.id}`;
      groups.set(key, [...(groups.get(key) ?? []), { index, m }]);
      return;
    }
    if (m.kind === 'circle') {
      const [x, y] = toPx(m.centre);
      const r = m.radiusM * pxPerM;
      if (!m.dash) taken.push({ x: x - r, y: y - r, w: 2 * r, h: 2 * r });
      return;
    }
    const w = weight(m);
    if (w === 0 || m.tone.startsWith('beam:')) return;
    const points = m.points.map(toPx);
    if (m.kind === 'area') {
      const xs = points.map((p) => p[0]);
      const ys = points.map((p) => p[1]);
      const [x, y] = [Math.min(...xs), Math.min(...ys)];
      taken.push({ x, y, w: Math.max(...xs) - x, h: Math.max(...ys) - y });
      return;
    }
    for (let i = 1; i < points.length; i++) segments.push({ a: points[i - 1]!, b: points[i]!, w });
  });

  for (const group of groups.values()) {
    const first = group[0]!.m;
    const [cx, cy] = toPx(first.at);
    const clear = (first.clearM ?? 0) * pxPerM + 4;
    const widths = group.map(({ m }) => widthOf(m));
    const gap = 3;
    const w = widths.reduce((a, b) => a + b, 0) + gap * (group.length - 1);
    let best: { cost: number; box: Box; left: boolean } | undefined;
    SIDES.forEach(([sx, sy], rank) => {
      const left = sx < 0;
      // Over and under, the first word stands on the thing's own line and the rest run on.
      const x0 = sx === 0 ? cx - widths[0]! / 2 : cx + sx * clear - (left ? w : 0);
      const y0 = cy + sy * (clear + (sx === 0 ? HEIGHT / 2 : HEIGHT / 3)) - HEIGHT / 2;
      const box = { x: x0, y: y0, w, h: HEIGHT };
      let cost = rank * 4;
      for (const s of segments) cost += s.w * inside(s.a, s.b, box);
      for (const t of taken) cost += 0.6 * overlap(box, t);
      // Words over words are read by nobody, however little they meet.
      for (const t of written) if (overlap(box, t) > 0) cost += 30 + 2 * overlap(box, t);
      const off = w * HEIGHT - overlap(box, page);
      cost += 3 * off;
      if (!best || cost < best.cost) best = { cost, box, left };
    });
    const { box, left } = best!;
    written.push(box);
    let x = left ? box.x + box.w : box.x;
    group.forEach(({ index }, i) => {
      const wide = widths[i]!;
      const from = left ? x - wide : x;
      const middle = group[i]!.m.anchor === 'middle';
      out.set(index, {
        dx: (middle ? from + wide / 2 : from) - cx,
        dy: box.y + HEIGHT / 2 - cy,
        anchor: middle ? 'middle' : 'start',
      });
      x = left ? from - gap : from + wide + gap;
    });
  }
  return out;
}
