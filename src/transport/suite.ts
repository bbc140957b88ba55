/**
 * The acceptance suite of every tracer: laws of light with a stated chance of a false alarm (judge.ts), planted
 * faults that must be noticed, and what a camera sees, exactly. Called from tests: `describeTracer('plain', plainTracer)`.
 */
import { describe, expect, test } from 'vitest';
import { constant } from '../colour/spectrum.ts';
import { glassReflectance } from '../light/glass.ts';
import type { Material } from '../stage/stage.ts';
import { boxQuads, lamp, matte, probeAt, stageOf } from './box.ts';
import type { Tape } from './faults.ts';
import { FAULTS, faulty, isOutside, recording, replaying } from './faults.ts';
import type { Comparison, Law } from './judge.ts';
import { judge, LEAST_BATCHES, MOST_COMPARISONS } from './judge.ts';
import { LAWS } from './laws.ts';
import type { Emitter, TransportScene, View } from './scene.ts';
import type { Tracer } from './tracer.ts';

/** The comparisons that fail, in words. */
export function failures(comparisons: readonly Comparison[]): string[] {
  return comparisons.flatMap((c) => {
    const { holds, mean, error, surprise } = judge(c);
    return holds
      ? []
      : [
          `${c.what}: ${mean} ± ${error}, should be ${c.expected} (${c.source}); p = ${surprise.toExponential(1)}`,
        ];
  });
}

