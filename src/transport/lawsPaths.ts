/** Laws of bounced light: furnace, reciprocity, layers that add, mirrors and panes, honest variance. */

import { spectrumOf } from '../colour/spectrum.ts';
import { polygonLux } from '../light/analytic.ts';
import { glassReflectance } from '../light/glass.ts';
import { hash32, rngOf } from '../maths/sampling.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { add, cross, dot, normalize, scale, sub } from '../maths/vec3.ts';
import type { Material, Stage } from '../stage/stage.ts';
import { boxQuads, lamp, matte, meanAt, pointsInside, probeAt, stageOf } from './box.ts';
import type { Law } from './judge.ts';
import { batchesOf, compare } from './judge.ts';
import { handbookGloss } from './lawsDirect.ts';
import { pointsOf } from './points.ts';
import type { Emitter } from './scene.ts';

const bulb = (centre: Vec3, lm: number, radiusM = 0.05): Emitter => ({
  shape: { kind: 'sphere', centre, axis: [0, 0, -1], up: [0, 1, 0], radiusM },
  beam: { kind: 'isotropic', cd: lm / (4 * Math.PI) },
});

/** In a closed room of one reflectance the mean bounced light is Φ/S · ρ/(1 - ρ), at each wavelength, for any lamp. */
export const furnace: Law = {
  name: 'furnace: mean bounced light of a closed room',
  async run(tracer, seed) {
    const rho = (nm: number): number => 0.15 + (0.6 * (nm - 380)) / 400;
    const low: Vec3 = [0, 0, 0];
    const high: Vec3 = [4, 4, 4];
    const stage = stageOf(boxQuads(low, high, 'in', matte(spectrumOf(rho), 'ramp'), 2));
    await tracer.load({
      stage,
      layers: [lamp('middle', bulb([2, 2, 2], 10000)), lamp('aside', bulb([1, 1.5, 2.8], 3000))],
    });
    const got = await batchesOf(seed, async (s) => {
      const { at } = pointsInside(low, high, 1200, rngOf(hash32(s, 1)));
      const { layers } = await tracer.trace(probeAt(at), { seed: s, paths: 2 });
      const at12 = (l: number, k: number) => meanAt(layers[l]!.bounced.filter((_, i) => i % 12 === k));
      return [
        meanAt(layers[0]!.direct.diffuse),
        meanAt(layers[1]!.direct.diffuse),
        at12(0, 0),
        at12(0, 6),
        at12(0, 11),
        at12(1, 6),
      ];
    });
    const source = 'energy balance, CHECKS-LIGHT §1.7';
    const bounced = (lm: number, nm: number): number => ((lm / 96) * rho(nm)) / (1 - rho(nm));
    return [
      compare('direct, first lamp', source, got[0]!, 10000 / 96),
      compare('direct, second lamp', source, got[1]!, 3000 / 96),
      compare('bounced at 430 nm', source, got[2]!, bounced(10000, 430)),
      compare('bounced at 565 nm', source, got[3]!, bounced(10000, 565)),
      compare('bounced at 710 nm', source, got[4]!, bounced(10000, 710)),
      compare('bounced at 565 nm, second lamp', source, got[5]!, bounced(3000, 565)),
    ];
  },
};

/** A room with everything in it that light can meet. */
function fullRoom(): Stage {
  const gloss: Material = { ...matte(0.3, 'varnish'), gloss: { f0: 0.08, roughness: 0.45 } };
  const mirror: Material = { ...matte(0.85, 'mirror'), kind: 'mirror' };
  const glass: Material = { ...matte(0, 'pane'), kind: 'glass' };
  const sheet: Material = { ...matte(0.25, 'net'), kind: 'sheet', straight: 0.6 };
  return stageOf(
    [
      ...boxQuads([0, 0, 0], [4, 3, 2.5], 'in', { floor: gloss, ceiling: matte(0.8), walls: matte(0.5) }, 1),
      { corner: [0.01, 0.8, 0.6], sideU: [0, 1.4, 0], sideV: [0, 0, 1.4], material: mirror },
      { corner: [2.1, 0.2, 0.2], sideU: [0.3, 1.6, 0], sideV: [0, 0, 1.9], material: glass },
      { corner: [2.6, 2, 0.4], sideU: [1, -0.2, 0], sideV: [0, 0, 1.5], material: sheet },
      ...boxQuads([1.2, 1.9, 0], [1.8, 2.5, 0.8], 'out', matte(0.6, 'crate'), 1, 'furniture:crate').map(
        (q) => ({ ...q, moving: true }),
      ),
    ],
    'full room',
  );
}

