/** Laws of direct light: closed forms, energy, shadows, panes, gloss, patches. */
import { polygonLux } from '../light/analytic.ts';
import { hash32, rngOf } from '../maths/sampling.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { add, cross, dot, length, normalize, scale, sub } from '../maths/vec3.ts';
import type { Material } from '../stage/stage.ts';
import { boxQuads, lamp, matte, meanAt, nowhere, pointsInside, probeAt, stageOf } from './box.ts';
import { NEAR } from './intersect.ts';
import type { Law } from './judge.ts';
import { batchesOf, compare } from './judge.ts';
import { pointsOf } from './points.ts';
import type { Emitter } from './scene.ts';

const DOWN = { axis: [0, 0, -1], up: [0, 1, 0] } as const;
const lambert = (peakCd: number): Emitter['beam'] => ({ kind: 'cosine', peakCd, exponent: 1 });
const square = (centre: Vec3, peakCd = 1000): Emitter => ({
  shape: { kind: 'rectangle', centre, ...DOWN, widthM: 1, heightM: 1 },
  beam: lambert(peakCd),
});

/** Emitters alone in black space against closed forms; one sample set per batch. */
export const closedForms: Law = {
  name: 'emitters give the closed forms',
  async run(tracer, seed) {
    const L = 1000;
    const disc = (z: number): Emitter => ({
      shape: { kind: 'disc', centre: [0, 0, z], ...DOWN, radiusM: 0.5 },
      beam: lambert(L * Math.PI * 0.25),
    });
    const tube: Emitter = {
      shape: { kind: 'tube', from: [-0.6, 0, 0.6], to: [0.6, 0, 0.6], radiusM: 0 },
      beam: { kind: 'tube', peakCd: 3350 / Math.PI ** 2 },
    };
    const ball: Emitter = {
      shape: { kind: 'sphere', centre: [0, 0, 1], ...DOWN, radiusM: 0.25 },
      beam: { kind: 'isotropic', cd: L * Math.PI * 0.0625 },
    };
    const oval: Emitter = {
      shape: { kind: 'rectangle', centre: [0, 0, 50], ...DOWN, widthM: 0.02, heightM: 0.01 },
      beam: { kind: 'cosine', peakCd: 5000, exponent: 20, exponentV: 4 },
    };
    const tableLamp: Emitter = {
      shape: { kind: 'disc', centre: [0, 0, 40], ...DOWN, radiusM: 0.01 },
      beam: {
        kind: 'table',
        table: { type: 'C', verticalDeg: [0, 90], horizontalDeg: [0], cd: Float64Array.of(900, 0) },
        gain: 2,
      },
    };
    const s2 = Math.SQRT1_2;
    const tilt: Vec3 = [-Math.sin(Math.PI / 6), 0, Math.cos(Math.PI / 6)];
    // Whose light, from where, how it should read [CHECKS-LIGHT §2.2 to 2.6].
    const cases: [string, string, Emitter, Vec3, Vec3, number, number][] = [
      ['disc on axis, d 1', '2.2', disc(1), [0, 0, 0], [0, 0, 1], 628.318531, 1e-6],
      ['disc aside, d 1, x 1', '2.2', disc(1), [1, 0, 0], [0, 0, 1], 206.963188, 1e-6],
      ['disc, receiver square to it, d 2, x 1', '2.2', disc(2), [1, 0, 0], [-1, 0, 0], 58.589525, 1e-6],
      ['panel on axis, d 1', '2.3', square([0, 0, 1]), [0, 0, 0], [0, 0, 1], 752.274688, 1e-6],
      ['panel aside', '2.3', square([0, 0, 2]), [1.5, 0.75, 0], [0, 0, 1], 87.077324, 1e-6],
      ['panel, receiver turned 30°', '2.3', square([0, 0, 2]), [1, 0, 0], tilt, 171.194186, 1e-6],
      ['panel cut by the horizon', '2.3', square([0, 0, 2]), [0, 0, 0], [1, 0, 0], 14.141865, 1e-6],
      ['tube opposite the middle, d 0.6', '2.6', tube, [0, 0, 0], [0, 0, 1], 605.968767, 1e-6],
      ['sphere', '2.5', ball, [0, 0, 0], [0, 0, 1], 196.349541, 1e-6],
      ['sphere, receiver turned 45°', '2.5', ball, [0, 0, 0], [s2, 0, s2], 138.840092, 1e-6],
      ['half a sphere, H 4', '2.5', ball, [1, 0, 1], [0, 0, 1], Math.PI * L * 0.00338007, 2e-5],
      [
        'oval beam, 30° across x',
        'I cosθ/d², the beam’s own formula',
        oval,
        [50 * Math.tan(Math.PI / 6), 0, 0],
        [0, 0, 1],
        (5000 * Math.cos(Math.PI / 6) ** 23) / 2500,
        2e-4,
      ],
      [
        'oval beam, 30° along y',
        'I cosθ/d², the beam’s own formula',
        oval,
        [0, 50 * Math.tan(Math.PI / 6), 0],
        [0, 0, 1],
        (5000 * Math.cos(Math.PI / 6) ** 7) / 2500,
        2e-4,
      ],
      [
        'measured beam, 45°',
        'straight line between 900 cd and 0',
        tableLamp,
        [40, 0, 0],
        [0, 0, 1],
        (900 * s2 ** 3) / 1600,
        2e-4,
      ],
    ];
    await tracer.load({ stage: nowhere(), layers: cases.map(([name, , e]) => lamp(name, e)) });
    const got = await batchesOf(seed, async (s) => {
      const out: number[] = [];
      for (let l = 0; l < cases.length; l++) {
        const at = probeAt([[cases[l]![3], cases[l]![4]]]);
        out.push(meanAt((await tracer.direct(at, l, { seed: s + l, samples: 256 })).diffuse));
      }
      return out;
    });
    return cases.map(([what, where, , , , expected, slack], i) =>
      compare(what, where.startsWith('2') ? `CHECKS-LIGHT §${where}` : where, got[i]!, expected, slack),
    );
  },
};

