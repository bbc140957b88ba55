/** A seal on a text: it tells whether this is still the text that was written. CRC-32 [ITU-V.42]. */

const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

/** Of the text's UTF-8, as eight hex digits. */
export function sealOf(text: string): string {
  let c = 0xffffffff;
  for (const byte of new TextEncoder().encode(text)) c = TABLE[(c ^ byte) & 0xff]! ^ (c >>> 8);
  return ((c ^ 0xffffffff) >>> 0).toString(16).padStart(8, '0');
}

/** Names a text by its content, well enough to know a file again on one machine. */
export const markOf = (text: string): string => `${text.length}-${sealOf(text)}`;
