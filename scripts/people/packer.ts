/**
 * The container: "RLP1", header length (u32 little-endian), JSON header, then the arrays, each on a multiple of 4.
 * Header `arrays`: name → [type, byte offset from the end of the header, count]; types i16, u16, u8.
 */
type Packed = Int16Array | Uint16Array | Uint8Array;

export class Packer {
  private readonly list: [string, Packed][] = [];

  add(name: string, values: Packed): void {
    this.list.push([name, values]);
  }

  finish(header: object): Uint8Array {
    const arrays: Record<string, [string, number, number]> = {};
    let at = 0;
    for (const [name, v] of this.list) {
      arrays[name] = [
        v instanceof Int16Array ? 'i16' : v instanceof Uint16Array ? 'u16' : 'u8',
        at,
        v.length,
      ];
      at += Math.ceil(v.byteLength / 4) * 4;
    }
    let text = JSON.stringify({ ...header, arrays });
    while (new TextEncoder().encode(text).length % 4) text += ' ';
    const head = new TextEncoder().encode(text);
    const out = new Uint8Array(8 + head.length + at);
    out.set(new TextEncoder().encode('RLP1'));
    new DataView(out.buffer).setUint32(4, head.length, true);
    out.set(head, 8);
    for (const [name, v] of this.list)
      out.set(new Uint8Array(v.buffer, v.byteOffset, v.byteLength), 8 + head.length + arrays[name]![1]);
    return out;
  }
}
