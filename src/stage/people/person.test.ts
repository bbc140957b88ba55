/** People: what the data holds, how the figures measure, where they stand. Sources: [CHECKS-CAMERA §4.2, §4.3]. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Vec3 } from '../../maths/vec3.ts';
import { decodePeople } from './decode.ts';
import { POINT_VERTEX } from './facePoints.ts';
import { buildPerson, type PersonMesh, type PersonSpec, shapeOf } from './person.ts';

const bytes = readFileSync(new URL('../../../data/people/people.bin', import.meta.url));
const data = decodePeople(bytes);
const base: PersonSpec = {
  person: 'man-34',
  posture: 'standing',
  at: [2, -1, 0.2],
  facingDeg: 30,
  eyeHeightM: 1.8,
  detail: 'near',
};
const IDS = data.people.map((p) => p.id);
const GROWN = IDS.filter((id) => id !== 'boy-8');

const body = (id: string, v: number): Vec3 => {
  const b = shapeOf(data, id).body;
  return [b[3 * v]!, b[3 * v + 1]!, b[3 * v + 2]!];
};
const lowest = (m: PersonMesh) => {
  let low = Number.POSITIVE_INFINITY;
  const used = new Set(m.indices);
  for (const v of used) low = Math.min(low, m.positions[3 * v + 2]!);
  return low;
};
const gap = (a: Vec3, b: Vec3) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** Middle between the eyeballs' centres, from the fronts of the corneas and the way they look. */
function eyesMiddle(m: PersonMesh, id: string): Vec3 {
  const [l, r] = shapeOf(data, id).eyes as [
    { centre: number[]; radiusM: number },
    { centre: number[]; radiusM: number },
  ];
  const size = gap(m.points.eyeL.position, m.points.eyeR.position) / Math.abs(l.centre[0]! - r.centre[0]!);
  const back = (p: { position: Vec3; normal: Vec3 }, radius: number) =>
    [0, 1, 2].map((k) => p.position[k]! - p.normal[k]! * radius * 1.075 * size);
  const a = back(m.points.eyeL, l.radiusM);
  const b = back(m.points.eyeR, r.radiusM);
  return [0, 1, 2].map((k) => (a[k]! + b[k]!) / 2) as unknown as Vec3;
}

test('the file holds eight grown people and a child on one topology', () => {
  expect(GROWN).toHaveLength(8);
  expect(IDS).toHaveLength(9);
  expect(data.quads).toHaveLength(4 * 13378);
  expect(data.mirror).toHaveLength(13380);
  for (const p of data.people) {
    expect(p.body).toHaveLength(3 * 13380);
    expect(p.joints.length).toBe(3 * (data.bones.length + data.markers.length));
  }
  let uneven = 0;
  for (let v = 0; v < 13380; v++) {
    if ([0, 1, 2, 3].reduce((s, k) => s + data.bodyAmounts[4 * v + k]!, 0) !== 255) uneven++;
  }
  expect(uneven).toBe(0);
  expect(() => decodePeople(new Uint8Array([1, 2, 3, 4, 5, 6, 7, 8, 9]))).toThrow(/people file/);
});

test('the common topology is mirror-symmetric, and so are joints and eyes', () => {
  const key = (q: number[]) =>
    q
      .slice()
      .sort((a, b) => a - b)
      .join();
  const quads = new Set<string>();
  for (let f = 0; f < data.quads.length; f += 4) quads.add(key([...data.quads.subarray(f, f + 4)]));
  let odd = 0;
  for (let f = 0; f < data.quads.length; f += 4)
    if (!quads.has(key([...data.quads.subarray(f, f + 4)].map((v) => data.mirror[v]!)))) odd++;
  expect(odd).toBe(0);
  for (const p of data.people) {
    data.bones.forEach((b, i) => {
      if (!b.name.endsWith('.L')) return;
      const j = data.boneNumber[b.name.replace('.L', '.R')]!;
      expect(Math.abs(p.joints[3 * i]! + p.joints[3 * j]!)).toBeLessThan(0.001);
      expect(Math.abs(p.joints[3 * i + 2]! - p.joints[3 * j + 2]!)).toBeLessThan(0.001);
    });
    expect(Math.abs(p.eyes[0]!.centre[0]! + p.eyes[1]!.centre[0]!)).toBeLessThan(0.0005);
  }
});

