/** The window through which a plan is seen, metres with y down as it is painted: whole, nearer, further along. Pure. */
import type { Point } from './display.ts';

export interface Window {
  x: number;
  y: number;
  w: number;
  h: number;
}
/** Nearest: this many times the whole. */
export const NEAREST = 12;

/** Nearer (factor over 1) or further about a point, which stays where it is; never further than the whole. */
export function nearer(now: Window, whole: Window, about: Point, factor: number): Window {
  const k = Math.min(NEAREST, Math.max(1, (whole.w / now.w) * factor));
  const w = whole.w / k;
  const h = whole.h / k;
  const s = w / now.w;
  return kept({ x: about[0] - (about[0] - now.x) * s, y: about[1] - (about[1] - now.y) * s, w, h }, whole);
}

export const along = (now: Window, whole: Window, dx: number, dy: number): Window =>
  kept({ ...now, x: now.x + dx, y: now.y + dy }, whole);

/** Never off the drawing. */
function kept(v: Window, whole: Window): Window {
  return {
    ...v,
    x: Math.max(whole.x, Math.min(whole.x + whole.w - v.w, v.x)),
    y: Math.max(whole.y, Math.min(whole.y + whole.h - v.h, v.y)),
  };
}

export const isWhole = (v: Window, whole: Window): boolean => v.w >= whole.w * 0.999;
