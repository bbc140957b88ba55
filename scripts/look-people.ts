/**
 * Looks at the people: a plain ray caster, one hard key and a little fill, to a PNG. Not a light computation.
 *   node --import ./bin/types-hook.js scripts/look-people.ts OUT.png '[{"person":"man-34","view":"front", …}, …]'
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import { rayTree } from '../src/checks/peopleRays.ts';
import { add, cross, DEG, dot, normalize, scale, sub, type Vec3 } from '../src/maths/vec3.ts';
import { buildPerson, decodePeople, type PersonSpec } from '../src/stage/people/person.ts';

interface Shot extends Partial<PersonSpec> {
  person: string;
  /** Degrees round from the front, + to the person's left; height of the camera's look. */
  from?: number;
  frameM?: number;
  lookZ?: number;
  keyAz?: number;
  keyEl?: number;
  fill?: number;
  rim?: boolean;
  tableM?: number;
  w?: number;
  h?: number;
}

const data = decodePeople(readFileSync(new URL('../data/people/people.bin', import.meta.url)));
const skinOf: Record<string, Vec3> = {
  light: [0.55, 0.36, 0.27],
  intermediate: [0.46, 0.28, 0.19],
  dark: [0.16, 0.085, 0.05],
  'very-dark': [0.1, 0.052, 0.032],
};
const hex = (s: string): Vec3 =>
  [1, 3, 5].map((i) => (Number.parseInt(s.slice(i, i + 2), 16) / 255) ** 2.2) as unknown as Vec3;

