/** Heads never stand in their own light; doors, yokes, supports and flags are where they are told to be. */
import { expect, test } from 'vitest';
import { rngOf } from '../maths/sampling.ts';
import { add, cross, dot, length, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { bladeOf } from './doors.ts';
import { buildFlag, frameOfFlag } from './flag.ts';
import { frameOfHead, type HousingSpec } from './head.ts';
import { buildHead, yokeOf } from './lampbody.ts';
import { measure, meet } from './measure.ts';
import type { Body } from './stage.ts';
import { buildSupport } from './support.ts';

const next = rngOf(11);
const direction = (): Vec3 => {
  const z = 2 * next() - 1;
  const a = 2 * Math.PI * next();
  const r = Math.sqrt(1 - z * z);
  return [r * Math.cos(a), r * Math.sin(a), z];
};
function* points(b: Body): Generator<Vec3> {
  for (let v = 0; v < b.positions.length; v += 3)
    yield [b.positions[v]!, b.positions[v + 1]!, b.positions[v + 2]!];
}
const head = (over: Partial<HousingSpec>): HousingSpec => ({
  id: 'L1',
  words: 'lamp 1',
  kind: 'fresnel',
  at: [1.5, 4.5, 2.9],
  axis: normalize([0.8, -0.5, -0.3]),
  up: [0, 0, 1],
  faceRadiusM: 0.06,
  bodyDepthM: 0.22,
  bodyM: [0.21, 0.27],
  ...over,
});

test('no part of a flat-faced head comes nearer its plane than 2 mm, whichever way it looks or hangs', () => {
  for (let k = 0; k < 200; k++) {
    const round = k % 2 === 0;
    const kinds = ['fresnel', 'open-face', 'floodlight', 'panel', 'spot'] as const;
    const { faceRadiusM: _, ...rest } = head({});
    const s: HousingSpec = {
      ...rest,
      kind: kinds[k % 5]!,
      axis: k < 4 ? [0, 0, k % 2 ? 1 : -1] : direction(),
      ...(round ? { faceRadiusM: 0.04 + 0.1 * next() } : { faceM: [0.1 + next() * 0.2, 0.1 + next() * 0.2] }),
      bodyM: [0.2 + 0.2 * next(), 0.2 + 0.2 * next()],
      bodyDepthM: 0.05 + 0.3 * next(),
      hung: next() < 0.5,
    };
    for (const body of buildHead(s))
      expect(Math.max(...[...points(body)].map((p) => dot(sub(p, s.at), s.axis)))).toBeLessThan(-0.002);
  }
});

test('bulbs and tubes have only caps: their bodies leave the light free', () => {
  const bulb = head({ kind: 'bulb', faceRadiusM: 0.03, bodyDepthM: 0.11, axis: [0, 0, -1] });
  const [body] = buildHead(bulb);
  let met = 0;
  for (let k = 0; k < 2000; k++) {
    const way = direction();
    const hit = meet([body!], add(bulb.at, scale(way, 0.0301)), way);
    if (hit) met++;
    // Nothing in the front three quarters.
    if (dot(way, bulb.axis) > -0.5) expect(hit).toBeUndefined();
  }
  expect(met / 2000).toBeLessThan(0.1);
  for (const p of points(body!)) expect(length(sub(p, bulb.at))).toBeGreaterThan(0.032);

  const tube = head({ kind: 'tube', faceRadiusM: 0.013, faceM: [1.2, 0.026], bodyDepthM: 0.06 });
  const f = frameOfHead(tube);
  const [caps] = buildHead(tube);
  for (const p of points(caps!)) expect(Math.abs(dot(sub(p, tube.at), f.x))).toBeGreaterThan(0.602);
  expect(measure(caps!).hi).toBeDefined();
});

test('door blades hinge at the face’s edge and open by the angle told', () => {
  const doors = { top: 10, bottom: 40, left: 75, right: 0, lengthM: 0.12 };
  const s = head({ doors });
  const up: Record<string, Vec3> = { top: [0, 1, 0], bottom: [0, -1, 0], left: [-1, 0, 0], right: [1, 0, 0] };
  for (const which of ['top', 'bottom', 'left', 'right'] as const) {
    const [a, b, c, e] = bladeOf(s, doors, which);
    const hinge = scale(add(a, b), 0.5);
    const way = sub(scale(add(c, e), 0.5), hinge);
    expect(length(way)).toBeCloseTo(0.12, 9);
    expect((Math.acos(dot(normalize(way), [0, 0, 1])) * 180) / Math.PI).toBeCloseTo(doors[which], 5);
    expect(dot(hinge, up[which]!)).toBeCloseTo(0.066, 9);
    expect(dot(way, up[which]!)).toBeGreaterThanOrEqual(-1e-12);
  }
  const blades = buildHead(s)[1]!;
  expect(blades.part.kind).toBe('lamp-door');
  const m = measure(blades);
  expect(m.gapM2).toBeLessThan(1e-6);
  // Four trapezia 1.5 mm thick: upper and lower (0.12 + 0.15) / 2 × 0.12, sides (0.12 + 0.108) / 2 × 0.12.
  expect(m.volumeM3).toBeCloseTo(0.0015 * 0.12 * 2 * (0.135 + 0.114), 6);
  // Seen from the middle of the face, the upper blade at 10° cuts from the angle of its tip on.
  const f = frameOfHead(s);
  const cut = Math.atan2(0.066 + 0.12 * Math.sin(Math.PI / 18), 0.004 + 0.12 * Math.cos(Math.PI / 18));
  const ray = (angle: number): Vec3 => add(scale(f.z, Math.cos(angle)), scale(f.y, Math.sin(angle)));
  expect(meet([blades], s.at, ray(cut - 0.01))).toBeUndefined();
  expect(meet([blades], s.at, ray(cut + 0.02))).toBeDefined();
});

test('yokes hang upright and end where the support takes over', () => {
  const level = head({ axis: [1, 0, 0] });
  const below = yokeOf(level)!;
  expect(below.way[2]).toBeCloseTo(-1, 9);
  expect(below.foot[2]).toBeLessThan(level.at[2] - 0.135);
  expect(yokeOf(head({ axis: [1, 0, 0], hung: true }))!.foot[2]).toBeGreaterThan(level.at[2] + 0.135);
  expect(yokeOf(head({ kind: 'bulb' }))).toBeUndefined();
});

test('a stand reaches from its floor to its spigot and spreads to its foot', () => {
  const m = measure(
    buildSupport({
      id: 'L1',
      words: 'stand',
      kind: 'stand',
      top: [3.85, 3.05, 2],
      baseZ: -0.15,
      footM: 0.35,
    }),
  );
  expect(m.lo[2]).toBeCloseTo(-0.15, 3);
  expect(m.hi[2]).toBeCloseTo(2, 5);
  // One leg north, two south-east and south-west: reach 0.35 north, 0.35 × cos 60° south, ± 0.35 × sin 60°.
  expect(m.hi[1] - 3.05).toBeCloseTo(0.35, 2);
  expect(3.05 - m.lo[1]).toBeCloseTo(0.35 / 2, 1);
  expect(m.hi[0] - 3.85).toBeCloseTo(0.35 * Math.sin(Math.PI / 3), 1);
});

test('S13: a clamp’s drop pipe hangs 0.7 m under the tie beam', () => {
  const pipe = measure(
    buildSupport({
      id: 'L2',
      words: 'clamp',
      kind: 'clamp',
      top: [6.5, 4.5, 3.6],
      end: [6.5, 4.5, 3.05],
      grip: { widthM: 0.15, depthM: 0.2, along: [0, 1, 0] },
    }),
  );
  expect(pipe.lo[2]).toBeCloseTo(3.05, 4);
  expect(pipe.hi[2]).toBeCloseTo(3.8, 4);
  expect(pipe.hi[0] - pipe.lo[0]).toBeCloseTo(0.15 + 0.016, 3);
});

test('every support builds, ends where it should, and is small', () => {
  for (const s of [
    { kind: 'foot', base: [7, 2.6, 0.55], end: [7, 2.6, 0.63], widthM: 0.24, facing: [0, 1, 0] },
    { kind: 'wall', onto: [8.8, 5.3, 1.5], normal: [-0.7, -0.7, 0], end: [8.76, 5.26, 1.5] },
    { kind: 'hung', from: [2.3, 1.6, 2.4], end: [2.3, 1.6, 1.83] },
  ] as const) {
    const b = buildSupport({ id: 'x', words: 'x', ...s });
    const m = measure(b);
    expect(b.part).toMatchObject({ id: 'support:x', kind: 'support', moving: true });
    expect(b.material.length).toBeGreaterThan(5);
    for (let c = 0; c < 3; c++)
      expect(m.lo[c]! - 0.03 <= s.end[c]! && s.end[c]! <= m.hi[c]! + 0.03).toBe(true);
  }
});

test('S13: the velvet board edge-on to lamp 1 hides less than a centimetre from it', () => {
  const lamp: Vec3 = [1.5, 4.5, 2.9];
  const at: Vec3 = [4, 2.83, 2.32];
  const toward = normalize(sub(lamp, at));
  const facing = normalize(cross(toward, [0, 0, 1]));
  const [board] = buildFlag({ id: 'V', words: 'board', kind: 'board', at, facing, sizeM: [0.4, 0.4] });
  // Its shadow, seen along the lamp's direction: board thickness × height plus rounding.
  const widths = [...points(board!)].map((p) => dot(sub(p, at), facing));
  expect(Math.max(...widths) - Math.min(...widths)).toBeCloseTo(0.005, 5);
  const f = frameOfFlag({ id: '', words: '', kind: 'board', at, facing, sizeM: [0.4, 0.4] });
  expect(Math.abs(dot(f.z, toward))).toBeLessThan(1e-9);
  expect(measure(board!).areaM2).toBeCloseTo(2 * 0.16 + 4 * 0.4 * 0.005, 6);
  expect(board!.part.kind).toBe('flag');
});

test('nets and frames are sheets of their own size with a straight share; wire stays outside', () => {
  for (const [kind, straight] of [
    ['net-half', Math.SQRT1_2],
    ['net-full', 0.5],
    ['frame', 0.2],
  ] as const) {
    const [b] = buildFlag({
      id: 'N',
      words: 'n',
      kind,
      at: [1, 2, 1.5],
      facing: [0.3, 1, -0.2],
      sizeM: [0.6, 0.45],
      ...(kind === 'frame' ? { straight } : {}),
    });
    expect(b!.part.kind).toBe('sheet');
    const k = b!.materials.findIndex((m) => m.kind === 'sheet');
    expect(b!.materials[k]!.straight).toBeCloseTo(straight, 6);
    let area = 0;
    for (let t = 0; t < b!.material.length; t++)
      if (b!.material[t] === k)
        area += measure({
          ...b!,
          indices: b!.indices.slice(t * 3, t * 3 + 3),
          material: b!.material.slice(t, t + 1),
          patch: b!.patch.slice(t, t + 1),
        }).areaM2;
    expect(area).toBeCloseTo(0.27, 6);
  }
});
