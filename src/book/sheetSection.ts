/** Side sections: where light comes through an opening, or from something it hangs from. */
import { drawSection } from '../drawing/section.ts';
import { type SectionFacts, sectionsOf } from '../scheme/section.ts';
import { putWords } from './blocks.ts';
import { cameraWords } from './cameraWords.ts';
import { anglesIn, type BookFacts, scenesOf, unitsFor } from './facts.ts';
import { type Label, placeLabels } from './labels.ts';
import { type Laid, onPaper, toPage } from './onPaper.ts';
import { type At, type PageMark, PT } from './page.ts';
import { chooseScale, scaleBar, scaleWords } from './scale.ts';
import { clipped, type DraftPage, newSheet } from './sheet.ts';
import { drawingBlock } from './sheetPlan.ts';
import { SIZE, word } from './type.ts';
import { lengthOf, type Units } from './units.ts';

const BELOW_MM = 9;

export function sheetSection(f: BookFacts): DraftPage[] {
  return scenesOf(f).flatMap((scene) => {
    // One section a lamp, as it stands in the first angle that needs it, again where an angle cheats it elsewhere.
    const seen = new Map<string, { facts: SectionFacts; angles: string[] }>();
    for (const ref of anglesIn(f, scene))
      for (const facts of sectionsOf(f.shoot, ref)) {
        const key = `${facts.lamp.id}|${JSON.stringify([facts.lamp.at, facts.lamp.aim, facts.fromM])}`;
        const had = seen.get(key);
        if (had) had.angles.push(ref.angle);
        else seen.set(key, { facts, angles: [ref.angle] });
      }
    if (seen.size === 0) return [];
    const u = unitsFor(f, scene);
    const { leftMm: left, widthMm } = newSheet(f, { title: '', about: '' }).flow.column;
    const blocks = [...seen.values()].map(({ facts, angles }) => ({
      ...sectionBlock(facts, u, widthMm),
      facts,
      angles,
    }));
    const scales = [...new Set(blocks.map((b) => scaleWords(b.scale)))].join(', ');
    const s = f.shoot.scenes[scene]!;
    const block = drawingBlock(
      f,
      scene,
      anglesIn(f, scene)
        .map((r) => r.angle)
        .join(' '),
      scales,
      cameraWords(s.camera),
    );
    const sheet = newSheet(f, {
      title: 'Side sections',
      about: `${s.name}: ${`lamps ${blocks.map((b) => b.facts.lamp.number).join(', ')}`}`,
      block: { heightMm: block.heightMm, paint: block.paint(left, left + widthMm) },
    });
    for (const b of blocks) {
      const all = b.angles.length === anglesIn(f, scene).length;
      sheet.flow.put(b.heightMm, (top) => b.paint(left, top, all ? '' : ` (in ${b.angles.join(', ')})`));
      sheet.flow.gap(4);
    }
    putWords(
      sheet.flow,
      'Cut through lamp and aim; beam drawn at half intensity. Height and weight overhead: a bond on every head, nobody under it while it is set, a competent person says what may hang.',
      { sizeMm: SIZE.small },
    );
    return sheet.finish();
  });
}

