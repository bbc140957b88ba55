/**
 * Published light in rooms, by tracing: CIE 171 and two closed rooms [CHECKS-LIGHT §1.2 to 1.7], ids after the list of
 * acceptance checks [CHECKS-LIGHT §8]. Every value is a mean of independent batches; where its standard error is above a
 * third of the tolerance the row has no value (NaN) and so does not hold: noise may neither pass nor be blamed.
 */
import { rngOf } from '../maths/sampling.ts';
import { meanOf } from '../maths/student.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { boxQuads, lamp, matte, meanAt, nowhere, pointsInside, probeAt, stageOf } from '../transport/box.ts';
import type { Emitter } from '../transport/scene.ts';
import type { SurfacePoints, Tracer } from '../transport/tracer.ts';
import type { CheckRow } from './row.ts';
import { row } from './row.ts';

const BATCHES = 32;

/** Mean of batches, or NaN where their standard error is above a third of the tolerance. */
async function steady(tolerance: number, one: (seed: number) => Promise<number>): Promise<number> {
  const values: number[] = [];
  for (let b = 0; b < BATCHES; b++) values.push(await one(7000 + b));
  const { mean, error } = meanOf(values);
  return error <= tolerance / 3 ? mean : Number.NaN;
}

/** Several copies of one point: paths of each are chance's own. */
const copies = (at: Vec3, normal: Vec3, count: number): SurfacePoints =>
  probeAt(Array.from({ length: count }, () => [at, normal] as const));

const bulb = (centre: Vec3, lm = 10000): Emitter => ({
  shape: { kind: 'sphere', centre, axis: [0, 0, -1], up: [0, 1, 0], radiusM: 0.01 },
  beam: { kind: 'isotropic', cd: lm / (4 * Math.PI) },
});

/** A lamp so far off that its light is parallel: 1 lx square to the direction it comes from. */
const parallel = (from: Vec3): Emitter => {
  const d = Math.hypot(...from);
  const far = 1e5;
  const centre: Vec3 = [2 + (from[0] / d) * far, 2 + (from[1] / d) * far, (from[2] / d) * far];
  return {
    shape: { kind: 'sphere', centre, axis: [0, 0, -1], up: [0, 1, 0], radiusM: 1 },
    beam: { kind: 'isotropic', cd: far * far },
  };
};

/** 2: a panel of a square metre in the ceiling. */
async function panel(tracer: Tracer): Promise<CheckRow[]> {
  const layer = lamp('panel', {
    shape: { kind: 'rectangle', centre: [2, 2, 3], axis: [0, 0, -1], up: [0, 1, 0], widthM: 1, heightM: 1 },
    beam: { kind: 'cosine', peakCd: 1000, exponent: 1 },
  });
  await tracer.load({ stage: nowhere(), layers: [layer] });
  const out: CheckRow[] = [];
  const cases: [string, Vec3, Vec3, number][] = [
    ['B', [2, 0, 2.25], [0, 1, 0], 75.193925],
    ['F', [2, 0, 0.25], [0, 1, 0], 40.001852],
    ['J', [2, 1.75, 0], [0, 0, 1], 105.778242],
  ];
  for (const [name, at, normal, expected] of cases) {
    const tolerance = expected * 0.01;
    const got = await steady(tolerance, async (seed) =>
      meanAt((await tracer.direct(probeAt([[at, normal]]), 0, { seed, samples: 256 })).diffuse),
    );
    out.push(
      row(
        `light-2-${name}-traced`,
        `panel in the ceiling, point ${name}`,
        'CIE-171, CHECKS-LIGHT §1.2',
        expected,
        got,
        'lx',
        tolerance,
      ),
    );
  }
  return out;
}

/** 3: what the lamp sends arrives. */
async function flux(tracer: Tracer): Promise<CheckRow[]> {
  const stage = stageOf(boxQuads([0, 0, 0], [4, 4, 3], 'in', matte(0), 0.5), 'cie 5.4');
  await tracer.load({ stage, layers: [lamp('bulb', bulb([2, 2, 1.5]))] });
  // All patches are half a metre square.
  const got = await steady(0.003, async (seed) => {
    const lux = await tracer.patchDirect(0, { seed, samples: 16 });
    return (meanAt(lux) * 80) / 10000;
  });
  return [
    row(
      'light-3',
      'flux on the surfaces over flux of the lamp',
      'CIE-171, CHECKS-LIGHT §1.3',
      1,
      got,
      '',
      0.003,
    ),
  ];
}

/** 4: light thrown up by a lit reflector of 30 %, as a share of what it throws. */
async function reflector(tracer: Tracer): Promise<CheckRow[]> {
  const stage = stageOf(
    [{ corner: [0, 0, 0], sideU: [4, 0, 0], sideV: [0, 4, 0], material: matte(0.3) }],
    'cie 5.6',
  );
  await tracer.load({ stage, layers: [lamp('beam', parallel([0, 0, 1]))] });
  const wall: Vec3 = [0, 1, 0];
  const ceiling: Vec3 = [0, 0, -1];
  const cases: [string, Vec3, Vec3, number][] = [
    ['B', [2, 0, 0.75], wall, 35.9005],
    ['F', [2, 0, 2.75], wall, 12.9674],
    ['G', [2, 0.25, 3], ceiling, 26.7952],
    ['J', [2, 1.75, 3], ceiling, 35.5666],
  ];
  return shares(
    tracer,
    'light-4',
    'CIE-171, CHECKS-LIGHT §1.5',
    'reflector on the ground',
    cases,
    0.3,
    8,
    512,
  );
}

