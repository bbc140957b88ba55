/** A drawing painted as an SVG text: for paper, and for pages that run no script. */
import type { Drawing, DrawMark, Point, Tone } from '../drawing/display.ts';

/** What tones look like: by name, lamps by identity (1 … 4, then again). */
export interface Paint {
  tones: Partial<Record<Tone, string>>;
  lamps: readonly string[];
  /** Where nothing else is said. */
  ink: string;
  /** What lies under the plan, and under numbers. */
  ground: string;
  number: string;
}

/** Readable on a dark page. */
export const DARK: Paint = {
  tones: {
    wall: '#8b8579',
    furniture: '#7d776c',
    faint: '#7d776c',
    glass: '#6f9fd8',
    seen: '#262523',
    outside: '#5c574e',
    rigging: '#7d776c',
    socket: '#aca598',
    trouble: '#ff8563',
  },
  lamps: ['#f6cd62', '#2fa0b2', '#c9b8fa', '#e5796f'],
  ink: '#ded8cb',
  ground: '#191918',
  number: '#12110f',
};

/** Black on white paper: grey and line pattern only. */
export const PAPER: Paint = {
  tones: {
    furniture: '#555',
    faint: '#555',
    glass: '#555',
    seen: '#eee',
    outside: '#888',
    rigging: '#555',
    socket: '#333',
  },
  lamps: ['#000'],
  ink: '#000',
  ground: '#fff',
  number: '#fff',
};

const WEIGHT = { heavy: 5, medium: 2.4, light: 1.3, hair: 0.8 } as const;
const DASH = { dash: '5 4', dot: '1.5 4', dashdot: '8 4 2 4' } as const;
/** A lamp's line pattern, always with its colour and its number. */
const LAMP_DASH = ['', '9 5', '2 4', '9 4 2 4'];