test.each(GROWN)('%s: head length, pupils and nose are those of a head', (id) => {
  // Head length medians 195 mm men, 180 mm women [CHECKS-CAMERA §4.3]; pupils 63 mm (from memory, adults 54–74).
  const p = shapeOf(data, id);
  const head = data.boneNumber.head!;
  let back = Number.NEGATIVE_INFINITY;
  for (let v = 0; v < 13380; v++) {
    let w = 0;
    for (let k = 0; k < 4; k++) if (data.bodyBones[4 * v + k] === head) w += data.bodyAmounts[4 * v + k]!;
    if (w > 200 && p.body[3 * v + 2]! > p.eyes[0]!.centre[2]! - 0.02)
      back = Math.max(back, p.body[3 * v + 1]!);
  }
  const length = back - body(id, POINT_VERTEX.glabella)[1];
  const median = id.startsWith('man') ? 0.195 : 0.18;
  expect(Math.abs(length - median)).toBeLessThan(0.01);
  const pupils = p.eyes[0]!.centre[0]! - p.eyes[1]!.centre[0]!;
  expect(pupils).toBeGreaterThan(0.056);
  expect(pupils).toBeLessThan(0.07);
  // The nose stands 18–22 mm out typically [CHECKS-CAMERA §4.2, from memory]; flatter noses exist.
  const nose = body(id, POINT_VERTEX.noseBase)[1] - body(id, POINT_VERTEX.noseTip)[1];
  expect(nose).toBeGreaterThan(0.011);
  expect(nose).toBeLessThan(0.023);
});

test.each(IDS)('%s stands with its feet on the floor and its eyes on the mark', (id) => {
  for (const eye of [1.5, 1.75]) {
    const m = buildPerson(data, { ...base, person: id, eyeHeightM: 0.2 + eye });
    expect(Math.abs(lowest(m) - 0.2)).toBeLessThan(0.03);
    const mid = eyesMiddle(m, id);
    expect(gap(mid, [2, -1, 0.2 + eye])).toBeLessThan(0.001);
  }
});

test.each(GROWN)('%s sits on the seat, feet on the floor, eyes on the mark', (id) => {
  for (const handsOn of ['lap', 'table'] as const) {
    const m = buildPerson(data, { ...base, person: id, posture: 'seated', eyeHeightM: 0.2 + 1.2, handsOn });
    expect(gap(eyesMiddle(m, id), [2, -1, 1.4])).toBeLessThan(0.001);
    expect(Math.abs(lowest(m) - 0.2)).toBeLessThan(0.03);
    expect(m.sizeRatio).toBeGreaterThanOrEqual(0.9);
    expect(m.sizeRatio).toBeLessThanOrEqual(1.1);
    expect(Math.abs(m.seatGapM)).toBeLessThan(0.03);
  }
});

test('a seat that does not fit the eyes is told, and the feet stay on the floor', () => {
  const high = buildPerson(data, { ...base, posture: 'seated', eyeHeightM: 0.2 + 1.05, seatHeightM: 0.5 });
  expect(high.sizeRatio).toBeCloseTo(0.9, 6);
  expect(high.seatGapM).toBeLessThan(-0.05);
  expect(Math.abs(lowest(high) - 0.2)).toBeLessThan(0.03);
  expect(gap(eyesMiddle(high, 'man-34'), [2, -1, 1.25])).toBeLessThan(0.001);
  const low = buildPerson(data, { ...base, posture: 'seated', eyeHeightM: 0.2 + 1.4, seatHeightM: 0.4 });
  expect(low.seatGapM).toBeGreaterThan(0.05);
  expect(Math.abs(lowest(low) - 0.2)).toBeLessThan(0.03);
});

test('the mesh is whole: unit normals, numbers in range, windings outward, clusters small', () => {
  for (const detail of ['near', 'medium', 'far'] as const) {
    const m = buildPerson(data, { ...base, detail });
    const n = m.positions.length / 3;
    expect(m.material).toHaveLength(m.indices.length / 3);
    expect(m.group).toHaveLength(m.indices.length / 3);
    expect(m.positions.every(Number.isFinite)).toBe(true);
    let agree = 0;
    let worst = 0;
    for (let v = 0; v < n; v++)
      worst = Math.max(worst, Math.abs(1 - Math.hypot(...m.normals.subarray(3 * v, 3 * v + 3))));
    expect(worst).toBeLessThan(1e-3);
    expect(m.indices.reduce((a, b) => Math.max(a, b), 0)).toBeLessThan(n);
    expect(m.group.reduce((a, b) => Math.max(a, b), 0)).toBe(m.groupCount - 1);
    const at = (i: number): Vec3 => [m.positions[3 * i]!, m.positions[3 * i + 1]!, m.positions[3 * i + 2]!];
    const skin = m.slots.indexOf('skin');
    let all = 0;
    const box = new Map<number, number[]>();
    for (let t = 0; t < m.material.length; t++) {
      const v = [0, 1, 2].map((k) => m.indices[3 * t + k]!) as [number, number, number];
      const b = box.get(m.group[t]!) ?? [9, 9, 9, -9, -9, -9];
      for (const i of v)
        for (let k = 0; k < 3; k++) {
          b[k] = Math.min(b[k]!, at(i)[k]!);
          b[3 + k] = Math.max(b[3 + k]!, at(i)[k]!);
        }
      box.set(m.group[t]!, b);
      if (m.material[t] !== skin) continue;
      const [a, c, d] = v.map(at) as [Vec3, Vec3, Vec3];
      const [ux, uy, uz, wx, wy, wz] = [
        c[0] - a[0],
        c[1] - a[1],
        c[2] - a[2],
        d[0] - a[0],
        d[1] - a[1],
        d[2] - a[2],
      ];
      const g = [uy * wz - uz * wy, uz * wx - ux * wz, ux * wy - uy * wx];
      all++;
      if (
        g[0]! * m.normals[3 * v[0]]! + g[1]! * m.normals[3 * v[0] + 1]! + g[2]! * m.normals[3 * v[0] + 2]! >
        0
      )
        agree++;
    }
    expect(agree / all).toBeGreaterThan(0.97);
    for (const b of box.values())
      expect(Math.max(b[3]! - b[0]!, b[4]! - b[1]!, b[5]! - b[2]!)).toBeLessThan(0.42);
  }
});