interface Plate {
  centre: Vec3;
  axis: Vec3;
}
const PLATE_R = 0.25;
const plateLamp = ({ centre, axis }: Plate): Emitter => ({
  shape: { kind: 'disc', centre, axis, up: normalize(cross(axis, [0.3, 0.5, 0.8])), radiusM: PLATE_R },
  beam: { kind: 'cosine', peakCd: 1000, exponent: 1 },
});
/** Points evenly over a plate, facing as it does. */
const onPlate = ({ centre, axis }: Plate, count: number, rng: () => number): [Vec3, Vec3][] => {
  const x = normalize(cross(axis, [0.3, 0.5, 0.8]));
  const y = cross(axis, x);
  return Array.from({ length: count }, (_, i) => {
    const r = PLATE_R * Math.sqrt((i + rng()) / count);
    const a = 2 * Math.PI * rng();
    return [add(centre, add(scale(x, r * Math.cos(a)), scale(y, r * Math.sin(a)))), axis];
  });
};

/** Lamp and meter change places: nothing changes, whatever stands in the room. */
export const swap: Law = {
  name: 'reciprocity: lamp and meter change places',
  async run(tracer, seed) {
    const a: Plate = { centre: [0.9, 0.6, 1.7], axis: normalize([0.3, 0.5, -0.6]) };
    const b: Plate = { centre: [3.2, 1.6, 1.2], axis: normalize([-0.7, -0.2, 0.3]) };
    await tracer.load({ stage: fullRoom(), layers: [lamp('a', plateLamp(a)), lamp('b', plateLamp(b))] });
    const got = await batchesOf(seed, async (s) => {
      const rng = rngOf(hash32(s, 2));
      const one = async (layer: number, meter: Plate, other: number) => {
        const at = probeAt(onPlate(meter, 500, rng));
        const { direct, bounced } = (await tracer.trace(at, { seed: s * 2 + other, paths: 2, only: [layer] }))
          .layers[0]!;
        return [meanAt(direct.diffuse), meanAt(bounced)];
      };
      const ab = await one(0, b, 0);
      const ba = await one(1, a, 1);
      // Differences over a fixed scale, so that slack means a share.
      return [(ab[0]! - ba[0]!) / 100, (ab[1]! - ba[1]!) / 100];
    });
    return [
      compare('direct', 'reciprocity', got[0]!, 0, 1e-4),
      compare('bounced', 'reciprocity', got[1]!, 0, 1e-4),
    ];
  },
};

/** Layers add: two lamps in one layer are the sum of each in its own. And a layer is itself, wherever it stands. */
export const linear: Law = {
  name: 'layers add up',
  async run(tracer, seed) {
    const a = bulb([0.8, 0.7, 2], 4000);
    const b = plateLamp({ centre: [3.3, 2.2, 1.8], axis: normalize([-0.6, -0.5, -0.2]) });
    const layers = [lamp('a', a), lamp('b', b), lamp('both', a, b)];
    await tracer.load({ stage: fullRoom(), layers });
    const got = await batchesOf(seed, async (s) => {
      const rng = rngOf(hash32(s, 3));
      const at = probeAt(onPlate({ centre: [1.9, 1.2, 0.9], axis: normalize([0.2, 0.1, 1]) }, 300, rng));
      const all = (await tracer.trace(at, { seed: s * 3, paths: 2 })).layers.map((l) => [
        meanAt(l.direct.diffuse),
        meanAt(l.bounced),
      ]);
      const own = (await tracer.trace(at, { seed: s * 3 + 1, paths: 2, only: [1] })).layers.map((l) => [
        meanAt(l.direct.diffuse),
        meanAt(l.bounced),
      ]);
      const quick: number[] = [];
      for (let l = 0; l < 3; l++)
        quick.push(meanAt((await tracer.direct(at, l, { seed: s * 3 + l, samples: 4 })).diffuse));
      const of = (l: number, k: number) => all[l]![k]!;
      return [
        of(2, 0) - of(0, 0) - of(1, 0),
        of(2, 1) - of(0, 1) - of(1, 1),
        of(1, 0) - own[0]![0]!,
        of(1, 1) - own[0]![1]!,
        quick[2]! - quick[0]! - quick[1]!,
        quick[0]! - of(0, 0),
      ].map((x) => x / 100);
    });
    return [
      'direct',
      'bounced',
      'direct, second alone',
      'bounced, second alone',
      'quick direct',
      'quick direct is direct by paths',
    ].map((what, i) => compare(what, 'superposition', got[i]!, 0, 1e-4));
  },
};

