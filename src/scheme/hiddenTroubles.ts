/** Whoever the lens looks at and does not see: something stands before the face. */
import { add, cross, distance, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { inFrame, onFrame } from '../setup/view.ts';
import { here, type SchemeContext, windTo } from './context.ts';
import { moveLens } from './cureEdits.ts';
import { type Found, m } from './trouble.ts';

/** A lens looks at whose eyes are this near to where it points, metres (judgement: a head and a neck). */
const MEANT_M = 0.4;
/** Of the eyes and four points about them so few are seen of somebody hidden. */
const FEW = 1;
/** Half a face, metres, up and down and to either side. */
const ABOUT_M = 0.055;
/** Steps of the lens aside that are tried, metres. */
const STEPS_M = [0.15, 0.3, 0.45] as const;

export function hiddenTroubles(c: SchemeContext): Found[] {
  if (!c.lit) return [];
  const { view, rig } = c.angle;
  const out: Found[] = [];
  for (const mark of c.angle.marks) {
    if (mark.part < 0 || distance(rig.angle.lookAt, mark.eyes) > MEANT_M) continue;
    const toward = normalize(sub(mark.eyes, view.eye));
    const aside = normalize(cross(toward, [0, 0, 1]));
    const points: Vec3[] = [
      mark.eyes,
      ...[aside, scale(aside, -1), [0, 0, 1] as Vec3, [0, 0, -1] as Vec3].map((d) =>
        add(mark.eyes, scale(d, ABOUT_M)),
      ),
    ].filter((p) => inFrame(onFrame(view, p)));
    // Out of frame on purpose is another matter.
    if (points.length < 4) continue;
    const before = points.map((p) => partsAt(c, p));
    const own = before.filter((parts) => parts.has(mark.part)).length;
    if (own > FEW) continue;
    const hider = commonest(before);
    const words = hider === undefined ? 'something' : c.angle.transport.stage.parts[hider]!.words;
    out.push({
      kind: 'face-hidden',
      subject: mark.id,
      severity: 2,
      size: 1 - own / points.length,
      says: `${mark.id}, at whom the lens points, is hidden: ${words} stands before the face.`,
      short: `${words} hides ${mark.id}`,
      at: mark.eyes,
      ideas: () =>
        STEPS_M.flatMap((by) =>
          [by, -by].map((d) => {
            const step = scale(aside, d);
            return moveLens(here(c), add(rig.angle.at, step), `Slide the lens ${windTo(c, step)} ${m(by)}`);
          }),
        ),
    });
  }
  return out;
}

/** Parts seen at a point of the frame; faint ghosts in panes are none. */
function partsAt(c: SchemeContext, p: Vec3): Set<number> {
  const { hits } = c.lit!;
  const f = onFrame(c.angle.view, p);
  const x = Math.min(hits.width - 1, Math.floor(((f.x + 1) / 2) * hits.width));
  const y = Math.min(hits.height - 1, Math.floor(((1 - f.y) / 2) * hits.height));
  const at = y * hits.width + x;
  const parts = new Set<number>();
  for (let h = hits.pixelStart[at]!; h < hits.pixelStart[at + 1]!; h++)
    if (hits.weight[h]! > 0.1) parts.add(hits.part[h]!);
  return parts;
}

/** The part that is met most often. */
function commonest(sets: readonly ReadonlySet<number>[]): number | undefined {
  const times = new Map<number, number>();
  for (const s of sets) for (const part of s) times.set(part, (times.get(part) ?? 0) + 1);
  return [...times].sort((a, b) => b[1] - a[1])[0]?.[0];
}
