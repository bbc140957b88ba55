/** A short name of some content: equal content, equal key; 64 bits, not meant against forgers. */

/** A growing hash: two 32-bit lanes, mixed by multiplication and rotation. */
export interface Hash {
  a: number;
  b: number;
}

/** A hash that has seen nothing. */
export const newHash = (): Hash => ({ a: 0x9e3779b9 | 0, b: 0x85ebca6b | 0 });

/** Adds 32-bit words, and how many there were. */
export function addWords(h: Hash, words: Uint32Array): void {
  let { a, b } = h;
  a = Math.imul(a ^ words.length, 0x2c1b3c6d);
  for (let i = 0; i < words.length; i++) {
    const w = words[i]!;
    a = Math.imul(a ^ w, 0x01000193);
    a ^= a >>> 15;
    b = Math.imul(b + w, 0x297a2d39);
    b = (b << 13) | (b >>> 19);
  }
  h.a = a;
  h.b = b;
}

/** Adds a typed array by its bits. */
export function addArray(h: Hash, array: Float32Array | Float64Array | Uint32Array | Uint16Array): void {
  const bytes = array.byteLength;
  if (bytes % 4 === 0 && array.byteOffset % 4 === 0)
    addWords(h, new Uint32Array(array.buffer, array.byteOffset, bytes / 4));
  else addWords(h, Uint32Array.from(array));
}

/** Adds a text by its UTF-16 units. */
export function addText(h: Hash, text: string): void {
  const words = new Uint32Array(text.length);
  for (let i = 0; i < text.length; i++) words[i] = text.charCodeAt(i);
  addWords(h, words);
}

/** The key: 16 hexadecimal digits. */
export function keyOf(h: Hash): string {
  const last = (v: number): string => {
    let x = v;
    x = Math.imul(x ^ (x >>> 16), 0x85ebca6b);
    x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
    return ((x ^ (x >>> 16)) >>> 0).toString(16).padStart(8, '0');
  };
  return last(h.a ^ (h.b >>> 7)) + last(h.b ^ Math.imul(h.a, 0x27d4eb2f));
}
