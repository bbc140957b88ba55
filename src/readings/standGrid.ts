/** The floor of a place as a grid of points where somebody could stand: clear of walls and of what stands there. */
import { boundsOfPlace, roomAt } from '../shoot/rooms.ts';
import type { Place } from '../shoot/schema.ts';
import { nearestWall, type Point } from '../shoot/walls.ts';

export interface FloorGrid {
  x0: number;
  y0: number;
  stepM: number;
  nx: number;
  ny: number;
  /** nx × ny, rows from the south: number of the point in `points`, −1 where nobody can stand. */
  index: Int32Array;
  points: Point[];
}

/** Half a body's depth: nearer to a wall nobody stands, metres (common practice, no source). */
const CLEAR_M = 0.25;
/** What is no higher is stepped on, what begins higher is walked under, metres (judgement). */
const STEP_M = 0.25;
const OVERHEAD_M = 2;

export function floorGrid(place: Place, stepM: number): FloorGrid {
  const b = boundsOfPlace(place);
  const nx = Math.max(1, Math.floor((b.x1 - b.x0) / stepM));
  const ny = Math.max(1, Math.floor((b.y1 - b.y0) / stepM));
  const x0 = (b.x0 + b.x1) / 2 - ((nx - 1) * stepM) / 2;
  const y0 = (b.y0 + b.y1) / 2 - ((ny - 1) * stepM) / 2;
  const index = new Int32Array(nx * ny).fill(-1);
  const points: Point[] = [];
  const things = Object.values(place.furniture).filter(
    (f) => f.at[2] + f.sizeM[2] > STEP_M && f.at[2] < OVERHEAD_M,
  );
  for (let j = 0; j < ny; j++)
    for (let i = 0; i < nx; i++) {
      const p: Point = [x0 + i * stepM, y0 + j * stepM];
      const room = roomAt(place, p);
      if (!room || nearestWall(room.outline, p).offM < CLEAR_M - 1e-9) continue;
      if (things.some((f) => within(f, p))) continue;
      index[j * nx + i] = points.length;
      points.push(p);
    }
  return { x0, y0, stepM, nx, ny, index, points };
}

function within(f: Place['furniture'][string], [x, y]: Point): boolean {
  const a = (-(f.turnDeg ?? 0) * Math.PI) / 180;
  const [dx, dy] = [x - f.at[0], y - f.at[1]];
  const u = dx * Math.cos(a) - dy * Math.sin(a);
  const v = dx * Math.sin(a) + dy * Math.cos(a);
  return Math.abs(u) < f.sizeM[0] / 2 && Math.abs(v) < f.sizeM[1] / 2;
}
