/** The plan of an angle (or of a whole rig) as a block: to a stated scale, lamps numbered with height and aim. */
import type { Point } from '../drawing/display.ts';
import { drawPlan, nameAt, type PlanFacts } from '../drawing/plan.ts';
import type { StandDrawing } from '../drawing/standHatch.ts';
import { planFacts } from '../scheme/planFacts.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import { type BookFacts, keyOf, unitsFor } from './facts.ts';
import { hatched } from './hatch.ts';
import { type Label, placeLabels } from './labels.ts';
import { type Laid, onPaper, toPage } from './onPaper.ts';
import type { At, PageMark } from './page.ts';
import { PT } from './page.ts';
import { checkLine, chooseScale, northArrow, scaleBar } from './scale.ts';
import { standFigures, standMarks } from './standsBlock.ts';
import { SIZE } from './type.ts';
import { lengthOf, type Units } from './units.ts';

export interface PlanBlock {
  scale: number;
  /** What the drawing itself takes, labels beside it included: less than the width it was given, it may stand beside words. */
  needsMm: number;
  heightMm: number;
  paint: (leftMm: number, topMm: number) => PageMark[];
  /** Metres to millimetres of the page, once `paint` was told where: for tests. */
  laid: (leftMm: number, topMm: number) => Laid;
}

/** Below the plan: scale bar, line to check the printer by, north. */
const BELOW_MM = 13;
const PAD_M = 0.15;

export function planBlock(
  f: BookFacts,
  ref: AngleRef,
  widthMm: number,
  mostMm: number,
  /** `whole`: the rig for every angle, no camera chosen, nothing hatched; `floor`: where somebody can stand, instead. */
  { whole = false, floor }: { whole?: boolean; floor?: StandDrawing } = {},
): PlanBlock {
  const u = unitsFor(f, ref.scene);
  const read = f.reads.get(keyOf(ref));
  const facts: PlanFacts = planFacts(
    f.shoot,
    ref,
    read && { whites: read.whites, balance: read.balance },
    new Set(),
    f.outlines(ref),
  );
  if (whole) {
    facts.seen = undefined;
    facts.cameras = facts.cameras.map((c) => ({ ...c, chosen: false }));
  }
  // Of the floor's map the place itself is what matters: what shines in from afar would only make it small.
  if (floor) {
    const b = boxOf(facts.outline);
    facts.lamps = facts.lamps.filter((x) => !isFar(x.at, b));
    facts.rigging = facts.rigging.filter((x) => !isFar(x.from, b) && !isFar(x.to, b));
    facts.flags = facts.flags.filter((x) => !isFar(x.from, b));
    facts.seen = undefined;
  }
  const made = drawPlan(facts);
  // A lamp that shines all round has no wedge; what the camera sees ends where the room does.
  const round = new Set(facts.lamps.filter((l) => l.beamHalfDeg >= 80).map((l) => l.id));
  const drawing = {
    ...made,
    marks: made.marks.filter(
      (m) =>
        !(m.ref?.kind === 'beam' && round.has(m.ref.id)) &&
        !(m.kind === 'line' && m.ref?.kind === 'camera' && m.tone === 'camera'),
    ),
  };
  const b = contentBounds(facts);
  const size = [b.x1 - b.x0 + 2 * PAD_M, b.y1 - b.y0 + 2 * PAD_M] as const;
  const scale = chooseScale(size, [widthMm, mostMm - BELOW_MM], u);
  const planMm = Math.min(mostMm - BELOW_MM, (size[1] * 1000) / scale);
  const laid = (left: number, top: number): Laid => ({
    scale,
    from: [b.x0 - PAD_M, b.y0 - PAD_M],
    at: [left + Math.max(0, (widthMm - (size[0] * 1000) / scale) / 2), top + planMm],
  });
  const northDeg = f.shoot.places[f.shoot.scenes[ref.scene]!.place]?.northDeg;
  return {
    scale,
    needsMm: (size[0] * 1000) / scale + 22,
    heightMm: planMm + BELOW_MM,
    laid,
    paint(left, top) {
      const l = laid(left, top);
      const box = { x0: left, y0: top, x1: left + widthMm, y1: top + planMm };
      const marks: PageMark[] = [];
      // What the camera does not see is hatched: there kit can live.
      if (floor) marks.push(...standMarks(floor, l));
      else if (facts.seen)
        marks.push(
          ...hatched(
            [facts.outline, ...(facts.rooms ?? []).map((r) => r.outline), facts.seen].map((o) =>
              o.map((p) => toPage(l, p)),
            ),
            3.2,
            0.08,
          ),
        );
      const drawn = onPaper(drawing, l);
      const off = offSheet(
        facts,
        { x0: b.x0 - PAD_M / 2, y0: b.y0 - PAD_M / 2, x1: b.x1 + PAD_M / 2, y1: b.y1 + PAD_M / 2 },
        l,
        u,
      );
      drawn.push(...off.marks);
      if (facts.seen)
        drawn.push({
          kind: 'line',
          points: [...facts.seen, facts.seen[0]!].map((p) => toPage(l, p)),
          weightMm: 0.16,
          dashMm: [3, 0.8],
        });
      marks.push(
        ...drawn,
        ...placeLabels(
          [
            ...labelsOf({ ...facts, sockets: facts.sockets.filter((x) => !isFar(x.at, b)) }, l, u, whole),
            ...off.labels,
          ],
          bodies(facts, l),
          linePoints(facts, l),
          box,
        ),
        ...(floor ? standFigures(floor, l) : []),
      );
      const bar = scaleBar([left + 1, top + planMm + 7], scale, u, widthMm < 140 ? 36 : 70);
      const check = checkLine([left + bar.widthMm + (widthMm < 140 ? 5 : 14), top + planMm + 8], u);
      return [
        { kind: 'within', at: [left, top], widthMm, heightMm: planMm, marks },
        ...bar.marks,
        ...check,
        ...northArrow([left + widthMm - (northDeg === undefined ? 24 : 10), top + planMm + 7], northDeg),
      ];
    },
  };
}

