/** The lit test on our heads; source [CHECKS-CAMERA §4.1–4.3]. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { decodePeople } from '../stage/people/decode.ts';
import { buildPerson } from '../stage/people/person.ts';
import { rows } from './people.ts';
import { rayTree } from './peopleRays.ts';

const data = decodePeople(readFileSync(new URL('../../data/people/people.bin', import.meta.url)));

test('the patterns of a key appear on our heads at the angles they should', () => {
  for (const r of rows(data))
    expect(r, `${r.what}: ${r.got} for ${r.expected} ± ${r.tolerance}`).toMatchObject({ holds: true });
});

test('a flattened nose is caught', () => {
  // The same man with his nose pressed flat: no nose shadow, so the triangle must go.
  const flat = { ...data, people: data.people.map((p) => ({ ...p, body: Float32Array.from(p.body) })) };
  const man = flat.people.find((p) => p.id === 'man-34')!;
  const tip = [0, 1, 2].map((k) => man.body[3 * 5054 + k]!);
  for (let i = 0; i < man.body.length; i += 3) {
    const d = Math.hypot(man.body[i]! - tip[0]!, man.body[i + 1]! - tip[1]!, man.body[i + 2]! - tip[2]!);
    if (d < 0.045) man.body[i + 1] = Math.max(man.body[i + 1]!, tip[1]! + 0.02);
  }
  const bad = rows(flat).filter((r) => r.id.startsWith('people-man-34') && !r.holds);
  expect(bad.length).toBeGreaterThan(0);
});

test('the ray tree agrees with trying every triangle', () => {
  const mesh = buildPerson(data, {
    person: 'man-68',
    posture: 'seated',
    at: [0, 0, 0],
    facingDeg: 20,
    eyeHeightM: 1.2,
    detail: 'far',
  });
  const some = Array.from({ length: mesh.material.length >> 1 }, (_, t) => t * 2);
  const tree = rayTree(mesh.positions, mesh.indices, some);
  const alone = some.map((t) => rayTree(mesh.positions, mesh.indices, [t]));
  let hits = 0;
  for (let k = 0; k < 90; k++) {
    const a = k * 0.7;
    const from = [2 * Math.cos(a), 2 * Math.sin(a), 0.9 + (k % 10) * 0.04] as const;
    const d = [0.1 * Math.cos(3 * k) - from[0], 0.1 * Math.sin(5 * k) - from[1], 1.2 - from[2]] as const;
    const l = Math.hypot(...d);
    const along = [d[0] / l, d[1] / l, d[2] / l] as const;
    let nearest = Number.POSITIVE_INFINITY;
    for (const one of alone)
      nearest = Math.min(nearest, one.nearest(from, along, 0, 10)?.distance ?? Number.POSITIVE_INFINITY);
    const got = tree.nearest(from, along, 0, 10)?.distance ?? Number.POSITIVE_INFINITY;
    if (Number.isFinite(nearest)) hits++;
    expect(got).toBe(nearest);
    expect(tree.blocked(from, along, 0, 10)).toBe(Number.isFinite(nearest));
  }
  expect(hits).toBeGreaterThan(10);
});
