/** Unshadowed light in WebAssembly: wasm/bare.ts behind `FlatLight`, a stretch of points at a time. */
import type { FlatLight } from '../transport/sums.ts';
import { BARE_MODULE } from './bareModule.ts';
import { Desk } from './desk.ts';

/** Points laid down at a time: as many as stay near. */
const POINTS = 4096;
/** Numbers of an emitter, and of its 21 places. */
const EMITTER = 16;
const PLACES = 21 * 4;

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
}

/** The unshadowed light of this thread; undefined where there is no WebAssembly with vectors. */
export function fastBare(): FlatLight | undefined {
  let module: Module;
  try {
    const bytes = Uint8Array.from(atob(BARE_MODULE), (c) => c.charCodeAt(0));
    module = new WebAssembly.Instance(new WebAssembly.Module(bytes)).exports as unknown as Module;
  } catch {
    return undefined;
  }
  const desk = new Desk(module.memory);
  const emitter = new Float32Array(EMITTER);
  const places = new Float32Array(PLACES);
  const mark = new Uint8Array(POINTS);

  return (light, { position, normal, toEye, material }, { f0, alpha }, from, to, { hair, out, sharp }) => {
    const materials = f0.length;
    // A whole vector is read at each point's three numbers: one more at the end.
    desk.clear(
      4 * (EMITTER + PLACES) + 24 + POINTS * (36 + 2 + 1 + 8 + 8) + 48 + 12 * (POINTS + 4) + 8 * materials,
      16,
    );
    const at = {
      centre: desk.place(24),
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
    const { f } = light;
    // What 32-bit floats leave of the centre goes into the places.
    emitter.set(f.subarray(0, 12));
    emitter.set(f.subarray(15, 18), 12);
    for (let i = 0; i < PLACES; i++)
      places[i] = i % 4 < 3 ? light.places[i]! + f[i % 4]! - emitter[i % 4]! : 0;
    desk.f64.set(f.subarray(0, 3), at.centre >> 3);
    desk.f32.set(emitter, at.emitter >> 2);
    desk.f32.set(places, at.places >> 2);
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
}
