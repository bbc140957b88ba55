/** Flat lamps in WebAssembly: wasm/bare.ts behind `FlatLight` and `FlatRays`, a stretch of points at a time. */
import { ALONG } from '../transport/emitter.ts';
import { LINE } from '../transport/quick/flat.ts';
import type { FlatEmitter, FlatLight, FlatRays } from '../transport/sums.ts';
import { BARE_MODULE } from './bareModule.ts';
import { Desk } from './desk.ts';

/** Points laid down at a time: as many as stay near; rays likewise. */
const POINTS = 4096;
const RAYS = 16384;
/** Numbers of an emitter, and of its places: 1, 4 and 16 for light, 16 turns of 16 for rays. */
const EMITTER = 16;
const PLACES = 21 * 4;
const TURNS = 256 * 4;

interface Module {
  memory: WebAssembly.Memory;
  bare(
    n: number,
    emitter: number,
    law: number,
    reach: number,
    alone: number,
    weight: number,
    ...at: number[]
  ): void;
  rays(n: number, first: number, rays: number, emitter: number, law: number, ...at: number[]): number;
}

const emitterNumbers = new Float32Array(EMITTER);
/** Lays an emitter down, and its places; what 32-bit floats leave of the centre goes into the places. */
function layEmitter(desk: Desk, { f, law, places }: FlatEmitter, emitterAt: number, placesAt: number): void {
  emitterNumbers.set(f.subarray(0, 12));
  emitterNumbers.set(f.subarray(15, 18), 12);
  const tube = law === ALONG || law === LINE;
  if (tube) emitterNumbers.set(f.subarray(12, 14), 13);
  if (law === LINE) for (let x = 0; x < 3; x++) emitterNumbers[9 + x] = f[x]! - emitterNumbers[x]!;
  desk.f32.set(emitterNumbers, emitterAt >> 2);
  const first = placesAt >> 2;
  if (tube) {
    desk.f32.set(places, first);
    return;
  }
  for (let i = 0; i < places.length; i++)
    desk.f32[first + i] = i % 4 < 3 ? places[i]! + f[i % 4]! - emitterNumbers[i % 4]! : 0;
}

