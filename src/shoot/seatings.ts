/** Who is in a room to begin with: people who talk to each other, at a table, standing or on a sofa, in its middle. */
import type { Furniture, Mark } from './schema.ts';
import { furnitureOf, roomThing } from './things.ts';
import { boundsOf, nearestWall, type Outline, onFloor, type Point } from './walls.ts';

export const HOW = ['table', 'standing', 'sofa'] as const;
export type How = (typeof HOW)[number];
export const HOW_WORDS: Record<How, string> = {
  table: 'at a table',
  standing: 'standing',
  sofa: 'on a sofa',
};

/** Figures, with eyes at these heights, metres; of the project's own people, standing and on a 45 cm seat. */
const WHO = [
  { person: 'woman-28', standingM: 1.58, seatedM: 1.18, top: '#7a2430', bottom: '#2a2c33' },
  { person: 'man-34', standingM: 1.7, seatedM: 1.22, top: '#4d6468', bottom: '#2b2b2b' },
  { person: 'man-68', standingM: 1.64, seatedM: 1.19, top: '#6a6250', bottom: '#33302b' },
] as const;
export const MARK_IDS = ['A', 'B', 'C', 'D', 'E', 'F'] as const;

/** The point of the floor farthest from every wall, on a 10 cm grid; the middle of a plain room. */
export function middleOf(outline: Outline): { at: Point; clearM: number } {
  const b = boundsOf(outline);
  const centre: Point = [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2];
  let best = { at: centre, clearM: onFloor(outline, centre) ? nearestWall(outline, centre).offM : 0 };
  for (let x = b.x0 + 0.05; x < b.x1; x += 0.1)
    for (let y = b.y0 + 0.05; y < b.y1; y += 0.1) {
      if (!onFloor(outline, [x, y])) continue;
      const clearM = nearestWall(outline, [x, y]).offM;
      if (clearM > best.clearM + 0.05) best = { at: [x, y], clearM };
    }
  return best;
}

export interface Seating {
  marks: Record<string, Mark>;
  furniture: Record<string, Furniture>;
}

export function mark(
  index: number,
  at: Point,
  facingDeg: number,
  posture: Mark['posture'],
  more: { seatM?: number; tableM?: number } = {},
): Mark {
  const who = WHO[index % WHO.length]!;
  const seat = more.seatM ?? 0.45;
  return {
    name: MARK_IDS[index] ?? `person ${index + 1}`,
    person: who.person,
    at: [+at[0].toFixed(3), +at[1].toFixed(3)],
    eyeM: posture === 'standing' ? who.standingM : +(who.seatedM + seat - 0.45).toFixed(3),
    posture,
    ...(posture === 'seated' ? { seatM: seat } : {}),
    ...(more.tableM === undefined ? {} : { tableM: more.tableM }),
    facings: [+(180 - ((((180 - facingDeg) % 360) + 360) % 360)).toFixed(1)],
    complexion: 'light',
    top: who.top,
    bottom: who.bottom,
  };
}

/**
 * One to three people with what they sit at. The line between two runs the long way of the room, so that there is
 * room beside it for cameras and behind each for light.
 */
export function seating(outline: Outline, count: 1 | 2 | 3, how: How): Seating {
  const b = boundsOf(outline);
  const middle = middleOf(outline);
  const along = b.x1 - b.x0 >= b.y1 - b.y0 ? 0 : 90;
  const [c, s] = [Math.cos((along * Math.PI) / 180), Math.sin((along * Math.PI) / 180)];
  // A little off the middle, so that on one side there is room for a camera that holds two.
  const back = Math.min(0.4, 0.12 * (along === 0 ? b.y1 - b.y0 : b.x1 - b.x0), middle.clearM * 0.4);
  const at: Point = [middle.at[0] - back * s, middle.at[1] + back * c];
  /** u along the line, v across it. */
  const put = (u: number, v: number): Point => [at[0] + u * c - v * s, at[1] + u * s + v * c];
  const marks: Seating['marks'] = {};
  const furniture: Seating['furniture'] = {};
  const seated = (i: number, u: number, v: number, facing: number) => {
    const r = (facing * Math.PI) / 180;
    marks[MARK_IDS[i]!] = mark(i, put(u, v), along + facing, 'seated', { seatM: 0.45, tableM: 0.74 });
    const chair = roomThing('chair')!;
    const [x, y] = put(u - 0.17 * Math.cos(r), v - 0.17 * Math.sin(r));
    furniture[`chair${MARK_IDS[i]}`] = {
      ...furnitureOf(chair, x, y, along + facing),
      words: `chair of ${MARK_IDS[i]}`,
    };
  };
  if (how === 'table') {
    const table = { ...roomThing('table')!, sizeM: [0.7, 0.9, 0.74] as const };
    furniture.table = furnitureOf(table, ...put(0, 0), along);
    seated(0, -0.55, 0, 0);
    if (count > 1) seated(1, 0.55, 0, 180);
    if (count > 2) seated(2, 0, 0.65, -90);
  } else if (how === 'standing') {
    const places = [
      [-0.55, 0, 0],
      [0.55, 0, 180],
      [0, 0.75, -90],
    ] as const;
    for (let i = 0; i < count; i++) {
      const [u, v, f] = places[i]!;
      marks[MARK_IDS[i]!] = mark(i, put(u, v), along + f, 'standing');
    }
  } else {
    const wide = { 1: 1.4, 2: 1.9, 3: 2.4 }[count];
    const sofa = { ...roomThing('sofa')!, sizeM: [0.88, wide, 0.82] as const };
    furniture.sofa = furnitureOf(sofa, ...put(0, 0.1), along - 90);
    // Turned a third of the way to each other, all of them toward the open side.
    const places = {
      1: [[0, -90]],
      2: [
        [-0.42, -55],
        [0.42, -125],
      ],
      3: [
        [-0.68, -55],
        [0.68, -125],
        [0, -90],
      ],
    }[count];
    places.forEach(([u, f], i) => {
      marks[MARK_IDS[i]!] = mark(i, put(u!, 0), along + f!, 'seated', { seatM: 0.42 });
    });
  }
  return { marks, furniture };
}