/** What a lamp sends is what the surfaces get, bodies in its way or not: by patches, points and paths. */
export const energy: Law = {
  name: 'energy: what is sent is received',
  async run(tracer, seed) {
    const stage = stageOf([
      ...boxQuads([0, 0, 0], [4, 4, 3], 'in', matte(0), 1),
      ...boxQuads([0.5, 0.5, 0.6], [1.4, 1.7, 1.5], 'out', matte(0), 0.5, 'furniture:crate'),
    ]);
    const bulb: Emitter = {
      shape: { kind: 'sphere', centre: [2, 2, 1.5], ...DOWN, radiusM: 0.05 },
      beam: { kind: 'isotropic', cd: 10000 / (4 * Math.PI) },
    };
    const wall: Emitter = {
      shape: { kind: 'disc', centre: [3, 1, 2.9], axis: [-0.6, 0, -0.8], up: [0, 1, 0], radiusM: 0.1 },
      beam: { kind: 'cosine', peakCd: 2000, exponent: 3 },
    };
    const strip: Emitter = {
      shape: { kind: 'tube', from: [2.2, 2.6, 1], to: [3.4, 2.9, 1.3], radiusM: 0.08 },
      beam: { kind: 'tube', peakCd: 3000 / Math.PI ** 2 },
    };
    const layers = [
      lamp('bulb', bulb),
      lamp('head', wall),
      lamp('strip', strip),
      lamp('all', bulb, wall, strip),
    ];
    await tracer.load({ stage, layers });
    const area = new Float64Array(stage.patchCount);
    const { positions: p, indices } = stage;
    for (let t = 0; t < indices.length / 3; t++) {
      const [a, b, c] = [0, 1, 2].map((k) => {
        const i = indices[t * 3 + k]! * 3;
        return [p[i]!, p[i + 1]!, p[i + 2]!] as Vec3;
      }) as [Vec3, Vec3, Vec3];
      area[stage.patch[t]!]! += length(cross(sub(b, a), sub(c, a))) / 2;
    }
    const got = await batchesOf(seed, async (s) => {
      const out: number[] = [];
      for (let l = 0; l < 4; l++) {
        const lux = await tracer.patchDirect(l, { seed: s * 4 + l, samples: 12 });
        out.push(lux.reduce((sum, e, i) => sum + e * area[i]!, 0));
      }
      return out;
    });
    // Fluxes: 10 000; 2πI/(n + 1); 3000; their sum.
    const head = (2 * Math.PI * 2000) / 4;
    return [10000, head, 3000, 13000 + head].map((lm, i) =>
      compare(
        `flux of layer ${layers[i]!.id}`,
        'conservation of energy; CHECKS-LIGHT §1.3',
        got[i]!,
        lm,
        lm * 5e-4,
      ),
    );
  },
};