/** The ways of this thread; undefined where there is no WebAssembly with vectors. */
export function fastBare(): { flatLight: FlatLight; flatRays: FlatRays } | undefined {
  let module: Module;
  try {
    const bytes = Uint8Array.from(atob(BARE_MODULE), (c) => c.charCodeAt(0));
    module = new WebAssembly.Instance(new WebAssembly.Module(bytes)).exports as unknown as Module;
  } catch {
    return undefined;
  }
  const desk = new Desk(module.memory);
  const mark = new Uint8Array(POINTS);

  const flatLight: FlatLight = (
    light,
    { position, normal, toEye, material },
    { f0, alpha },
    from,
    to,
    { hair, out, sharp },
  ) => {
    const materials = f0.length;
    // A whole vector is read at each point's three numbers: one more at the end.
    desk.clear(
      4 * (EMITTER + PLACES) + 48 + POINTS * (36 + 2 + 1 + 8 + 8) + 48 + 12 * (POINTS + 4) + 8 * materials,
      16,
    );
    const at = {
      centre: desk.place(48),
      emitter: desk.place(4 * EMITTER),
      places: desk.place(4 * PLACES),
      f0: desk.place(4 * materials),
      alpha: desk.place(4 * materials),
      position: desk.place(12 * POINTS + 16),
      normal: desk.place(12 * POINTS + 16),
      toEye: desk.place(12 * POINTS + 16),
      material: desk.place(2 * POINTS),
      mark: desk.place(POINTS),
      f0At: desk.place(4 * POINTS),
      alphaAt: desk.place(4 * POINTS),
      lists: desk.place(12 * (POINTS + 4)),
      diffuse: desk.place(4 * POINTS),
      shine: desk.place(4 * POINTS),
    };
    layEmitter(desk, light, at.emitter, at.places);
    desk.f64.set(light.f.subarray(0, 6), at.centre >> 3);
    desk.f32.set(f0, at.f0 >> 2);
    desk.f32.set(alpha, at.alpha >> 2);
    const u8 = new Uint8Array(module.memory.buffer);
    const u16 = new Uint16Array(module.memory.buffer);
    for (let first = from; first < to; first += POINTS) {
      const end = Math.min(to, first + POINTS);
      const n = end - first;
      desk.f32.set(position.subarray(first * 3, end * 3), at.position >> 2);
      desk.f32.set(normal.subarray(first * 3, end * 3), at.normal >> 2);
      desk.f32.set(toEye.subarray(first * 3, end * 3), at.toEye >> 2);
      desk.f32.set(out.diffuse.subarray(first, end), at.diffuse >> 2);
      desk.f32.set(out.gloss.subarray(first, end), at.shine >> 2);
      u16.set(material.subarray(first, end), at.material >> 1);
      mark.fill(0);
      if (hair) mark.set(hair.subarray(first, end));
      u8.set(mark, at.mark);
      module.bare(
        n,
        at.emitter,
        light.law,
        light.reachM,
        light.alone ? 1 : 0,
        light.weight,
        at.places,
        at.position,
        at.normal,
        at.toEye,
        at.material,
        materials,
        at.f0,
        at.alpha,
        at.mark,
        at.f0At,
        at.alphaAt,
        at.lists,
        at.diffuse,
        at.shine,
        at.centre,
      );
      desk.take(at.diffuse, n, out.diffuse, first);
      desk.take(at.shine, n, out.gloss, first);
      for (let i = 0; i < n; i++) if (u8[at.mark + i] === 2) sharp.push(first + i);
    }
  };

  const flatRays: FlatRays = (light, { position, normal, faceNormal, turn }, first, rays) => {
    const n = turn.length;
    const from = new Float32Array(3 * n * rays);
    const to = new Float32Array(3 * n * rays);
    const lux = new Float32Array(n * rays);
    const owner = new Uint32Array(n * rays);
    const whole = new Float32Array(n);
    const some = Math.max(1, Math.min(n, Math.floor(RAYS / rays)));
    desk.clear(4 * (EMITTER + TURNS + 4) + some * (36 + 1 + 4) + 48 + 32 * some * rays, 13);
    const at = {
      emitter: desk.place(4 * EMITTER),
      places: desk.place(4 * TURNS),
      turn: desk.place(some),
      position: desk.place(12 * some + 16),
      normal: desk.place(12 * some + 16),
      face: desk.place(12 * some + 16),
      list: desk.place(16),
      from: desk.place(12 * some * rays),
      to: desk.place(12 * some * rays),
      lux: desk.place(4 * some * rays),
      owner: desk.place(4 * some * rays),
      whole: desk.place(4 * some),
    };
    layEmitter(desk, light, at.emitter, at.places);
    const u8 = new Uint8Array(module.memory.buffer);
    let asked = 0;
    for (let p = 0; p < n; p += some) {
      const end = Math.min(n, p + some);
      desk.f32.set(position.subarray(p * 3, end * 3), at.position >> 2);
      desk.f32.set(normal.subarray(p * 3, end * 3), at.normal >> 2);
      desk.f32.set(faceNormal.subarray(p * 3, end * 3), at.face >> 2);
      desk.f32.fill(0, at.whole >> 2, (at.whole >> 2) + end - p);
      u8.set(turn.subarray(p, end), at.turn);
      const more = module.rays(
        end - p,
        first,
        rays,
        at.emitter,
        light.law,
        at.places,
        at.turn,
        at.position,
        at.normal,
        at.face,
        at.list,
        at.from,
        at.to,
        at.lux,
        at.owner,
        at.whole,
      );
      desk.take(at.from, 3 * more, from, 3 * asked);
      desk.take(at.to, 3 * more, to, 3 * asked);
      desk.take(at.lux, more, lux, asked);
      desk.take(at.whole, end - p, whole, p);
      for (let r = 0; r < more; r++) owner[asked + r] = desk.u32[(at.owner >> 2) + r]! + p;
      asked += more;
    }
    return {
      from: from.subarray(0, 3 * asked),
      to: to.subarray(0, 3 * asked),
      lux: lux.subarray(0, asked),
      owner: owner.subarray(0, asked),
      whole,
    };
  };
  return { flatLight, flatRays };
}