/** 5: light thrown by a wall of 60 % past a black box. */
async function obstruction(tracer: Tracer): Promise<CheckRow[]> {
  const stage = stageOf(
    [
      { corner: [0, 4, 0], sideU: [4, 0, 0], sideV: [0, 0, 3], material: matte(0.6), part: 'wall' },
      ...boxQuads([0, 2.5, 0], [4, 2.7, 1], 'out', matte(0), 10, 'obstruction'),
    ],
    'cie 5.7',
  );
  // Steep enough that the box throws no shadow on the wall: it is lit evenly, by 1/√5 lx.
  await tracer.load({ stage, layers: [lamp('beam', parallel([0, -1, 2]))] });
  const wall: Vec3 = [0, 1, 0];
  const floor: Vec3 = [0, 0, 1];
  const cases: [string, Vec3, Vec3, number][] = [
    ['A', [2, 0, 2.75], wall, 16.0706],
    ['F', [2, 0, 0.25], wall, 7.079],
    ['G', [2, 0.25, 0], floor, 3.3823],
    ['I', [2, 1.25, 0], floor, 3.013],
    ['J', [2, 1.75, 0], floor, 0],
  ];
  return shares(
    tracer,
    'light-5',
    'CIE-171, CHECKS-LIGHT §1.6',
    'wall behind a box',
    cases,
    0.6 / Math.sqrt(5),
    96,
    1024,
  );
}

/** Bounced light at points, as a percentage of `thrown` lux. */
async function shares(
  tracer: Tracer,
  id: string,
  source: string,
  what: string,
  cases: readonly [string, Vec3, Vec3, number][],
  thrown: number,
  points: number,
  paths: number,
): Promise<CheckRow[]> {
  const out: CheckRow[] = [];
  for (const [name, at, normal, expected] of cases) {
    const tolerance = Math.max(expected * 0.01, 5e-5);
    const got = await steady(tolerance, async (seed) => {
      const { layers } = await tracer.trace(copies(at, normal, points), { seed, paths });
      return (100 * meanAt(layers[0]!.bounced)) / thrown;
    });
    out.push(row(`${id}-${name}-traced`, `${what}, point ${name}`, source, expected, got, '%', tolerance));
  }
  return out;
}

/** 6: mean bounced light of a cube of one reflectance. */
async function cube(tracer: Tracer): Promise<CheckRow[]> {
  const out: CheckRow[] = [];
  for (const [rho, expected, share, count] of [
    [0.5, 104.167, 0.005, 3000],
    [0.8, 416.667, 0.005, 9000],
    [0.95, 1979.167, 0.01, 4000],
  ] as const) {
    const stage = stageOf(boxQuads([0, 0, 0], [4, 4, 4], 'in', matte(rho), 4), `cube ${rho}`);
    await tracer.load({ stage, layers: [lamp('bulb', bulb([2, 2, 2]))] });
    const tolerance = expected * share;
    const got = await steady(tolerance, async (seed) => {
      const at = probeAt(pointsInside([0, 0, 0], [4, 4, 4], count, rngOf(seed)).at);
      return meanAt((await tracer.trace(at, { seed, paths: 1 })).layers[0]!.bounced);
    });
    out.push(
      row(
        `light-6-${rho}`,
        `mean bounced light in a cube, reflectance ${rho}`,
        'CHECKS-LIGHT §1.7',
        expected,
        got,
        'lx',
        tolerance,
      ),
    );
  }
  return out;
}

/** 7: a room of three reflectances: all light, mean of floor and of ceiling. */
async function unequal(tracer: Tracer): Promise<CheckRow[]> {
  const low: Vec3 = [0, 0, 0];
  const high: Vec3 = [5, 4, 3];
  const materials = { floor: matte(0.2), walls: matte(0.5), ceiling: matte(0.7) };
  await tracer.load({
    stage: stageOf(boxQuads(low, high, 'in', materials, 5), 'unequal room'),
    layers: [lamp('bulb', bulb([2.5, 2, 2.5]))],
  });
  const out: CheckRow[] = [];
  for (const [name, z, normal, expected] of [
    ['floor', 1e-4, [0, 0, 1], 204.52],
    ['ceiling', 3 - 1e-4, [0, 0, -1], 282.39],
  ] as const) {
    const tolerance = expected * 0.005;
    const side = 50;
    const got = await steady(tolerance, async (seed) => {
      // One point in each cell of a grid.
      const rng = rngOf(seed);
      const at = probeAt(
        Array.from({ length: side * side }, (_, i) => [
          [(5 * ((i % side) + rng())) / side, (4 * (Math.floor(i / side) + rng())) / side, z] as Vec3,
          normal,
        ]),
      );
      const { direct, bounced } = (await tracer.trace(at, { seed, paths: 5 })).layers[0]!;
      return meanAt(direct.diffuse) + meanAt(bounced);
    });
    out.push(
      row(
        `light-7-${name}`,
        `room of three reflectances, mean of the ${name}`,
        'CHECKS-LIGHT §1.7',
        expected,
        got,
        'lx',
        tolerance,
      ),
    );
  }
  return out;
}

/** All rows, by the tracer that `make` makes. */
export async function rows(make: () => Tracer): Promise<CheckRow[]> {
  const tracer = make();
  const out: CheckRow[] = [];
  for (const check of [panel, flux, reflector, obstruction, cube, unequal])
    out.push(...(await check(tracer)));
  tracer.dispose();
  return out;
}