/** A blade cuts a panel: the rest is a polygon. It moves away, and the panel is whole. */
export const shadows: Law = {
  name: 'shadows: a blade leaves the visible polygon',
  async run(tracer, seed) {
    const layers = [lamp('panel', square([0, 0, 2]))];
    const blade = (x: number, key: string) =>
      stageOf(
        [
          { corner: [-9, -9, -1], sideU: [18, 0, 0], sideV: [0, 18, 0], material: matte(0), part: 'floor' },
          {
            corner: [x - 5, -5, 1],
            sideU: [5, 0, 0],
            sideV: [0, 10, 0],
            material: matte(0.5),
            part: 'flag:F1',
            moving: true,
          },
        ],
        key,
      );
    const at = probeAt([
      [
        [0, 0, 0],
        [0, 0, 1],
      ],
    ]);
    const cut = blade(-0.1, 'blade in');
    const away = { ...blade(-3, 'blade out'), stillKey: cut.stillKey };
    const got = await batchesOf(seed, async (s) => {
      const out: number[] = [];
      for (const stage of [cut, away]) {
        await tracer.load({ stage, layers });
        out.push((await tracer.direct(at, 0, { seed: s, samples: 256 })).diffuse[0]!);
        const path = await tracer.trace(at, { seed: s, paths: 256 });
        out.push(path.layers[0]!.direct.diffuse[0]!);
      }
      return out;
    });
    const n: Vec3 = [0, 0, 1];
    const seen = polygonLux(
      1000,
      [
        [-0.2, -0.5, 2],
        [-0.2, 0.5, 2],
        [0.5, 0.5, 2],
        [0.5, -0.5, 2],
      ],
      [0, 0, 0],
      n,
    );
    return [
      compare('cut, direct', 'polygon contour, CHECKS-LIGHT §2.3', got[0]!, seen),
      compare('cut, paths', 'polygon contour, CHECKS-LIGHT §2.3', got[1]!, seen),
      compare('whole, direct', 'CHECKS-LIGHT §2.3', got[2]!, 230.836798, 1e-6),
      compare('whole, paths', 'CHECKS-LIGHT §2.3', got[3]!, 230.836798, 1e-6),
    ];
  },
};

