/** A side section: floor, ceiling, walls with their openings, who stands there, the lamp and where its beam lands. */
import { boundsOf, type Drawing, type DrawMark, type Point } from './display.ts';

/** Everything the section needs, plain; metres along the cut and up from the floor. */
export interface SectionFacts {
  lamp: {
    id: string;
    identity: number;
    at: Point;
    aim: Point;
    beamHalfDeg: number;
    body: readonly Point[];
  };
  walls: readonly { x: number; opening: { sillM: number; headM: number } | undefined }[];
  ceilingM: number | undefined;
  /** Where it slopes: its line along the cut, from wall to wall. */
  ceiling?: readonly Point[];
  topM: number;
  groundM: number;
  fromM: number;
  toM: number;
  people: readonly { id: string; x: number; eyeM: number; seatM: number | undefined }[];
  things: readonly { words: string; x0: number; x1: number; z0: number; z1: number }[];
  holds:
    | { kind: 'hung'; x: number; z: number; widthM: number; depthM: number }
    | { kind: 'stand'; baseM: number }
    | undefined;
}

const DEG = Math.PI / 180;
const line = (
  points: Point[],
  tone: DrawMark['tone'],
  weight: 'heavy' | 'medium' | 'light' | 'hair',
  dash?: 'dash' | 'dot',
): DrawMark => ({
  kind: 'line',
  points,
  tone,
  weight,
  ...(dash ? { dash } : {}),
});

/** Height of the walls here: to the sloping ceiling's line, where it has one. */
const topAt = (f: SectionFacts, x: number): number =>
  f.ceiling?.reduce((best, p) => (Math.abs(p[0] - x) < Math.abs(best[0] - x) ? p : best))[1] ?? f.topM;

/** A ceiling that steps from one room to the next is a line each; nothing is drawn beyond the cut's ends. */
function runsOf(f: SectionFacts, ceiling: readonly Point[]): Point[][] {
  const runs: Point[][] = [];
  let before: Point | undefined;
  for (const p of ceiling) {
    if (p[0] < f.fromM || p[0] > f.toM) continue;
    const steep = before && Math.abs(p[1] - before[1]) > 4 * (p[0] - before[0]);
    if (!before || steep) runs.push([]);
    runs.at(-1)!.push(p);
    before = p;
  }
  return runs.filter((r) => r.length > 1);
}

export function drawSection(f: SectionFacts): Drawing {
  const marks: DrawMark[] = [];
  const first = f.walls[0]?.x ?? f.fromM;
  const last = f.walls.at(-1)?.x ?? f.toM;
  const level = (x0: number, x1: number, z: number, tone: DrawMark['tone'], weight: 'heavy' | 'medium') => {
    const [a, b] = [Math.max(x0, f.fromM), Math.min(x1, f.toM)];
    if (b > a)
      marks.push(
        line(
          [
            [a, z],
            [b, z],
          ],
          tone,
          weight,
        ),
      );
  };

  // Ground outside, floor and ceiling within, walls with the gaps light may pass.
  level(f.fromM, first, f.groundM, 'outside', 'medium');
  level(last, f.toM, f.groundM, 'outside', 'medium');
  level(first, last, 0, 'wall', 'heavy');
  if (f.ceiling) for (const run of runsOf(f, f.ceiling)) marks.push(line(run, 'wall', 'heavy'));
  else if (f.ceilingM !== undefined) level(first, last, f.ceilingM, 'wall', 'heavy');
  for (const w of f.walls) {
    if (w.x < f.fromM || w.x > f.toM) continue;
    const foot = Math.min(0, f.groundM);
    if (!w.opening)
      marks.push(
        line(
          [
            [w.x, foot],
            [w.x, topAt(f, w.x)],
          ],
          'wall',
          'heavy',
        ),
      );
    else {
      if (w.opening.sillM > 0)
        marks.push(
          line(
            [
              [w.x, foot],
              [w.x, w.opening.sillM],
            ],
            'wall',
            'heavy',
          ),
        );
      marks.push(
        line(
          [
            [w.x, w.opening.headM],
            [w.x, topAt(f, w.x)],
          ],
          'wall',
          'heavy',
        ),
      );
      marks.push(
        line(
          [
            [w.x, w.opening.sillM],
            [w.x, w.opening.headM],
          ],
          'glass',
          'hair',
        ),
      );
    }
  }
  for (const t of f.things)
    marks.push(
      line(
        [
          [t.x0, t.z0],
          [t.x1, t.z0],
          [t.x1, t.z1],
          [t.x0, t.z1],
          [t.x0, t.z0],
        ],
        'furniture',
        'light',
      ),
    );
  for (const p of f.people) marks.push(...person(p));
  marks.push(...beam(f));

  // What holds it, then the lamp itself.
  if (f.holds?.kind === 'hung') {
    const { x, z, widthM, depthM } = f.holds;
    const w = widthM / 2;
    marks.push({
      kind: 'area',
      points: [
        [x - w, z],
        [x + w, z],
        [x + w, z + depthM],
        [x - w, z + depthM],
      ],
      tone: 'rigging',
      outline: 'rigging',
    });
    marks.push(line([[x, z], f.lamp.at], 'rigging', 'light'));
  } else if (f.holds?.kind === 'stand') {
    const [x, z] = f.lamp.at;
    const base = f.holds.baseM;
    marks.push(
      line(
        [
          [x, z],
          [x, base],
        ],
        'rigging',
        'light',
      ),
    );
    marks.push(
      line(
        [
          [x - 0.35, base],
          [x, Math.min(z, base + 0.45)],
          [x + 0.35, base],
        ],
        'rigging',
        'light',
      ),
    );
  }
  const ref = { kind: 'lamp', id: f.lamp.id } as const;
  marks.push({
    kind: 'area',
    points: [...f.lamp.body],
    tone: `lamp:${f.lamp.identity}`,
    outline: `lamp:${f.lamp.identity}`,
    ref,
  });
  return { marks, bounds: boundsOf(marks) };
}

