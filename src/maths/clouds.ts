/**
 * Chance that belongs to places: −1 … 1 at whole ones, in between by a smooth step. The same every time and on every
 * machine; the mean over many places is nothing.
 */

/** At a whole place. */
export function wholeAt(x: number, y: number, z: number): number {
  let h = Math.imul(x, 0x9e3779b1) ^ Math.imul(y, 0x85ebca77) ^ Math.imul(z, 0xc2b2ae3d);
  h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
  h = Math.imul(h ^ (h >>> 12), 0x297a2d39);
  return (h ^ (h >>> 15)) / 2147483648;
}

const ease = (t: number): number => t * t * (3 - 2 * t);

/** Over a plane; `k`: which of many. */
export function clouds(x: number, y: number, k: number): number {
  const i = Math.floor(x);
  const j = Math.floor(y);
  const u = ease(x - i);
  const a = wholeAt(i, j, k);
  const c = wholeAt(i, j + 1, k);
  const low = a + u * (wholeAt(i + 1, j, k) - a);
  return low + ease(y - j) * (c + u * (wholeAt(i + 1, j + 1, k) - c) - low);
}

/** In space. */
export function cloud(x: number, y: number, z: number): number {
  const k = Math.floor(z);
  const near = clouds(x, y, k);
  return near + ease(z - k) * (clouds(x, y, k + 1) - near);
}

/** What `lumps` found: the value, and its gradient. */
export const lump = new Float64Array(4);
/** `cloud` and how it rises. */
export function lumps(x: number, y: number, z: number): void {
  const i = Math.floor(x);
  const j = Math.floor(y);
  const k = Math.floor(z);
  const u = x - i;
  const v = y - j;
  const w = z - k;
  const su = ease(u);
  const sv = ease(v);
  const sw = ease(w);
  const a = wholeAt(i, j, k);
  const b = wholeAt(i + 1, j, k);
  const c = wholeAt(i, j + 1, k);
  const d = wholeAt(i + 1, j + 1, k);
  const e = wholeAt(i, j, k + 1);
  const f = wholeAt(i + 1, j, k + 1);
  const g = wholeAt(i, j + 1, k + 1);
  const h = wholeAt(i + 1, j + 1, k + 1);
  const ab = a + su * (b - a);
  const cd = c + su * (d - c);
  const ef = e + su * (f - e);
  const gh = g + su * (h - g);
  const low = ab + sv * (cd - ab);
  const high = ef + sv * (gh - ef);
  lump[0] = low + sw * (high - low);
  const alongX = (1 - sw) * ((1 - sv) * (b - a) + sv * (d - c)) + sw * ((1 - sv) * (f - e) + sv * (h - g));
  lump[1] = 6 * u * (1 - u) * alongX;
  lump[2] = 6 * v * (1 - v) * ((1 - sw) * (cd - ab) + sw * (gh - ef));
  lump[3] = 6 * w * (1 - w) * (high - low);
}
