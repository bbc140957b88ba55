/** Marks set elsewhere on a page, for cards laid on a sheet. */
import type { At, PageMark } from './page.ts';

export function moved(marks: readonly PageMark[], dx: number, dy: number): PageMark[] {
  const to = ([x, y]: At): At => [x + dx, y + dy];
  const one = (m: PageMark): PageMark => {
    switch (m.kind) {
      case 'text':
      case 'picture':
        return { ...m, at: to(m.at) };
      case 'line':
      case 'shape':
        return { ...m, points: m.points.map(to) };
      case 'circle':
        return { ...m, centre: to(m.centre) };
      case 'within':
        return { ...m, at: to(m.at), marks: moved(m.marks, dx, dy) };
    }
  };
  return marks.map(one);
}