/** A pane takes its share by angle; a sheet lets its straight share through. */
export const panes: Law = {
  name: 'panes and sheets pass their share by angle',
  async run(tracer, seed) {
    const glass: Material = { name: 'pane', reflectance: matte(0).reflectance, kind: 'glass' };
    const sheet: Material = {
      name: 'net',
      reflectance: matte(0.2).reflectance,
      kind: 'sheet',
      straight: 0.37,
    };
    const stage = (material: Material) =>
      stageOf([{ corner: [-20, -20, 1], sideU: [40, 0, 0], sideV: [0, 40, 0], material }], material.name);
    const ball = (x: number): Emitter => ({
      shape: { kind: 'sphere', centre: [x, 0, 2], ...DOWN, radiusM: 0.01 },
      beam: { kind: 'isotropic', cd: 1000 },
    });
    const layers = [
      lamp('0', ball(0)),
      lamp('60', ball(2 * Math.sqrt(3))),
      lamp('80', ball(2 * Math.tan((80 * Math.PI) / 180))),
    ];
    const at = probeAt([
      [
        [0, 0, 0],
        [0, 0, 1],
      ],
    ]);
    const got = await batchesOf(seed, async (s) => {
      const out: number[] = [];
      for (const material of [glass, sheet]) {
        await tracer.load({ stage: stage(material), layers });
        for (let l = 0; l < 3; l++)
          out.push((await tracer.direct(at, l, { seed: s, samples: 16 })).diffuse[0]!);
        out.push((await tracer.trace(at, { seed: s, paths: 16, only: [1] })).layers[0]!.direct.diffuse[0]!);
      }
      return out;
    });
    const bare = [0, 60, 80].map((deg) => 250 * Math.cos((deg * Math.PI) / 180) ** 3);
    const pass = [0.8815, 0.8015, 0.4247];
    // A lamp 1 cm in radius fills a little angle: at 80° the curve's bend costs under 1e-4 of it.
    return [
      ...[0, 1, 2].map((i) =>
        compare(
          `pane at ${[0, 60, 80][i]}°`,
          'CHECKS-LIGHT §1.4',
          got[i]!,
          bare[i]! * pass[i]!,
          bare[i]! * 1e-4,
        ),
      ),
      compare('pane at 60°, paths', 'CHECKS-LIGHT §1.4', got[3]!, bare[1]! * pass[1]!, bare[1]! * 1e-4),
      ...[0, 1].map((i) =>
        compare(`sheet at ${[0, 60][i]}°`, 'its straight share', got[4 + i]!, bare[i]! * 0.37),
      ),
      compare('sheet at 60°, paths', 'its straight share', got[7]!, bare[1]! * 0.37),
    ];
  },
};

/** GGX in the handbook's form (Walter et al. 2007, eq. 33, 34; Smith height-correlated), by the angles' tangents. */
export function handbookGloss(f0: number, alpha: number, l: Vec3, e: Vec3): number {
  if (l[2] <= 0 || e[2] <= 0) return 0;
  const h = normalize([l[0] + e[0], l[1] + e[1], l[2] + e[2]]);
  const tan2 = (c: number) => (1 - c * c) / (c * c);
  const d = alpha ** 2 / (Math.PI * h[2] ** 4 * (alpha ** 2 + tan2(h[2])) ** 2);
  const lambda = (c: number) => (Math.sqrt(1 + alpha ** 2 * tan2(c)) - 1) / 2;
  const g = 1 / (1 + lambda(l[2]) + lambda(e[2]));
  const f = f0 + (1 - f0) * (1 - dot(h, e)) ** 5;
  return (d * g * f) / (4 * l[2] * e[2]);
}

/** Highlights against plain quadrature over the lamp: a broad lamp in a broad lobe, a small one in a sharp lobe. */
export const highlights: Law = {
  name: 'gloss: highlights as by quadrature',
  async run(tracer, seed) {
    const f0 = 0.04;
    const shiny = (roughness: number): Material => ({
      ...matte(0.2),
      name: `r ${roughness}`,
      gloss: { f0, roughness },
    });
    const cases: { roughness: number; side: number; what: string }[] = [
      { roughness: 0.6, side: 1.5, what: 'rough, broad panel' },
      { roughness: 0.2, side: 0.05, what: 'smooth, small panel' },
      { roughness: 0.2, side: 1.2, what: 'smooth, broad panel' },
    ];
    const centre: Vec3 = [-1.3, 0.4, 1.5];
    const toEye = normalize([1, -0.2, 1]);
    const axis = normalize([1.3, -0.4, -1.5]);
    const y = normalize(sub([0, 0, 1], scale(axis, axis[2])));
    const x = cross(y, axis);
    const stage = stageOf(
      cases.map(({ roughness }) => ({
        corner: [-5, -5, -0.001] as Vec3,
        sideU: [10, 0, 0] as Vec3,
        sideV: [0, 10, 0] as Vec3,
        material: shiny(roughness),
      })),
      'shiny',
    );
    const layers = cases.map(({ side, what }) =>
      lamp(what, {
        shape: { kind: 'rectangle', centre, axis, up: y, widthM: side, heightM: side },
        beam: lambert(1000 * side * side),
      }),
    );
    await tracer.load({ stage, layers });
    const at = cases.map((_, m) => {
      const points = pointsOf(1);
      points.position.set([0, 0, 0]);
      points.normal.set([0, 0, 1]);
      points.faceNormal.set([0, 0, 1]);
      points.toEye.set(toEye);
      points.material[0] = m;
      return points;
    });
    const got = await batchesOf(seed, async (s) => {
      const out: number[] = [];
      for (let i = 0; i < cases.length; i++) {
        out.push((await tracer.direct(at[i]!, i, { seed: s, samples: 256 })).gloss[0]!);
        out.push(
          (await tracer.trace(at[i]!, { seed: s, paths: 128, only: [i] })).layers[0]!.direct.gloss[0]!,
        );
      }
      return out;
    });
    return cases.flatMap(({ roughness, side, what }, i) => {
      const n = 500;
      let sum = 0;
      for (let a = 0; a < n; a++) {
        for (let b = 0; b < n; b++) {
          const p = add(
            centre,
            add(scale(x, ((a + 0.5) / n - 0.5) * side), scale(y, ((b + 0.5) / n - 0.5) * side)),
          );
          const d2 = dot(p, p);
          const l = normalize(p);
          const cos = -dot(l, axis);
          if (cos > 0)
            sum += handbookGloss(f0, roughness ** 2, l, toEye) * l[2] * 1000 * cos * ((side / n) ** 2 / d2);
        }
      }
      const source = 'GGX by midpoint quadrature, 500 × 500';
      return [
        compare(`${what}, direct`, source, got[i * 2]!, sum),
        compare(`${what}, paths`, source, got[i * 2 + 1]!, sum),
      ];
    });
  },
};

