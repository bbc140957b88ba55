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
