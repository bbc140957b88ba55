/** A WebAssembly memory used as a desk: cleared, laid with arrays, worked on, and what came of it taken off again. */

/** Where the memory's free part begins. */
const BASE = 8192;
const PAGE = 65536;

/** A memory on which arrays are laid one behind another, each beginning on a whole vector. */
export class Desk {
  readonly memory: WebAssembly.Memory;
  f32: Float32Array;
  f64: Float64Array;
  u32: Uint32Array;
  private end = BASE;

  constructor(memory: WebAssembly.Memory) {
    this.memory = memory;
    this.f32 = new Float32Array(memory.buffer);
    this.f64 = new Float64Array(memory.buffer);
    this.u32 = new Uint32Array(memory.buffer);
  }

  /** Clears it for what takes `bytes` together, `arrays` of them at most. */
  clear(bytes: number, arrays: number): void {
    this.end = BASE;
    const short = BASE + bytes + 16 * arrays - this.memory.buffer.byteLength;
    if (short > 0) this.memory.grow(Math.ceil(short / PAGE));
    if (this.f32.buffer === this.memory.buffer) return;
    this.f32 = new Float32Array(this.memory.buffer);
    this.f64 = new Float64Array(this.memory.buffer);
    this.u32 = new Uint32Array(this.memory.buffer);
  }

  /** Room for so many bytes: where it begins. */
  place(bytes: number): number {
    const at = this.end;
    this.end += (bytes + 15) & ~15;
    return at;
  }
  /** Lays floats (whole numbers; 64-bit floats) down; returns where. */
  floats(a: Float32Array): number {
    const at = this.place(a.byteLength);
    this.f32.set(a, at >> 2);
    return at;
  }
  whole(a: Uint32Array): number {
    const at = this.place(a.byteLength);
    this.u32.set(a, at >> 2);
    return at;
  }
  doubles(a: Float64Array): number {
    const at = this.place(a.byteLength);
    this.f64.set(a, at >> 3);
    return at;
  }
  /** Copies floats that begin at byte `at` into `out`, from its number `first` on. */
  take(at: number, count: number, out: Float32Array, first = 0): void {
    out.set(this.f32.subarray(at >> 2, (at >> 2) + count), first);
  }
}
