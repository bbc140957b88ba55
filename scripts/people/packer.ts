/**
 * The container: "RLP1", header length (u32 little-endian), JSON header, then the arrays. Header `arrays`: name →
 * [byte offset from the end of the header, bytes, count, stride, name of another array or ""]. Stride 0: plain
 * bytes. Else each value less the one `stride` before it (after taking off the other array's value at the same
 * place), folded to 0, -1, 1, -2 … → 0, 1, 2, 3 … and written seven bits a byte, low first, top bit = more follows.
 */
type Packed = Int16Array | Uint16Array | Uint8Array;

export function packNumbers(
  values: ArrayLike<number>,
  stride: number,
  other?: ArrayLike<number>,
): Uint8Array {
  const out: number[] = [];
  const at = (i: number) => (i < 0 ? 0 : values[i]! - (other ? other[i]! : 0));
  for (let i = 0; i < values.length; i++) {
    const d = at(i) - at(i - stride);
    let z = d >= 0 ? 2 * d : -2 * d - 1;
    while (z >= 128) {
      out.push((z & 127) | 128);
      z >>= 7;
    }
    out.push(z);
  }
  return Uint8Array.from(out);
}

export class Packer {
  private readonly list: { name: string; values: Packed; stride: number; other: string }[] = [];

  /** `stride`: how many values a point has (3 for places), 1 for lists of numbers. */
  add(name: string, values: Packed, stride = values instanceof Int16Array ? 3 : 1, other = ''): void {
    this.list.push({ name, values, stride: values instanceof Uint8Array ? 0 : stride, other });
  }

  finish(header: object): Uint8Array {
    const arrays: Record<string, [number, number, number, number, string]> = {};
    const blocks: Uint8Array[] = [];
    let at = 0;
    for (const { name, values, stride, other } of this.list) {
      const block =
        stride === 0
          ? (values as Uint8Array)
          : packNumbers(values, stride, other ? this.list.find((l) => l.name === other)!.values : undefined);
      arrays[name] = [at, block.length, values.length, stride, other];
      blocks.push(block);
      at += block.length;
    }
    const head = new TextEncoder().encode(JSON.stringify({ ...header, arrays }));
    const out = new Uint8Array(8 + head.length + at);
    out.set(new TextEncoder().encode('RLP1'));
    new DataView(out.buffer).setUint32(4, head.length, true);
    out.set(head, 8);
    let to = 8 + head.length;
    for (const b of blocks) {
      out.set(b, to);
      to += b.length;
    }
    return out;
  }
}

/** The file with these plain byte arrays (signed) put in, in place of any of the same name. */
export function withArrays(file: Uint8Array, arrays: Record<string, Int8Array>): Uint8Array {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const length = view.getUint32(4, true);
  const header = JSON.parse(new TextDecoder().decode(file.subarray(8, 8 + length))) as {
    arrays: Record<string, [number, number, number, number, string]>;
  };
  const from = 8 + length;
  const blocks: Uint8Array[] = [];
  const index: typeof header.arrays = {};
  let at = 0;
  const put = (name: string, block: Uint8Array, n: number, stride: number, other: string) => {
    index[name] = [at, block.length, n, stride, other];
    blocks.push(block);
    at += block.length;
  };
  for (const [name, [a, size, n, stride, other]] of Object.entries(header.arrays))
    if (!(name in arrays)) put(name, file.subarray(from + a, from + a + size), n, stride, other);
  for (const [name, a] of Object.entries(arrays))
    put(name, new Uint8Array(a.buffer, a.byteOffset, a.length), a.length, 0, '');
  const head = new TextEncoder().encode(JSON.stringify({ ...header, arrays: index }));
  const out = new Uint8Array(8 + head.length + at);
  out.set(file.subarray(0, 4));
  new DataView(out.buffer).setUint32(4, head.length, true);
  out.set(head, 8);
  let to = 8 + head.length;
  for (const b of blocks) {
    out.set(b, to);
    to += b.length;
  }
  return out;
}