function picture(shot: Shot): { w: number; h: number; rgb: Uint8Array } {
  const seated = shot.posture === 'seated';
  const spec: PersonSpec = {
    posture: 'standing',
    at: [0, 0, 0],
    facingDeg: -90,
    eyeHeightM: seated ? 1.2 : 1.62,
    detail: 'near',
    ...shot,
  };
  const mesh = buildPerson(data, spec);
  const p = mesh.positions;
  // Lenses are left out: this is no light computation.
  const lens = mesh.slots.indexOf('lens');
  const seen = Array.from(mesh.material.keys()).filter((t) => mesh.material[t] !== lens);
  const idx = seen.flatMap((t) => [0, 1, 2].map((k) => mesh.indices[3 * t + k]!));
  const material = seen.map((t) => mesh.material[t]!);
  const vertices = Array.from(p);
  const normals = Array.from(mesh.normals);
  const quad = (c: Vec3[], n: Vec3, m: number) => {
    const a = vertices.length / 3;
    for (const q of c) {
      vertices.push(...q);
      normals.push(...n);
    }
    idx.push(a, a + 1, a + 2, a, a + 2, a + 3);
    material.push(m, m);
  };
  quad(
    [
      [-3, -3, 0],
      [3, -3, 0],
      [3, 3, 0],
      [-3, 3, 0],
    ],
    [0, 0, 1],
    100,
  );
  if (shot.tableM) {
    const z = shot.tableM;
    quad(
      [
        [-0.6, -1.1, z],
        [0.6, -1.1, z],
        [0.6, -0.25, z],
        [-0.6, -0.25, z],
      ],
      [0, 0, 1],
      101,
    );
  }
  if (seated) {
    const z = spec.seatHeightM ?? 0.45;
    quad(
      [
        [-0.25, -0.35, z],
        [0.25, -0.35, z],
        [0.25, 0.4, z],
        [-0.25, 0.4, z],
      ],
      [0, 0, 1],
      101,
    );
  }
  const P = Float32Array.from(vertices);
  const tree = rayTree(
    P,
    idx,
    material.map((_, i) => i),
  );
  const skin = skinOf[mesh.complexion] ?? skinOf.light!;
  const colour = (m: number): [Vec3, number, number] => {
    if (m >= 100) return [m === 100 ? [0.12, 0.12, 0.12] : [0.16, 0.1, 0.06], 0, 0.5];
    const slot = mesh.slots[m]!;
    if (slot === 'skin') return [skin, 0.028, 0.5];
    if (slot === 'lips') return [[skin[0] * 0.85, skin[1] * 0.62, skin[2] * 0.68], 0.03, 0.4];
    if (slot === 'hair' || slot === 'brow' || slot === 'lash' || slot === 'scalp') {
      const c = hex(slot === 'lash' ? '#15100c' : mesh.hairColour);
      return [
        slot === 'scalp' ? add(scale(c, 0.7), scale(skin, 0.2)) : c,
        slot === 'hair' ? 0.04 : 0.02,
        0.45,
      ];
    }
    if (slot === 'eye-white') return [[0.5, 0.46, 0.42], 0.03, 0.16];
    if (slot === 'iris') return [[0.12, 0.075, 0.04], 0.03, 0.16];
    if (slot === 'pupil') return [[0.005, 0.005, 0.005], 0.03, 0.16];
    if (slot === 'top') return [hex(mesh.wardrobe.top), 0, 0.5];
    if (slot === 'bottom') return [hex(mesh.wardrobe.bottom), 0, 0.5];
    if (slot === 'shoes') return [hex(mesh.wardrobe.shoes), 0.04, 0.3];
    if (slot === 'frame') return [[0.02, 0.02, 0.02], 0.05, 0.2];
    if (slot === 'hat') return [[0.05, 0.042, 0.035], 0, 0.5];
    return [[0.3, 0.1, 0.1], 0, 0.5];
  };
  const eyeMid: Vec3 = [spec.at[0], spec.at[1], spec.eyeHeightM];
  const frameM = shot.frameM ?? 0.5;
  const look: Vec3 = [0, 0, shot.lookZ ?? spec.eyeHeightM - 0.04];
  const az = (shot.from ?? 0) * DEG;
  const dist = Math.max(2, frameM * 3);
  const eye = add(look, [Math.sin(az) * dist, -Math.cos(az) * dist, 0]);
  const forward = normalize(sub(look, eye));
  const right = normalize(cross(forward, [0, 0, 1]));
  const up = cross(right, forward);
  const dir = (azDeg: number, elDeg: number): Vec3 => [
    Math.sin(azDeg * DEG) * Math.cos(elDeg * DEG),
    -Math.cos(azDeg * DEG) * Math.cos(elDeg * DEG),
    Math.sin(elDeg * DEG),
  ];
  const key = add(eyeMid, scale(dir(shot.keyAz ?? 45, shot.keyEl ?? 35), 2.5));
  const lights: { at: Vec3; power: number; size: number }[] = [{ at: key, power: 19, size: 0.05 }];
  if (shot.rim) lights.push({ at: add(eyeMid, scale(dir(200, 40), 2.5)), power: 25, size: 0.05 });
  const w = shot.w ?? 420;
  const h = shot.h ?? 520;
  const rgb = new Uint8Array(w * h * 3);
  let seed = 1;
  const rnd = () => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return seed / 4294967296;
  };
  const SPP = 4;
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      let c: Vec3 = [0, 0, 0];
      for (let s = 0; s < SPP; s++) {
        const sx = (((x + (s & 1) * 0.5 + rnd() * 0.5) / w - 0.5) * (frameM * (w / h))) / dist;
        const sy = ((0.5 - (y + (s >> 1) * 0.5 + rnd() * 0.5) / h) * frameM) / dist;
        const d = normalize(add(forward, add(scale(right, sx), scale(up, sy))));
        const hit = tree.nearest(eye, d, 0.01, 30);
        if (!hit) {
          c = add(c, [0.02, 0.022, 0.025]);
          continue;
        }
        const [a, b, e] = [idx[3 * hit.triangle]!, idx[3 * hit.triangle + 1]!, idx[3 * hit.triangle + 2]!];
        const v3 = (arr: ArrayLike<number>, i: number): Vec3 => [
          arr[3 * i]!,
          arr[3 * i + 1]!,
          arr[3 * i + 2]!,
        ];
        const wgt = [1 - hit.u - hit.v, hit.u, hit.v];
        const mixv = (f: (i: number) => Vec3) =>
          add(add(scale(f(a), wgt[0]!), scale(f(b), wgt[1]!)), scale(f(e), wgt[2]!));
        let n = normalize(mixv((i) => v3(normals, i)));
        let g = normalize(cross(sub(v3(P, b), v3(P, a)), sub(v3(P, e), v3(P, a))));
        if (dot(g, d) > 0) g = scale(g, -1);
        if (dot(n, g) < 0) n = scale(n, -1);
        const pos = add(eye, scale(d, hit.distance));
        // Lift the start of the shadow ray to the tangent planes of the corners (terminator).
        const lifted = mixv((i) => {
          const q = v3(P, i);
          let ni = v3(normals, i);
          if (dot(ni, g) < 0) ni = scale(ni, -1);
          return sub(pos, scale(ni, Math.min(0, dot(sub(pos, q), ni))));
        });
        const [albedo, f0, rough] = colour(material[hit.triangle]!);
        const fill = shot.fill ?? 0.1;
        let o: Vec3 = scale(albedo, fill * (0.6 + 0.4 * n[2]));
        for (const l of lights) {
          const lp = add(l.at, [(rnd() - 0.5) * l.size, (rnd() - 0.5) * l.size, (rnd() - 0.5) * l.size]);
          const to = sub(lp, pos);
          const dd = Math.hypot(...to);
          const L = scale(to, 1 / dd);
          const nl = dot(n, L);
          if (nl <= 0 || dot(g, L) < -0.2) continue;
          const start = add(lifted, scale(g, 2e-4));
          if (tree.blocked(start, L, 1e-5, dd)) continue;
          const E = (l.power * nl) / (dd * dd);
          o = add(o, scale(albedo, E / Math.PI));
          if (f0 > 0) {
            const H = normalize(sub(L, d));
            const a2 = rough ** 4;
            const nh = Math.max(0, dot(n, H));
            const D = a2 / (Math.PI * (nh * nh * (a2 - 1) + 1) ** 2);
            const nv = Math.max(0.05, -dot(n, d));
            const k = (rough * rough) / 2;
            const G = 1 / ((nl * (1 - k) + k) * (nv * (1 - k) + k)) / 4;
            const F = f0 + (1 - f0) * (1 - Math.max(0, dot(L, H))) ** 5;
            const sp = D * G * F * E;
            o = add(o, [sp, sp, sp]);
          }
        }
        c = add(c, [Math.min(o[0], 8), Math.min(o[1], 8), Math.min(o[2], 8)]);
      }
      for (let k = 0; k < 3; k++) {
        const v = (c[k]! / SPP) * 1.3;
        const t = (v * (1 + v / 4)) / (1 + v);
        rgb[(y * w + x) * 3 + k] = Math.round(255 * Math.min(1, t) ** (1 / 2.2));
      }
    }
  return { w, h, rgb };
}