/** A panel in a mirror is its image, dimmed by the mirror; in a pane, by the pane at each angle. */
export const images: Law = {
  name: 'mirrors and panes show images',
  async run(tracer, seed) {
    const rho = (nm: number): number => 0.95 - (0.4 * (nm - 380)) / 400;
    const mirror: Material = { name: 'mirror', reflectance: spectrumOf(rho), kind: 'mirror' };
    const glass: Material = { name: 'pane', reflectance: matte(0).reflectance, kind: 'glass' };
    const wall = (material: Material) =>
      stageOf(
        [{ corner: [0, -20, -20], sideU: [0, 40, 0], sideV: [0, 0, 40], material }],
        `wall of ${material.name}`,
      );
    const panel: Emitter = {
      shape: {
        kind: 'rectangle',
        centre: [1, 0, 1],
        axis: [-1, 0, 0],
        up: [0, 0, 1],
        widthM: 1.2,
        heightM: 1.2,
      },
      beam: { kind: 'cosine', peakCd: 1440, exponent: 1 },
    };
    const image: Vec3[] = [
      [-1, -0.6, 0.4],
      [-1, 0.6, 0.4],
      [-1, 0.6, 1.6],
      [-1, -0.6, 1.6],
    ];
    const from: Vec3 = [1.5, 0.2, 0];
    const n = normalize([-0.8, 0, 0.6]);
    const at = probeAt(Array.from({ length: 200 }, () => [from, n] as [Vec3, Vec3]));
    const layers = [lamp('panel', panel)];
    const got = await batchesOf(seed, async (s) => {
      const out: number[] = [];
      for (const material of [mirror, glass]) {
        await tracer.load({ stage: wall(material), layers });
        const { direct, bounced } = (await tracer.trace(at, { seed: s, paths: 32 })).layers[0]!;
        out.push(
          meanAt(bounced.filter((_, i) => i % 12 === 0)),
          meanAt(bounced.filter((_, i) => i % 12 === 11)),
          meanAt(direct.diffuse),
        );
      }
      return out;
    });
    const whole = polygonLux(1000, image, from, n);
    // The pane's image by midpoint quadrature.
    let thrown = 0;
    const steps = 300;
    for (let i = 0; i < steps; i++) {
      for (let j = 0; j < steps; j++) {
        const p: Vec3 = [-1, -0.6 + (1.2 * (i + 0.5)) / steps, 0.4 + (1.2 * (j + 0.5)) / steps];
        const d = sub(p, from);
        const d2 = dot(d, d);
        const cosP = -d[0] / Math.sqrt(d2);
        const cosR = Math.max(0, dot(d, n)) / Math.sqrt(d2);
        thrown += (1000 * glassReflectance(cosP) * cosP * cosR * (1.2 / steps) ** 2) / d2;
      }
    }
    return [
      compare('mirror at 430 nm', 'image panel by polygon contour', got[0]!, rho(430) * whole),
      compare('mirror at 710 nm', 'image panel by polygon contour', got[1]!, rho(710) * whole),
      compare('nothing direct', 'the panel faces away', got[2]!, 0),
      compare('pane', 'image panel by quadrature with light/glass', got[3]!, thrown),
    ];
  },
};