function sectionBlock(s: SectionFacts, u: Units, widthMm: number) {
  const low = Math.min(s.groundM, 0) - 0.25;
  const high =
    Math.max(s.topM, s.lamp.at[1] + 0.45, s.holds?.kind === 'hung' ? s.holds.z + s.holds.depthM : 0) + 0.2;
  const size = [s.toM - s.fromM + 0.3, high - low] as const;
  const scale = chooseScale(size, [widthMm, 105], u);
  const planMm = Math.min(105, (size[1] * 1000) / scale);
  const headMm = SIZE.strong * 1.5;
  const drawing = drawSection({
    ...s,
    lamp: { ...s.lamp, body: s.lamp.body },
    walls: s.walls,
    people: s.people,
  });
  return {
    scale,
    heightMm: headMm + planMm + BELOW_MM,
    paint(left: number, top: number, angles: string): PageMark[] {
      const laid: Laid = { scale, from: [s.fromM - 0.15, low], at: [left, top + headMm + planMm] };
      const at = (x: number, z: number) => toPage(laid, [x, z]);
      const middle = at(...centre(s.lamp.body));
      const reach = Math.hypot(s.lamp.aim[0] - s.lamp.at[0], s.lamp.aim[1] - s.lamp.at[1]);
      const small = (text: string) => [{ text, sizeMm: SIZE.small }];
      const labels: Label[] = [
        {
          anchor: middle,
          radiusMm: 2.2,
          lines: [
            { text: s.lamp.number, sizeMm: SIZE.head, face: 'bold', boxed: true },
            {
              text: `h ${lengthOf(s.lamp.at[1], u, false)} ${s.lamp.downDeg >= 0 ? '↓' : '↑'}${Math.round(Math.abs(s.lamp.downDeg))}°`,
              sizeMm: SIZE.small,
            },
          ],
        },
        ...s.people.map(
          (p): Label => ({
            anchor: at(p.x, p.eyeM),
            radiusMm: 2.4,
            lines: [
              { text: p.id, sizeMm: SIZE.strong, face: 'bold' },
              { text: `eyes ${lengthOf(p.eyeM, u, false)}`, sizeMm: SIZE.small },
            ],
          }),
        ),
        ...s.walls.flatMap((w): Label[] =>
          w.opening
            ? [
                ...(w.opening.sillM > 0
                  ? [
                      {
                        anchor: at(w.x, w.opening.sillM),
                        radiusMm: 0.6,
                        lines: small(`sill ${lengthOf(w.opening.sillM, u, false)}`),
                      },
                    ]
                  : []),
                {
                  anchor: at(w.x, w.opening.headM),
                  radiusMm: 0.6,
                  lines: small(`head ${lengthOf(w.opening.headM, u, false)}`),
                },
              ]
            : [],
        ),
        ...(s.holds?.kind === 'hung'
          ? [
              {
                anchor: at(s.holds.x, s.holds.z),
                radiusMm: 1.4,
                lines: small(`${s.holds.words} ${lengthOf(s.holds.z, u, false)}`),
              },
            ]
          : []),
      ];
      const boxes = [
        { x0: middle[0] - 2.5, x1: middle[0] + 2.5, y0: middle[1] - 2.5, y1: middle[1] + 2.5 },
        ...s.people.map((p) => {
          const [x, y] = at(p.x, p.eyeM);
          const [, floor] = at(p.x, p.seatM ?? 0);
          return { x0: x - 2.5, x1: x + 2.5, y0: y - 2.5, y1: floor };
        }),
      ];
      const things = s.things.flatMap((t): Label[] => {
        const [x0, y1] = at(t.x0, t.z0);
        const [x1, y0] = at(t.x1, t.z1);
        return x1 - x0 > 9 && y1 - y0 > 3 && t.words.length < (x1 - x0) / 1.2
          ? [
              {
                anchor: [(x0 + x1) / 2, (y0 + y1) / 2],
                radiusMm: 0,
                lines: [{ text: t.words, sizeMm: 7 * PT }],
              },
            ]
          : [];
      });
      const bar = scaleBar([left + 1, top + headMm + planMm + 5], scale, u);
      const ceiling = s.ceilingM === undefined ? 'no ceiling' : `ceiling ${lengthOf(s.ceilingM, u)}`;
      return [
        word(
          [left, top + SIZE.strong * 0.9],
          clipped(`${s.lamp.number}  ${s.lamp.what}, ${s.why}${angles}`, 'bold', SIZE.strong, widthMm),
          {
            face: 'bold',
            sizeMm: SIZE.strong,
            roomMm: widthMm,
          },
        ),
        {
          kind: 'within',
          at: [left, top + headMm],
          widthMm,
          heightMm: planMm,
          marks: [
            ...onPaper(drawing, laid),
            ...placeLabels([...labels, ...things], boxes, beamPoints(s, laid), {
              x0: left,
              y0: top + headMm,
              x1: left + widthMm,
              y1: top + headMm + planMm,
            }),
          ],
        },
        ...bar.marks,
        word(
          [left + widthMm, top + headMm + planMm + 6.4],
          `${scaleWords(scale)}   throw ${lengthOf(reach, u)}   ${ceiling}   ground outside ${lengthOf(s.groundM, u)}`,
          { sizeMm: SIZE.small, anchor: 'end', roomMm: widthMm - bar.widthMm - 4 },
        ),
      ];
    },
  };
}

const centre = (points: readonly (readonly [number, number])[]): [number, number] => [
  points.reduce((a, p) => a + p[0], 0) / points.length,
  points.reduce((a, p) => a + p[1], 0) / points.length,
];

/** Points along the beam's middle and the ceiling, so that labels keep off them. */
function beamPoints(s: SectionFacts, laid: Laid): At[] {
  const run = (from: readonly [number, number], to: readonly [number, number]): At[] => {
    const [a, b] = [toPage(laid, from), toPage(laid, to)];
    const n = Math.max(2, Math.round(Math.hypot(b[0] - a[0], b[1] - a[1]) / 2));
    return Array.from(
      { length: n + 1 },
      (_, i): At => [a[0] + ((b[0] - a[0]) * i) / n, a[1] + ((b[1] - a[1]) * i) / n],
    );
  };
  const top = s.ceilingM === undefined ? [] : run([s.fromM, s.ceilingM], [s.toM, s.ceilingM]);
  return [...run(s.lamp.at, s.lamp.aim), ...top, ...top];
}
