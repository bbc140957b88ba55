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
  const edge = nearest(edges.filter((e) => ofChosen(g, e.ref))) ?? nearest(edges);
  if (edge) return edge;
  const wedge = g.marks.find((m) => m.ref?.kind === 'wedge' && ofChosen(g, m.ref));
  if (wedge?.ref && away(wedge, p) === 0) return wedge.ref;
  // Furniture fills the floor: it is taken only once it has been chosen.
  const thing = g.chosen?.kind === 'furniture' ? thingUnder(g.marks, p, reachM) : undefined;
  return thing?.id === g.chosen?.id ? thing : undefined;
}

/** The piece of furniture a tap at p is on: the smallest whose outline holds it, or comes within `reachM`. */
export function thingUnder(marks: readonly DrawMark[], p: Point, reachM: number): Ref | undefined {
  let best: { ref: Ref; size: number } | undefined;
  for (const m of marks) {
    if (m.kind !== 'line' || m.ref?.kind !== 'furniture') continue;
    if (!within(m.points, p) && away(m, p) > reachM) continue;
    const xs = m.points.map((q) => q[0]);
    const ys = m.points.map((q) => q[1]);
    const size = (Math.max(...xs) - Math.min(...xs)) * (Math.max(...ys) - Math.min(...ys));
    if (!best || size < best.size) best = { ref: m.ref, size };
  }
  return best?.ref;
}
