/** A plan for each angle: what the camera sees, where everything stands for it, what changes from the angle before. */
import { changesBetween } from '../scheme/changes.ts';
import { type LampWords, lampWords } from '../scheme/lampWords.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import { beside, putStory, story } from './blocks.ts';
import { cameraWords } from './cameraWords.ts';
import { changeLines } from './changeLines.ts';
import { type BookFacts, keyOf, previousOf, unitsFor } from './facts.ts';
import { pictureIn } from './pictureIn.ts';
import { planBlock } from './planBlock.ts';
import { scaleWords } from './scale.ts';
import { type DraftPage, newSheet } from './sheet.ts';
import { drawingBlock } from './sheetPlan.ts';
import { putTable } from './table.ts';
import { troubleLines } from './troubleLines.ts';
import { SIZE } from './type.ts';
import { lengthOf } from './units.ts';

/** Column beside a small plan. */
const SIDE_MM = 68;

export const sheetAngles = (f: BookFacts): DraftPage[] => f.angles.flatMap((ref) => anglePlan(f, ref));

function anglePlan(f: BookFacts, ref: AngleRef): DraftPage[] {
  const rig = rigFor(f.shoot, ref);
  const u = unitsFor(f, ref.scene);
  const read = f.reads.get(keyOf(ref));
  const { leftMm: left, widthMm } = newSheet(f, { title: '', about: '' }).flow.column;
  // A small room leaves room beside its plan: picture and changes stand there.
  const whole = planBlock(f, ref, widthMm, 224);
  const narrow = whole.needsMm + SIDE_MM + 4 <= widthMm;
  const planMm = narrow ? widthMm - SIDE_MM - 4 : widthMm;
  const plan = narrow ? planBlock(f, ref, planMm, 224) : whole;
  const a = rig.angle;
  const block = drawingBlock(
    f,
    ref.scene,
    `${ref.angle}, ${a.name}`,
    scaleWords(plan.scale),
    `${a.focalMm} mm  ${cameraWords(rig.camera, read?.balance)}`,
  );
  const sheet = newSheet(f, {
    title: `Angle ${ref.angle}`,
    about: `${rig.scene.name}: ${a.name}; lens ${a.focalMm} mm, ${lengthOf(a.at[2], u)} high`,
    block: { heightMm: block.heightMm, paint: block.paint(left, left + widthMm) },
  });
  const { flow } = sheet;

  const length = (m: number) => lengthOf(m, u);
  const changes = changesBetween(f.shoot, previousOf(f.shoot, ref), ref, length);
  const words = [
    {
      text: changes.from ? `Changes from ${changes.from.angle}` : 'First angle: everything is set up',
      face: 'bold' as const,
      sizeMm: SIZE.strong,
    },
    ...changeLines(changes),
  ];
  if (narrow) {
    const picture = pictureIn(f, ref, SIDE_MM);
    const told = story(words, SIDE_MM);
    beside(
      flow,
      [
        { widthMm: planMm, heightMm: plan.heightMm, paint: plan.paint },
        {
          widthMm: SIDE_MM,
          heightMm: picture.heightMm + 3 + told.heightMm,
          paint: (x, y) => [
            ...picture.paint(x, y),
            ...told.paint(x, y + picture.heightMm + (picture.heightMm ? 3 : 0)),
          ],
        },
      ],
      4,
    );
  } else {
    flow.put(plan.heightMm, (top) => plan.paint(left, top));
    flow.gap(2);
    const pictureMm = f.pictures[keyOf(ref)] ? 78 : 0;
    const storyMm = widthMm - (pictureMm ? pictureMm + 5 : 0);
    const told = story(words, storyMm);
    const picture = pictureIn(f, ref, pictureMm);
    beside(flow, [
      ...(pictureMm ? [{ widthMm: pictureMm, heightMm: picture.heightMm, paint: picture.paint }] : []),
      { widthMm: storyMm, heightMm: told.heightMm, paint: told.paint },
    ]);
  }
  flow.gap(2);

  putTable(flow, {
    title: 'Lamps in this angle',
    columns: [
      { head: '', widthMm: 15 },
      { head: 'what' },
      { head: 'high', align: 'end' },
      { head: 'aim' },
      { head: 'beam', align: 'end' },
      { head: 'in the beam', grow: 1 },
      { head: 'burns', align: 'end' },
      { head: 'stands, fed from', grow: 2 },
    ],
    sizeMm: SIZE.small,
    rows: lampWords(f.shoot, ref).map((l) => [
      { text: l.number, face: 'bold', pattern: l.identity },
      { text: l.what, face: 'bold', ...(l.cheats ? { sub: 'cheats here' } : {}) },
      lengthOf(l.heightM, u, false),
      `${l.aim}, ${Math.round(Math.abs(l.downDeg))}° ${l.downDeg >= 0 ? 'down' : 'up'}`,
      l.beamDeg === undefined ? 'all round' : `${Math.round(l.beamDeg)}°`,
      l.inBeam || 'bare',
      l.level,
      {
        text: `${l.stands}; ${l.feed}`,
        ...(wayWords(l, length) ? { sub: wayWords(l, length) } : {}),
      },
    ]),
  });
  // As many troubles as this page has room for; a page more for one line helps nobody.
  if (flow.room() < 16) flow.turn();
  let most = 12;
  const deep = () => story(troubleLines(read, { most }), widthMm).heightMm;
  while (most > 3 && deep() > flow.room()) most--;
  putStory(flow, troubleLines(read, { most }));
  return sheet.finish();
}

/** How far its lead must go, against what is told of it; to half a metre, for it is a guess. */
function wayWords(l: LampWords, length: (m: number) => string): string {
  const parts: string[] = [];
  if (l.routeM !== undefined && l.reachM !== undefined) {
    parts.push(`about ${length(Math.ceil(l.routeM * 2) / 2)} along the walls`);
    if (l.reachM < l.routeM) parts.push(`leads and cord reach ${length(l.reachM)}: look`);
  }
  if (l.lies) parts.push(l.lies);
  if (l.crosses.length && !l.practical) parts.push(`crosses ${l.crosses.join(', ')}: mat it`);
  return parts.join('; ');
}
