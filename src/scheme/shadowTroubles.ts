/**
 * Shadows that should not be there, on what stands still in frame: of a head, a stand, a flag, of a person on a wall;
 * and of the camera and who stands behind it, which no picture shows because they are not on the stage. Found from
 * the picture's own light: where a lamp would shine and does not, and which thing stands in that line.
 */
import { sub, type Vec3 } from '../maths/vec3.ts';
import { bareAt, glossTable } from '../transport/quick/bare.ts';
import { standOf } from '../transport/quick/quick.ts';
import type { Hits, SurfacePoints } from '../transport/tracer.ts';
import { numberOf, type SchemeContext } from './context.ts';
import { meets, type Occluder, occludersOf } from './occluders.ts';
import { shadowIdeas } from './shadowIdeas.ts';
import type { Box, Found } from './trouble.ts';

/** Points of the frame that are looked at, about. */
const LOOKED_AT = 3000;
/** Of a lamp's light at a place less than this share arrives: it is shadowed there. */
const STOPPED = 0.35;
/** The shadow is at least so much darker than the light beside it, as a share of that light: half a stop. */
const DARKER = 0.3;
/** Darker surroundings than this under grey hide a shadow, stops (judgement). */
const HIDDEN_STOPS = -3.5;
/** Smaller shadows than this share of the frame are not called (judgement). */
const SMALL = 0.004;

interface Shadow {
  o: Occluder;
  /** Lamps that throw it, with the share of the frame of each. */
  lamps: Map<string, number>;
  points: Vec3[];
  box: Box;
  share: number;
  /** What it falls on, counted. */
  on: Map<string, number>;
}

export function shadowTroubles(c: SchemeContext): Found[] {
  return shadowsOf(c).map((s): Found => {
    const { o } = s;
    const lamps = [...s.lamps].sort((a, b) => b[1] - a[1]).map(([id]) => id);
    const numbers = lamps.map((id) => numberOf(c, id));
    const of =
      o.what === 'person'
        ? o.id
        : o.what === 'camera'
          ? 'the camera'
          : o.what === 'flag'
            ? `the flag ${o.id}`
            : `the ${o.what} of ${numberOf(c, o.id)}`;
    const by = `${list(numbers)} ${numbers.length > 1 ? 'throw' : 'throws'} the shadow of ${of}`;
    const on = [...s.on].sort((a, b) => b[1] - a[1])[0]![0];
    const over = `over ${(100 * s.share).toFixed(1)} % of the frame`;
    return {
      kind: 'shadow',
      ...(o.what === 'head' || o.what === 'stand' ? { lamp: o.id } : {}),
      subject: `${o.what}:${o.id}`,
      severity: o.what === 'person' ? 1 : 2,
      size: s.share,
      says:
        o.what === 'camera'
          ? `${by}, or of who stands behind it, on ${on}, ${over}: no picture shows it, as nobody stands there yet.`
          : `${by} on ${on}, ${over}.`,
      short: `${by} into frame`,
      at: s.points[Math.floor(s.points.length / 2)]!,
      frame: s.box,
      ideas: () => shadowIdeas(c, o, lamps, s.points),
    };
  });
}

const list = (words: readonly string[]): string =>
  words.length < 2 ? words.join() : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

