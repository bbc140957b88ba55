/** Furniture by kind. A kind nobody knows becomes a plain box of its size, and is said. */
import { DEG, turnZ, type Vec3 } from '../maths/vec3.ts';
import { materialOf } from './finish.ts';
import { bed } from './furniture/bed.ts';
import { boatHull } from './furniture/boat.ts';
import { baseUnit, cooker, cupboard, fridge } from './furniture/case.ts';
import { bowlOf, sinkUnit, worktop } from './furniture/kitchen.ts';
import { PIECES } from './furniture/pieces.ts';
import { plainBox, plainCylinder } from './furniture/plain.ts';
import { chair, sofa } from './furniture/seat.ts';
import { shelves } from './furniture/shelves.ts';
import { book, drum, pendantShade, smokeMachine } from './furniture/small.ts';
import { table, trestle, workbench } from './furniture/table.ts';
import { gantry, mast, plankStack, sheetCover } from './furniture/timber.ts';
import type { Builder, Cut, FurnitureSpec } from './furniture/work.ts';
import { bodyOf, draft, PATCH_M, slotOf, upright } from './mesh.ts';
import { shapeBuilder } from './shape.ts';
import type { Body, Material, PartKind } from './stage.ts';

/** Who builds which kind. */
export const BUILDERS: Readonly<Record<string, Builder>> = {
  box: plainBox,
  cylinder: plainCylinder,
  post: plainBox,
  table,
  chair,
  worktop,
  cupboard,
  'base-unit': baseUnit,
  cooker,
  'sink-unit': sinkUnit,
  fridge,
  book,
  'pendant-shade': pendantShade,
  'boat-hull': boatHull,
  trestle,
  workbench,
  drum,
  'plank-stack': plankStack,
  mast,
  gantry,
  'smoke-machine': smokeMachine,
  'sheet-cover': sheetCover,
  bed,
  sofa,
  shelves,
  ...Object.fromEntries(PIECES.map((p) => [p.kind, p.build])),
};

const OUTSIDE_PATCH_M = 0.7;

const detailOf = (s: FurnitureSpec) => (name: string, otherwise: number) => s.detail?.[name] ?? otherwise;

/** One thing; `others` are what stands with it (a worktop is cut out over a sink). */
export function buildThing(
  spec: FurnitureSpec,
  others: readonly FurnitureSpec[] = [],
  kind: PartKind = 'furniture',
): { body: Body; notes: string[] } {
  const notes: string[] = [];
  const builder = spec.shape ? shapeBuilder(spec.shape) : BUILDERS[spec.kind];
  if (!builder)
    notes.push(`${spec.words}: nobody has drawn a '${spec.kind}' yet; a plain box of its size stands in.`);
  // What stands outside is far from faces: its light is kept for larger patches.
  const d = draft(
    upright(spec.at, (spec.turnDeg ?? 0) * DEG),
    kind === 'outside' ? OUTSIDE_PATCH_M : PATCH_M,
  );
  const made = new Map<string, Material>();
  const [w, deep, h] = spec.sizeM;
  const cover = spec.kind === 'sink-unit' ? coverOver(spec, others) : undefined;
  (builder ?? plainBox)({
    d,
    w,
    deep,
    h,
    slot: (part, usual, tone = 1) => {
      const told = (part === undefined ? undefined : spec.finishes?.[part]) ?? spec.finish;
      const finish = tone === 1 ? told : { ...told, reflectance: Math.min(0.92, told.reflectance * tone) };
      const key = `${JSON.stringify(finish)}|${JSON.stringify(usual)}`;
      let m = made.get(key);
      if (!m) {
        m = materialOf(finish, usual, {
          turnRad: (spec.turnDeg ?? 0) * DEG,
          atM: [spec.at[0], spec.at[1]],
        });
        made.set(key, m);
      }
      return slotOf(d, m);
    },
    detail: detailOf(spec),
    cuts: spec.kind === 'worktop' ? cutsOf(spec, others) : [],
    ...(cover === undefined ? {} : { coverM: cover }),
  });
  return {
    body: bodyOf(d, { id: `furniture:${spec.id}`, words: spec.words, kind, moving: false }),
    notes,
  };
}

/** All the things of a place. */
export function buildFurniture(
  specs: readonly FurnitureSpec[],
  kind: PartKind = 'furniture',
): { bodies: Body[]; notes: string[] } {
  const made = specs.map((s) => buildThing(s, specs, kind));
  return { bodies: made.map((m) => m.body), notes: made.flatMap((m) => m.notes) };
}

/** A point of `from` in the local frame of `to`. */
const local = (p: Vec3, of: FurnitureSpec): Vec3 =>
  turnZ([p[0] - of.at[0], p[1] - of.at[1], p[2] - of.at[2]], -(of.turnDeg ?? 0) * DEG);

const touches = (top: FurnitureSpec, sink: FurnitureSpec): boolean => {
  const gap = top.at[2] - (sink.at[2] + sink.sizeM[2]);
  const [x, y] = local(sink.at, top);
  return Math.abs(gap) < 0.06 && Math.abs(x) < top.sizeM[0] / 2 && Math.abs(y) < top.sizeM[1] / 2 + 0.1;
};

/** Bowls of the sinks under a worktop, as cuts in its own frame. */
function cutsOf(top: FurnitureSpec, others: readonly FurnitureSpec[]): Cut[] {
  const out: Cut[] = [];
  for (const sink of others) {
    if (sink.kind !== 'sink-unit' || !touches(top, sink)) continue;
    const [x0, y0, x1, y1] = bowlOf(sink.sizeM[0], sink.sizeM[1], detailOf(sink));
    const corners = [
      [x0, y0],
      [x1, y1],
    ].map(([x, y]) => {
      const t = turnZ([x!, y!, 0], (sink.turnDeg ?? 0) * DEG);
      return local([t[0] + sink.at[0], t[1] + sink.at[1], top.at[2]], top);
    });
    const [p, q] = corners as [Vec3, Vec3];
    const hw = top.sizeM[0] / 2 - 0.02;
    const hd = top.sizeM[1] / 2 - 0.02;
    const cut: Cut = [
      Math.max(-hw, Math.min(p[0], q[0])),
      Math.max(-hd, Math.min(p[1], q[1])),
      Math.min(hw, Math.max(p[0], q[0])),
      Math.min(hd, Math.max(p[1], q[1])),
    ];
    if (cut[2] > cut[0] && cut[3] > cut[1]) out.push(cut);
  }
  return out;
}

/** Height over the sink's foot of the worktop over it. */
function coverOver(sink: FurnitureSpec, others: readonly FurnitureSpec[]): number | undefined {
  const top = others.find((o) => o.kind === 'worktop' && touches(o, sink));
  return top ? top.at[2] + top.sizeM[2] - sink.at[2] : undefined;
}