test.each(IDS)('%s: face points lie on the skin, in order from top to bottom, left is the own left', (id) => {
  const m = buildPerson(data, { ...base, person: id, facingDeg: 90 });
  const z = (name: keyof PersonMesh['points']) => m.points[name].position[2];
  const order = [
    'forehead',
    'glabella',
    'noseTip',
    'noseBase',
    'upperLip',
    'lowerLip',
    'chin',
    'throat',
    'neckPit',
  ] as const;
  for (let i = 1; i < order.length; i++) expect(z(order[i - 1]!)).toBeGreaterThan(z(order[i]!));
  // Looking north, the own left is west.
  for (const name of ['eye', 'cheek', 'cheekbone', 'brow', 'jaw'] as const) {
    expect(m.points[`${name}L`].position[0]).toBeLessThan(1.99);
    expect(m.points[`${name}R`].position[0]).toBeGreaterThan(2.01);
  }
  for (const name of ['forehead', 'noseTip', 'chin', 'cheekL', 'cheekR'] as const) {
    const p = m.points[name];
    let near = Number.POSITIVE_INFINITY;
    for (let v = 0; v < m.positions.length; v += 3)
      near = Math.min(near, gap(p.position, [m.positions[v]!, m.positions[v + 1]!, m.positions[v + 2]!]));
    expect(near).toBeLessThan(1e-5);
    expect(p.normal[1]).toBeGreaterThan(0.2);
  }
  expect(m.points.cheekL.normal[0]).toBeLessThan(0);
  expect(m.points.cheekR.normal[0]).toBeGreaterThan(0);
});

test('the head turns to its own left, the chin goes down, the eyes follow', () => {
  const straight = buildPerson(data, { ...base, facingDeg: 90 });
  const left = buildPerson(data, { ...base, facingDeg: 90, headTurnDeg: 40 });
  const down = buildPerson(data, { ...base, facingDeg: 90, headTiltDeg: 20 });
  const angle = (f: Vec3) => (Math.atan2(f[1], f[0]) * 180) / Math.PI;
  expect(angle(straight.facing)).toBeCloseTo(90, 3);
  expect(angle(left.facing)).toBeCloseTo(130, 3);
  expect((Math.asin(down.facing[2]) * 180) / Math.PI).toBeCloseTo(-20, 3);
  const target: Vec3 = [2.5, 1, 1.9];
  const look = buildPerson(data, { ...base, facingDeg: 90, gazeAt: target });
  for (const e of ['eyeL', 'eyeR'] as const) {
    const p = look.points[e];
    const d = target.map((x, k) => x - p.position[k]!);
    const l = Math.hypot(...d);
    expect(d.reduce((s, x, k) => s + (x / l) * p.normal[k]!, 0)).toBeGreaterThan(Math.cos(0.01));
  }
  const far = buildPerson(data, { ...base, facingDeg: 90, gazeAt: [9, -1, 1.9] });
  const between = far.points.eyeL.normal.reduce((s, x, k) => s + x * straight.points.eyeL.normal[k]!, 0);
  expect((Math.acos(between) * 180) / Math.PI).toBeCloseTo(30, 0);
});

test('the same wish gives the same bytes', () => {
  const a = buildPerson(data, { ...base, person: 'woman-42' });
  const b = buildPerson(data, { ...base, person: 'woman-42' });
  expect(Buffer.compare(Buffer.from(a.positions.buffer), Buffer.from(b.positions.buffer))).toBe(0);
});