/** The room in a gloss: a lit matte tile is a panel of luminance ρE/π. */
export const sheen: Law = {
  name: 'gloss: bounced light in it as by quadrature',
  async run(tracer, seed) {
    const side = 1.4;
    const centre: Vec3 = [-1.3, 0.4, 1.5];
    const axis = normalize([1.3, -0.4, -1.5]);
    const y = normalize(sub([0, 0, 1], scale(axis, axis[2])));
    const x = cross(y, axis);
    const toEye = normalize([1, -0.2, 1]);
    const f0 = 0.05;
    const cases = [0.3, 0.7];
    const far: Vec3 = [0, 0, -500];
    const stage = stageOf(
      [
        {
          corner: add(centre, add(scale(x, -side / 2), scale(y, -side / 2))),
          sideU: scale(x, side),
          sideV: scale(y, side),
          material: matte(
            spectrumOf((nm) => nm / 1000),
            'tile',
          ),
        },
        ...cases.map((roughness) => ({
          corner: far,
          sideU: [1, 0, 0] as Vec3,
          sideV: [0, 1, 0] as Vec3,
          material: { ...matte(0, `r ${roughness}`), gloss: { f0, roughness } },
        })),
      ],
      'tile',
    );
    // So far off that it lights the tile evenly: 1000 lx.
    const distance = 2e4;
    await tracer.load({
      stage,
      layers: [lamp('far', bulb(add(centre, scale(axis, distance)), 4 * Math.PI * 1000 * distance ** 2))],
    });
    const at = cases.map((_, i) => {
      const points = pointsOf(100);
      for (let p = 0; p < points.count; p++) {
        points.normal.set([0, 0, 1], p * 3);
        points.faceNormal.set([0, 0, 1], p * 3);
        points.toEye.set(toEye, p * 3);
      }
      points.material.fill(1 + i);
      return points;
    });
    const got = await batchesOf(seed, async (s) => {
      const out: number[] = [];
      for (const points of at) {
        const { glossBounced } = (await tracer.trace(points, { seed: s, paths: 16 })).layers[0]!;
        out.push(
          ...[0, 11].map((k) =>
            meanAt((glossBounced ?? new Float32Array(12)).filter((_, i) => i % 12 === k)),
          ),
        );
      }
      return out;
    });
    return cases.flatMap((roughness, i) => {
      const n = 300;
      let sum = 0;
      for (let a = 0; a < n; a++) {
        for (let b = 0; b < n; b++) {
          const u = ((a + 0.5) / n - 0.5) * side;
          const v = ((b + 0.5) / n - 0.5) * side;
          const p = add(centre, add(scale(x, u), scale(y, v)));
          const d2 = dot(p, p);
          const l = normalize(p);
          sum += (handbookGloss(f0, roughness ** 2, l, toEye) * l[2] * -dot(l, axis) * (side / n) ** 2) / d2;
        }
      }
      // Luminance of the tile at 430 and 710 nm: ρE/π.
      return [0.43, 0.71].map((rho, k) =>
        compare(
          `roughness ${roughness}, ${rho * 1000} nm`,
          'GGX by midpoint quadrature, 300 × 300',
          got[i * 2 + k]!,
          (sum * rho * 1000) / Math.PI,
        ),
      );
    });
  },
};

/** The variance that comes with an estimate is the one that estimates have. */
export const variance: Law = {
  name: 'variance is honest',
  async run(tracer, seed) {
    const stage = stageOf(boxQuads([0, 0, 0], [4, 4, 3], 'in', matte(0.6), 2));
    const wide = plateLamp({ centre: [1, 1, 2], axis: normalize([0.4, 0.5, -0.7]) });
    await tracer.load({ stage, layers: [lamp('a', wide)] });
    const rng = rngOf(hash32(seed, 4));
    const at = probeAt(onPlate({ centre: [2.6, 2.2, 0.9], axis: normalize([-0.4, 0.1, 1]) }, 60, rng));
    const got = await batchesOf(seed, async (s) => {
      const one = (await tracer.trace(at, { seed: s * 2, paths: 16 })).layers[0]!;
      const two = (await tracer.trace(at, { seed: s * 2 + 1, paths: 16 })).layers[0]!;
      const value = (e: typeof one, p: number) =>
        e.direct.diffuse[p]! + meanAt(e.bounced.subarray(p * 12, p * 12 + 12));
      let said = 0;
      let found = 0;
      for (let p = 0; p < at.count; p++) {
        said += (one.variance[p]! + two.variance[p]!) / 2;
        found += (value(one, p) - value(two, p)) ** 2 / 2;
      }
      // Over a fixed scale, the usual size of either here: about 12 lux².
      return [(said - found) / at.count / 12];
    });
    return [compare('predicted less found', 'definition of variance', got[0]!, 0, 1e-3)];
  },
};
