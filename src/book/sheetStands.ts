/** Where can they stand: the floor for one face in one angle, to scale; of those somebody asked about on the screen. */
import { rigFor } from '../shoot/rigFor.ts';
import { putStory } from './blocks.ts';
import { cameraWords } from './cameraWords.ts';
import { type BookFacts, keyOf, type StandOnPaper, unitsFor } from './facts.ts';
import type { PageMark } from './page.ts';
import { planBlock } from './planBlock.ts';
import { scaleWords } from './scale.ts';
import { type DraftPage, newSheet } from './sheet.ts';
import { drawingBlock } from './sheetPlan.ts';
import { SIZE, word } from './type.ts';
import { lengthOf } from './units.ts';

export const sheetStands = (f: BookFacts): DraftPage[] =>
  (f.stands ?? [])
    .filter((s) => f.angles.some((a) => keyOf(a) === keyOf(s.ref)))
    .flatMap((s) => standPage(f, s));

function standPage(f: BookFacts, s: StandOnPaper): DraftPage[] {
  const { ref, mark } = s;
  const rig = rigFor(f.shoot, ref);
  const u = unitsFor(f, ref.scene);
  const { leftMm: left, widthMm } = newSheet(f, { title: '', about: '' }).flow.column;
  const plan = planBlock(f, ref, widthMm, 200, { floor: s.drawing });
  const a = rig.angle;
  const read = f.reads.get(keyOf(ref));
  const block = drawingBlock(
    f,
    ref.scene,
    `${ref.angle}, ${a.name}`,
    scaleWords(plan.scale),
    `${a.focalMm} mm  ${cameraWords(rig.camera, read?.balance)}`,
  );
  const sheet = newSheet(f, {
    title: `Where ${mark} can stand`,
    about: `${rig.scene.name}: as lit for ${ref.angle}, ${a.name}`,
    block: { heightMm: block.heightMm, paint: block.paint(left, left + widthMm) },
  });
  const { flow } = sheet;
  flow.put(plan.heightMm, (top) => plan.paint(left, top));
  flow.gap(3);
  flow.put(5, (top) => key(left, top));
  flow.gap(1);
  const m = rig.scene.marks[mark]!;
  putStory(flow, [
    { text: s.says, face: 'said', sizeMm: SIZE.strong },
    {
      text: `Lamps farther out than 1.5 m are not drawn. Read at the eyes, ${lengthOf(m.eyeM, u)} high, the face turned as on its mark; walls, things and other people where the plan has them. Planned, not metered: hold the meter at two places before anybody relies on it.`,
      sizeMm: SIZE.small,
      gapMm: 1.2,
    },
  ]);
  return sheet.finish();
}

/** What hatch, dot and line say, each drawn beside its words. */
function key(left: number, top: number): PageMark[] {
  const y = top + 3.4;
  const say = (x: number, text: string) => word([x, y], text, { sizeMm: SIZE.small });
  return [
    ...[0, 1, 2, 3, 4].map(
      (i): PageMark => ({
        kind: 'line',
        points: [
          [left + i * 1.6, top + 4],
          [left + i * 1.6 + 3, top + 1],
        ],
        weightMm: 0.16,
      }),
    ),
    say(left + 12, 'all holds: level, side, eyes'),
    ...[0, 1, 2].map(
      (i): PageMark => ({
        kind: 'circle',
        centre: [left + 64 + i * 2, top + 2.5],
        radiusMm: 0.3,
        fill: 'ink',
      }),
    ),
    say(left + 72, 'the level alone'),
    {
      kind: 'line',
      points: [
        [left + 106, top + 2.5],
        [left + 115, top + 2.5],
      ],
      weightMm: 0.5,
    },
    say(left + 117, 'the set stop; thinner: whole stops about it'),
  ];
}