/** Room, lamps, people, cameras, sockets: what must be on the sheet whole. Beams may run out of it. */
function contentBounds(f: PlanFacts) {
  const points: Point[] = [
    ...f.outline,
    ...(f.rooms ?? []).flatMap((r) => r.outline),
    ...f.lamps.flatMap((l) => [...l.body, ...(l.rigPlace ? [l.rigPlace] : [])]),
    ...f.lamps.flatMap((l): Point[] =>
      l.footM
        ? [
            [l.at[0] - l.footM, l.at[1] - l.footM],
            [l.at[0] + l.footM, l.at[1] + l.footM],
          ]
        : [],
    ),
    ...f.people.map((p) => p.at),
    ...f.cameras.map((c) => c.at),
    ...f.flags.flatMap((g) => [g.from, g.to]),
    ...f.openings.flatMap((o) => [o.from, o.to]),
    ...f.rigging.flatMap((r) => [r.from, r.to]),
  ];
  // A socket just outside belongs on it; one far off (a set in the next field) would shrink all the rest.
  const near = boxOf(points);
  const beside = f.sockets.filter((s) => !isFar(s.at, near)).map((s) => s.at);
  return boxOf([...points, ...beside]);
}

interface Bounds {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}
const boxOf = (points: readonly Point[]): Bounds => {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
};
const FAR_M = 1.5;
const isFar = ([x, y]: Point, b: Bounds): boolean =>
  x < b.x0 - FAR_M || x > b.x1 + FAR_M || y < b.y0 - FAR_M || y > b.y1 + FAR_M;

/** An arrow at the edge toward a socket that lies off the sheet, with how far it is from there. */
function offSheet(f: PlanFacts, b: Bounds, l: Laid, u: Units): { marks: PageMark[]; labels: Label[] } {
  const marks: PageMark[] = [];
  const labels: Label[] = [];
  const [cx, cy] = [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2];
  for (const s of f.sockets) {
    const [dx, dy] = [s.at[0] - cx, s.at[1] - cy];
    const t = Math.min(
      dx === 0 ? 1 : Math.abs(((dx > 0 ? b.x1 : b.x0) - cx) / dx),
      dy === 0 ? 1 : Math.abs(((dy > 0 ? b.y1 : b.y0) - cy) / dy),
    );
    if (t >= 1) continue;
    const edge: Point = [cx + dx * t, cy + dy * t];
    const at = toPage(l, edge);
    const long = Math.hypot(dx, dy);
    const [ux, uy] = [dx / long, -dy / long];
    const tip: At = [at[0], at[1]];
    const tail = (side: number): At => [at[0] - ux * 3 + side * uy, at[1] - uy * 3 - side * ux];
    marks.push({ kind: 'shape', points: [tip, tail(1.1), tail(-1.1)], fill: 'ink' });
    labels.push({
      anchor: [at[0] - ux * 2, at[1] - uy * 2],
      radiusMm: 1.8,
      lines: [{ text: `${s.id}, ${lengthOf(long * (1 - t), u)} on`, sizeMm: SIZE.small }],
    });
  }
  return { marks, labels };
}

