/** A blank form for the recce, and with it what this shoot still has to ask. */
import { questionsOf } from '../scheme/questions.ts';
import { regionWord, sayIn } from '../shoot/region-words.ts';
import { putBlanks, putHeading, putLines } from './blocks.ts';
import { type BookFacts, regionOf, scenesOf } from './facts.ts';
import type { PageMark } from './page.ts';
import { type DraftPage, newSheet } from './sheet.ts';
import { putTable } from './table.ts';
import { SIZE, word } from './type.ts';

export function sheetRecce(f: BookFacts): DraftPage[] {
  const scene = scenesOf(f)[0];
  const region =
    scene === undefined
      ? (Object.values(f.shoot.places)[0]?.supply.region ?? 'uk')
      : regionOf(f.shoot, scene);
  const recce = regionWord(region, 'recce');
  const title = recce[0]!.toUpperCase() + recce.slice(1);
  const say = (words: string) => sayIn(region, words);
  const sheet = newSheet(f, {
    title,
    about: 'a form to fill in the place; write “not told” rather than nothing',
  });
  const { flow } = sheet;
  const blank = (n: number, columns: number) =>
    Array.from({ length: n }, () => Array.from({ length: columns }, () => ''));

  // What this shoot still has to ask comes first: it is why one goes.
  const questions = questionsOf(f.shoot);
  if (questions.length) {
    putTable(flow, {
      title: 'Still to ask, for this shoot',
      columns: [
        { head: 'of' },
        { head: 'question', grow: 2 },
        { head: 'what hangs on it', grow: 1 },
        { head: 'answer, told by', widthMm: 52, box: true },
      ],
      sizeMm: SIZE.small,
      rowMm: 7.5,
      rows: questions.map((q) => [q.about, { text: q.ask, face: 'bold' as const }, q.worth, '']),
    });
    flow.turn();
  }

  putHeading(flow, 'The place');
  putBlanks(flow, [
    { name: 'what, where', wide: 4 },
    { name: 'date, hour', wide: 2 },
  ]);
  putBlanks(flow, [
    { name: 'owner, telephone', wide: 3 },
    { name: 'who lets us in, from when till when', wide: 4 },
  ]);
  putBlanks(flow, [
    { name: 'way in, stairs, lift, parking', wide: 4 },
    { name: 'neighbours, noise', wide: 3 },
  ]);
  putHeading(flow, 'The room');
  putBlanks(flow, [
    { name: 'wide', wide: 1 },
    { name: 'deep', wide: 1 },
    { name: 'high', wide: 1 },
    { name: 'measured with', wide: 1.4 },
    { name: 'north', wide: 1 },
  ]);
  putBlanks(flow, [
    { name: 'walls, colour, how light', wide: 3 },
    { name: 'ceiling', wide: 2 },
    { name: 'floor', wide: 2 },
  ]);
  putBlanks(flow, [
    { name: 'what may carry weight, who says so', wide: 3 },
    { name: 'what shines: glass, mirrors, gloss', wide: 3 },
  ]);
  flow.gap(2);
  putTable(flow, {
    title: 'Windows, doors, gaps',
    columns: [
      { head: 'which, in which wall', grow: 2, box: true },
      { head: 'from corner', widthMm: 20, box: true },
      { head: 'wide', widthMm: 16, box: true },
      { head: 'sill', widthMm: 16, box: true },
      { head: 'head', widthMm: 16, box: true },
      { head: 'glass, curtain, which way it opens', grow: 2, box: true },
    ],
    rows: blank(5, 6),
    rowMm: 8,
    sizeMm: SIZE.small,
  });
  flow.gap(3);
  putTable(flow, {
    title: say('{Socket+} and circuits: which {breaker} puts out which {socket}'),
    columns: [
      { head: say('{socket}'), widthMm: 18, box: true },
      { head: 'where, how high', grow: 2, box: true },
      { head: 'circuit', widthMm: 18, box: true },
      { head: 'amps, type', widthMm: 22, box: true },
      { head: say('{rcd}, mA'), widthMm: 20, box: true },
      { head: 'tested', widthMm: 16, box: true },
      { head: 'what else hangs on it', grow: 2, box: true },
    ],
    rows: blank(7, 7),
    rowMm: 8,
    sizeMm: SIZE.small,
  });
  flow.gap(1);
  putBlanks(flow, [
    { name: say('{board}, where, who may open it'), wide: 3 },
    { name: say('how {earth}ed'), wide: 2 },
    { name: 'main fuse', wide: 1.4 },
  ]);
  putBlanks(flow, [
    { name: 'care, alarm, lifting gear, freezer, server on it', wide: 3 },
    { name: 'lift, bells, fridge: off and on again', wide: 3 },
  ]);
  putHeading(flow, 'Light that is there', 30);
  putBlanks(flow, [
    { name: 'sun at the windows, from till', wide: 3 },
    { name: 'street lamps, signs, neighbours', wide: 3 },
  ]);
  putBlanks(flow, [
    { name: 'lamps of the place, bulbs, dimmers', wide: 3 },
    { name: 'level at the mark, lux, with what meter', wide: 3 },
  ]);
  putHeading(flow, 'For everybody’s sake', 30);
  putBlanks(flow, [
    { name: 'ways out that stay free', wide: 3 },
    { name: 'smoke and heat heads', wide: 2 },
    { name: 'extinguisher', wide: 1.6 },
  ]);
  putBlanks(flow, [
    { name: 'water, damp, gas', wide: 2 },
    { name: 'floor, edges, height', wide: 2 },
    { name: 'nearest help, address to tell', wide: 3 },
  ]);
  flow.gap(3);
  sketch(flow.room() < 70);
  putHeading(flow, 'Also', 16);
  putLines(flow, Math.max(2, Math.min(5, Math.floor(flow.room() / 8))));
  return sheet.finish();

  /** Squares to draw on: ten to the five centimetres, so that a square is 25 cm at 1:50. */
  function sketch(fresh: boolean): void {
    if (fresh) flow.turn();
    const { leftMm: left, widthMm } = flow.column;
    const columns = Math.floor(widthMm / 5);
    const rowsHigh = Math.max(10, Math.min(34, Math.floor((flow.room() - 30) / 5)));
    flow.put(rowsHigh * 5 + 6, (top) => {
      const marks: PageMark[] = [
        word(
          [left, top + 3.4],
          'Draw it: a square is 25 cm at 1:50, 50 cm at 1:100. Mark north, cameras, people, where a stand can go.',
          { sizeMm: SIZE.small, roomMm: widthMm },
        ),
      ];
      const y0 = top + 5.5;
      for (let i = 0; i <= columns; i++)
        marks.push({
          kind: 'line',
          points: [
            [left + i * 5, y0],
            [left + i * 5, y0 + rowsHigh * 5],
          ],
          weightMm: i % 4 ? 0.05 : 0.14,
        });
      for (let j = 0; j <= rowsHigh; j++)
        marks.push({
          kind: 'line',
          points: [
            [left, y0 + j * 5],
            [left + columns * 5, y0 + j * 5],
          ],
          weightMm: j % 4 ? 0.05 : 0.14,
        });
      return marks;
    });
  }
}
