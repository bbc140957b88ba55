/** Angle cards: one for each angle, for a pocket (a quarter of the sheet) and for a phone. */

import { sharpIn, sharpShort } from '../readings/depth.ts';
import { changesBetween } from '../scheme/changes.ts';
import { lampWords } from '../scheme/lampWords.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Wish } from '../shoot/schema.ts';
import { beside, story, tickBox } from './blocks.ts';
import { cameraWords } from './cameraWords.ts';
import { clockShort, doesWords, doingsOf } from './cellWords.ts';
import { changeLines } from './changeLines.ts';
import { type BookFacts, keyOf, previousOf, unitsFor } from './facts.ts';
import { newFlow } from './flow.ts';
import { PAPERS, type Page, type PageMark, PT } from './page.ts';
import { pictureIn } from './pictureIn.ts';
import { clipped } from './sheet.ts';
import { putTable } from './table.ts';
import { troubleLines } from './troubleLines.ts';
import { widthOf, word } from './type.ts';
import {
  figure,
  lengthOf,
  lightOf,
  lightUnit,
  otherLight,
  otherUnit,
  signed,
  stopOf,
  type Units,
} from './units.ts';

export interface CardSize {
  widthMm: number;
  /** Absent: as deep as it must be, on one page that is scrolled. */
  heightMm?: number;
  marginMm: number;
  /** Type against the sizes of a pocket card. */
  type: number;
}

export const pocketCard = (f: BookFacts): CardSize => ({ ...PAPERS[f.paper].card, marginMm: 6, type: 1 });
/** As wide as a phone in the hand; 13 px and more when shown 390 px wide. */
export const PHONE_CARD: CardSize = { widthMm: 78, marginMm: 3.5, type: 1.12 };

/** The picture's share of the width; less where the card would else go on over a second one. */
const SHARES = [0.64, 0.54, 0.44] as const;

export function cardPages(f: BookFacts, ref: AngleRef, size: CardSize): Page[] {
  const tries = size.heightMm === undefined ? [1] : SHARES;
  let pages: Page[] = [];
  for (const share of tries) {
    pages = laidCard(f, ref, size, share);
    if (pages.length === 1) return pages;
  }
  return laidCard(f, ref, size, tries[0]!);
}