function labelsOf(f: PlanFacts, l: Laid, u: Units, whole: boolean): Label[] {
  const k = 1000 / l.scale;
  const out: Label[] = [];
  for (const p of f.people)
    out.push({
      anchor: toPage(l, p.at),
      radiusMm: 0,
      fixed: true,
      lines: [{ text: p.id, sizeMm: SIZE.strong, face: 'bold' }],
    });
  for (const lamp of f.lamps) {
    const tilt = Math.round(Math.abs(lamp.downDeg));
    const body = lamp.body.map((p) => toPage(l, p));
    const middle: At = [
      body.reduce((s, p) => s + p[0], 0) / body.length,
      body.reduce((s, p) => s + p[1], 0) / body.length,
    ];
    out.push({
      anchor: middle,
      radiusMm: Math.max(...body.map((p) => Math.hypot(p[0] - middle[0], p[1] - middle[1]))),
      lines: [
        { text: lamp.number, sizeMm: SIZE.head, face: 'bold', boxed: true },
        {
          text: lamp.on
            ? `h ${lengthOf(lamp.heightM, u, false)} ${lamp.downDeg >= 0 ? '↓' : '↑'}${tilt}°`
            : `out  h ${lengthOf(lamp.heightM, u, false)}`,
          sizeMm: SIZE.small,
        },
      ],
    });
  }
  for (const c of f.cameras)
    out.push({
      anchor: toPage(l, c.at),
      radiusMm: 0.12 * k,
      lines: [
        {
          text: c.id,
          sizeMm: c.chosen || whole ? SIZE.strong : SIZE.small,
          face: c.chosen || whole ? 'bold' : 'plain',
        },
      ],
    });
  for (const s of f.sockets)
    out.push({
      anchor: toPage(l, s.at),
      radiusMm: 0.07 * k,
      lines: [{ text: s.dead ? `${s.id} dead` : s.id, sizeMm: SIZE.small }],
    });
  for (const r of f.rooms ?? [])
    out.push({
      anchor: toPage(l, nameAt(r.outline)),
      radiusMm: 0.5,
      lines: [{ text: r.words, sizeMm: SIZE.small }],
    });
  for (const g of f.flags) {
    const [a, b] = [toPage(l, g.from), toPage(l, g.to)];
    out.push({
      anchor: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
      radiusMm: 1,
      lines: [{ text: g.id, sizeMm: SIZE.small }],
    });
  }
  const named: At[] = [];
  if (whole)
    for (const o of f.furniture) {
      // Names only where there is room for them inside the thing itself.
      const points = o.outlines.flat().map((p) => toPage(l, p));
      const xs = points.map((p) => p[0]);
      const ys = points.map((p) => p[1]);
      const wide = Math.max(...xs) - Math.min(...xs);
      if (wide < 12 || Math.max(...ys) - Math.min(...ys) < 5) continue;
      const middle: At = [(Math.max(...xs) + Math.min(...xs)) / 2, (Math.max(...ys) + Math.min(...ys)) / 2];
      const text =
        o.words.length > wide / 1.5 || named.some((m) => Math.hypot(m[0] - middle[0], m[1] - middle[1]) < 14)
          ? ''
          : o.words;
      if (text) named.push(middle);
      if (text)
        out.push({
          anchor: [(Math.max(...xs) + Math.min(...xs)) / 2, (Math.max(...ys) + Math.min(...ys)) / 2],
          radiusMm: 0,
          lines: [{ text, sizeMm: 7 * PT }],
        });
    }
  return out;
}

/** Bodies that no label should cover. */
function bodies(f: PlanFacts, l: Laid) {
  const boxOf = (points: readonly Point[]) => {
    const at = points.map((p) => toPage(l, p));
    return {
      x0: Math.min(...at.map((p) => p[0])),
      x1: Math.max(...at.map((p) => p[0])),
      y0: Math.min(...at.map((p) => p[1])),
      y1: Math.max(...at.map((p) => p[1])),
    };
  };
  const round = (p: Point, r: number): Point[] => [
    [p[0] - r, p[1] - r],
    [p[0] + r, p[1] + r],
  ];
  return [
    ...f.lamps.map((x) => boxOf(x.body)),
    ...f.people.map((p) => boxOf(p.silhouettes.flat().length ? p.silhouettes.flat() : round(p.at, 0.12))),
    ...f.cameras.map((c) => boxOf(round(c.at, 0.12))),
    ...f.sockets.map((s) => boxOf(round(s.at, 0.07))),
  ];
}

/** Points every 2 mm along walls, beams and what a camera sees. */
function linePoints(f: PlanFacts, l: Laid): At[] {
  const out: At[] = [];
  const take = (a: Point, b: Point) => {
    const [p, q] = [toPage(l, a), toPage(l, b)];
    const n = Math.max(1, Math.round(Math.hypot(q[0] - p[0], q[1] - p[1]) / 2));
    for (let i = 0; i <= n; i++) out.push([p[0] + ((q[0] - p[0]) * i) / n, p[1] + ((q[1] - p[1]) * i) / n]);
  };
  for (const outline of [f.outline, ...(f.rooms ?? []).map((r) => r.outline)])
    outline.forEach((p, i) => {
      take(p, outline[(i + 1) % outline.length]!);
    });
  for (const lamp of f.lamps) {
    if (!lamp.on || lamp.beamHalfDeg > 79) continue;
    const dir = Math.atan2(lamp.aim[1] - lamp.at[1], lamp.aim[0] - lamp.at[0]);
    for (const s of [-1, 1]) {
      const a = dir + (s * lamp.beamHalfDeg * Math.PI) / 180;
      take(lamp.at, [lamp.at[0] + lamp.reachM * Math.cos(a), lamp.at[1] + lamp.reachM * Math.sin(a)]);
    }
  }
  for (const r of f.rigging) take(r.from, r.to);
  for (const lead of f.leads)
    for (let i = 1; i < lead.route.length; i++) take(lead.route[i - 1]!, lead.route[i]!);
  return out;
}
