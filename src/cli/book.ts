/** `rushlight book`: the sheets of a shoot as one PDF, true to scale; the angle cards apart, if asked. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { InvalidArgumentError, Option } from 'commander';
import { bookOf } from '../book/book.ts';
import { cardPages, PHONE_CARD, pocketCard } from '../book/cards.ts';
import type { BookFacts } from '../book/facts.ts';
import { keyOf } from '../book/facts.ts';
import { PAPERS, type PaperName, type Picture } from '../book/page.ts';
import { SHEET_IDS, SHEETS, type SheetId } from '../book/sheets.ts';
import { pageSvg, SVG_STYLE } from '../book/svg.ts';
import { editionIsNew, editionOf } from '../shoot/edition.ts';
import { applyEdit } from '../shoot/edits.ts';
import { saveShoot } from '../shoot/file.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { BadUse, command, type Effort, effortOptions, numberWithin, pixels } from './command.ts';
import { type Surveyed, surveys, withTracer } from './compute.ts';
import { inWords, writeWhole } from './files.ts';
import { paperFonts } from './fonts.ts';
import { photograph } from './photo.ts';
import { writePng } from './png.ts';
import { progress } from './progress.ts';
import { anglesAsked, readShoot } from './shoot.ts';

interface Options extends Effort {
  scene?: string;
  angle?: string;
  out: string;
  sheets: SheetId[];
  paper?: PaperName;
  size: { width: number; height: number };
  noise?: number;
  seconds?: number;
  cards?: string;
  for?: string;
  count?: boolean;
}

const sheetList = (text: string): SheetId[] => {
  const asked = text.split(',').map((s) => s.trim());
  const unknown = asked.filter((s) => !SHEET_IDS.includes(s as SheetId));
  if (unknown.length || text.trim() === '')
    throw new InvalidArgumentError(
      `There is no sheet ${unknown.join(', ')}. Sheets: ${SHEET_IDS.join(', ')}.`,
    );
  return asked as SheetId[];
};
const paperName = (text: string): PaperName => {
  if (!Object.hasOwn(PAPERS, text)) throw new InvalidArgumentError('Paper: a4 or letter.');
  return text as PaperName;
};

/** The day as it is written where the shoot is. */
export const dayWords = (day: Date): string =>
  `${day.getDate()} ${day.toLocaleString('en', { month: 'short' })} ${day.getFullYear()}`;

