/** What the meters in an angle read: direct light first, then bounced, then unbiased paths. */

import type { WhiteBalance } from '../../camera/whitebalance.ts';
import { balanceOf } from '../../readings/balance.ts';
import { lightOnFaces } from '../../readings/faces.ts';
import { type Measured, probePlan } from '../../readings/measure.ts';
import { probeLinks, quickProbes } from '../../transport/quick/quick.ts';
import { pick } from '../../transport/quick/thin.ts';
import type { AbortSignalLike, SurfacePoints } from '../../transport/tracer.ts';
import { fieldOf, roomFor } from './field.ts';
import { metersKeyOf } from './keys.ts';
import { load, type Means, SEED } from './means.ts';
import type { Meters, Shown } from './shown.ts';

/** Direct light at the meters: a few thousand rays. Bounced light stays what it was where that fits. */
export async function meterDirect(on: Means, s: Shown, signal: AbortSignalLike): Promise<boolean> {
  const key = metersKeyOf(s);
  if (s.meters?.key === key) return false;
  const plan = probePlan(s.geometry);
  const { layers, stage } = s.geometry.transport;
  await load(on, s);
  const before = s.meters;
  const n = plan.points.count;
  const direct = { seed: SEED, signal, samples: 48 };
  const made: Meters['layers'] = [];
  // Of light that stands as it stood only those meters that were moved are held again.
  const shapeKey = stage.shapeKey;
  const same = before?.shapeKey === shapeKey && before.plan.points.count === n;
  const held = same ? movedPoints(before.plan.points, plan.points) : undefined;
  const points = held && pick(plan.points, held);
  for (let l = 0; l < layers.length; l++) {
    const old = before?.layers[l];
    let diffuse: Float32Array;
    if (old && held && points && before.layerKeys[l] === layers[l]!.key) {
      diffuse = old.direct.slice();
      const again = held.length ? (await on.tracer.direct(points, l, direct)).diffuse : [];
      for (let i = 0; i < held.length; i++) diffuse[held[i]!] = again[i]!;
    } else diffuse = (await on.tracer.direct(plan.points, l, direct)).diffuse;
    made.push({
      direct: diffuse,
      bounced: old && old.bounced.length === 12 * n ? old.bounced : new Float32Array(12 * n),
    });
  }
  s.meters = {
    key,
    plan,
    shapeKey,
    links: undefined,
    faces: undefined,
    layers: made,
    layerKeys: layers.map((l) => l.key),
    bouncedKey: before?.bouncedKey && made.length === before.layers.length ? 'older' : undefined,
    paths: 0,
    noise: 0.3,
    variance: layers.map(() => new Float64Array(n)),
  };
  return true;
}

/** Numbers of the points that are not where they were, or look another way. */
function movedPoints(before: SurfacePoints, now: SurfacePoints): Uint32Array {
  const out: number[] = [];
  for (let i = 0; i < now.count; i++)
    for (let x = 3 * i; x < 3 * i + 3; x++)
      if (now.position[x] !== before.position[x] || now.normal[x] !== before.normal[x]) {
        out.push(i);
        break;
      }
  return Uint32Array.from(out);
}

/** Direct light all over the faces that the angle sees: some ten thousand rays, once the hand rests. */
export async function meterFaces(on: Means, s: Shown, signal: AbortSignalLike): Promise<boolean> {
  const m = s.meters;
  if (!m || m.faces) return false;
  await load(on, s);
  m.faces = await lightOnFaces(
    on.tracer,
    s.geometry,
    s.geometry.marks.map((mark) => mark.id),
    { seed: SEED, samples: 4, signal },
  );
  return true;
}

/** Bounced light at the meters by the quick field; false where it is there already. */
export async function meterBounced(on: Means, s: Shown, signal: AbortSignalLike): Promise<boolean> {
  const m = s.meters;
  const key = `${m?.key}|${s.geometry.transport.stage.key}`;
  if (!m || m.bouncedKey === key) return false;
  await load(on, s);
  const room = await roomFor(on, s, signal);
  await load(on, s);
  if (m.links?.room.links !== room.links)
    m.links = { room, to: await probeLinks(on.tracer, room, m.plan.points, { seed: SEED, signal }) };
  for (let l = 0; l < m.layers.length; l++) {
    const field = await fieldOf(on, s, l, signal);
    const { bounced } = await quickProbes(
      on.tracer,
      room,
      m.plan.points,
      m.links.to,
      l,
      field,
      { seed: SEED, signal },
      0,
    );
    m.layers[l]!.bounced = bounced;
  }
  m.bouncedKey = key;
  // Paths so far were of other colours.
  m.paths = 0;
  return true;
}

/** Unbiased paths from the meters: from here on the readings are no longer the quick ones. */
export async function meterPaths(on: Means, s: Shown, signal: AbortSignalLike): Promise<void> {
  const m = s.meters!;
  const n = m.plan.points.count;
  await load(on, s);
  const add = m.paths < 64 ? 64 : Math.min(512, m.paths);
  const e = await on.tracer.trace(m.plan.points, { seed: SEED, signal, paths: add, begun: m.paths });
  if (m.paths === 0) {
    for (let l = 0; l < m.layers.length; l++) {
      const d = await on.tracer.direct(m.plan.points, l, { seed: SEED + 5, signal, samples: 144 });
      m.layers[l] = { direct: d.diffuse, bounced: new Float32Array(12 * n) };
    }
  }
  e.layers.forEach((layer, l) => {
    const sum = m.layers[l]!.bounced;
    const variance = m.variance[l]!;
    const all = m.paths + add;
    for (let i = 0; i < sum.length; i++) sum[i] = (sum[i]! * m.paths + layer.bounced[i]! * add) / all;
    for (let i = 0; i < n; i++)
      variance[i] = (variance[i]! * m.paths ** 2 + layer.variance[i]! * add ** 2) / all ** 2;
  });
  m.paths += add;
  // Typical noise of the sums as they are weighed now.
  const noises: number[] = [];
  for (let i = 0; i < n; i++) {
    let sum = 0;
    let v = 0;
    s.weighed.weights.layers.forEach((w, l) => {
      const k = w.white[1];
      sum += k * (m.layers[l]!.direct[i]! + m.layers[l]!.bounced[12 * i + 5]!);
      v += k * k * m.variance[l]![i]!;
    });
    if (sum > 1e-6) noises.push(Math.sqrt(v) / sum / Math.LN2);
  }
  noises.sort((a, b) => a - b);
  m.noise = noises.length ? noises[noises.length >> 1]! : 0;
}

export function measuredOf(s: Shown): Measured | undefined {
  const m = s.meters;
  if (!m || m.layers.length !== s.geometry.transport.layers.length) return undefined;
  return {
    plan: m.plan,
    layers: m.layers,
    ...(m.faces ? { faces: m.faces } : {}),
    quick: m.paths === 0,
    noiseStops: m.paths === 0 ? 0.1 : m.noise,
  };
}

export function balanceFor(s: Shown): WhiteBalance {
  return balanceOf(s.geometry, s.weighed.weights, measuredOf(s)).balance;
}
