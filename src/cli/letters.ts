/** Small letters painted into a picture's bytes: five rows of three, drawn twice as large. Only those that names need. */
const LETTERS: Record<string, string> = {
  a: '010101111101101',
  b: '110101110101110',
  c: '011100100100011',
  d: '110101101101110',
  e: '111100110100111',
  f: '111100110100100',
  h: '101101111101101',
  i: '111010010010111',
  k: '101101110101101',
  l: '100100100100111',
  m: '101111111101101',
  n: '110101101101101',
  o: '010101101101010',
  p: '110101110100100',
  r: '110101110101101',
  s: '011100010001110',
  t: '111010010010010',
  u: '101101101101111',
  y: '101101010010010',
  '—': '000000111000000',
};
const SCALE = 2;

/** Writes `text` (letter case apart) into 3 × … bytes of a picture `width` wide, its top left corner at (x, y). */
export function write(rgb: Uint8Array, width: number, x: number, y: number, text: string): void {
  [...text.toLowerCase()].forEach((letter, n) => {
    const dots = LETTERS[letter];
    if (!dots) return;
    for (let r = 0; r < 5 * SCALE; r++)
      for (let c = 0; c < 3 * SCALE; c++) {
        if (dots[Math.floor(r / SCALE) * 3 + Math.floor(c / SCALE)] !== '1') continue;
        const at = 3 * ((y + r) * width + x + n * 4 * SCALE + c);
        for (let k = 0; k < 3; k++) rgb[at + k] = 210;
      }
  });
}
