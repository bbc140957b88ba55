/** The plan of one angle: place, people, cameras, lamps to scale with their beams, leads, what is seen. */
import { boundsOf, type Drawing, type DrawMark, type Point } from './display.ts';

/** Everything the plan needs, plain, filled in by whoever knows it. */
export interface PlanFacts {
  outline: Point[];
  /** Under the same roof. */
  rooms?: { id: string; words: string; outline: Point[] }[];
  openings: {
    id: string;
    kind: 'door' | 'window' | 'gap';
    from: Point;
    to: Point;
    fill: 'open' | 'shut' | 'glass';
    leafDeg?: number;
  }[];
  furniture: { id: string; words: string; outlines: Point[][]; heightM: number }[];
  outside: { id: string; words: string; outlines: Point[][] }[];
  rigging: { id: string; from: Point; to: Point; widthM: number }[];
  people: { id: string; at: Point; facingDeg: number; silhouettes: Point[][] }[];
  spots: { id: string; at: Point }[];
  cameras: { id: string; at: Point; towards: Point; halfAngleDeg: number; chosen: boolean }[];
  lamps: {
    id: string;
    number: string;
    /** 1 … the lamp's place in the rig: gives its colour and line pattern. */
    identity: number;
    at: Point;
    heightM: number;
    aim: Point;
    /** Down (+) or up (−), degrees. */
    downDeg: number;
    /** Half-intensity half-angle on each side, degrees, and how far to draw the wedge. */
    beamHalfDeg: number;
    reachM: number;
    body: Point[];
    doors: Point[][];
    footM?: number;
    on: boolean;
    /** #rrggbb the camera sees its light as. */
    seenColour: string;
    /** Where the rig has it, if this angle cheats it. */
    rigPlace?: Point;
    rigBody?: Point[];
    trouble: boolean;
  }[];
  flags: { id: string; from: Point; to: Point }[];
  sockets: { id: string; at: Point; dead: boolean }[];
  leads: { lamp: string; identity: number; route: Point[] }[];
  /** Region of the floor that the chosen angle sees. */
  seen: Point[] | undefined;
}

const turn = ([x, y]: Point, rad: number): Point => [
  x * Math.cos(rad) - y * Math.sin(rad),
  x * Math.sin(rad) + y * Math.cos(rad),
];
const plus = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1]];
const DEG = Math.PI / 180;

/** Heaviest: walls, then lamps; scenery light; lamps carry number, height (in figures as `length` writes them) and tilt. */
export function drawPlan(f: PlanFacts, length: (m: number) => string = (m) => m.toFixed(2)): Drawing {
  const marks: DrawMark[] = [];
  if (f.seen) marks.push({ kind: 'area', points: f.seen, tone: 'seen' });
  for (const lamp of f.lamps) if (lamp.on) marks.push(...wedge(lamp));
  for (const o of f.outside)
    for (const points of o.outlines)
      marks.push({
        kind: 'line',
        points: closed(points),
        tone: 'outside',
        weight: 'hair',
        ref: { kind: 'furniture', id: o.id },
      });
  for (const o of f.furniture)
    for (const points of o.outlines)
      marks.push({
        kind: 'line',
        points: closed(points),
        tone: 'furniture',
        weight: 'light',
        ref: { kind: 'furniture', id: o.id },
      });
  for (const r of f.rigging)
    marks.push({
      kind: 'line',
      points: [r.from, r.to],
      tone: 'rigging',
      weight: 'light',
      dash: 'dash',
      ref: { kind: 'rigging', id: r.id },
    });
  marks.push(...walls(f));
  for (const l of f.leads)
    marks.push({ kind: 'line', points: l.route, tone: `lamp:${l.identity}`, weight: 'hair', dash: 'dot' });
  for (const s of f.sockets) {
    marks.push({
      kind: 'circle',
      centre: s.at,
      radiusM: 0.07,
      tone: 'socket',
      ref: { kind: 'socket', id: s.id },
    });
    marks.push({
      kind: 'words',
      at: s.at,
      text: s.dead ? `${s.id} dead` : s.id,
      tone: 'socket',
      size: 'small',
      anchor: 'middle',
      dy: -10,
      clearM: 0.07,
      ref: { kind: 'socket', id: s.id },
    });
  }
  for (const g of f.flags)
    marks.push({
      kind: 'line',
      points: [g.from, g.to],
      tone: 'flag',
      weight: 'heavy',
      ref: { kind: 'flag', id: g.id },
    });
  for (const p of f.people) marks.push(...person(p));
  for (const c of f.cameras) marks.push(...camera(c));
  for (const lamp of f.lamps) marks.push(...lampMarks(lamp, length));
  // Beams and sight lines may run out of the paper; what stands may not.
  return {
    marks,
    bounds: boundsOf(
      marks.filter((m) => !['wedge', 'beam', 'lens'].includes(m.ref?.kind ?? '') && m.kind !== 'words'),
    ),
  };
}

const closed = (points: Point[]): Point[] => (points.length ? [...points, points[0]!] : points);

