/**
 * No face is its own mirror image. The data stores a left half; here each person's face is made a little uneven, always
 * the same way: features shift by 0.5–2 mm, smoothly. Sizes by trial within what is common in faces (no source).
 */
import { POINT_VERTEX } from './facePoints.ts';
import { chance } from './strips.ts';

/** A smooth bump of displacement: where, how wide, how far; metres. */
interface Bump {
  at: readonly [number, number, number];
  widthM: number;
  by: readonly [number, number, number];
}

function bumps(id: string, body: Float32Array): Bump[] {
  let seed = 7;
  for (const letter of id) seed = Math.imul(seed, 31) + letter.charCodeAt(0);
  /** −1 … 1, not near 0: everyone has each of these, one way or the other. */
  const way = (k: number) => {
    const c = chance(seed + 1013 * k);
    return (c < 0.5 ? -1 : 1) * (0.45 + 0.55 * chance(seed + 1013 * k + 1));
  };
  const at = (name: keyof typeof POINT_VERTEX): [number, number, number] => {
    const v = 3 * POINT_VERTEX[name];
    return [body[v]!, body[v + 1]!, body[v + 2]!];
  };
  const side = way(1) < 0 ? 'L' : 'R';
  const lips = at('upperLip');
  const corner: [number, number, number] = [
    (way(9) < 0 ? -1 : 1) * 0.024,
    lips[1] + 0.012,
    (lips[2] + at('lowerLip')[2]) / 2,
  ];
  return [
    // Nose: its tip off the middle, its bridge a little the other way.
    { at: at('noseTip'), widthM: 0.016, by: [0.001 * way(2), 0, 0.0004 * way(3)] },
    { at: at('glabella'), widthM: 0.018, by: [-0.0005 * way(2), 0, 0] },
    // One brow higher, one eye lower and set a little back.
    { at: at(`brow${side}`), widthM: 0.017, by: [0, 0, 0.0014 * Math.abs(way(4))] },
    {
      at: at(side === 'L' ? 'lidUpperR' : 'lidUpperL'),
      widthM: 0.02,
      by: [0, 0.0006, -0.0009 * Math.abs(way(5))],
    },
    // One corner of the mouth higher, the jaw toward one side, one cheek fuller.
    { at: corner, widthM: 0.014, by: [0.0004 * way(6), 0, 0.0015 * Math.abs(way(6))] },
    { at: at('chin'), widthM: 0.03, by: [0.0013 * way(7), 0, 0] },
    { at: at(way(8) < 0 ? 'cheekL' : 'cheekR'), widthM: 0.022, by: [0, -0.0006, 0] },
  ];
}

/** Displaces places (3 × n, rest frame, in place) by the person's own unevenness; gives them back. */
export function unevenness(id: string, body: Float32Array): (p: Float32Array) => Float32Array {
  const list = bumps(id, body);
  return (p) => {
    for (let i = 0; i < p.length; i += 3) {
      let [dx, dy, dz] = [0, 0, 0];
      for (const { at, widthM, by } of list) {
        const x = (p[i]! - at[0]) / widthM;
        const y = (p[i + 1]! - at[1]) / widthM;
        const z = (p[i + 2]! - at[2]) / widthM;
        const r = x * x + y * y + z * z;
        if (r > 9) continue;
        const w = Math.exp(-r / 2);
        dx += w * by[0];
        dy += w * by[1];
        dz += w * by[2];
      }
      p[i]! += dx;
      p[i + 1]! += dy;
      p[i + 2]! += dz;
    }
    return p;
  };
}
