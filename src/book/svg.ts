/** A page painted as an SVG text, one unit to a millimetre. */

import { escapeHtml as e } from './onePage.ts';
import type { At, Page, PageMark } from './page.ts';

/** Names of the three faces where the picture is shown, and the address of each picture handed in. */
export interface SvgWish {
  families?: { set: string; said: string };
  pictureUrl: (picture: string) => string | undefined;
  /** Style put into the picture: faces carried inside, for a file that stands alone. */
  style?: string;
  label?: string;
}

/** Of a picture that stands alone; in a page the page's own style says it. */
export const SVG_STYLE = '.tab{font-feature-settings:"tnum"}';

const n = (v: number): string => String(+v.toFixed(3));

export function pageSvg(page: Page, wish: SvgWish): string {
  const { set = 'Rushlight paper', said = 'Rushlight paper said' } = wish.families ?? {};
  let clips = 0;
  const path = (points: readonly At[], close: boolean) =>
    points.map(([x, y], i) => `${i ? 'L' : 'M'}${n(x)} ${n(y)}`).join('') + (close ? 'Z' : '');
  const stroke = (weightMm: number | undefined, dashMm?: readonly number[], ink = '#000') =>
    weightMm === undefined
      ? ''
      : ` stroke="${ink}" stroke-width="${n(weightMm)}"${dashMm ? ` stroke-dasharray="${dashMm.map(n).join(' ')}"` : ''}`;
  const ink = (i: 'ink' | 'paper' | undefined) => (i === 'paper' ? '#fff' : '#000');

  function painted(m: PageMark): string {
    switch (m.kind) {
      case 'text': {
        const family = m.face === 'said' ? said : set;
        const rim = m.rim
          ? ` stroke="#fff" stroke-width="${n(m.sizeMm * 0.28)}" stroke-linejoin="round" paint-order="stroke"`
          : '';
        return `<text x="${n(m.at[0])}" y="${n(m.at[1])}" font-family="'${family}', sans-serif" font-size="${n(m.sizeMm)}"${
          m.face === 'bold' ? ' font-weight="700"' : ''
        }${m.face === 'said' ? ' font-style="italic"' : ''}${m.anchor === 'start' ? '' : ` text-anchor="${m.anchor}"`}${
          m.tab ? ' class="tab"' : ''
        } fill="${ink(m.ink)}"${rim} xml:space="preserve">${e(m.text)}</text>`;
      }
      case 'line':
        return `<path d="${path(m.points, false)}" fill="none"${stroke(m.weightMm, m.dashMm, ink(m.ink))}${
          m.round ? ' stroke-linecap="round" stroke-linejoin="round"' : ''
        }/>`;
      case 'shape':
        return `<path d="${path(m.points, true)}" fill="${m.fill ? ink(m.fill) : 'none'}"${stroke(m.weightMm, m.dashMm)}/>`;
      case 'circle':
        return `<circle cx="${n(m.centre[0])}" cy="${n(m.centre[1])}" r="${n(m.radiusMm)}" fill="${
          m.fill ? ink(m.fill) : 'none'
        }"${stroke(m.weightMm, m.dashMm)}/>`;
      case 'picture': {
        const url = wish.pictureUrl(m.picture);
        return url === undefined
          ? ''
          : `<image x="${n(m.at[0])}" y="${n(m.at[1])}" width="${n(m.widthMm)}" height="${n(m.heightMm)}" preserveAspectRatio="xMidYMid meet" href="${e(url)}"><title>${e(m.words)}</title></image>`;
      }
      case 'within': {
        const id = `w${++clips}-${page.title.replace(/[^A-Za-z0-9]+/g, '-')}`;
        return `<clipPath id="${id}"><rect x="${n(m.at[0])}" y="${n(m.at[1])}" width="${n(m.widthMm)}" height="${n(m.heightMm)}"/></clipPath><g clip-path="url(#${id})">${m.marks.map(painted).join('')}</g>`;
      }
    }
  }
  const label = wish.label ?? page.title;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${n(page.widthMm)} ${n(page.heightMm)}" width="${n(page.widthMm)}mm" height="${n(page.heightMm)}mm" role="img" aria-label="${e(label)}">` +
    `<title>${e(label)}</title>${wish.style ? `<style>${wish.style.replace(/<\//g, '<\\/')}</style>` : ''}` +
    `<rect width="${n(page.widthMm)}" height="${n(page.heightMm)}" fill="#fff"/>${page.marks.map(painted).join('')}</svg>`
  );
}
