/** How far quick light is from paths, in stops: on the whole picture, on skin, within three pixels of shadow edges. */
import { SAMPLES } from '../../colour/spectrum.ts';
import type { TransportScene, View } from '../scene.ts';
import type { Hits, Tracer } from '../tracer.ts';
import { fieldOf, quickLayer, roomOf, sightOf } from './quick.ts';
import { pick, TAP_UNIT, TAPS } from './thin.ts';

export interface Miss {
  rmsStops: number;
  points: number;
}

/**
 * One layer of a 16 : 9 picture. `points` of each sort are compared, by `paths` paths and `samples` points on the
 * emitters. Skin: materials named so. What the point gets is direct and bounced light at 540 nm.
 */
export async function accuracy(
  tracer: Tracer,
  scene: TransportScene,
  view: View,
  layer: number,
  asked: { width: number; points: number; paths: number; samples: number; seed: number },
): Promise<{ whole: Miss; skin: Miss; edge: Miss }> {
  const { width, seed } = asked;
  const height = Math.round((width * 9) / 16);
  await tracer.load(scene);
  const room = await roomOf(tracer, scene.stage, { seed });
  const hits = await tracer.hits(view, width, height, { seed });
  const sight = await sightOf(tracer, room, view, hits, { seed });
  const lit = await fieldOf(tracer, room, scene.layers[layer]!, layer, { seed });
  const light = await quickLayer(tracer, room, sight, lit, { seed });
  const { coarse } = sight;
  const total = (i: number): number => {
    let bounced = 0;
    for (let t = i * TAPS; t < (i + 1) * TAPS; t++)
      bounced += (coarse.tapWeight[t]! / TAP_UNIT) * light.bounced[coarse.tap[t]! * SAMPLES + 5]!;
    return light.direct.diffuse[i]! + bounced;
  };
  const miss = async (all: number[]): Promise<Miss> => {
    const step = Math.max(1, all.length / asked.points);
    const some = Uint32Array.from(
      { length: Math.min(asked.points, all.length) },
      (_, k) => all[Math.floor(k * step)]!,
    );
    if (some.length === 0) return { rmsStops: 0, points: 0 };
    const at = pick(hits.points, some);
    const paths = await tracer.trace(at, { seed: seed + 1, paths: asked.paths, only: [layer] });
    const direct = await tracer.direct(at, layer, { seed: seed + 2, samples: asked.samples });
    let square = 0;
    let points = 0;
    some.forEach((i, k) => {
      const want = direct.diffuse[k]! + paths.layers[0]!.bounced[k * SAMPLES + 5]!;
      if (!(want > 0)) return;
      square += Math.log2(total(i) / want) ** 2;
      points++;
    });
    return { rmsStops: Math.sqrt(square / points), points };
  };
  const every = Array.from({ length: hits.points.count }, (_, i) => i);
  const open = await tracer.direct(hits.points, layer, { seed: seed + 3, samples: 4 });
  return {
    whole: await miss(every),
    skin: await miss(
      every.filter((i) => scene.stage.materials[hits.points.material[i]!]?.name.startsWith('skin')),
    ),
    edge: await miss(shadowEdges(hits, open.diffuse)),
  };
}

/** Points three pixels from which, on the same flat part, the direct light is less than a third, or three times more. */
function shadowEdges(hits: Hits, lux: Float32Array): number[] {
  const { width, height, pixelStart, part, points } = hits;
  const { normal } = points;
  const out: number[] = [];
  const alone = (p: number): boolean => pixelStart[p + 1]! - pixelStart[p]! === 1;
  for (let y = 3; y < height - 3; y++) {
    for (let x = 3; x < width - 3; x++) {
      const p = y * width + x;
      if (!alone(p)) continue;
      const i = pixelStart[p]!;
      for (const q of [p + 3, p - 3, p + 3 * width, p - 3 * width]) {
        if (!alone(q)) continue;
        const j = pixelStart[q]!;
        let dot = 0;
        for (let k = 0; k < 3; k++) dot += normal[i * 3 + k]! * normal[j * 3 + k]!;
        if (part[i] !== part[j] || dot < 0.95) continue;
        const [a, b] = [lux[i]!, lux[j]!];
        if (Math.max(a, b) > 1 && Math.min(a, b) < 0.3 * Math.max(a, b)) {
          out.push(i);
          break;
        }
      }
    }
  }
  return out;
}
