/** Labels set beside what they name, so that none lies on another and few on what is drawn. */
import type { At, PageMark } from './page.ts';
import { LEADING, widthOf, word } from './type.ts';

export interface LabelLine {
  text: string;
  sizeMm: number;
  face?: 'plain' | 'bold' | 'said';
  /** White on black: a lamp's number. */
  boxed?: true;
}
export interface Label {
  /** The middle of what it names. */
  anchor: At;
  /** What it names reaches so far. */
  radiusMm: number;
  lines: readonly LabelLine[];
  /** Set on the anchor itself, whatever lies there. */
  fixed?: true;
}
interface Box {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}

const overlap = (a: Box, b: Box): number =>
  Math.max(0, Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0)) *
  Math.max(0, Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0));

/** How large a label is: its lines one under the other. */
export function labelSize(lines: readonly LabelLine[]): { widthMm: number; heightMm: number } {
  return {
    widthMm: Math.max(
      ...lines.map((l) => widthOf(l.text, l.face ?? 'plain', l.sizeMm) + (l.boxed ? 1.6 : 0)),
    ),
    heightMm: lines.reduce((s, l) => s + l.sizeMm * (l.boxed ? 1.32 : LEADING), 0),
  };
}

/**
 * Marks of all labels. `obstacles`: bodies that should stay readable; `lines`: points along lines, cheaper to cross;
 * `within`: the rectangle no label may leave.
 */
export function placeLabels(
  labels: readonly Label[],
  obstacles: readonly Box[],
  lines: readonly At[],
  within: Box,
): PageMark[] {
  const marks: PageMark[] = [];
  const taken: Box[] = [];
  const size = labels.map((l) => labelSize(l.lines));
  const boxAt = (i: number, cx: number, cy: number): Box => ({
    x0: cx - size[i]!.widthMm / 2,
    x1: cx + size[i]!.widthMm / 2,
    y0: cy - size[i]!.heightMm / 2,
    y1: cy + size[i]!.heightMm / 2,
  });
  const chosen: Box[] = [];
  labels.forEach((l, i) => {
    if (l.fixed) {
      chosen[i] = boxAt(i, l.anchor[0], l.anchor[1]);
      taken.push(chosen[i]);
    }
  });
  labels.forEach((l, i) => {
    if (l.fixed) return;
    let best: { box: Box; cost: number } | undefined;
    for (const away of [0.8, 2.2, 4.5, 8, 13])
      for (let k = 0; k < 16; k++) {
        const a = (k * Math.PI) / 8;
        const [c, s] = [Math.cos(a), Math.sin(a)];
        // The box's middle so far out that its nearest side is `away` from the body.
        const reach = l.radiusMm + away;
        const cx = l.anchor[0] + c * reach + (Math.sign(Math.round(c * 1e6)) * size[i]!.widthMm) / 2;
        const cy = l.anchor[1] + s * reach + (Math.sign(Math.round(s * 1e6)) * size[i]!.heightMm) / 2;
        const box = boxAt(i, cx, cy);
        const out = Math.max(
          0,
          within.x0 - box.x0,
          box.x1 - within.x1,
          within.y0 - box.y0,
          box.y1 - within.y1,
        );
        const cost =
          out * 1000 +
          taken.reduce((sum, b) => sum + overlap(box, grown(b, 0.5)) * 60, 0) +
          obstacles.reduce((sum, b) => sum + overlap(box, b) * 4, 0) +
          lines.reduce((sum, p) => sum + (inBox(p, box) ? 1.2 : 0), 0) +
          away * 0.9 +
          // To the right and above first, all else being alike.
          (1 - c) * 0.15 +
          (1 + s) * 0.1;
        if (!best || cost < best.cost - 1e-9) best = { box, cost };
      }
    chosen[i] = best!.box;
    taken.push(best!.box);
  });
  labels.forEach((l, i) => {
    const box = chosen[i]!;
    // A hairline to what it names, where it stands off.
    const near: At = [clamp(l.anchor[0], box.x0, box.x1), clamp(l.anchor[1], box.y0, box.y1)];
    const gap = Math.hypot(near[0] - l.anchor[0], near[1] - l.anchor[1]);
    if (!l.fixed && gap > l.radiusMm + 2.4) {
      const t = l.radiusMm / gap;
      marks.push({
        kind: 'line',
        points: [
          near,
          [l.anchor[0] + (near[0] - l.anchor[0]) * t, l.anchor[1] + (near[1] - l.anchor[1]) * t],
        ],
        weightMm: 0.12,
      });
    }
    const left = l.fixed || l.lines.length === 1 ? undefined : (box.x0 + box.x1) / 2 >= l.anchor[0];
    let y = box.y0;
    for (const line of l.lines) {
      const face = line.face ?? 'plain';
      const w = widthOf(line.text, face, line.sizeMm) + (line.boxed ? 1.6 : 0);
      const x0 = left === undefined ? (box.x0 + box.x1 - w) / 2 : left ? box.x0 : box.x1 - w;
      if (line.boxed) {
        const h = line.sizeMm * 1.18;
        marks.push({
          kind: 'shape',
          points: [
            [x0, y],
            [x0 + w, y],
            [x0 + w, y + h],
            [x0, y + h],
          ],
          fill: 'ink',
        });
        marks.push(
          word([x0 + w / 2, y + line.sizeMm * 0.93], line.text, {
            face,
            sizeMm: line.sizeMm,
            anchor: 'middle',
            ink: 'paper',
          }),
        );
        y += line.sizeMm * 1.32;
      } else {
        marks.push(word([x0, y + line.sizeMm * 0.9], line.text, { face, sizeMm: line.sizeMm, rim: true }));
        y += line.sizeMm * LEADING;
      }
    }
  });
  return marks;
}

const clamp = (v: number, lo: number, hi: number) => Math.max(lo, Math.min(hi, v));
const grown = (b: Box, by: number): Box => ({ x0: b.x0 - by, y0: b.y0 - by, x1: b.x1 + by, y1: b.y1 + by });
const inBox = (p: At, b: Box) => p[0] > b.x0 && p[0] < b.x1 && p[1] > b.y0 && p[1] < b.y1;