/** Both edges at half intensity and the middle, each until it strikes something. */
function beam(f: SectionFacts): DrawMark[] {
  const tone = `lamp:${f.lamp.identity}` as const;
  const [dx, dz] = [f.lamp.aim[0] - f.lamp.at[0], f.lamp.aim[1] - f.lamp.at[1]];
  const middle = Math.atan2(dz, dx);
  return [-1, 0, 1].map((s) => {
    const a = middle + s * f.lamp.beamHalfDeg * DEG;
    return line(
      [f.lamp.at, strikes(f, [Math.cos(a), Math.sin(a)])],
      tone,
      s === 0 ? 'hair' : 'light',
      s === 0 ? 'dash' : undefined,
    );
  });
}

/** Where a ray from the lamp ends: floor, ground, ceiling, a wall where there is no opening, or the end of the drawing. */
export function strikes(f: SectionFacts, [ux, uz]: Point): Point {
  const [x0, z0] = f.lamp.at;
  const within = (x: number) => x > (f.walls[0]?.x ?? -Infinity) && x < (f.walls.at(-1)?.x ?? Infinity);
  let t = ux > 1e-9 ? (f.toM - x0) / ux : ux < -1e-9 ? (f.fromM - x0) / ux : 20;
  if (uz < -1e-9)
    for (const [level, indoors] of [
      [0, true],
      [f.groundM, false],
    ] as const) {
      const hit = (level - z0) / uz;
      if (hit > 0 && within(x0 + hit * ux) === indoors) t = Math.min(t, hit);
    }
  for (let i = 1; i < (f.ceiling?.length ?? 0); i++) {
    const [[ax, az], [bx, bz]] = [f.ceiling![i - 1]!, f.ceiling![i]!];
    const turn = ux * (bz - az) - uz * (bx - ax);
    if (Math.abs(turn) < 1e-12) continue;
    const hit = ((ax - x0) * (bz - az) - (az - z0) * (bx - ax)) / turn;
    const share = ((ax - x0) * uz - (az - z0) * ux) / turn;
    if (hit > 1e-6 && share >= 0 && share <= 1) t = Math.min(t, hit);
  }
  if (uz > 1e-9 && f.ceilingM !== undefined && !f.ceiling) {
    const hit = (f.ceilingM - z0) / uz;
    if (hit > 0 && within(x0 + hit * ux)) t = Math.min(t, hit);
  }
  if (uz > 1e-9) t = Math.min(t, Math.max(0.5, (Math.max(f.topM, z0) + 0.6 - z0) / uz));
  for (const w of f.walls) {
    if (Math.abs(ux) < 1e-9) continue;
    const hit = (w.x - x0) / ux;
    if (hit <= 1e-6 || hit >= t) continue;
    const z = z0 + hit * uz;
    const passes = w.opening !== undefined && z > w.opening.sillM && z < w.opening.headM;
    if (!passes && z <= topAt(f, w.x)) t = hit;
  }
  return [x0 + t * ux, z0 + t * uz];
}

/** Head, shoulders and body of an ordinary build; heights are what counts here (proportions: common practice). */
function person(p: SectionFacts['people'][number]): DrawMark[] {
  const ref = { kind: 'mark', id: p.id } as const;
  const e = p.eyeM;
  const low = p.seatM ?? 0;
  const half: Point[] = [
    [0.06, e - 0.12],
    [0.07, e - 0.2],
    [0.2, e - 0.27],
    [0.22, e - 0.4],
    [0.16, Math.max(low, e - 0.75)],
    [0.17, Math.max(low, e - 0.82)],
    ...(low > 0
      ? ([
          [0.17, low],
          [0.12, low],
          [0.1, 0],
        ] as Point[])
      : ([[0.09, 0]] as Point[])),
  ];
  const head: Point[] = Array.from({ length: 20 }, (_, i) => {
    const a = (i / 20) * 2 * Math.PI;
    return [p.x + 0.085 * Math.cos(a), e - 0.015 + 0.125 * Math.sin(a)];
  });
  const body: Point[] = [
    ...half.map(([x, z]): Point => [p.x + x, z]),
    ...half.toReversed().map(([x, z]): Point => [p.x - x, z]),
  ];
  return [
    { kind: 'area', points: body, tone: 'person', outline: 'person', ref },
    { kind: 'area', points: head, tone: 'person', outline: 'person', ref },
    line(
      [
        [p.x - 0.3, e],
        [p.x + 0.3, e],
      ],
      'person',
      'hair',
      'dot',
    ),
  ];
}
