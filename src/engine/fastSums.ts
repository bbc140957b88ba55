/**
 * Long sums in WebAssembly: wasm/sums.ts behind `Sums`. One memory for each thread; what a sum needs is laid on it, a
 * stretch at a time where there is much, and what it gives is taken off again.
 */
import { BOUNCED_NUMBERS as SAMPLES } from '../transport/plain.ts';
import type { Sums } from '../transport/sums.ts';
import { Desk } from './desk.ts';
import { SUMS_MODULE } from './sumsModule.ts';

/** Links laid down at a time: as many as stay near. */
const LINKS = 32768;

interface Module {
  memory: WebAssembly.Memory;
  gather(links: number, per: number, n: number, value: number, out: number): void;
  leave(n: number, rho: number, area: number, next: number, whole: number, flux: number): void;
  smooth(n: number, start: number, number: number, weight: number, values: number, out: number): void;
  mend(
    n: number,
    start: number,
    patch: number,
    exitance: number,
    rho: number,
    own: number,
    mean: number,
    lux: number,
    bounced: number,
    times: number,
  ): void;
}

/** The sums of this thread; undefined where there is no WebAssembly with vectors. */
export function fastSums(): Sums | undefined {
  let module: Module;
  try {
    const bytes = Uint8Array.from(atob(SUMS_MODULE), (c) => c.charCodeAt(0));
    module = new WebAssembly.Instance(new WebAssembly.Module(bytes)).exports as unknown as Module;
  } catch {
    return undefined;
  }
  const desk = new Desk(module.memory);

  return {
    gather(links, per, value, from, to, out) {
      const most = Math.max(1, Math.min(to - from, Math.floor(LINKS / per)));
      desk.clear(value.byteLength + 4 * most * (per + SAMPLES), 3);
      const values = desk.floats(value);
      const some = desk.place(4 * most * per);
      const sums = desk.place(4 * most * SAMPLES);
      for (let i = from; i < to; i += most) {
        const end = Math.min(to, i + most);
        desk.u32.set(links.subarray(i * per, end * per), some >> 2);
        module.gather(some, per, end - i, values, sums);
        desk.take(sums, (end - i) * SAMPLES, out, i * SAMPLES);
      }
    },

    leave(rho, areaM2, next, whole) {
      const n = areaM2.length;
      const numbers = n * SAMPLES;
      desk.clear(4 * 3 * numbers + 8 * (n + SAMPLES), 5);
      const flux = desk.doubles(new Float64Array(SAMPLES));
      const at = {
        rho: desk.floats(rho.subarray(0, numbers)),
        area: desk.doubles(areaM2),
        next: desk.floats(next.subarray(0, numbers)),
        whole: desk.floats(whole.subarray(0, numbers)),
      };
      module.leave(n, at.rho, at.area, at.next, at.whole, flux);
      desk.take(at.next, numbers, next);
      desk.take(at.whole, numbers, whole);
      return desk.f64.slice(flux >> 3, (flux >> 3) + SAMPLES);
    },

    smooth({ start, number, weight }, values, out) {
      const n = start.length - 1;
      desk.clear(
        start.byteLength + number.byteLength + weight.byteLength + values.byteLength + 4 * n * SAMPLES,
        5,
      );
      const sums = desk.place(4 * n * SAMPLES);
      module.smooth(n, desk.whole(start), desk.whole(number), desk.floats(weight), desk.floats(values), sums);
      desk.take(sums, n * SAMPLES, out);
    },

    mend({ point, start, patch }, exitance, rho, own, meanShare, lux, bounced) {
      const n = point.length;
      const mended = new Float32Array(n * SAMPLES);
      for (let i = 0; i < n; i++)
        for (let k = 0, b = point[i]! * SAMPLES; k < SAMPLES; k++) mended[i * SAMPLES + k] = bounced[b + k]!;
      desk.clear(
        start.byteLength + patch.byteLength + exitance.byteLength + rho.byteLength + 4 * n * (SAMPLES + 2),
        7,
      );
      const at = {
        times: desk.place(4 * n),
        start: desk.whole(start),
        patch: desk.whole(patch),
        exitance: desk.floats(exitance),
        rho: desk.floats(rho),
        lux: desk.floats(lux),
        mended: desk.floats(mended),
      };
      const mean = 1 / (1 - meanShare);
      module.mend(n, at.start, at.patch, at.exitance, at.rho, own, mean, at.lux, at.mended, at.times);
      desk.take(at.mended, n * SAMPLES, mended);
      for (let i = 0; i < n; i++)
        for (let k = 0, b = point[i]! * SAMPLES; k < SAMPLES; k++) bounced[b + k] = mended[i * SAMPLES + k]!;
      const times = new Float32Array(n);
      desk.take(at.times, n, times);
      return times;
    },
  };
}