/** Links land as often as the form factor says, and not behind a screen. */
export const formFactors: Law = {
  name: 'links: form factors',
  async run(tracer, seed) {
    const tile = (corner: Vec3, sideU: Vec3, sideV: Vec3) => ({ corner, sideU, sideV, material: matte(0.5) });
    const stage = stageOf(
      [tile([0, 0, 1], [0, 1, 0], [1, 0, 0]), tile([0, 0, 0], [0, 1, 0], [0, 0, 1])],
      'two tiles over a third',
    );
    const closed = stageOf(boxQuads([0, 0, 0], [3, 2, 2], 'in', matte(0.5), 0.5), 'closed');
    const over = stageOf([tile([-2, -2, 0.5], [0, 4, 0], [4, 0, 0])], 'a tile over a point');
    const got = await batchesOf(seed, async (s) => {
      await tracer.load({ stage, layers: [] });
      const rng = rngOf(hash32(s, 9));
      const at = probeAt(
        Array.from(
          { length: 1000 },
          () =>
            [
              [rng(), rng(), 0],
              [0, 0, 1],
            ] as [Vec3, Vec3],
        ),
      );
      const seen = await tracer.links(at, 8, { seed: s });
      await tracer.load({ stage: closed, layers: [] });
      const inside = probeAt(pointsInside([0, 0, 0], [3, 2, 2], 200, rng).at);
      const met = await tracer.links(inside, 8, { seed: s });
      // A plane at distance h: of cosine rays, those under the angle of cosine h / r meet it within r.
      await tracer.load({ stage: over, layers: [] });
      const under = probeAt(
        Array.from(
          { length: 400 },
          () =>
            [
              [0, 0, 0],
              [0, 0, 1],
            ] as [Vec3, Vec3],
        ),
      );
      const near = new Float32Array(under.count).fill(1);
      const close = await tracer.links(under, 8, { seed: s, near });
      return [
        ...[0, 1].map((patch) => seen.filter((p) => p === patch).length / seen.length),
        met.filter((p) => p < closed.patchCount).length / met.length,
        close.filter((p) => p === NEAR).length / close.length,
      ];
    });
    return [
      compare('unit squares facing', 'CHECKS-LIGHT §2.4', got[0]!, 0.1998249, 5e-9),
      compare('unit squares with a common edge', 'CHECKS-LIGHT §2.4', got[1]!, 0.20004378, 5e-9),
      compare('in a closed room every link lands', 'closure of form factors', got[2]!, 1),
      compare('near links to a plane 0.5 m off, within 1 m', '1 − (h / r)², by hand', got[3]!, 0.75),
    ];
  },
};
