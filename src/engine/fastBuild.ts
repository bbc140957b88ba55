/** Trees built in WebAssembly: wasm/build.ts behind `Build`. One memory for each thread, as large as its largest tree. */
import { type Build, SHAPE } from '../transport/intersect.ts';
import { BUILD_MODULE } from './buildModule.ts';

/** Where triangles begin: below lie bins (wasm/build.ts) and the whole tree's box. */
const BASE = 8192;
const BOUNDS = 512;
const PAGE = 65536;
/** Numbers a box takes there, its corners being whole vectors; numbers of a node. */
const BOX = 8;
const NODE = 12;

interface Module {
  memory: WebAssembly.Memory;
  made(): number;
  build(n: number, first: number, ...at: number[]): number;
}

/** How this thread builds trees; undefined where there is no WebAssembly with vectors. */
export function fastBuild(): Build | undefined {
  let module: Module;
  try {
    const bytes = Uint8Array.from(atob(BUILD_MODULE), (c) => c.charCodeAt(0));
    module = new WebAssembly.Instance(new WebAssembly.Module(bytes)).exports as unknown as Module;
  } catch {
    return undefined;
  }
  return (_stage, first, end, shape) => {
    const n = end - first;
    let words = BASE / 4;
    const place = (count: number): number => {
      const at = words;
      words += (count + 3) & ~3;
      return at;
    };
    // One number more than ten each: the last triangle's last vector is read whole.
    const at = {
      shape: place(n * SHAPE + 4),
      boxes: place(n * BOX),
      order: place(n),
      box: place(n * NODE),
      child: place(n * 2),
      corner: place(n * 9),
      id: place(n),
      pass: place(n),
    };
    const short = words * 4 - module.memory.buffer.byteLength;
    if (short > 0) module.memory.grow(Math.ceil(short / PAGE));
    const f32 = new Float32Array(module.memory.buffer);
    const i32 = new Int32Array(module.memory.buffer);
    const u32 = new Uint32Array(module.memory.buffer);
    f32.set(shape.subarray(0, n * SHAPE), at.shape);
    const places = [at.shape, at.boxes, at.order, at.box, at.child, at.corner, at.id, at.pass];
    const root = module.build(n, first, ...places.map((word) => word * 4), BOUNDS);
    const nodes = module.made();
    return {
      root,
      box: f32.slice(at.box, at.box + nodes * NODE),
      child: i32.slice(at.child, at.child + nodes * 2),
      corner: f32.slice(at.corner, at.corner + n * 9),
      id: u32.slice(at.id, at.id + n),
      pass: f32.slice(at.pass, at.pass + n),
      bounds: f32.slice(BOUNDS / 4, BOUNDS / 4 + 6),
    };
  };
}
