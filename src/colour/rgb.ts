/** Video and display encodings, and the primaries they share. Linear values: 0 black, 1 white. */
import { times3 } from '../maths/linear.ts';
import type { XYZ } from './xyz.ts';

export type RGB = readonly [number, number, number];

/** BT.709 / sRGB primaries with D65: linear RGB → XYZ (white has Y = 1) [BT.709-6], [IEC-61966-2-1]. */
export const RGB_TO_XYZ: readonly number[] = [
  0.4123907992659595, 0.357584339383878, 0.1804807884018343, 0.21263900587151036, 0.715168678767756,
  0.07219231536073371, 0.01933081871559185, 0.11919477979462599, 0.9505321522496606,
];
export const XYZ_TO_RGB: readonly number[] = [
  3.2409699419045213, -1.5373831775700935, -0.4986107602930033, -0.9692436362808798, 1.8759675015077206,
  0.04155505740717561, 0.05563007969699361, -0.20397695888897657, 1.0569715142428786,
];
/** White of both: D65 (.3127, .3290), Y = 1. */
export const D65_WHITE: XYZ = [0.9504559270516716, 1, 1.0890577507598784];

export const rgbOfXyz = (xyz: XYZ): [number, number, number] => times3(XYZ_TO_RGB, xyz);
export const xyzOfRgb = (rgb: RGB): [number, number, number] => times3(RGB_TO_XYZ, rgb);

/** BT.709 camera curve: scene linear 0–1 → signal 0–1; the power branch from 0.018 on [BT.709-6 §1.2]. */
export const oetf709 = (L: number): number => (L < 0.018 ? 4.5 * L : 1.099 * L ** 0.45 - 0.099);
/** Its inverse. */
export const inverseOetf709 = (V: number): number =>
  V < 0.081 ? V / 4.5 : ((V + 0.099) / 1.099) ** (1 / 0.45);

/** sRGB: linear → encoded [IEC-61966-2-1]. */
export const encodeSrgb = (L: number): number =>
  L <= 0.0031308 ? 12.92 * L : 1.055 * L ** (1 / 2.4) - 0.055;
export const decodeSrgb = (V: number): number => (V <= 0.04045 ? V / 12.92 : ((V + 0.055) / 1.055) ** 2.4);

/** BT.1886 display: signal 0–1 → luminance, cd/m², of a display with white `lw` and black `lb` [BT.1886]. */
export function eotf1886(V: number, lw = 100, lb = 0): number {
  const a = (lw ** (1 / 2.4) - lb ** (1 / 2.4)) ** 2.4;
  const b = lb ** (1 / 2.4) / (lw ** (1 / 2.4) - lb ** (1 / 2.4));
  return a * Math.max(V + b, 0) ** 2.4;
}

/** Code values of a signal 0–1: 16–235 in 8 bits, 64–940 in 10 [BT.709-6 §4]; from memory. */
export const code8 = (V: number): number => Math.round(16 + 219 * V);
export const code10 = (V: number): number => Math.round(64 + 876 * V);

/** Bytes of an encoded colour 0–1. */
export const toBytes = (encoded: RGB): [number, number, number] => [
  Math.round(255 * Math.min(1, Math.max(0, encoded[0]))),
  Math.round(255 * Math.min(1, Math.max(0, encoded[1]))),
  Math.round(255 * Math.min(1, Math.max(0, encoded[2]))),
];

/** sRGB bytes of XYZ relative to D65 white with Y = 1; outside the gamut each channel is cut. */
export const srgbBytesOfXyz = (xyz: XYZ): [number, number, number] => {
  const [r, g, b] = rgbOfXyz(xyz);
  return toBytes([encodeSrgb(Math.max(0, r)), encodeSrgb(Math.max(0, g)), encodeSrgb(Math.max(0, b))]);
};

/** Linear RGB of `#rrggbb`; undefined if it is not one. */
export function rgbOfHex(hex: string): [number, number, number] | undefined {
  const m = /^#?([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(hex.trim());
  if (m === null) return undefined;
  const channel = (s: string): number => decodeSrgb(Number.parseInt(s, 16) / 255);
  return [channel(m[1]!), channel(m[2]!), channel(m[3]!)];
}

/** `#rrggbb` of an encoded colour 0–1. */
export const hexOf = (encoded: RGB): string =>
  `#${toBytes(encoded)
    .map((v) => v.toString(16).padStart(2, '0'))
    .join('')}`;
