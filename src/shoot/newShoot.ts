/** A shoot from nothing: a room of these measures, two people in it, and everything else marked as guessed. */
import type { Region } from './kit.ts';
import { type Finish, FORMAT, type Shoot, VERSION } from './schema.ts';
import { type How, seating } from './seatings.ts';
import {
  GUESSED,
  usualCamera,
  usualOpening,
  usualSocket,
  usualSupply,
  WALL_TONES,
  type WallTone,
} from './usualRoom.ts';
import { type Outline, tidyOutline, wallLengthM } from './walls.ts';

export interface NewRoom {
  region: Region;
  /** A plain room; or the corners of one that is not. */
  widthM?: number;
  depthM?: number;
  outline?: Outline;
  heightM?: number;
  title?: string;
  people?: 1 | 2 | 3;
  how?: How;
  walls?: WallTone;
}

/** Where the new room's things stand in the document. */
export const ROOM_ID = 'room';
export const SCENE_ID = 'scene1';

/** An ordinary room, metres (common practice): what is supposed until it is told. */
export const SUPPOSED = { widthM: 4.2, depthM: 3.6, heightM: 2.4 } as const;

export const rectangle = (widthM: number, depthM: number): [number, number][] => [
  [0, 0],
  [widthM, 0],
  [widthM, depthM],
  [0, depthM],
];

export const wallFinish = (tone: WallTone): Finish => {
  const t = WALL_TONES.find((x) => x.words === tone)!;
  return { words: `${t.words} walls`, reflectance: t.reflectance, colour: t.colour, guessed: true };
};

/** Throws a sentence where the corners are no room. */
export function newShoot(q: NewRoom): Shoot {
  const outline = q.outline
    ? tidyOutline(q.outline)
    : rectangle(q.widthM ?? SUPPOSED.widthM, q.depthM ?? SUPPOSED.depthM);
  if (typeof outline === 'string') throw new Error(outline);
  const ceilingM = q.heightM ?? SUPPOSED.heightM;
  const { marks, furniture } = seating(outline, q.people ?? 2, q.how ?? 'table');
  // The longest wall far from where one comes in has the window; a door and two sockets stand on others.
  const walls = outline.map((_, i) => i).sort((a, b) => wallLengthM(outline, b) - wallLengthM(outline, a));
  const [long, next, third] = [walls[1] ?? 0, walls[0] ?? 0, walls[2] ?? 0];
  const half = (wall: number) => wallLengthM(outline, wall) / 2;
  const supply = usualSupply(q.region);
  supply.sockets = {
    S1: { ...usualSocket(outline, third, half(third) * 0.6, q.region), guessed: true },
    S2: { ...usualSocket(outline, long, half(long) * 0.4, q.region), guessed: true },
  };
  return {
    format: FORMAT,
    version: { ...VERSION },
    title: q.title ?? 'My room',
    exposureConstant: 250,
    places: {
      [ROOM_ID]: {
        name: 'Room',
        outline,
        ceilingM,
        floor: GUESSED.floor,
        ceiling: GUESSED.ceiling,
        walls: q.walls ? wallFinish(q.walls) : GUESSED.walls,
        openings: {
          window: { ...usualOpening(outline, ceilingM, 'window', long, half(long) * 1.5), guessed: true },
          door: { ...usualOpening(outline, ceilingM, 'door', next, half(next) * 0.4), guessed: true },
        },
        furniture,
        rigging: {},
        outside: { groundM: -0.15, ground: GUESSED.ground },
        supply,
      },
    },
    scenes: {
      [SCENE_ID]: {
        name: 'Scene 1, night',
        place: ROOM_ID,
        camera: usualCamera(q.region),
        marks,
        spots: {},
        angles: {},
        rig: { lamps: {}, flags: {}, multiways: {} },
      },
    },
    kit: { lamps: {}, supports: {}, sheets: {}, flags: {}, leads: {}, multiways: {} },
  };
}
