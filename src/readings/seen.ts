/** What an angle sees of each thing, from its first hits: occlusion, panes and mirrors included. */
import type { Vec3 } from '../maths/vec3.ts';
import { onFrame } from '../setup/view.ts';
import type { Stage } from '../stage/stage.ts';
import type { View } from '../transport/scene.ts';
import type { Hits } from '../transport/tracer.ts';

export interface SeenPart {
  /** Share of the frame it covers, 0–1. */
  share: number;
  /** Its bounds on the frame, 0–1 from the left and from the top. */
  left: number;
  top: number;
  right: number;
  bottom: number;
}

const known = new WeakMap<Hits, ReadonlyMap<number, SeenPart>>();
/** By part number; parts not seen are absent. Kept as long as the hits: readings are asked far oftener than those. */
export function seenParts(hits: Hits): ReadonlyMap<number, SeenPart> {
  let found = known.get(hits);
  if (!found) {
    found = countedParts(hits);
    known.set(hits, found);
  }
  return found;
}

function countedParts(hits: Hits): Map<number, SeenPart> {
  const seen = new Map<number, SeenPart>();
  const { width, height, pixelStart, weight, part } = hits;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const p = y * width + x;
      for (let h = pixelStart[p]!; h < pixelStart[p + 1]!; h++) {
        // Less than a fiftieth of the pixel (a ghost in a pane) is not counted as being seen.
        if (weight[h]! < 0.02) continue;
        let s = seen.get(part[h]!);
        if (!s) {
          s = { share: 0, left: 1, top: 1, right: 0, bottom: 0 };
          seen.set(part[h]!, s);
        }
        s.share += weight[h]!;
        s.left = Math.min(s.left, x / width);
        s.top = Math.min(s.top, y / height);
        s.right = Math.max(s.right, (x + 1) / width);
        s.bottom = Math.max(s.bottom, (y + 1) / height);
      }
    }
  }
  for (const s of seen.values()) s.share /= width * height;
  return seen;
}

/**
 * Where a part of the stage lies on the frame if nothing stands before it and no mirror shows it: bounds of its corners
 * before the lens, 0–1 from the left and from the top, beyond the edges too; undefined: all of it is behind.
 */
export function partOnFrame(
  stage: Pick<Stage, 'positions' | 'indices' | 'part'>,
  view: View,
  part: number,
): Omit<SeenPart, 'share'> | undefined {
  const box = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity };
  const { positions: P, indices } = stage;
  for (let t = 0; t < stage.part.length; t++) {
    if (stage.part[t] !== part) continue;
    for (let k = 0; k < 3; k++) {
      const v = 3 * indices[3 * t + k]!;
      const f = onFrame(view, [P[v]!, P[v + 1]!, P[v + 2]!]);
      if (!(f.depthM > 0.01)) continue;
      box.left = Math.min(box.left, (f.x + 1) / 2);
      box.right = Math.max(box.right, (f.x + 1) / 2);
      box.top = Math.min(box.top, (1 - f.y) / 2);
      box.bottom = Math.max(box.bottom, (1 - f.y) / 2);
    }
  }
  return box.left <= box.right ? box : undefined;
}

/** Share of the frame in which each layer's emitters are seen themselves, and their greatest luminance. */
export function seenGlow(hits: Hits): Map<number, { share: number; luminance: number }> {
  const out = new Map<number, { share: number; luminance: number }>();
  const { pixel, layer, luminance } = hits.glow;
  for (let i = 0; i < pixel.length; i++) {
    const g = out.get(layer[i]!) ?? { share: 0, luminance: 0 };
    g.share += 1 / (hits.width * hits.height);
    g.luminance = Math.max(g.luminance, luminance[i]!);
    out.set(layer[i]!, g);
  }
  return out;
}

/** Whether a point on a surface is seen: in frame, and nothing nearer at its pixel (5 cm or 3 % allowed). */
export function pointSeen(view: View, hits: Hits, at: Vec3): boolean {
  const f = onFrame(view, at);
  if (!(f.depthM > 0 && Math.abs(f.x) < 1 && Math.abs(f.y) < 1)) return false;
  const x = Math.min(hits.width - 1, Math.floor(((f.x + 1) / 2) * hits.width));
  const y = Math.min(hits.height - 1, Math.floor(((1 - f.y) / 2) * hits.height));
  const ray = Math.hypot(at[0] - view.eye[0], at[1] - view.eye[1], at[2] - view.eye[2]);
  const p = y * hits.width + x;
  for (let h = hits.pixelStart[p]!; h < hits.pixelStart[p + 1]!; h++)
    if (hits.depth[h]! > ray - Math.max(0.05, 0.03 * ray)) return true;
  return false;
}
