/** The rig of a scene on one plan, and under it the score: what every lamp does in every angle. */
import { lampWords } from '../scheme/lampWords.ts';
import { rigFor } from '../shoot/rigFor.ts';
import { putWords } from './blocks.ts';
import { cameraWords } from './cameraWords.ts';
import { clockShort, doesWords, doingsOf } from './cellWords.ts';
import { anglesIn, type BookFacts, keyOf, scenesOf, unitsFor } from './facts.ts';
import { planBlock } from './planBlock.ts';
import { scaleWords } from './scale.ts';
import { blockHeight, type DraftPage, newSheet, titleBlock } from './sheet.ts';
import { type Cell, putTable } from './table.ts';
import { SIZE } from './type.ts';
import { figure, lengthOf, signed } from './units.ts';

export const sheetPlan = (f: BookFacts): DraftPage[] =>
  scenesOf(f).flatMap((scene) => (anglesIn(f, scene).length ? rigPlan(f, scene) : []));

/** Fields of the title block that every drawing of a scene has. */
export function drawingBlock(f: BookFacts, scene: string, angles: string, scale: string, camera: string) {
  const s = f.shoot.scenes[scene]!;
  const place = f.shoot.places[s.place]!;
  return {
    heightMm: blockHeight(3) + 1,
    paint: (left: number, right: number) => (top: number, n: number, m: number) =>
      titleBlock(
        [
          [
            { name: 'shoot', text: f.shoot.title, wide: 4 },
            { name: 'scene', text: s.name, wide: 4 },
            { name: 'angle', text: angles, wide: 3.4 },
            { name: 'version', text: `${f.version.number}  ${f.version.word}`, wide: 2 },
          ],
          [
            { name: 'place', text: place.name, wide: 4 },
            { name: 'camera', text: `${camera}`, wide: 6.4 },
            { name: 'meter C', text: `${f.shoot.exposureConstant} lx`, wide: 1.6 },
            { name: 'supply', text: `${place.supply.nominalV} V ${place.supply.frequencyHz} Hz`, wide: 2.2 },
          ],
          [
            { name: 'scale', text: scale, wide: 3 },
            { name: 'drawn for', text: f.drawnFor ?? '', wide: 4 },
            { name: 'date', text: f.date, wide: 3 },
            { name: 'sheet', text: `${n} of ${m}`, wide: 2 },
          ],
        ],
        left,
        right,
        top + 1,
      ),
  };
}

function rigPlan(f: BookFacts, scene: string): DraftPage[] {
  const s = f.shoot.scenes[scene]!;
  const refs = anglesIn(f, scene);
  const first = refs[0]!;
  const u = unitsFor(f, scene);
  const widthMm = newSheet(f, { title: '', about: '' }).flow.column.widthMm;
  const left = newSheet(f, { title: '', about: '' }).flow.column.leftMm;
  const block = (scale: string) =>
    drawingBlock(f, scene, refs.map((r) => r.angle).join(' '), scale, cameraWords(s.camera));
  const probe = planBlock(f, first, widthMm, 224, { whole: true });
  const drawn = block(scaleWords(probe.scale));
  const sheet = newSheet(f, {
    title: 'Plan and score',
    about: `${s.name}: the whole rig, all angles`,
    block: { heightMm: drawn.heightMm, paint: drawn.paint(left, left + widthMm) },
  });
  const { flow } = sheet;
  flow.put(probe.heightMm, (top) => probe.paint(left, top));
  flow.gap(2);

  // The score.
  const lamps = lampWords(f.shoot, first);
  const scored = refs.map((ref) => ({
    ref,
    read: f.reads.get(keyOf(ref)),
    lamps: lampWords(f.shoot, ref),
    rig: rigFor(f.shoot, ref),
  }));
  const rows: Cell[][] = Object.entries(s.rig.lamps).map(([id, l], i) => [
    { text: l.number, face: 'bold', pattern: i + 1 },
    {
      text: lamps[i]!.what,
      face: 'bold',
      sub: [`h ${lengthOf(l.at[2], u)}`, lamps[i]!.inBeam || 'bare', lamps[i]!.feed]
        .filter(Boolean)
        .join('; '),
    },
    ...scored.map(({ read, lamps: own, rig }): Cell => {
      const w = own[i]!;
      const cheat = w.cheats ? ' (cheats)' : '';
      if (!w.burns) return { text: 'out', face: 'plain', sub: cheat.trim() };
      if (!read) return { text: `${w.level}${cheat}`, sub: 'not read' };
      const seen = read.facesSeen.length ? read.facesSeen : Object.keys(rig.scene.marks);
      const doing = doingsOf(read, id).filter((d) => seen.includes(d.mark));
      const best = doing[0];
      return {
        text: doesWords(doing, []),
        face: 'said',
        sub: best
          ? `${Number.isFinite(best.overStops) ? `${signed(best.overStops)}, ` : ''}${clockShort(best.clock)} ${best.upDeg >= 0 ? '↑' : '↓'}${Math.round(Math.abs(best.upDeg))}°${cheat}`
          : cheat.trim(),
      };
    }),
  ]);
  const faces: Cell[][] = [
    [
      '',
      { text: 'Faces', face: 'bold', sub: 'against the stop; lit side to other' },
      ...scored.map(
        ({ read }): Cell => ({
          text: read
            ? read.marks
                .filter((m) => read.facesSeen.includes(m.mark))
                .map(
                  (m) =>
                    `${m.mark} ${signed(m.overStops)}${m.ratio === undefined ? '' : `, ${figure(m.ratio)}:1`}`,
                )
                .join('; ')
            : '?',
          face: 'said',
        }),
      ),
    ],
  ];
  const few = 5;
  for (let from = 0; from < refs.length; from += few) {
    const part = refs.slice(from, from + few);
    putTable(flow, {
      title: from ? 'Score, further angles' : 'Score: what each lamp does in each angle',
      columns: [
        { head: '', widthMm: 15 },
        { head: 'lamp', grow: 1 },
        ...part.map((r) => ({ head: r.angle, grow: 1 })),
      ],
      rows: [...rows, ...faces].map((r) => [r[0]!, r[1]!, ...r.slice(2 + from, 2 + from + few)]),
      heavyOver: new Set([rows.length]),
    });
    flow.gap(2);
  }
  putWords(
    flow,
    `Figures under a lamp’s work: its direct light against what T${s.camera.stop} asks, in stops; where it stands on a clock seen from above (the person in the middle, the camera at 6, back light near 12) and how far up. Heights from the floor, ${u.imperial ? 'feet and inches' : 'metres'}.`,
    { sizeMm: SIZE.small },
  );
  return sheet.finish();
}