function laidCard(f: BookFacts, ref: AngleRef, size: CardSize, share: number): Page[] {
  const rig = rigFor(f.shoot, ref);
  const u = unitsFor(f, ref.scene);
  const read = f.reads.get(keyOf(ref));
  const [body, small, strong, big] = [7.6, 7, 9, 20].map((pt) => pt * PT * size.type) as [
    number,
    number,
    number,
    number,
  ];
  const left = size.marginMm;
  const right = size.widthMm - size.marginMm;
  const wide = right - left;
  const headMm = 15.5 * size.type;
  const endless = size.heightMm === undefined;
  const flow = newFlow({
    leftMm: left,
    topMm: size.marginMm + headMm,
    widthMm: wide,
    bottomMm: (size.heightMm ?? 4000) - size.marginMm,
  });
  let deepest = flow.column.topMm;

  // The picture, and beside it (on a phone under it) what to aim for.
  const faces = read?.facesSeen.length
    ? read.facesSeen
    : Object.keys(rig.scene.marks).filter((m) => read?.marks.some((x) => x.mark === m));
  const aims = rig.angle.wishes.map((w) => wishWords(w, u, (s) => rig.scene.spots[s]?.name ?? s));
  const target = story(
    [
      ...(aims.length
        ? [
            { text: 'Aim for', face: 'bold' as const, sizeMm: body },
            ...aims.map((text) => ({ text, sizeMm: body, gapMm: 0.3 })),
          ]
        : []),
      ...(read?.marks ?? [])
        .filter((m) => faces.includes(m.mark))
        .flatMap((m) => [
          { text: `Face of ${m.mark}`, face: 'bold' as const, sizeMm: body, gapMm: 1 },
          {
            text: `${lightOf(m.incidentLx, u)} ${lightUnit(u)} (${otherLight(m.incidentLx, u)} ${otherUnit(u)}), T${stopOf(m.askedT)}: ${signed(m.overStops)} ±${figure(m.bandStops)}${m.ratio === undefined ? '' : `; ${figure(m.ratio)}:1`}`,
            face: 'said' as const,
            sizeMm: body,
            gapMm: 0.2,
          },
        ]),
      {
        text: sharpShort(sharpIn(rig, ref.angle), (m) => lengthOf(m, u)),
        face: 'said' as const,
        sizeMm: small,
        gapMm: 1,
      },
    ],
    endless ? wide : wide * (1 - share) - 2,
  );
  const picture = pictureIn(f, ref, endless ? wide : wide * share, small);
  if (endless) {
    if (picture.heightMm) flow.put(picture.heightMm, (top) => picture.paint(left, top));
    flow.gap(1.5);
    flow.put(target.heightMm, (top) => target.paint(left, top));
  } else if (picture.heightMm)
    beside(
      flow,
      [
        { widthMm: wide * share, heightMm: picture.heightMm, paint: picture.paint },
        { widthMm: wide * (1 - share) - 2, heightMm: target.heightMm, paint: target.paint },
      ],
      2,
    );
  else if (target.heightMm) flow.put(target.heightMm, (top) => target.paint(left, top));
  flow.gap(1.5);

  // The lamps, as seen from the face that matters most here.
  const main = mainFace(read?.marks ?? [], faces);
  const rows = lampWords(f.shoot, ref).map((l) => {
    const doings = read ? doingsOf(read, l.id) : [];
    const here = doings.find((d) => d.mark === main);
    const set = [l.level === '100 %' ? '' : l.level, l.inBeam].filter(Boolean).join(', ');
    const seen = doings.filter((d) => faces.includes(d.mark));
    return {
      number: { text: l.number, face: 'bold' as const, pattern: l.identity },
      does: {
        text: !l.burns ? 'out' : read ? doesWords(seen, faces) : 'not read',
        face: l.burns && read ? ('said' as const) : ('plain' as const),
      },
      stands: here
        ? `${clockShort(here.clock)}, ${lengthOf(here.distanceM, u)}, h ${lengthOf(l.heightM, u, false)}`
        : `h ${lengthOf(l.heightM, u, false)}`,
      what: `${l.what}${set ? `: ${set}` : ''}${l.cheats ? ' (cheats here)' : ''}`,
      alone: here && l.burns ? lightOf(here.lx, u) : '',
    };
  });
  const stands = main ? `stands, from ${main}’s face` : 'stands';
  const does = faces.length === 1 ? `does for ${faces[0]}` : 'does';
  const number = { head: '', widthMm: 13 * size.type };
  const alone = { head: `${lightUnit(u)} alone`, align: 'end' } as const;
  const metered = { head: 'metered', widthMm: 13 * size.type, box: true } as const;
  putTable(flow, {
    sizeMm: body,
    smallMm: small,
    // A phone is too narrow for what it does and where it stands side by side.
    ...(endless
      ? {
          columns: [number, { head: `${does}; ${stands}`, grow: 1 }, alone, metered],
          rows: rows.map((r) => [r.number, { ...r.does, sub: `${r.stands}; ${r.what}` }, r.alone, '']),
        }
      : {
          columns: [number, { head: does }, { head: stands, grow: 1 }, alone, metered],
          rows: rows.map((r) => [r.number, r.does, { text: r.stands, sub: r.what }, r.alone, '']),
        }),
  });
  flow.gap(1);

  const changes = changesBetween(f.shoot, previousOf(f.shoot, ref), ref, (m) => lengthOf(m, u));
  // At the first angle the table tells already what is set up: flags are all that is left to say.
  const first = changeLines({ ...changes, lamps: changes.from ? changes.lamps : [] });
  const telling = (most: number) =>
    story(
      [
        {
          text: changes.from ? `Changes from ${changes.from.angle}` : 'First angle: set everything up',
          face: 'bold',
          sizeMm: body,
        },
        ...first.map((l) => ({ ...l, sizeMm: body })),
        ...troubleLines(read, { most, power: false }).map((l) => ({ ...l, sizeMm: body })),
        {
          text: 'Clock seen from above: the person in the middle, camera at 6, back light near 12.',
          sizeMm: small,
          gapMm: 1,
        },
      ],
      wide,
    );
  // As many troubles as this card has room for; the screen has them all.
  const tickMm = 4 * size.type + 1.2;
  let most = endless ? 12 : 5;
  while (most > 0 && telling(most).heightMm + tickMm > flow.room()) most--;
  const rest = telling(most);
  flow.put(rest.heightMm, (top) => rest.paint(left, top));
  flow.gap(1.2);
  flow.put(4 * size.type, (top) => {
    deepest = Math.max(deepest, top + 4 * size.type);
    const marks: PageMark[] = [];
    let x = left;
    for (const t of ['lit', 'metered', 'shot', 'photo']) {
      marks.push(
        tickBox(x, top + 0.4, 3 * size.type),
        word([x + 4 * size.type, top + 3 * size.type], t, { sizeMm: body }),
      );
      x += 6.5 * size.type + widthOf(t, 'plain', body);
    }
    if (!endless)
      marks.push(word([right, top + 3 * size.type], 'minutes ______', { sizeMm: body, anchor: 'end' }));
    return marks;
  });

  const m = flow.pages.length;
  return flow.pages.map((marks, i) => ({
    widthMm: size.widthMm,
    heightMm: size.heightMm ?? deepest + size.marginMm,
    title: `Card ${ref.angle}`,
    marks: [...head(i + 1), ...marks],
  }));

  function head(n: number): PageMark[] {
    const y = size.marginMm;
    const v = String(f.version.number);
    const vMm = widthOf(v, 'bold', strong * 1.5);
    const idMm = widthOf(ref.angle, 'bold', big);
    const nameMm = wide - idMm - vMm - 14 * size.type;
    return [
      word([left, y + 6.3 * size.type], ref.angle, { face: 'bold', sizeMm: big, roomMm: wide }),
      word([left + idMm + 2, y + 3.2 * size.type], clipped(rig.angle.name, 'bold', strong, nameMm), {
        face: 'bold',
        sizeMm: strong,
        roomMm: nameMm,
      }),
      word(
        [left + idMm + 2, y + 6.6 * size.type],
        clipped(`${f.shoot.title}, ${rig.scene.name}`, 'plain', small, nameMm),
        { sizeMm: small, roomMm: nameMm },
      ),
      word([right, y + 5 * size.type], v, { face: 'bold', sizeMm: strong * 1.5, anchor: 'end' }),
      word([right - vMm - 1, y + 2.6 * size.type], 'version', { sizeMm: small, anchor: 'end' }),
      word([right - vMm - 1, y + 5.2 * size.type], f.version.word, {
        sizeMm: small,
        face: 'bold',
        anchor: 'end',
      }),
      word(
        [left, y + 11 * size.type],
        clipped(
          `${rig.angle.focalMm} mm, h ${lengthOf(rig.angle.at[2], u, false)}   ${cameraWords(rig.camera, read?.balance)}`,
          'bold',
          body,
          wide,
        ),
        { face: 'bold', sizeMm: body, roomMm: wide },
      ),
      {
        kind: 'line',
        points: [
          [left, y + 12.6 * size.type],
          [right, y + 12.6 * size.type],
        ],
        weightMm: 0.4,
      },
      ...(m > 1
        ? [word([right, y + 7.8 * size.type], `card ${n} of ${m}`, { sizeMm: small, anchor: 'end' as const })]
        : []),
    ];
  }
}

/** The face with a key among those seen, else the first. */
function mainFace(
  marks: readonly { mark: string; toward: string }[],
  faces: readonly string[],
): string | undefined {
  const seen = marks.filter((m) => faces.includes(m.mark));
  return (seen.find((m) => m.toward !== 'camera') ?? seen[0] ?? marks[0])?.mark;
}

function wishWords(w: Wish, u: Units, spot: (id: string) => string): string {
  const where = w.mark ?? (w.spot === undefined ? '' : spot(w.spot));
  const within =
    w.within === undefined ? '' : ` ±${w.reading === 'lux' ? lightOf(w.within, u) : figure(w.within)}`;
  switch (w.reading) {
    case 'ratioStops':
      return `${where} ${figure(2 ** w.target)}:1 (${figure(w.target)}${within} stops)`;
    case 'underKeyStops':
      return `${where} ${figure(w.target)}${within} under key`;
    case 'overStops':
      return `${where} ${signed(w.target)}${within} stops`;
    case 'lux':
      return `${where} ${lightOf(w.target, u)}${within} ${lightUnit(u)}`;
  }
}
