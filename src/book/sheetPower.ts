/** The power sheet: circuit by circuit what hangs on it, how much is left, what was not checked, who answers for it. */
import { type PowerSheet, powerSheet } from '../scheme/powerSheet.ts';
import { regionWord, sayIn } from '../shoot/region-words.ts';
import { putBlanks, putHeading, putList, putWords } from './blocks.ts';
import { type BookFacts, regionOf, scenesOf } from './facts.ts';
import { ratingWords } from './ratingWords.ts';
import { type DraftPage, newSheet } from './sheet.ts';
import { putTable } from './table.ts';
import { SIZE } from './type.ts';

export const sheetPower = (f: BookFacts): DraftPage[] =>
  scenesOf(f).flatMap((scene) => onePower(f, powerSheet(f.shoot, scene)));

function onePower(f: BookFacts, p: PowerSheet): DraftPage[] {
  const region = regionOf(f.shoot, p.scene);
  const sheet = newSheet(f, {
    title: 'Power',
    about: `${p.place}, ${p.name}: ${p.supply}`,
    foot: `${p.supply}. Amps are rounded up, margins down. Not a certificate.`,
  });
  const { flow } = sheet;
  if (p.words) putWords(flow, p.words);
  flow.gap(1);
  putWords(flow, `Worst angle ${p.worstAngle}: ${p.totalA} A in all. Nothing is counted as dimmed.`, {
    face: 'bold',
  });

  for (const c of p.circuits) {
    putHeading(flow, `${c.words}: ${c.head}`, 24);
    if (c.sockets) putWords(flow, `${regionWord(region, 'socket', 2)}: ${c.sockets}`, { sizeMm: SIZE.small });
    flow.gap(0.8);
    if (c.rows.length === 0) putWords(flow, 'Nothing hangs on it.');
    else
      putTable(flow, {
        sizeMm: SIZE.small,
        columns: [
          { head: '', widthMm: 15 },
          { head: 'load', grow: 2 },
          { head: `at` },
          { head: regionWord(region, 'lead', 2), grow: 1 },
          { head: 'W', align: 'end' },
          { head: 'VA', align: 'end' },
          { head: 'A', align: 'end' },
          { head: 'so far, A', align: 'end' },
          { head: 'of limit', align: 'end' },
          { head: 'volts there', align: 'end' },
        ],
        rows: [
          ...c.rows.map((r) => [
            r.identity ? { text: r.lamp, face: 'bold' as const, pattern: r.identity } : { text: 'house' },
            { text: r.words },
            r.from,
            r.leads,
            r.watts,
            r.va,
            r.amps,
            r.running,
            r.share,
            r.volts,
          ]),
        ],
      });
    flow.gap(0.6);
    if (c.rows.length) {
      putWords(
        flow,
        `${c.rows.at(-1)!.running} A${c.limitA === undefined ? ', limit not told' : ` of ${ratingWords(c.limitA)} A`}; ${c.margin}.`,
        { face: 'bold' },
      );
      if (c.byAngle.length > 1)
        putWords(
          flow,
          c.byAngle.every((a) => a.worst)
            ? 'The same in every angle.'
            : `By angle: ${c.byAngle.map((a) => `${a.angle} ${a.amps} A${a.worst ? ' (most)' : ''}`).join(', ')}.`,
          { sizeMm: SIZE.small },
        );
      putList(
        flow,
        [
          `Checked: ${c.verdict}.`,
          ...(c.legs ? [`Ring: ${c.legs}.`] : []),
          `Leakage: ${c.rcd}.`,
          `Switching on: ${c.surge}.`,
        ],
        { sizeMm: SIZE.small },
      );
    }
  }

  const heavy = p.onTheWay.filter((d) => d.level !== 'within' || (d.share ?? 1) > 0.5);
  const light = p.onTheWay.filter((d) => !heavy.includes(d));
  if (heavy.length) {
    flow.gap(2);
    putTable(flow, {
      title: 'On the way: over half of a rating, over a line, or not checked',
      sizeMm: SIZE.small,
      columns: [
        { head: 'what', grow: 1 },
        { head: 'A', align: 'end' },
        { head: 'of A', align: 'end' },
        { head: 'checked', grow: 2 },
      ],
      rows: heavy.map((d) => [
        d.words,
        d.amps,
        d.of,
        d.level === 'over' ? { text: d.verdict, face: 'bold' as const } : d.verdict,
      ]),
    });
  }
  if (light.length) {
    putHeading(
      flow,
      heavy.length
        ? 'On the way, within half of the rating'
        : 'On the way: everything within half of its rating',
    );
    putWords(flow, `${light.map((d) => `${d.words} ${d.amps} of ${d.of} A`).join('; ')}.`, {
      sizeMm: SIZE.small,
    });
  }
  if (p.counted.length || p.keepOff.length) {
    putHeading(flow, 'The house’s own loads');
    if (p.counted.length) putWords(flow, `Counted as on: ${p.counted.join(', ')}.`);
    if (p.keepOff.length) {
      putWords(flow, 'Counted as off. Keep off, and put back on afterwards:');
      putList(flow, p.keepOff, { tick: true });
    }
  }
  putHeading(flow, 'Not checked');
  putList(flow, p.notChecked, { tick: true, sizeMm: SIZE.small, columns: 2 });
  putHeading(flow, 'Cautions');
  putList(flow, p.cautions, { sizeMm: SIZE.small });
  putHeading(
    flow,
    sayIn(region, 'Who looked at the {board}, {socket+} and {lead+}, and answers for them'),
    22,
  );
  putBlanks(flow, [
    { name: 'Responsible, competent person', wide: 3 },
    { name: 'date', wide: 1 },
  ]);
  putBlanks(flow, [
    { name: 'signature', wide: 2 },
    { name: 'for the owner', wide: 2 },
  ]);
  return sheet.finish();
}