function wedge(lamp: PlanFacts['lamps'][number]): DrawMark[] {
  const [dx, dy] = [lamp.aim[0] - lamp.at[0], lamp.aim[1] - lamp.at[1]];
  const at = Math.atan2(dy, dx);
  const half = Math.min(lamp.beamHalfDeg, 88) * DEG;
  const edge = (a: number): Point => plus(lamp.at, [lamp.reachM * Math.cos(a), lamp.reachM * Math.sin(a)]);
  const arc: Point[] = [];
  for (let i = 0; i <= 12; i++) arc.push(edge(at - half + (2 * half * i) / 12));
  const tone = `lamp:${lamp.identity}` as const;
  return [
    {
      kind: 'area',
      points: [lamp.at, ...arc],
      tone: `beam:${lamp.identity}`,
      colour: lamp.seenColour,
      opacity: 0.1,
      ref: { kind: 'wedge', id: lamp.id },
    },
    {
      kind: 'line',
      points: [lamp.at, edge(at - half)],
      tone,
      weight: 'light',
      ref: { kind: 'beam', id: lamp.id },
    },
    {
      kind: 'line',
      points: [lamp.at, edge(at + half)],
      tone,
      weight: 'light',
      ref: { kind: 'beam', id: lamp.id },
    },
  ];
}

/** Walls as lines with gaps where the openings are. */
function walls(f: PlanFacts): DrawMark[] {
  return [
    ...wallsOf(f, f.outline, ''),
    ...(f.rooms ?? []).flatMap((r) => [
      ...wallsOf(f, r.outline, `${r.id}:`),
      {
        kind: 'words' as const,
        at: nameAt(r.outline),
        text: r.words,
        tone: 'wall' as const,
        size: 'small' as const,
        anchor: 'middle' as const,
      },
    ]),
  ];
}

/** Off the middle of a room toward the south, clear of its walls and of what stands in its midst. */
export function nameAt(outline: readonly Point[]): Point {
  const [xs, ys] = [outline.map((p) => p[0]), outline.map((p) => p[1])];
  return [
    (Math.min(...xs) + Math.max(...xs)) / 2,
    Math.min(...ys) + Math.min(0.45, (Math.max(...ys) - Math.min(...ys)) * 0.4),
  ];
}

function wallsOf(f: PlanFacts, outline: readonly Point[], of: string): DrawMark[] {
  const marks: DrawMark[] = [];
  const n = outline.length;
  for (let i = 0; i < n; i++) {
    const a = outline[i]!;
    const b = outline[(i + 1) % n]!;
    const len = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const along = (p: Point) => ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / len;
    const off = (p: Point) => Math.abs((p[0] - a[0]) * (b[1] - a[1]) - (p[1] - a[1]) * (b[0] - a[0])) / len;
    const at = (t: number): Point => [a[0] + ((b[0] - a[0]) * t) / len, a[1] + ((b[1] - a[1]) * t) / len];
    const gaps = f.openings
      .filter((o) => off(o.from) < 0.05 && off(o.to) < 0.05)
      .map((o) => ({ o, t0: Math.min(along(o.from), along(o.to)), t1: Math.max(along(o.from), along(o.to)) }))
      // Another room's wall may lie in the same line.
      .filter(({ t0, t1 }) => t1 > 0 && t0 < len)
      .sort((p, q) => p.t0 - q.t0);
    let t = 0;
    for (const { o, t0, t1 } of gaps) {
      marks.push({
        kind: 'line',
        points: [at(t), at(t0)],
        tone: 'wall',
        weight: 'heavy',
        ref: { kind: 'wall', id: `${of}${i}` },
      });
      if (o.fill === 'glass')
        marks.push({
          kind: 'line',
          points: [at(t0), at(t1)],
          tone: 'glass',
          weight: 'medium',
          ref: { kind: 'opening', id: o.id },
        });
      else if (o.fill === 'shut')
        marks.push({
          kind: 'line',
          points: [at(t0), at(t1)],
          tone: 'wall',
          weight: 'light',
          ref: { kind: 'opening', id: o.id },
        });
      // The threshold: nothing stands in it.
      else
        marks.push({
          kind: 'line',
          points: [at(t0), at(t1)],
          tone: 'faint',
          weight: 'hair',
          dash: 'dot',
          ref: { kind: 'opening', id: o.id },
        });
      if (o.fill === 'open' && o.leafDeg) {
        const hinge = at(t0);
        const leaf = t1 - t0;
        const dir = Math.atan2(b[1] - a[1], b[0] - a[0]) + o.leafDeg * DEG;
        marks.push({
          kind: 'line',
          points: [hinge, plus(hinge, [leaf * Math.cos(dir), leaf * Math.sin(dir)])],
          tone: 'wall',
          weight: 'light',
          ref: { kind: 'opening', id: o.id },
        });
      }
      t = t1;
    }
    marks.push({
      kind: 'line',
      points: [at(t), at(len)],
      tone: 'wall',
      weight: 'heavy',
      ref: { kind: 'wall', id: `${of}${i}` },
    });
  }
  return marks;
}

