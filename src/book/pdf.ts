/** Pages painted as a PDF file. The one place that names the library; loaded only when a file is asked for. */
import PDFDocument from 'pdfkit';
import { type Face, type Ink, type Page, type PageMark, type Picture, PT } from './page.ts';

export interface PdfWish {
  title: string;
  /** The file says so; the same instant and the same pages give the same bytes. */
  made: Date;
  fonts: Record<Face, Uint8Array<ArrayBuffer>>;
  pictures: Readonly<Record<string, Picture>>;
}

/** Figures of columns; with features named, the library lays every word anew, so the rest goes without. */
const FIGURES = { features: ['tnum'] as PDFKit.Mixins.OpenTypeFeatures[] };

export async function pdfOf(pages: readonly Page[], wish: PdfWish): Promise<Uint8Array<ArrayBuffer>> {
  const doc = new PDFDocument({
    autoFirstPage: false,
    // No typeface of the library's own: in the browser it has none.
    font: '',
    compress: true,
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    info: { Title: wish.title, Creator: 'Rushlight', Producer: 'Rushlight', CreationDate: wish.made },
  });
  // A printer that fits the page to the paper makes the scale untrue: ask it not to.
  const root = doc as unknown as { _root: { data: { ViewerPreferences?: unknown } } };
  root._root.data.ViewerPreferences = doc.ref({ PrintScaling: 'None', DisplayDocTitle: true });
  (root._root.data.ViewerPreferences as PDFKit.PDFKitReference).end({});
  const chunks: Uint8Array[] = [];
  const ended = new Promise<void>((done, failed) => {
    doc.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    doc.on('end', done);
    doc.on('error', failed);
  });
  for (const face of ['plain', 'bold', 'said'] as const) doc.registerFont(face, wish.fonts[face]);
  const opened = new Map<string, unknown>();
  for (const page of pages) {
    doc.addPage({ size: [page.widthMm / PT, page.heightMm / PT], margin: 0 });
    doc.save();
    doc.scale(1 / PT);
    for (const m of page.marks) paint(doc, m, wish, opened);
    doc.restore();
  }
  doc.end();
  await ended;
  const bytes = new Uint8Array(chunks.reduce((sum, c) => sum + c.length, 0));
  let at = 0;
  for (const c of chunks) {
    bytes.set(c, at);
    at += c.length;
  }
  return bytes;
}

// One number a colour: the grey space has no hue that a printer could spend coloured ink on.
const grey = (doc: PDFKit.PDFDocument, ink: Ink | undefined, stroke: boolean) =>
  doc.addContent(`${ink === 'paper' ? 1 : 0} ${stroke ? 'G' : 'g'}`);

function paint(doc: PDFKit.PDFDocument, m: PageMark, wish: PdfWish, opened: Map<string, unknown>): void {
  const pen = (weightMm: number, dashMm?: readonly number[], round = false) => {
    doc.lineWidth(weightMm);
    doc.lineCap(round ? 'round' : 'butt');
    doc.lineJoin(round ? 'round' : 'miter');
    if (dashMm) doc.addContent(`[${dashMm.map((d) => +d.toFixed(3)).join(' ')}] 0 d`);
    else doc.addContent('[] 0 d');
  };
  /** Fills and outlines the path just drawn. */
  const finish = (fill: Ink | undefined, weightMm: number | undefined, dashMm?: readonly number[]) => {
    if (weightMm !== undefined) pen(weightMm, dashMm);
    if (fill) grey(doc, fill, false);
    if (weightMm !== undefined) grey(doc, 'ink', true);
    doc.addContent(fill ? (weightMm === undefined ? 'f' : 'B') : weightMm === undefined ? 'n' : 'S');
  };
  const trace = (points: readonly (readonly [number, number])[]) =>
    points.forEach(([x, y], i) => {
      if (i) doc.lineTo(x, y);
      else doc.moveTo(x, y);
    });

  switch (m.kind) {
    case 'text': {
      if (m.text === '') return;
      doc.font(m.face).fontSize(m.sizeMm);
      const how = m.tab ? FIGURES : {};
      const width = m.anchor === 'start' ? 0 : doc.widthOfString(m.text, how);
      const x = m.at[0] - (m.anchor === 'end' ? width : m.anchor === 'middle' ? width / 2 : 0);
      const put = () => doc.text(m.text, x, m.at[1], { lineBreak: false, baseline: 'alphabetic', ...how });
      if (m.rim) {
        doc.save();
        pen(m.sizeMm * 0.28, undefined, true);
        grey(doc, 'paper', true);
        doc.addContent('1 Tr');
        put();
        doc.addContent('0 Tr');
        doc.restore();
      }
      grey(doc, m.ink, false);
      put();
      return;
    }
    case 'line':
      pen(m.weightMm, m.dashMm, m.round);
      grey(doc, m.ink, true);
      trace(m.points);
      doc.addContent('S');
      return;
    case 'shape':
      trace(m.points);
      doc.closePath();
      finish(m.fill, m.weightMm, m.dashMm);
      return;
    case 'circle':
      doc.circle(m.centre[0], m.centre[1], m.radiusMm);
      finish(m.fill, m.weightMm, m.dashMm);
      return;
    case 'picture': {
      const picture = wish.pictures[m.picture];
      if (!picture) return;
      let image = opened.get(m.picture);
      if (!image) {
        image = (doc as unknown as { openImage(src: unknown): unknown }).openImage(picture.png);
        opened.set(m.picture, image);
      }
      // The whole picture inside its box, its shape kept.
      const k = Math.min(m.widthMm / picture.width, m.heightMm / picture.height);
      const [w, h] = [picture.width * k, picture.height * k];
      doc.image(image as string, m.at[0] + (m.widthMm - w) / 2, m.at[1] + (m.heightMm - h) / 2, {
        width: w,
        height: h,
      });
      return;
    }
    case 'within':
      doc.save();
      doc.rect(m.at[0], m.at[1], m.widthMm, m.heightMm).clip();
      for (const inner of m.marks) paint(doc, inner, wish, opened);
      doc.restore();
      return;
  }
}
