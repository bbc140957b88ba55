/** What lamps may hang from: beams, rails, pipes, tops of cupboards. */
import { cross, length, normalize, sub, type Vec3 } from '../maths/vec3.ts';
import { box, cylinder } from './build.ts';
import { type FinishSpec, materialOf } from './finish.ts';
import { bodyOf, draft, slotOf } from './mesh.ts';
import type { Body, PartKind } from './stage.ts';

/** A thing lamps may hang from, as told. */
export interface RiggingSpec {
  id: string;
  words: string;
  kind: 'beam' | 'rail' | 'pipe' | 'cupboard' | 'gantry';
  /** Middle line of its lower face, metres. */
  from: Vec3;
  to: Vec3;
  widthM: number;
  depthM: number;
  finish: FinishSpec;
}

/** Its body: part `rigging:<id>`, still. */
export function buildRigging(spec: RiggingSpec, kind: PartKind = 'furniture'): Body {
  const along = sub(spec.to, spec.from);
  const l = length(along);
  const y = normalize(along);
  // x to the side and level, z as far up as may be.
  let x = cross(y, [0, 0, 1]);
  if (length(x) < 1e-6) x = [1, 0, 0];
  x = normalize(x);
  const d = draft({ origin: spec.from, x, y, z: cross(x, y) });
  const s = slotOf(d, materialOf(spec.finish));
  if (spec.kind === 'pipe') {
    const r = spec.widthM / 2;
    cylinder(d, [0, 0, r], [0, l, r], r, s);
  } else box(d, [-spec.widthM / 2, 0, 0], [spec.widthM / 2, l, spec.depthM], s);
  return bodyOf(d, { id: `rigging:${spec.id}`, words: spec.words, kind, moving: false });
}
