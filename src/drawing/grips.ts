/** What is under a pointer on the plan: things to take hold of, the finest first. Pure. */
import type { DrawMark, Point, Ref } from './display.ts';
import type { Box } from './labels.ts';
import { along } from './snap.ts';

export interface Grips {
  /** Words that can be taken, in the plan's metres (y north). */
  words: { ref: Ref; box: Box }[];
  /** Points to take: the aim of a lamp, what a camera looks at, where a face looks. */
  points: { ref: Ref; at: Point }[];
  marks: readonly DrawMark[];
  /** What has been chosen: its edges and its wedge come before those of others. */
  chosen: Ref | undefined;
}

const BODIES = new Set<Ref['kind']>(['lamp', 'rigPlace', 'camera', 'mark', 'flag']);
const EDGES = new Set<Ref['kind']>(['beam', 'lens']);

export function within(points: readonly Point[], [x, y]: Point): boolean {
  let odd = false;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const [a, b] = [points[i]!, points[j]!];
    if (a[1] > y !== b[1] > y && x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) odd = !odd;
  }
  return odd;
}

/** Metres from p to what a mark covers; 0 inside. */
function away(m: DrawMark, p: Point): number {
  if (m.kind === 'words') return Number.POSITIVE_INFINITY;
  if (m.kind === 'circle') return Math.max(0, Math.hypot(p[0] - m.centre[0], p[1] - m.centre[1]) - m.radiusM);
  if (m.kind === 'area' && within(m.points, p)) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = m.kind === 'area' ? 0 : 1; i < m.points.length; i++) {
    const a = m.points[(i || m.points.length) - 1]!;
    least = Math.min(least, along(a, m.points[i]!, p).offM);
  }
  return least;
}

const THING: Partial<Record<Ref['kind'], Ref['kind']>> = { beam: 'lamp', wedge: 'lamp', lens: 'camera' };
const ofChosen = (g: Grips, ref: Ref): boolean =>
  g.chosen !== undefined && g.chosen.id === ref.id && g.chosen.kind === THING[ref.kind];

/** What a pointer at p takes hold of, if it may miss by `reachM`; undefined: the paper itself. */
export function under(g: Grips, p: Point, reachM: number): Ref | undefined {
  for (const { ref, box } of g.words)
    if (
      p[0] >= box.x - reachM * 0.3 &&
      p[0] <= box.x + box.w + reachM * 0.3 &&
      p[1] >= box.y - reachM * 0.3 &&
      p[1] <= box.y + box.h + reachM * 0.3
    )
      return ref;
  const nearest = (list: { ref: Ref; d: number }[]): Ref | undefined => {
    const near = list.filter((c) => c.d <= reachM).sort((a, b) => a.d - b.d);
    return near[0]?.ref;
  };
  const point = nearest(g.points.map(({ ref, at }) => ({ ref, d: Math.hypot(p[0] - at[0], p[1] - at[1]) })));
  if (point) return point;
  // A foot's dotted circle is not its lamp; a body that lies over another is painted later.
  const bodies = [...g.marks]
    .reverse()
    .flatMap((m) =>
      m.ref && BODIES.has(m.ref.kind) && !(m.kind === 'circle' && m.dash === 'dot')
        ? [{ ref: m.ref, d: away(m, p) }]
        : [],
    );
  const body = nearest(bodies);
  if (body) return body;
  // Near their root all edges meet: there is nothing to take there.
  const edges = g.marks.flatMap((m) =>
    m.ref &&
    EDGES.has(m.ref.kind) &&
    m.kind === 'line' &&
    Math.hypot(p[0] - m.points[0]![0], p[1] - m.points[0]![1]) > 0.3
      ? [{ ref: m.ref, d: away(m, p) * 1.6 }]
      : [],
  );
  // A window by which a beam's edge passes is reached all the same.
  const holes = g.marks.flatMap((m) => (m.ref?.kind === 'opening' ? [away(m, p)] : []));
  const hole = Math.min(reachM, ...holes);
  const edge = nearest(edges.filter((e) => ofChosen(g, e.ref))) ?? nearest(edges.filter((e) => e.d < hole));
  if (edge) return edge;
  const wedge = g.marks.find((m) => m.ref?.kind === 'wedge' && ofChosen(g, m.ref));
  if (wedge?.ref && away(wedge, p) === 0) return wedge.ref;
  // Furniture fills the floor, openings the walls: they are taken only once they have been chosen.
  const { chosen } = g;
  if (chosen?.kind !== 'furniture' && chosen?.kind !== 'opening') return undefined;
  const all = thingsUnder(g.marks, p, reachM);
  // The leaf of a door is not its hole: it is not carried by it.
  return all.find((r) => r.kind === chosen.kind && r.id === chosen.id);
}

/**
 * What a tap at p is on, of what is chosen by a tap: furniture whose outline holds it, the smallest first; openings
 * whose line comes within `reachM`, the nearest first; furniture that comes so near.
 */
function thingsUnder(marks: readonly DrawMark[], p: Point, reachM: number, openingM = reachM): Ref[] {
  const found: { ref: Ref; rank: number; size: number }[] = [];
  for (const m of marks) {
    if (m.kind !== 'line' || (m.ref?.kind !== 'furniture' && m.ref?.kind !== 'opening')) continue;
    const opening = m.ref.kind === 'opening';
    const inside = !opening && within(m.points, p);
    const d = inside ? 0 : away(m, p);
    if (d > (opening ? openingM : reachM)) continue;
    const xs = m.points.map((q) => q[0]);
    const ys = m.points.map((q) => q[1]);
    const size = (Math.max(...xs) - Math.min(...xs)) * (Math.max(...ys) - Math.min(...ys));
    found.push({ ref: m.ref, rank: inside ? 0 : opening ? 1 : 2, size: opening ? d : size });
  }
  found.sort((a, b) => a.rank - b.rank || a.size - b.size);
  return found
    .map((f) => f.ref)
    .filter((r, i, all) => all.findIndex((x) => x.kind === r.kind && x.id === r.id) === i);
}

/**
 * The thing that a tap at p chooses; a further tap at the same place what lies under it: windows over each other, a
 * window behind its curtains.
 */
export function thingUnder(
  marks: readonly DrawMark[],
  p: Point,
  reachM: number,
  chosen?: Ref | undefined,
  /** As `reachM`, for openings: they are thin. */
  openingM = reachM,
): Ref | undefined {
  const all = thingsUnder(marks, p, reachM, openingM);
  const at = all.findIndex((r) => r.kind === chosen?.kind && r.id === chosen.id);
  return all[(at + 1) % Math.max(1, all.length)];
}