test('walking, leaning and crouching: soles on the floor, eyes over the mark, the body its own size', () => {
  for (const [posture, eyeHeightM] of [
    ['walking', 1.6],
    ['leaning', 1.6],
    ['crouching', 0.95],
  ] as const)
    for (const person of ['man-34', 'woman-42'] as const) {
      const m = buildPerson(data, { ...base, person, posture, at: [0, 0, 0], eyeHeightM, detail: 'medium' });
      expect(Math.abs(lowest(m)), `${posture} ${person}`).toBeLessThan(0.02);
      expect(m.sizeRatio).toBeGreaterThan(0.899);
      expect(m.sizeRatio).toBeLessThan(1.101);
      const eyes = eyesMiddle(m, person);
      expect(Math.hypot(eyes[0], eyes[1])).toBeLessThan(0.01);
      expect(eyes[2]).toBeCloseTo(m.eyesM, 2);
    }
});

test('lying: on the back on the bed, face up, feet toward where a person who sat up would look', () => {
  const m = buildPerson(data, { ...base, posture: 'lying', at: [0, 0, 0], facingDeg: 0, seatHeightM: 0.5 });
  expect(m.facing[2]).toBeGreaterThan(0.95);
  expect(Math.abs(lowest(m) - 0.5)).toBeLessThan(0.03);
  let farthest = 0;
  for (let i = 0; i < m.positions.length; i += 3) farthest = Math.max(farthest, m.positions[i]!);
  // Feet to the east, at about the height of a person less the part over the eyes.
  expect(farthest).toBeGreaterThan(1.4);
  expect(m.eyesM).toBeGreaterThan(0.55);
  expect(m.eyesM).toBeLessThan(0.75);
});

test('what is worn sits on the head: spectacles before the eyes, a hat over the brows that covers the crown', () => {
  for (const who of data.people) {
    const m = buildPerson(data, {
      ...base,
      person: who.id,
      eyeHeightM: who.id === 'boy-8' ? 1.18 : base.eyeHeightM,
      at: [0, 0, 0],
      facingDeg: 90,
      wears: ['spectacles', 'brimmed-hat'],
    });
    const of = (slot: string) => {
      const out: Vec3[] = [];
      const s = m.slots.indexOf(slot as never);
      m.material.forEach((x, t) => {
        if (x === s)
          for (let k = 0; k < 3; k++) {
            const v = m.indices[3 * t + k]!;
            out.push([m.positions[3 * v]!, m.positions[3 * v + 1]!, m.positions[3 * v + 2]!]);
          }
      });
      return out;
    };
    const lens = of('lens');
    for (const eye of [m.points.eyeL.position, m.points.eyeR.position]) {
      // A vertex distance of 8 to 20 mm from the cornea (common practice, no source).
      const before = lens.filter((p) => Math.hypot(p[0] - eye[0], p[2] - eye[2]) < 0.006);
      expect(before.length).toBeGreaterThan(0);
      for (const p of before) {
        expect(p[1] - eye[1]).toBeGreaterThan(0.008);
        expect(p[1] - eye[1]).toBeLessThan(0.02);
      }
    }
    const hat = of('hat');
    const top = hat.reduce((most, p) => Math.max(most, p[2]), 0);
    expect(of('skin').reduce((most, p) => Math.max(most, p[2]), 0)).toBeLessThan(top);
    // No hat over the eyes.
    const low = Math.min(...hat.filter((p) => p[1] > 0.03).map((p) => p[2]));
    expect(low).toBeGreaterThan(m.points.browL.position[2] - 0.005);
  }
});

test('the boy is a child of eight: height, head, pupils; he sits with his feet on the floor', () => {
  // Eight years: 1.28 m tall, the asked size; pupils 48 to 60 mm apart (from memory).
  const p = shapeOf(data, 'boy-8');
  const m = buildPerson(data, { ...base, person: 'boy-8', eyeHeightM: 1.18, at: [0, 0, 0] });
  expect(m.sizeRatio).toBeCloseTo(1, 1);
  const used = new Set(m.indices);
  let top = 0;
  for (const v of used) top = Math.max(top, m.positions[3 * v + 2]!);
  expect(Math.abs(top - 1.28)).toBeLessThan(0.02);
  const pupils = gap(m.points.eyeL.position, m.points.eyeR.position);
  expect(pupils).toBeGreaterThan(0.048);
  expect(pupils).toBeLessThan(0.06);
  // A child's head is about a sixth of its height, a man's an eighth to a seventh (from memory); to the point of the
  // chin it is a centimetre less.
  expect((top - (m.points.chin.position[2] - 0.01)) / top).toBeGreaterThan(1 / 6.5);
  expect(p.words).toBe('boy of 8');
  const seated = buildPerson(data, {
    ...base,
    person: 'boy-8',
    posture: 'seated',
    seatHeightM: 0.35,
    eyeHeightM: 0.98,
    at: [0, 0, 0],
  });
  expect(Math.abs(lowest(seated))).toBeLessThan(0.012);
  expect(Math.abs(seated.seatGapM)).toBeLessThan(0.03);
});