function person(p: PlanFacts['people'][number]): DrawMark[] {
  const ref = { kind: 'mark', id: p.id } as const;
  const nose = turn([0.32, 0], p.facingDeg * DEG);
  const outlines: DrawMark[] = p.silhouettes.map((points) => ({
    kind: 'area',
    points,
    tone: 'person',
    outline: 'person',
    ref,
  }));
  if (!outlines.length) outlines.push({ kind: 'circle', centre: p.at, radiusM: 0.12, tone: 'person', ref });
  return [
    ...outlines,
    {
      kind: 'line',
      points: [p.at, plus(p.at, nose)],
      tone: 'person',
      weight: 'light',
      ref: { kind: 'facing', id: p.id },
    },
    { kind: 'words', at: p.at, text: p.id, tone: 'person', size: 'label', anchor: 'middle', ref },
  ];
}

function camera(c: PlanFacts['cameras'][number]): DrawMark[] {
  const dir = Math.atan2(c.towards[1] - c.at[1], c.towards[0] - c.at[0]);
  const ref = { kind: 'camera', id: c.id } as const;
  const body = [
    [-0.22, -0.07],
    [0, -0.07],
    [0, 0.07],
    [-0.22, 0.07],
  ].map((p) => plus(c.at, turn(p as unknown as Point, dir)));
  const marks: DrawMark[] = [
    {
      kind: 'area',
      points: body,
      tone: c.chosen ? 'camera' : 'faint',
      outline: c.chosen ? 'camera' : 'faint',
      ref,
    },
  ];
  const reach = c.chosen ? 12 : 0.45;
  for (const s of [-1, 1]) {
    const a = dir + s * c.halfAngleDeg * DEG;
    marks.push({
      kind: 'line',
      points: [c.at, plus(c.at, [reach * Math.cos(a), reach * Math.sin(a)])],
      tone: c.chosen ? 'camera' : 'faint',
      weight: 'hair',
      ...(c.chosen ? { dash: 'dot' as const } : {}),
      ref: { kind: 'lens', id: c.id },
    });
  }
  marks.push({
    kind: 'words',
    at: plus(c.at, turn([-0.11, 0], dir)),
    text: c.id,
    tone: c.chosen ? 'camera' : 'faint',
    size: 'label',
    anchor: 'middle',
    dy: 16,
    clearM: 0.11,
    ref,
  });
  return marks;
}

function lampMarks(lamp: PlanFacts['lamps'][number], length: (m: number) => string): DrawMark[] {
  const ref = { kind: 'lamp', id: lamp.id } as const;
  const tone = `lamp:${lamp.identity}` as const;
  const marks: DrawMark[] = [];
  if (lamp.rigPlace) marks.push(...cheated(lamp, lamp.rigPlace));
  if (lamp.footM)
    marks.push({ kind: 'circle', centre: lamp.at, radiusM: lamp.footM, tone: 'faint', dash: 'dot', ref });
  marks.push({
    kind: 'area',
    points: lamp.body,
    tone: lamp.trouble ? 'trouble' : tone,
    outline: lamp.trouble ? 'trouble' : tone,
    ref,
  });
  for (const d of lamp.doors) marks.push({ kind: 'line', points: d, tone, weight: 'medium', ref });
  const tilt = Math.round(Math.abs(lamp.downDeg));
  const arrow = lamp.downDeg >= 0 ? '↓' : '↑';
  marks.push({
    kind: 'words',
    at: lamp.at,
    text: lamp.number,
    tone,
    size: 'number',
    anchor: 'middle',
    dy: -18,
    clearM: 0.12,
    ref,
  });
  marks.push({
    kind: 'words',
    at: lamp.at,
    text: `h ${length(lamp.heightM)} ${arrow}${tilt}°`,
    tone,
    size: 'small',
    anchor: 'start',
    dx: 13,
    dy: -18,
    clearM: 0.12,
    ref: { kind: 'height', id: lamp.id },
  });
  return marks;
}

/** Where the rig has a lamp that this angle cheats: its body dashed, and an arrow to where it stands here. */
function cheated(lamp: PlanFacts['lamps'][number], from: Point): DrawMark[] {
  const tone = `lamp:${lamp.identity}` as const;
  const ref = { kind: 'rigPlace', id: lamp.id } as const;
  const far = Math.hypot(lamp.at[0] - from[0], lamp.at[1] - from[1]);
  const way = Math.atan2(lamp.at[1] - from[1], lamp.at[0] - from[0]);
  const tip = plus(from, turn([Math.max(0, far - 0.1), 0], way));
  const barb = (side: number): Point => plus(tip, turn([-0.1, 0.06 * side], way));
  const body = lamp.rigBody ?? [];
  return [
    body.length
      ? { kind: 'line', points: closed(body), tone, weight: 'light', dash: 'dash', ref }
      : { kind: 'circle', centre: from, radiusM: 0.16, tone, dash: 'dash', ref },
    { kind: 'line', points: [from, tip], tone, weight: 'light', dash: 'dash' },
    { kind: 'line', points: [barb(1), tip, barb(-1)], tone, weight: 'medium' },
  ];
}
