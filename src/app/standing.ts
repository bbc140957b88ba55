/** What is asked of a face that could stand elsewhere, and how its map answers: judged points, and a sentence. Pure. */
import { type Judged, standDrawing } from '../drawing/standHatch.ts';
import type { Walked } from '../readings/walk.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { Stands } from './lights.ts';
import { bearingWord } from './typingDay.ts';

/** Where nobody wished for a level: so many stops about what the set stop asks, or about what is there (judgement). */
const WITHIN = 0.5;

export interface Asked {
  target: number;
  within: number;
  /** Key from the person's own side; undefined: from either. */
  side: 'left' | 'right' | undefined;
  wished: boolean;
}

/** The wish of the angle for this face; the key's side as it is where they stand now. */
export function askedOf(shoot: Shoot, scene: string, { angle, mark, map }: Stands): Asked {
  const rig = rigFor(shoot, { scene, angle });
  const wish = rig.angle.wishes.find((w) => w.mark === mark && w.reading === 'overStops');
  const m = rig.scene.marks[mark];
  const here = m && nearest(map, m.at);
  return {
    target: wish?.target ?? 0,
    within: wish?.within ?? WITHIN,
    side: here?.side,
    wished: wish !== undefined,
  };
}

const nearest = (map: Stands['map'], [x, y]: readonly [number, number]) =>
  map?.points.reduce<(typeof map.points)[number] | undefined>(
    (b, p) => (!b || Math.hypot(p.at[0] - x, p.at[1] - y) < Math.hypot(b.at[0] - x, b.at[1] - y) ? p : b),
    undefined,
  );

export function judge(map: NonNullable<Stands['map']>, asked: Asked): Judged[] {
  return map.points.map((p) => {
    const level = Math.abs(p.overStops - asked.target) <= asked.within + 1e-9;
    const side = asked.side === undefined || p.side === asked.side;
    const eyes = p.eyes === undefined || p.eyes > 0;
    return { at: p.at, overStops: p.overStops, holds: !level ? 0 : side && eyes ? 2 : 1 };
  });
}

export const drawingOf = (map: NonNullable<Stands['map']>, asked: Asked) =>
  standDrawing(map.grid, judge(map, asked));

/** “Hatched, 1.9 m²: within ½ stop of the set stop, keyed from the left, an eye lit. …” */
export function standWords(shoot: Shoot, scene: string, stands: Stands): string {
  const { mark, map } = stands;
  if (!map) return 'Asking where they could stand …';
  const asked = askedOf(shoot, scene, stands);
  const judged = judge(map, asked);
  const good = judged.filter((j) => j.holds === 2);
  const area = good.length * map.grid.stepM ** 2;
  const what = `within ${asked.within === 0.5 ? '½' : +asked.within.toFixed(2)} stop of ${
    asked.target === 0
      ? 'the set stop'
      : `${asked.target > 0 ? '+' : '−'}${Math.abs(asked.target).toFixed(1)}`
  }${asked.wished ? ', as wished' : ''}${asked.side ? `, keyed from the ${asked.side}` : ''}, an eye lit`;
  const m = shoot.scenes[scene]!.marks[mark]!;
  const here = nearest(map, m.at);
  const now = here && Number.isFinite(here.overStops) ? `; here ${signed(here.overStops)}` : '';
  if (!good.length) {
    const best = [...map.points]
      .filter((p) => asked.side === undefined || p.side === asked.side)
      .sort((a, b) => Math.abs(a.overStops - asked.target) - Math.abs(b.overStops - asked.target))[0];
    return `Nowhere is a face turned so ${what}${now}.${
      best && Number.isFinite(best.overStops)
        ? ` Nearest to it ${signed(best.overStops)}, ${way(m.at, best.at, shoot.places[shoot.scenes[scene]!.place]!.northDeg ?? 0)}.`
        : ''
    }`;
  }
  const near = good.reduce((b, p) =>
    Math.hypot(p.at[0] - m.at[0], p.at[1] - m.at[1]) < Math.hypot(b.at[0] - m.at[0], b.at[1] - m.at[1])
      ? p
      : b,
  );
  const off = Math.hypot(near.at[0] - m.at[0], near.at[1] - m.at[1]);
  return `Hatched, ${area.toFixed(1)} m²: a face turned so is ${what}${now}. ${
    off < map.grid.stepM
      ? `${mark} stands in it.`
      : `Nearest: ${way(m.at, near.at, shoot.places[shoot.scenes[scene]!.place]!.northDeg ?? 0)}.`
  } Dots: the level alone.`;
}

export const signed = (v: number) =>
  Math.abs(v) < 0.05 ? '0.0' : `${v < 0 ? '−' : '+'}${Math.abs(v).toFixed(1)}`;
const way = (from: readonly [number, number], to: readonly [number, number], northDeg: number) => {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  return `${Math.hypot(dx, dy).toFixed(2)} m ${bearingWord((Math.atan2(dx, dy) * 180) / Math.PI + northDeg)}`;
};

/** “: 1.40 m, between −0.2 and +1.1 stops, …”: what the walk does to the face, turned as it is. */
export function walkWords(w: Walked, asked: Asked): string {
  const range =
    w.most.overStops - w.least.overStops < 0.1
      ? `${signed(w.most.overStops)} all the way`
      : `between ${signed(w.least.overStops)} (${w.least.alongM.toFixed(2)} m) and ${signed(w.most.overStops)} (${w.most.alongM.toFixed(2)} m)`;
  const steep =
    w.steepest && Math.abs(w.steepest.stopsPerM) >= 0.5
      ? `; steepest at ${w.steepest.alongM.toFixed(2)} m, ${Math.abs(w.steepest.stopsPerM).toFixed(1)} stops a metre`
      : '';
  const leaves =
    w.leavesM === undefined
      ? '; within range throughout'
      : `; ${Math.round(100 * w.within)} % of it within ${asked.within === 0.5 ? '½' : +asked.within.toFixed(2)} stop`;
  const unknown = w.unknown > 0.05 ? `; ${Math.round(100 * w.unknown)} % of it nobody can stand on` : '';
  return `: ${w.farM.toFixed(2)} m, face turned as now, ${range}${steep}${leaves}${unknown}.`;
}
