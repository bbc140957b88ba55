/** The as-shot sheet of every angle: how the light stood, from the face, so that it can be built again. */
import { lampWords } from '../scheme/lampWords.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import { putBlanks, putLines, putWords } from './blocks.ts';
import { cameraWords } from './cameraWords.ts';
import { clockShort } from './cellWords.ts';
import { type BookFacts, keyOf, unitsFor } from './facts.ts';
import { pictureIn } from './pictureIn.ts';
import { type DraftPage, newSheet } from './sheet.ts';
import { type Cell, putTable } from './table.ts';
import { SIZE, word } from './type.ts';
import { lengthOf, lightOf, lightUnit } from './units.ts';

export const sheetAsShot = (f: BookFacts): DraftPage[] => f.angles.flatMap((ref) => oneAsShot(f, ref));

function oneAsShot(f: BookFacts, ref: AngleRef): DraftPage[] {
  const rig = rigFor(f.shoot, ref);
  const u = unitsFor(f, ref.scene);
  const read = f.reads.get(keyOf(ref));
  const sheet = newSheet(f, {
    title: `As shot ${ref.angle}`,
    about: `${rig.scene.name}: ${rig.angle.name}`,
    foot: `Planned: ${rig.angle.focalMm} mm  ${cameraWords(rig.camera, read?.balance)}`,
  });
  const { flow } = sheet;
  putBlanks(flow, [
    { name: 'slate, takes', wide: 3 },
    { name: 'card', wide: 2 },
    { name: 'date, time', wide: 3 },
  ]);
  putBlanks(flow, [
    { name: 'lens', wide: 2 },
    { name: 'T', wide: 1.2 },
    { name: 'EI', wide: 1.4 },
    { name: 'shutter', wide: 1.6 },
    { name: 'WB', wide: 1.8 },
    { name: 'lens high', wide: 1.8 },
    { name: 'to face', wide: 1.8 },
  ]);
  flow.gap(3);

  const marks = read ? read.marks.filter((m) => read.facesSeen.includes(m.mark)) : [];
  const faces = marks.length ? marks.map((m) => m.mark) : Object.keys(rig.scene.marks).slice(0, 1);
  const lamps = lampWords(f.shoot, ref);
  for (const face of faces) {
    const mark = rig.scene.marks[face]!;
    const m = read?.marks.find((x) => x.mark === face);
    const rows: Cell[][] = lamps
      .filter((l) => l.burns)
      .map((l) => {
        const here = m?.lamps.find((x) => x.lamp === l.id);
        return [
          { text: l.number, face: 'bold', pattern: l.identity },
          { text: l.what, sub: [l.level, l.inBeam].filter(Boolean).join(', ') },
          here ? clockShort(here.clock) : '?',
          lengthOf(l.heightM - mark.eyeM, u, false),
          here ? lengthOf(here.distanceM, u, false) : '?',
          here ? lightOf(here.lx, u) : '?',
          '',
          '',
          '',
          '',
          '',
        ];
      });
    rows.push(...Array.from({ length: 2 }, (): Cell[] => ['', '', '', '', '', '', '', '', '', '', '']));
    putTable(flow, {
      title: `From the face of ${face}, ${mark.name} (eyes ${lengthOf(mark.eyeM, u)})`,
      columns: [
        { head: '', widthMm: 15 },
        { head: 'lamp, level, in the beam', grow: 1 },
        { head: 'o’clock' },
        { head: 'over eyes', align: 'end' },
        { head: 'away', align: 'end' },
        { head: lightUnit(u), align: 'end' },
        { head: 'o’clock', widthMm: 15, box: true },
        { head: 'over eyes', widthMm: 15, box: true },
        { head: 'away', widthMm: 15, box: true },
        { head: `${lightUnit(u)} at face`, widthMm: 16, box: true },
        { head: 'gel, level', widthMm: 22, box: true },
      ],
      sizeMm: SIZE.small,
      rows,
      rowMm: 8,
    });
    flow.gap(3);
  }
  putWords(
    flow,
    'Left: planned. Ruled: as it was shot. Clock seen from above: the face in the middle, camera at 6, back light near 12.',
    { sizeMm: SIZE.small },
  );
  flow.gap(2);

  // The planned picture, and a frame for the photograph of the monitor.
  const { widthMm, leftMm } = flow.column;
  const half = (widthMm - 5) / 2;
  const picture = pictureIn(f, ref, half);
  const deep = picture.heightMm || (half * 9) / 16;
  flow.put(deep, (top) => [
    ...picture.paint(leftMm, top),
    {
      kind: 'shape',
      points: [
        [leftMm + half + 5, top],
        [leftMm + widthMm, top],
        [leftMm + widthMm, top + (half * 9) / 16],
        [leftMm + half + 5, top + (half * 9) / 16],
      ],
      weightMm: 0.2,
    },
    word([leftMm + half + 7, top + 4], 'photograph of the set, or its number', { sizeMm: SIZE.small }),
  ]);
  flow.gap(2);
  putWords(flow, 'Practicals (bulb, dimmer), windows, flags, haze, what else was on:', {
    sizeMm: SIZE.small,
  });
  putLines(flow, Math.max(2, Math.min(8, Math.floor(flow.room() / 8))));
  return sheet.finish();
}
