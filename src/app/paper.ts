/** Paper in the browser: its typefaces, pictures as PNG, the PDF, printing true to scale, cards as pictures. */

import said from '@expo-google-fonts/newsreader/500Medium_Italic/Newsreader_500Medium_Italic.ttf?url';
import plain from '@expo-google-fonts/sofia-sans-semi-condensed/400Regular/SofiaSansSemiCondensed_400Regular.ttf?url';
import bold from '@expo-google-fonts/sofia-sans-semi-condensed/700Bold/SofiaSansSemiCondensed_700Bold.ttf?url';
import type { BookFacts } from '../book/facts.ts';
import type { Face, Page, PaperName, Picture } from '../book/page.ts';
import { PAPERS } from '../book/page.ts';
import { pageSvg, SVG_STYLE } from '../book/svg.ts';
import { bytesAt } from './bytes.ts';
import type { PictureSent } from './messages.ts';

type Fonts = Record<Face, Uint8Array<ArrayBuffer>>;
let fonts: Promise<Fonts> | undefined;
/** The faces on paper, fetched when paper is first looked at, and made known to the page under their own names. */
export function paperFonts(): Promise<Fonts> {
  fonts ??= (async () => {
    const [p, b, s] = await Promise.all([bytesAt(plain), bytesAt(bold), bytesAt(said)]);
    for (const [family, bytes, how] of [
      ['Rushlight paper', p, { weight: '400' }],
      ['Rushlight paper', b, { weight: '700' }],
      ['Rushlight paper said', s, { style: 'italic' }],
    ] as const)
      document.fonts.add(await new FontFace(family, bytes, how).load());
    return { plain: p, bold: b, said: s };
  })();
  return fonts;
}

const made = new WeakMap<Uint8ClampedArray, Promise<Picture>>();
/** A picture of the screen as a file's bytes; each once. */
export function pictureOf(sent: PictureSent): Promise<Picture> {
  const had = made.get(sent.pixels);
  if (had) return had;
  const now = (async (): Promise<Picture> => {
    const canvas = document.createElement('canvas');
    canvas.width = sent.width;
    canvas.height = sent.height;
    canvas.getContext('2d')!.putImageData(new ImageData(sent.pixels, sent.width, sent.height), 0, 0);
    const png = new Uint8Array(await (await blobOf(canvas)).arrayBuffer());
    const settled = sent.progress >= 1;
    return {
      png,
      width: sent.width,
      height: sent.height,
      note: `computed; a quick picture${settled ? '' : ', not settled yet'}`,
    };
  })();
  made.set(sent.pixels, now);
  return now;
}

const blobOf = (canvas: HTMLCanvasElement): Promise<Blob> =>
  new Promise((done, failed) =>
    canvas.toBlob((b) => (b ? done(b) : failed(new Error('no picture could be made'))), 'image/png'),
  );

const dataUrl = (bytes: Uint8Array, type: string): string => {
  let text = '';
  for (let i = 0; i < bytes.length; i += 0x8000)
    text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return `data:${type};base64,${btoa(text)}`;
};

/** A page as SVG for the screen; its typefaces are the document's. */
export function shownPage(page: Page, pictures: BookFacts['pictures']): string {
  return pageSvg(page, { pictureUrl: (key) => urlOf(pictures[key]) });
}
const urls = new WeakMap<Picture, string>();
function urlOf(p: Picture | undefined): string | undefined {
  if (!p) return undefined;
  let url = urls.get(p);
  if (url === undefined) {
    url = dataUrl(p.png, 'image/png');
    urls.set(p, url);
  }
  return url;
}

/** The PDF's bytes. The library that makes them is loaded now. */
export async function pdfBytes(pages: readonly Page[], facts: BookFacts): Promise<Uint8Array<ArrayBuffer>> {
  const [{ pdfOf }, faces] = await Promise.all([import('../book/pdf.ts'), paperFonts()]);
  return pdfOf(pages, {
    title: `${facts.shoot.title}, version ${facts.version.number}`,
    made: new Date(),
    fonts: faces,
    pictures: facts.pictures,
  });
}

/** Prints pages in their own size, nothing else of the screen; the sheet's margins are in the page already. */
export async function printPages(pages: readonly Page[], facts: BookFacts, paper: PaperName): Promise<void> {
  await paperFonts();
  const { widthMm, heightMm } = PAPERS[paper];
  const holder = document.createElement('div');
  holder.className = 'to-print';
  holder.innerHTML = pages.map((p) => shownPage(p, facts.pictures)).join('');
  // Made in script: a style element in the page would be refused by the page's own policy.
  const size = new CSSStyleSheet();
  size.replaceSync(`@page{size:${widthMm}mm ${heightMm}mm;margin:0}`);
  document.adoptedStyleSheets.push(size);
  document.body.append(holder);
  await new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)));
  const gone = () => {
    holder.remove();
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((s) => s !== size);
    removeEventListener('afterprint', gone);
  };
  addEventListener('afterprint', gone);
  window.print();
  // Where printing tells no end, the pages go with the next hour.
  setTimeout(gone, 3_600_000);
}

/** Pixels to a millimetre of a card sent as a picture. */
const CARD_PIXELS = 14;

/** A page as PNG, painted by the browser from its SVG with the typefaces inside. */
export async function pagePng(page: Page, facts: BookFacts): Promise<Blob> {
  const faces = await paperFonts();
  const face = (family: string, weight: number, style: string, bytes: Uint8Array) =>
    `@font-face{font-family:"${family}";font-weight:${weight};font-style:${style};src:url(${dataUrl(bytes, 'font/ttf')})}`;
  const svg = pageSvg(page, {
    pictureUrl: (key) => urlOf(facts.pictures[key]),
    style:
      SVG_STYLE +
      face('Rushlight paper', 400, 'normal', faces.plain) +
      face('Rushlight paper', 700, 'normal', faces.bold) +
      face('Rushlight paper said', 400, 'italic', faces.said),
  });
  const image = new Image();
  image.src = dataUrl(new TextEncoder().encode(svg), 'image/svg+xml');
  await image.decode();
  // A typeface inside a picture may be a moment later than the picture itself.
  await new Promise((later) => setTimeout(later, 60));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(page.widthMm * CARD_PIXELS);
  canvas.height = Math.round(page.heightMm * CARD_PIXELS);
  const pen = canvas.getContext('2d')!;
  pen.fillStyle = '#fff';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(image, 0, 0, canvas.width, canvas.height);
  return blobOf(canvas);
}
