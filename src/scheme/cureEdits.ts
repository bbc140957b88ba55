/** Cures as edits in data: the one place that knows the edits' names and arguments. */
import type { Vec3 } from '../maths/vec3.ts';
import type { Cure } from './trouble.ts';

export interface Where {
  scene: string;
  angle: string;
}

const round = (v: Vec3): Vec3 => [+v[0].toFixed(3), +v[1].toFixed(3), +v[2].toFixed(3)];

export const slide = (w: Where, lamp: string, at: Vec3, says: string): Cure => ({
  edit: 'moveLamp',
  args: { scene: w.scene, angle: w.angle, lamp, to: round(at) },
  says,
});

export const putOut = (w: Where, lamp: string, says: string): Cure => ({
  edit: 'switchLamp',
  args: { scene: w.scene, angle: w.angle, lamp, on: false },
  says,
});

export const level = (w: Where, lamp: string, to: number, says: string): Cure => ({
  edit: 'setLevel',
  args: { scene: w.scene, angle: w.angle, lamp, level: +to.toFixed(3) },
  says,
});

export const hangFlag = (
  w: Where,
  id: string,
  flag: {
    at: Vec3;
    facing: Vec3;
    sizeM: [number, number];
    words: string;
    kind: 'flag' | 'board';
    holds: string;
  },
  says: string,
): Cure => ({
  edit: 'addFlag',
  args: {
    scene: w.scene,
    id,
    flag: {
      words: flag.words,
      at: round(flag.at),
      facing: round(flag.facing),
      sizeM: flag.sizeM.map((s) => +s.toFixed(2)),
      kind: flag.kind,
      finish: { words: 'black velvet', reflectance: 0.01 },
      angles: [w.angle],
      support: { kind: 'hung', words: flag.holds },
    },
  },
  says,
});

export const turnFace = (w: Where, mark: string, deg: number, says: string): Cure => ({
  edit: 'turnMark',
  args: { scene: w.scene, mark, angle: w.angle, byDeg: +deg.toFixed(1) },
  says,
});

export const setStop = (w: Where, stop: number, says: string): Cure => ({
  edit: 'setCamera',
  args: { scene: w.scene, angle: w.angle, camera: { stop: +stop.toFixed(2) } },
  says,
});

export const shutterAngle = (w: Where, deg: number, says: string): Cure => ({
  edit: 'setCamera',
  args: { scene: w.scene, angle: w.angle, camera: { shutter: { kind: 'angle', deg } } },
  says,
});

export const paneSheets = (place: string, opening: string, panes: string[], says: string): Cure => ({
  edit: 'setPanes',
  args: { place, opening, panes },
  says,
});

export const houseLoadOff = (place: string, circuit: string, load: string, says: string): Cure => ({
  edit: 'setHouseLoad',
  args: { place, circuit, load, on: false },
  says,
});

export const plugInto = (w: { scene: string }, lamp: string, feed: unknown, says: string): Cure => ({
  edit: 'setFeed',
  args: { scene: w.scene, lamp, feed },
  says,
});

export const unwind = (w: { scene: string }, lamp: string, index: number, says: string): Cure => ({
  edit: 'setLead',
  args: { scene: w.scene, lamp, index, coiled: false },
  says,
});