export async function run(args: readonly string[]): Promise<number> {
  const parsed = effortOptions(
    command('book', 'The sheets of a shoot as one PDF: true to scale, black only.', [
      'rushlight book kitchen.json --out kitchen.pdf',
      'rushlight book kitchen.json --out cards.pdf --sheets cards,power --angle OA',
      'rushlight book kitchen.json --out kitchen.pdf --noise 0.1 --cards cards',
    ])
      .argument('<file>', 'a shoot')
      .option('--scene <id>', 'this scene only')
      .option('--angle <id>', 'this angle only')
      .requiredOption('--out <file>', 'where the PDF goes')
      .option('--sheets <names>', `of ${SHEET_IDS.join(', ')}`, sheetList, [...SHEET_IDS])
      .option('--paper <name>', 'a4 or letter (default: by the region of the place)', paperName)
      .addOption(
        new Option('--size <w>x<h>', 'pixels of each picture')
          .argParser(pixels)
          .default({ width: 960, height: 540 }, '960x540'),
      )
      .option(
        '--noise <stops>',
        'traced until the typical pixel is this sure; without it pictures and readings are quick',
        numberWithin(0.005, 10),
      )
      .option('--seconds <number>', 'or until so long has gone by (each picture)', numberWithin(0, 1e6))
      .option('--cards <folder>', 'the angle cards apart, for pocket (PDF) and phone (SVG)')
      .option('--for <name>', 'who it is drawn for')
      .option('--count', 'writes the version number that is printed into the shoot’s file'),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<Options>();
  const path = parsed.args[0]!;
  const { shoot, readOnly } = await readShoot(path);
  if (o.count && readOnly)
    throw new BadUse(['This shoot was written by a newer Rushlight; this one may read it, not change it.']);
  const refs = anglesAsked(shoot, o.scene, o.angle);
  if (o.cards !== undefined)
    try {
      mkdirSync(o.cards, { recursive: true });
    } catch (error) {
      inWords(o.cards, 'made', error);
    }

  // Sheets that tell nothing of the light need none traced.
  const lit = o.cards !== undefined || SHEETS.some((s) => s.light && o.sheets.includes(s.id));
  const quick = o.noise === undefined && o.seconds === undefined;
  const bar = progress('Book');
  let found: Surveyed[] = [];
  try {
    if (lit) found = await surveys(shoot, refs, { ...o, ...(quick ? { quick } : {}) }, bar.at, o.size);
  } finally {
    bar.end();
  }
  const pictures = await picturesOf(shoot, found, o);
  const facts = await factsOf(shoot, refs, found, pictures, o);
  const made = new Date();
  const { pdfOf } = await import('../book/pdf.ts');
  const fonts = paperFonts();
  const pages = bookOf(facts, o.sheets);
  if (pages.length === 0)
    throw new BadUse([
      `Nothing to print: ${SHEETS.filter((s) => o.sheets.includes(s.id))
        .map((s) => s.words)
        .join(', ')}.`,
    ]);
  writeWhole(
    o.out,
    await pdfOf(pages, { title: `${shoot.title}, version ${facts.version.number}`, made, fonts, pictures }),
  );
  const { number, word } = facts.version;
  process.stderr.write(
    `Written: ${o.out} (${pages.length} ${pages.length === 1 ? 'page' : 'pages'}, version ${number} ${word})\n`,
  );
  if (o.cards !== undefined) await writeCards(facts, refs, o.cards, made, fonts);
  if (o.count && editionIsNew(shoot)) {
    writeWhole(path, saveShoot(applyEdit(shoot, { edit: 'countEdition', args: {} }).shoot));
    process.stderr.write(`Version ${number} is now in ${path}.\n`);
  } else if (editionIsNew(shoot))
    process.stderr.write(`${path} does not know of version ${number} yet: --count writes it there.\n`);
  return 0;
}

/** The quick picture of the survey, or one traced until it is sure enough; each says which it is. */
async function picturesOf(
  shoot: Shoot,
  found: readonly Surveyed[],
  o: Options,
): Promise<Record<string, Picture>> {
  const out: Record<string, Picture> = {};
  if (o.noise === undefined && o.seconds === undefined) {
    const { develop } = await import('../setup/develop.ts');
    for (const { ref, survey } of found) {
      const { width, height } = survey.hits;
      const rgba = new Uint8ClampedArray(4 * width * height);
      develop(survey.xyz, survey.exposure, survey.balance, rgba);
      const rgb = new Uint8Array(3 * width * height);
      for (let i = 0, q = 0; i < rgba.length; i += 4, q += 3) rgb.set(rgba.subarray(i, i + 3), q);
      out[keyOf(ref)] = picture(width, height, rgb, 'computed; a quick picture, from few rays');
    }
    return out;
  }
  await withTracer(o.tracer, async (tracer) => {
    for (const { ref } of found) {
      const bar = progress(`Picture of ${ref.scene} ${ref.angle}`);
      try {
        const photo = await photograph(tracer, shoot, ref, {
          ...o.size,
          seed: o.seed,
          noiseStops: o.noise ?? 0.05,
          seconds: o.seconds,
          only: undefined,
          stops: false,
          progress: bar.at,
        });
        const noise = Number.isFinite(photo.noiseStops) ? `${photo.noiseStops.toFixed(2)} stop` : 'not known';
        out[keyOf(ref)] = picture(o.size.width, o.size.height, photo.rgb, `computed; traced, noise ${noise}`);
      } finally {
        bar.end();
      }
    }
  });
  return out;
}
const picture = (width: number, height: number, rgb: Uint8Array, note: string): Picture => ({
  png: Uint8Array.from(writePng(width, height, rgb)),
  width,
  height,
  note,
});

async function factsOf(
  shoot: Shoot,
  refs: readonly AngleRef[],
  found: readonly Surveyed[],
  pictures: Record<string, Picture>,
  o: Options,
): Promise<BookFacts> {
  const { readOf } = await import('../scheme/read.ts');
  const { outlinesOf } = await import('../scheme/planFacts.ts');
  const stages = new Map(
    found.map(({ ref, survey }) => [keyOf(ref), outlinesOf(survey.angle.transport.stage)]),
  );
  const region = shoot.places[shoot.scenes[refs[0]!.scene]!.place]?.supply.region;
  return {
    shoot,
    angles: refs,
    reads: new Map(found.map(({ ref, survey }) => [keyOf(ref), readOf(ref, survey)])),
    pictures,
    outlines: (ref) => stages.get(keyOf(ref)) ?? (() => undefined),
    paper: o.paper ?? (region === 'na' ? 'letter' : 'a4'),
    date: dayWords(new Date()),
    version: editionOf(shoot),
    drawnFor: o.for,
  };
}

/** Each angle's card as PDF in its own size, and one for the phone as SVG with its typeface and picture inside. */
async function writeCards(
  facts: BookFacts,
  refs: readonly AngleRef[],
  folder: string,
  made: Date,
  fonts: ReturnType<typeof paperFonts>,
): Promise<void> {
  const { pdfOf } = await import('../book/pdf.ts');
  const base64 = (bytes: Uint8Array) => Buffer.from(bytes).toString('base64');
  const face = (family: string, weight: number, style: string, bytes: Uint8Array) =>
    `@font-face{font-family:"${family}";font-weight:${weight};font-style:${style};src:url(data:font/ttf;base64,${base64(bytes)})}`;
  const style =
    SVG_STYLE +
    face('Rushlight paper', 400, 'normal', fonts.plain) +
    face('Rushlight paper', 700, 'normal', fonts.bold) +
    face('Rushlight paper said', 400, 'italic', fonts.said);
  const twice = new Set(refs.map((r) => r.angle)).size < refs.length;
  for (const ref of refs) {
    const name = join(folder, `${twice ? `${ref.scene}-` : ''}${ref.angle}`);
    const pocket = cardPages(facts, ref, pocketCard(facts));
    writeWhole(
      `${name}.pdf`,
      await pdfOf(pocket, {
        title: `${ref.angle}, version ${facts.version.number}`,
        made,
        fonts,
        pictures: facts.pictures,
      }),
    );
    const [phone] = cardPages(facts, ref, PHONE_CARD);
    writeWhole(
      `${name}.svg`,
      pageSvg(phone!, {
        style,
        pictureUrl: (key) => {
          const p = facts.pictures[key];
          return p && `data:image/png;base64,${base64(p.png)}`;
        },
      }),
    );
  }
  process.stderr.write(
    `Written: ${refs.length} ${refs.length === 1 ? 'card' : 'cards'} in ${folder}, each as PDF (${PAPERS[facts.paper].card.words}) and for the phone as SVG. PNG is made by the program in the browser: Book, Cards as PNG.\n`,
  );
}