const attribute = (text: string): string => text.replace(/[&<>"]/g, (c) => `&#${c.charCodeAt(0)};`);
const n = (v: number): string => String(Number(v.toFixed(1)));

/** Lengths of a scale bar, metres: the longest that takes a third of the width at most. */
const BARS = [10, 5, 2, 1, 0.5];

/**
 * The plan as one `<svg>`, `widthPx` wide at its own size, north up, with a scale bar and a north mark. `label` is what a
 * voice says of it.
 */
export function planSvg(
  drawing: Drawing,
  { widthPx = 640, paint = DARK, label = 'Plan' }: { widthPx?: number; paint?: Paint; label?: string } = {},
): string {
  const pad = 0.45;
  const b = drawing.bounds;
  const [wM, hM] = [b.x1 - b.x0 + 2 * pad, b.y1 - b.y0 + 2 * pad];
  const k = widthPx / wM;
  const foot = 34;
  const height = hM * k + foot;
  const at = ([x, y]: Point): [number, number] => [(x - b.x0 + pad) * k, (b.y1 - y + pad) * k];
  const identity = (tone: Tone): number | undefined =>
    /^(lamp|beam):/.test(tone) ? Number(tone.slice(5)) : undefined;
  const colour = (tone: Tone): string => {
    const i = identity(tone);
    return i === undefined ? (paint.tones[tone] ?? paint.ink) : paint.lamps[(i - 1) % paint.lamps.length]!;
  };
  const dash = (pattern: string | undefined): string => (pattern ? ` stroke-dasharray="${pattern}"` : '');
  const lampDash = (tone: Tone): string | undefined => {
    const i = identity(tone);
    return i === undefined ? undefined : LAMP_DASH[(i - 1) % 4];
  };
  const path = (points: readonly Point[], close: boolean): string =>
    points
      .map((p, i) => {
        const [x, y] = at(p);
        return `${i ? 'L' : 'M'}${n(x)} ${n(y)}`;
      })
      .join('') + (close ? 'Z' : '');

  function painted(m: DrawMark): string {
    if (m.kind === 'area') {
      const solid =
        m.tone === 'person' || m.tone === 'camera' || m.tone === 'trouble' || /^lamp:/.test(m.tone);
      const fill = m.colour ?? (solid ? paint.ground : colour(m.tone));
      const edge = m.outline
        ? ` stroke="${colour(m.outline)}" stroke-width="${/^lamp:/.test(m.tone) ? 2.2 : 1.4}"${dash(lampDash(m.tone))}`
        : '';
      return `<path d="${path(m.points, true)}" fill="${attribute(fill)}"${m.opacity === undefined ? '' : ` fill-opacity="${m.opacity}"`}${edge}/>`;
    }
    if (m.kind === 'line') {
      const pattern = m.dash ? DASH[m.dash] : m.weight === 'light' ? lampDash(m.tone) : undefined;
      return `<path d="${path(m.points, false)}" fill="none" stroke="${colour(m.tone)}" stroke-width="${WEIGHT[m.weight]}"${dash(pattern)}/>`;
    }
    if (m.kind === 'circle') {
      const [x, y] = at(m.centre);
      const fill = m.fill ? colour(m.tone) : m.tone === 'socket' ? paint.ground : 'none';
      return `<circle cx="${n(x)}" cy="${n(y)}" r="${n(m.radiusM * k)}" fill="${fill}" stroke="${colour(m.tone)}" stroke-width="1.2"${dash(m.dash && DASH[m.dash])}/>`;
    }
    const [x, y] = at(m.at);
    // Words that would run out at the right stand to the left of their thing.
    const over = m.anchor === 'start' && x + (m.dx ?? 0) + 7.2 * m.text.length > widthPx;
    const anchor = over ? 'end' : m.anchor;
    const [tx, ty] = [x + (m.dx ?? 0) * (over ? -1 : 1), y + (m.dy ?? 0)];
    const number = m.size === 'number';
    const wide = 9 + 8 * [...m.text].length;
    const box = number
      ? `<rect x="${n(tx - wide / 2)}" y="${n(ty - 13)}" width="${n(wide)}" height="18" rx="2" fill="${colour(m.tone)}"/>`
      : '';
    // A rim in the ground's colour keeps words readable over lines.
    const rim = number
      ? ''
      : ` stroke="${paint.ground}" stroke-width="3" paint-order="stroke" stroke-linejoin="round"`;
    // Not every font has arrows.
    const text = m.text.replace(/ ?↓/, ' down ').replace(/ ?↑/, ' up ');
    const words = `<text x="${n(tx)}" y="${n(ty)}" font-size="${number ? 14 : 13}" text-anchor="${anchor}" fill="${number ? paint.number : colour(m.tone)}"${rim} font-weight="${number ? 700 : m.size === 'label' ? 600 : 400}"${m.size === 'label' ? ' dominant-baseline="central"' : ''}>${attribute(text)}</text>`;
    return box + words;
  }

  const clip = `plan-${label.replace(/[^A-Za-z0-9]+/g, '-')}`;
  const bar = BARS.find((m) => m * k <= widthPx / 3) ?? BARS.at(-1)!;
  const y = hM * k + foot / 2;
  const left = pad * k;
  const right = widthPx - left;
  const ink = ` fill="none" stroke="${paint.ink}" stroke-width="1.4"`;
  const furniture =
    `<path d="M${n(left)} ${n(y - 5)}V${n(y + 5)}M${n(left)} ${n(y)}H${n(left + bar * k)}M${n(left + bar * k)} ${n(y - 5)}V${n(y + 5)}"${ink}/>` +
    `<text x="${n(left + bar * k + 8)}" y="${n(y)}" font-size="13" fill="${paint.ink}" dominant-baseline="central">${bar} m</text>` +
    `<path d="M${n(right)} ${n(y + 11)}V${n(y - 11)}M${n(right - 5)} ${n(y - 4)}L${n(right)} ${n(y - 12)}L${n(right + 5)} ${n(y - 4)}"${ink}/>` +
    `<text x="${n(right - 10)}" y="${n(y)}" font-size="13" text-anchor="end" fill="${paint.ink}" dominant-baseline="central">north</text>`;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${n(widthPx)} ${n(height)}" width="${n(widthPx)}" height="${n(height)}" role="img" aria-label="${attribute(label)}" font-family="inherit">` +
    `<title>${attribute(label)}</title><clipPath id="${clip}"><rect width="${n(widthPx)}" height="${n(hM * k)}"/></clipPath>` +
    `<g clip-path="url(#${clip})">${drawing.marks.map(painted).join('')}</g>${furniture}</svg>`
  );
}
