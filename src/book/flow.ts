/** Blocks laid one under the other, page after page, between a head and a foot that every page has. */
import type { PageMark } from './page.ts';

/** Where blocks may lie: the page within its margins, head and foot already taken off. */
export interface Column {
  leftMm: number;
  topMm: number;
  widthMm: number;
  bottomMm: number;
}

export interface Flow {
  readonly column: Column;
  /** Marks of each page so far, the head left out. */
  readonly pages: PageMark[][];
  /** What is left of the page, millimetres. */
  room(): number;
  /** Lays a block; on a fresh page where it does not fit. `paint` is told where its top is. */
  put(heightMm: number, paint: (topMm: number) => readonly PageMark[]): void;
  /** White below what was laid; none at the head of a page. */
  gap(heightMm: number): void;
  /** The next block begins a page, unless nothing is on this one. */
  turn(): void;
}

export function newFlow(column: Column): Flow {
  const pages: PageMark[][] = [[]];
  let y = column.topMm;
  const room = () => column.bottomMm - y;
  const turn = () => {
    if (y <= column.topMm + 1e-9) return;
    pages.push([]);
    y = column.topMm;
  };
  return {
    column,
    pages,
    room,
    turn,
    put(heightMm, paint) {
      if (heightMm > room() + 1e-6) turn();
      pages.at(-1)!.push(...paint(y));
      y += heightMm;
    },
    gap(heightMm) {
      if (y > column.topMm + 1e-9) y = Math.min(column.bottomMm, y + heightMm);
    },
  };
}
