/** Patches of a stage as the bounce field needs them: how large, and what they reflect at the 12 wavelengths. */
import { atSamples, SAMPLES } from '../colour/spectrum.ts';
import type { Stage } from '../stage/stage.ts';
import { trianglesOfPatches } from './points.ts';

export interface Patches {
  count: number;
  /** m². */
  area: Float32Array;
  /** count × 12, 0–1; zero for what is not opaque. */
  reflectance: Float32Array;
}

export function patchesOf(stage: Stage): Patches {
  const count = stage.patchCount;
  const area = new Float32Array(count);
  const reflectance = new Float32Array(count * SAMPLES);
  const byMaterial = stage.materials.map((m) => (m.kind === 'opaque' ? atSamples(m.reflectance) : undefined));
  const triangles = trianglesOfPatches(stage);
  for (let p = 0; p < count; p++) {
    let before = 0;
    for (let k = triangles.start[p]!; k < triangles.start[p + 1]!; k++) {
      const a = triangles.areaTo[k]! - before;
      before = triangles.areaTo[k]!;
      area[p]! += a;
      const r = byMaterial[stage.material[triangles.triangle[k]!]!];
      if (r) for (let i = 0; i < SAMPLES; i++) reflectance[p * SAMPLES + i]! += a * r[i]!;
    }
    if (area[p]! > 0) for (let i = 0; i < SAMPLES; i++) reflectance[p * SAMPLES + i]! /= area[p]!;
  }
  return { count, area, reflectance };
}