function shadowsOf(c: SchemeContext): Shadow[] {
  const lit = c.lit;
  if (!lit || lit.hits.points.count === 0) return [];
  const { hits } = lit;
  const step = Math.max(1, Math.round(Math.sqrt((hits.width * hits.height) / LOOKED_AT)));
  const at: { h: number; p: number }[] = [];
  for (let y = Math.floor(step / 2); y < hits.height; y += step)
    for (let x = Math.floor(step / 2); x < hits.width; x += step) {
      const p = y * hits.width + x;
      const h = hits.pixelStart[p]!;
      if (h === hits.pixelStart[p + 1]) continue;
      const part = c.angle.transport.stage.parts[hits.part[h]!];
      if (part && !part.moving && hits.weight[h]! > 0.5) at.push({ h, p });
    }
  if (at.length === 0) return [];
  const points = pick(
    hits,
    at.map((a) => a.h),
  );
  const occluders = occludersOf(c);
  const gloss = glossTable(c.angle.transport.stage.materials);
  const found = new Map<string, Shadow>();
  const each = 1 / ((hits.width / step) * (hits.height / step));
  for (const lamp of c.angle.lamps) {
    if (!c.angle.rig.lamps[lamp.id]!.on) continue;
    const bare = new Float64Array(at.length);
    const got = new Float64Array(at.length);
    for (const l of lamp.layers) {
      const gain = c.weights.layers[l]!.white[1];
      const direct = lit.direct[l];
      if (!(gain > 0) || !direct) continue;
      const { set, stand } = standOf(c.angle.transport.layers[l]!);
      const light = { diffuse: new Float32Array(at.length), gloss: new Float32Array(at.length) };
      bareAt(set, stand, gloss, points, 0, at.length, light);
      for (let i = 0; i < at.length; i++) {
        bare[i]! += gain * light.diffuse[i]!;
        got[i]! += gain * direct[at[i]!.h]!;
      }
    }
    const others = occluders.filter((o) => !(o.id === lamp.id && (o.what === 'head' || o.what === 'stand')));
    for (let i = 0; i < at.length; i++) {
      if (!(bare[i]! > 0)) continue;
      const place: Vec3 = [points.position[3 * i]!, points.position[3 * i + 1]!, points.position[3 * i + 2]!];
      const Y = lit.xyz[3 * at[i]!.p + 1]!;
      const share = got[i]! / bare[i]!;
      const total = totalLx(c, lit.direct, at[i]!.h);
      // Luminance beside the shadow, as if the lamp got through: by the light, which the surface is common to.
      const beside = total > 0 ? (Y * (total + bare[i]! - got[i]!)) / total : 0;
      const dark = (bare[i]! - got[i]!) / Math.max(1e-9, total + bare[i]! - got[i]!);
      for (const o of others) {
        const camera = o.what === 'camera';
        if (camera ? share < 0.6 : share > STOPPED) continue;
        if (camera ? bare[i]! / Math.max(1e-9, total) < DARKER : dark < DARKER) continue;
        if (Math.log2(Math.max(1e-9, camera ? Y : beside) / c.greyCdM2) < HIDDEN_STOPS) continue;
        const met = meets(o, place, lamp.at);
        if (!met) continue;
        if (camera && soft(met, lamp.sizeM, Math.hypot(...sub(lamp.at, place)))) continue;
        const part = c.angle.transport.stage.parts[hits.part[at[i]!.h]!]!;
        // People throw shadows wherever they stand: on a wall it is said.
        if (o.what === 'person' && !part.id.startsWith('wall:')) continue;
        const key = `${o.what}:${o.id}`;
        let s = found.get(key);
        if (!s) {
          s = {
            o,
            ...{ lamps: new Map(), points: [], share: 0, on: new Map() },
            box: { left: 1, top: 1, right: 0, bottom: 0 },
          };
          found.set(key, s);
        }
        s.lamps.set(lamp.id, (s.lamps.get(lamp.id) ?? 0) + each);
        s.on.set(part.words, (s.on.get(part.words) ?? 0) + 1);
        const x = at[i]!.p % hits.width;
        const y = (at[i]!.p - x) / hits.width;
        s.points.push(place);
        s.share += each;
        s.box.left = Math.min(s.box.left, x / hits.width);
        s.box.right = Math.max(s.box.right, (x + 1) / hits.width);
        s.box.top = Math.min(s.box.top, y / hits.height);
        s.box.bottom = Math.max(s.box.bottom, (y + 1) / hits.height);
        break;
      }
    }
  }
  return [...found.values()].filter((s) => s.share >= (s.o.what === 'person' ? 4 * SMALL : SMALL));
}

/** The half-shadow is wider than the shadow: no core, nothing one would point at. */
const soft = (met: { alongM: number; widthM: number }, lampM: number, whole: number): boolean => {
  const toLamp = whole - met.alongM;
  return toLamp <= 0.05 || (lampM * met.alongM) / toLamp > (met.widthM * whole) / toLamp;
};

function totalLx(c: SchemeContext, direct: readonly (Float32Array | undefined)[], h: number): number {
  let sum = 0;
  for (const [l, d] of direct.entries()) sum += (d?.[h] ?? 0) * (c.weights.layers[l]?.white[1] ?? 0);
  return sum + 0.02 * c.eRefLx;
}

/** Some of the hits' points as a list of their own. */
export function pick(hits: Hits, which: readonly number[]): SurfacePoints {
  const from = hits.points;
  const three = (a: Float32Array) => {
    const out = new Float32Array(3 * which.length);
    which.forEach((h, i) => {
      out[3 * i] = a[3 * h]!;
      out[3 * i + 1] = a[3 * h + 1]!;
      out[3 * i + 2] = a[3 * h + 2]!;
    });
    return out;
  };
  return {
    count: which.length,
    position: three(from.position),
    faceNormal: three(from.faceNormal),
    normal: three(from.normal),
    toEye: three(from.toEye),
    material: Uint16Array.from(which, (h) => from.material[h]!),
    patch: Uint32Array.from(which, (h) => from.patch[h]!),
  };
}