/** Makes the tests. `seeds`: one for everyday runs, twenty for the long ones. `faults`: plant them too. */
export function describeTracer(
  name: string,
  make: () => Tracer,
  { seeds = [1], faults = true }: { seeds?: readonly number[]; faults?: boolean } = {},
): void {
  const tapes = new Map<Law, Tape>();
  describe(`tracer ${name} keeps the laws`, () => {
    let made = 0;
    for (const law of LAWS) {
      test(law.name, async () => {
        const tape: Tape = [];
        const tracer = faults ? recording(make(), tape) : make();
        tapes.set(law, tape);
        for (const seed of seeds) {
          const comparisons = await law.run(tracer, seed);
          made += comparisons.length / seeds.length;
          for (const c of comparisons) expect(c.batches.length).toBeGreaterThanOrEqual(LEAST_BATCHES);
          expect(failures(comparisons)).toEqual([]);
        }
        tracer.dispose();
      });
    }
    test('there are no more comparisons than the stated chance of a false alarm allows', () => {
      expect(made).toBeGreaterThan(0);
      expect(made).toBeLessThanOrEqual(MOST_COMPARISONS);
    });
  });

  if (faults) {
    describe(`tracer ${name} with a planted fault is caught`, () => {
      for (const fault of FAULTS) {
        test(fault.what, async () => {
          // The laws ran above: where the fault spoils only answers, spoil those.
          const tape = tapes.get(fault.law);
          const honest = tape?.length && isOutside(fault) ? replaying(make(), tape) : make();
          const tracer = faulty(honest, fault);
          expect(failures(await fault.law.run(tracer, seeds[0]!))).not.toEqual([]);
          tracer.dispose();
        });
      }
    });
  }

  describe(`tracer ${name}: what a camera sees`, () => {
    const W = 8;
    const H = 6;
    const view: View = {
      eye: [2, 0.5, 1.5],
      forward: [0, 1, 0],
      right: [1, 0, 0],
      up: [0, 0, 1],
      tanH: 0.8,
      tanV: 0.6,
    };
    const room = boxQuads([0, 0, 0], [4, 4, 3], 'in', matte(0.5), 1);
    /** Direction of the ray through the middle of a pixel, row 0 at the top. */
    const ray = (x: number, y: number): [number, number, number] => {
      const d: [number, number, number] = [
        0.8 * ((2 * (x + 0.5)) / W - 1),
        1,
        0.6 * (1 - (2 * (y + 0.5)) / H),
      ];
      const l = Math.hypot(...d);
      return [d[0] / l, d[1] / l, d[2] / l];
    };
    /** Distance to the box's inside, by the slabs. */
    const toBox = (from: readonly number[], d: readonly number[]): number =>
      Math.min(
        ...[4, 4, 3].map((size, i) =>
          d[i]! > 0 ? (size - from[i]!) / d[i]! : d[i]! < 0 ? -from[i]! / d[i]! : Infinity,
        ),
      );
    const look = async (scene: TransportScene, samples?: number) => {
      const tracer = make();
      await tracer.load(scene);
      const hits = await tracer.hits(view, W, H, { seed: 1, ...(samples ? { samples } : {}) });
      expect(tracer.rays.camera).toBeGreaterThanOrEqual(W * H);
      tracer.dispose();
      return hits;
    };

    test('a room: one point a pixel where nothing changes, depth, normal and place right', async () => {
      const hits = await look({ stage: stageOf(room), layers: [] }, 1);
      expect([...hits.pixelStart]).toEqual(Array.from({ length: W * H + 1 }, (_, i) => i));
      for (let y = 0; y < H; y++) {
        for (let x = 0; x < W; x++) {
          const p = y * W + x;
          const d = ray(x, y);
          const t = toBox(view.eye, d);
          expect(hits.weight[p]).toBe(1);
          expect(hits.depth[p]).toBeCloseTo(t, 4);
          for (let k = 0; k < 3; k++) {
            expect(hits.points.position[p * 3 + k]).toBeCloseTo(view.eye[k]! + t * d[k]!, 3);
            expect(hits.points.toEye[p * 3 + k]).toBeCloseTo(-d[k]!, 5);
          }
          const facing = [0, 1, 2].reduce((sum, k) => sum - hits.points.normal[p * 3 + k]! * d[k]!, 0);
          expect(facing).toBeGreaterThan(0);
        }
      }
    });

    test('silhouettes hold several points, whose weights add up to the pixel', async () => {
      const crate = boxQuads([1.6, 2, 1], [2.1, 2.5, 1.4], 'out', matte(0.2), 1, 'furniture:crate');
      const hits = await look({ stage: stageOf([...room, ...crate]), layers: [] });
      let many = 0;
      for (let p = 0; p < W * H; p++) {
        const [from, to] = [hits.pixelStart[p]!, hits.pixelStart[p + 1]!];
        if (to - from > 1) many++;
        expect(hits.weight.slice(from, to).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 6);
      }
      expect(many).toBeGreaterThan(4);
      expect(hits.points.count).toBe(hits.pixelStart[W * H]);
      const parts = new Set(hits.part);
      expect(parts.size).toBeGreaterThan(3);
    });

    test('with jitter every pixel holds its rays, strewn over it', async () => {
      const tracer = make();
      await tracer.load({ stage: stageOf(room), layers: [] });
      const hits = await tracer.hits(view, W, H, { seed: 2, samples: 3, jitter: true });
      tracer.dispose();
      expect([...hits.pixelStart]).toEqual(Array.from({ length: W * H + 1 }, (_, i) => 3 * i));
      for (let i = 0; i < hits.points.count; i++) {
        expect(hits.weight[i]).toBeCloseTo(1 / 3, 6);
        // Where the ray crossed the frame, in pixels.
        const [dx, dy, dz] = [0, 1, 2].map((k) => -hits.points.toEye[i * 3 + k]!) as [number, number, number];
        const x = ((dx / dy / 0.8 + 1) / 2) * W;
        const y = ((1 - dz / dy / 0.6) / 2) * H;
        expect(Math.floor(y) * W + Math.floor(x)).toBe(Math.floor(i / 3));
      }
    });

    const mirror: Material = { name: 'mirror', reflectance: constant(0.8), kind: 'mirror' };
    const glass: Material = { name: 'pane', reflectance: constant(0), kind: 'glass' };
    const across = (material: Material) =>
      stageOf([
        ...room,
        {
          corner: [0, 2, 0] as const,
          sideU: [4, 0, 0] as const,
          sideV: [0, 0, 3] as const,
          material,
          part: 'across',
        },
      ]);
    const bulb: Emitter = {
      shape: { kind: 'sphere', centre: [2, 3, 1.5], axis: [0, 0, -1], up: [0, 1, 0], radiusM: 0.9 },
      beam: { kind: 'isotropic', cd: 700 },
    };
    const L = 700 / (Math.PI * 0.9 ** 2);

    test('in a mirror: the image, as far as the light has come, dimmed', async () => {
      const hits = await look({ stage: across(mirror), layers: [] }, 1);
      const p = 2 * W + 3;
      const d = ray(3, 2);
      const toMirror = 1.5 / d[1];
      const at = view.eye.map((e, k) => e + toMirror * d[k]!);
      const back = [d[0], -d[1], d[2]];
      expect(hits.depth[p]).toBeCloseTo(toMirror + toBox(at, back), 4);
      expect(hits.weight[p]).toBeCloseTo(0.8, 6);
      expect(hits.points.toEye[p * 3 + 1]).toBeCloseTo(d[1], 5);
    });

    test('through a pane: what is behind and what is mirrored, by angle [CHECKS-LIGHT §1.4]', async () => {
      const hits = await look({ stage: across(glass), layers: [lamp('bulb', bulb)] }, 1);
      const p = 2 * W + 3;
      const d = ray(3, 2);
      const [from, to] = [hits.pixelStart[p]!, hits.pixelStart[p + 1]!];
      expect(to - from).toBe(2);
      const order = hits.depth[from]! < hits.depth[from + 1]! ? [from, from + 1] : [from + 1, from];
      // Depths: back wall straight on, south wall by way of the pane.
      const straight = toBox(view.eye, d);
      const at = view.eye.map((e, k) => e + (1.5 / d[1]) * d[k]!);
      const mirrored = 1.5 / d[1] + toBox(at, [d[0], -d[1], d[2]]);
      expect(hits.depth[order[0]!]).toBeCloseTo(Math.min(straight, mirrored), 4);
      expect(hits.depth[order[1]!]).toBeCloseTo(Math.max(straight, mirrored), 4);
      // The rays here meet the pane within 13° of square: 0.8815 to 0.8808.
      const weights = [hits.weight[from]!, hits.weight[from + 1]!].sort((a, b) => a - b);
      expect(weights[1]).toBeGreaterThan(0.8807);
      expect(weights[1]).toBeLessThan(0.8816);
      expect(weights[0]).toBeCloseTo(glassReflectance(d[1]), 6);
      const i = hits.glow.pixel.indexOf(p);
      expect(hits.glow.luminance[i]! / L).toBeCloseTo(weights[1]!, 5);
    });

    test('an emitter glows with its luminance, and not through a wall', async () => {
      const open = await look(
        { stage: stageOf(room), layers: [lamp('other', { ...bulb, gain: 0 }), lamp('bulb', bulb)] },
        1,
      );
      const p = 2 * W + 3;
      const i = open.glow.pixel.indexOf(p);
      expect(open.glow.luminance[i]! / L).toBeCloseTo(1, 5);
      expect(open.glow.layer[i]).toBe(1);
      const shut = await look({ stage: across(matte(0.5)), layers: [lamp('bulb', bulb)] }, 1);
      expect(shut.glow.pixel.length).toBe(0);
    });
  });

  describe(`tracer ${name} behaves`, () => {
    const stage = stageOf(boxQuads([0, 0, 0], [4, 4, 3], 'in', matte(0.5), 1), 'behave');
    const bulb: Emitter = {
      shape: { kind: 'sphere', centre: [2, 2, 2], axis: [0, 0, -1], up: [0, 1, 0], radiusM: 0.1 },
      beam: { kind: 'isotropic', cd: 100 },
    };
    const scene: TransportScene = { stage, layers: [lamp('bulb', bulb)] };
    const at = probeAt([
      [
        [1, 1, 0.5],
        [0, 0, 1],
      ],
      [
        [3, 1, 0.5],
        [0.6, 0, 0.8],
      ],
    ]);

    test('the same seed gives the same numbers, another seed others', async () => {
      const run = async (seed: number) => {
        const tracer = make();
        await tracer.load(scene);
        const { layers } = await tracer.trace(at, { seed, paths: 8 });
        const links = await tracer.links(at, 16, { seed });
        tracer.dispose();
        return JSON.stringify([[...layers[0]!.bounced], [...layers[0]!.direct.diffuse], [...links]]);
      };
      const first = await run(7);
      expect(await run(7)).toBe(first);
      expect(await run(8)).not.toBe(first);
    });

    test('paths go on where they stopped', async () => {
      const tracer = make();
      await tracer.load(scene);
      const run = async (paths: number, begun: number) =>
        (await tracer.trace(at, { seed: 3, paths, begun })).layers[0]!;
      const [whole, first, rest] = [await run(24, 0), await run(8, 0), await run(16, 8)];
      for (let p = 0; p < at.count; p++) {
        const sum = (a: number, b: number): number => (a * 8 + b * 16) / 24;
        const direct = sum(first.direct.diffuse[p]!, rest.direct.diffuse[p]!);
        expect(direct / whole.direct.diffuse[p]!).toBeCloseTo(1, 5);
        const bounced = sum(first.bounced[p * 12]!, rest.bounced[p * 12]!);
        expect(bounced / whole.bounced[p * 12]!).toBeCloseTo(1, 5);
      }
      tracer.dispose();
    });

    test('rays are counted by kind', async () => {
      const tracer = make();
      await tracer.load(scene);
      expect({ ...tracer.rays }).toEqual({ camera: 0, shadow: 0, bounce: 0, link: 0 });
      await tracer.direct(at, 0, { seed: 1, samples: 10 });
      expect({ ...tracer.rays }).toEqual({ camera: 0, shadow: 20, bounce: 0, link: 0 });
      await tracer.links(at, 10, { seed: 1 });
      expect({ ...tracer.rays }).toEqual({ camera: 0, shadow: 20, bounce: 0, link: 20 });
      tracer.dispose();
    });

    test('a cancelled call stops with an AbortError', async () => {
      const tracer = make();
      await tracer.load(scene);
      const signal = { aborted: true };
      await expect(tracer.trace(at, { seed: 1, paths: 4, signal })).rejects.toMatchObject({
        name: 'AbortError',
      });
      await expect(tracer.direct(at, 0, { seed: 1, samples: 4, signal })).rejects.toMatchObject({
        name: 'AbortError',
      });
      tracer.dispose();
    });
  });
}