function png(w: number, h: number, rgb: Uint8Array): Buffer {
  const raw = Buffer.alloc(h * (w * 3 + 1));
  for (let y = 0; y < h; y++)
    Buffer.from(rgb.subarray(y * w * 3, (y + 1) * w * 3)).copy(raw, y * (w * 3 + 1) + 1);
  const table = Array.from({ length: 256 }, (_, n) => {
    let c = n;
    for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
    return c >>> 0;
  });
  const chunk = (type: string, body: Buffer) => {
    const all = Buffer.concat([Buffer.from(type), body]);
    let crc = 0xffffffff;
    for (const b of all) crc = table[(crc ^ b) & 255]! ^ (crc >>> 8);
    const out = Buffer.alloc(all.length + 8);
    out.writeUInt32BE(body.length, 0);
    all.copy(out, 4);
    out.writeUInt32BE((crc ^ 0xffffffff) >>> 0, all.length + 4);
    return out;
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(w, 0);
  head.writeUInt32BE(h, 4);
  head[8] = 8;
  head[9] = 2;
  return Buffer.concat([
    Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(raw)),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

const [, , file, text] = process.argv;
const shots = JSON.parse(text!) as Shot[];
const perRow = Math.min(shots.length, Number(process.env.PER_ROW ?? 4));
const pics = shots.map(picture);
const rows = Math.ceil(pics.length / perRow);
const [w, h] = [pics[0]!.w, pics[0]!.h];
const sheet = new Uint8Array(w * perRow * h * rows * 3);
pics.forEach((pic, i) => {
  const ox = (i % perRow) * w;
  const oy = Math.floor(i / perRow) * h;
  for (let y = 0; y < h; y++)
    sheet.set(pic.rgb.subarray(y * w * 3, (y + 1) * w * 3), ((oy + y) * w * perRow + ox) * 3);
});
writeFileSync(file!, png(w * perRow, h * rows, sheet));
