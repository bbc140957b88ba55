/** A head of the rig as light: its layers' emitters (geometry) and what they weigh (volts, gel, level, calibration). */
import { cctOf } from '../colour/cct.ts';
import { fitMatrix } from '../colour/samples.ts';
import type { Spectrum } from '../colour/spectrum.ts';
import { product } from '../colour/spectrum.ts';
import { xyzOf } from '../colour/xyz.ts';
import type { Beam } from '../light/beam.ts';
import { angleAtShare } from '../light/beam.ts';
import type { KitLamp as LampKind } from '../light/kitlamps.ts';
import { beamOfLamp, kitLampById } from '../light/kitlamps.ts';
import { sourceSpectrum } from '../light/source.ts';
import { atVolts, voltShareForStops } from '../light/tungsten.ts';
import { add, cross, DEG, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import type { KitLamp, RigLamp } from '../shoot/schema.ts';
import type { Emitter, EmitterShape, Layer } from '../transport/scene.ts';
import type { LampWeight, LayerWeight } from './angle.ts';
import type { LampLoad } from './network.ts';
import { pegged, scatteredBeam } from './sheets.ts';

/** Sheets hang this far ahead of the luminous face, metres: in a frame ahead of the doors. */
const SHEET_AHEAD_M = 0.14;

export const kindOf = (head: KitLamp | undefined): LampKind | undefined =>
  head ? kitLampById(head.kind) : undefined;

/** Axis, up and right of a head: level unless rolled. */
export function poseOf(lamp: RigLamp): { axis: Vec3; up: Vec3; right: Vec3 } {
  const axis = normalize(sub(lamp.aim, lamp.at));
  const level: Vec3 = Math.abs(axis[2]) > 0.999 ? [0, 1, 0] : [0, 0, 1];
  const up0 = normalize(sub(level, scale(axis, dot(level, axis))));
  const right0 = cross(up0, axis);
  const r = (lamp.rollDeg ?? 0) * DEG;
  const up = add(scale(up0, Math.cos(r)), scale(right0, Math.sin(r)));
  return { axis, up, right: cross(up, axis) };
}

export function shapeOf(lamp: RigLamp, kind: LampKind): EmitterShape {
  const { axis, up, right } = poseOf(lamp);
  const e = kind.emitter;
  switch (e.kind) {
    case 'disc':
      return { kind: 'disc', centre: lamp.at, axis, up, radiusM: e.diameterM / 2 };
    case 'rectangle':
      return { kind: 'rectangle', centre: lamp.at, axis, up, widthM: e.widthM, heightM: e.heightM };
    case 'sphere':
      return { kind: 'sphere', centre: lamp.at, axis, up, radiusM: e.diameterM / 2 };
    case 'tube':
      return {
        kind: 'tube',
        from: add(lamp.at, scale(right, -e.lengthM / 2)),
        to: add(lamp.at, scale(right, e.lengthM / 2)),
        radiusM: e.diameterM / 2,
      };
  }
}

export const sizeOf = (kind: LampKind): number => {
  const e = kind.emitter;
  return e.kind === 'disc' || e.kind === 'sphere'
    ? e.diameterM
    : e.kind === 'rectangle'
      ? Math.hypot(e.widthM, e.heightM)
      : e.lengthM;
};

/** Layers of a head: what goes straight, and what pegged diffusion scatters from where the sheet hangs. */
export function layersOf(id: string, lamp: RigLamp, kind: LampKind): Omit<Layer, 'ownParts'>[] {
  const beam = beamOfLamp(kind, lamp.focus);
  const shape = shapeOf(lamp, kind);
  const peg = pegged(lamp.sheets, []);
  const layers = [layer(`${id}`, id, [{ shape, beam }])];
  if (peg.scattered > 0) {
    const { axis, up } = poseOf(lamp);
    const e = kind.emitter;
    const ahead = add(lamp.at, scale(axis, SHEET_AHEAD_M));
    // The sheet is lit a little wider than the face behind it.
    const sheet: EmitterShape =
      e.kind === 'rectangle'
        ? { kind: 'rectangle', centre: ahead, axis, up, widthM: e.widthM * 1.4, heightM: e.heightM * 1.4 }
        : {
            kind: 'disc',
            centre: ahead,
            axis,
            up,
            radiusM: e.kind === 'tube' ? 0.3 : Math.max(0.05, e.diameterM * 0.75),
          };
    layers.push(layer(`${id}/scattered`, id, [{ shape: sheet, beam: scatteredBeam(beam, peg.scatterDeg) }]));
  }
  return layers;
}

const layer = (id: string, lamp: string, emitters: Emitter[]): Omit<Layer, 'ownParts'> => ({
  id,
  lamp,
  emitters,
  key: JSON.stringify(emitters),
});

export const beamDegOf = (lamp: RigLamp, kind: LampKind): number => {
  const beam: Beam = beamOfLamp(kind, lamp.focus);
  return beam.kind === 'isotropic' || beam.kind === 'tube' ? 360 : angleAtShare(beam, 0.5) / DEG;
};

/** The level at which a lamp gives so many stops more (negative: less); over 1: more than it has. */
export const levelAfterStops = (kind: LampKind, level: number, stops: number): number =>
  level * (kind.source === 'tungsten' ? voltShareForStops(stops) : 2 ** stops);

export function loadOf(lamp: RigLamp, head: KitLamp, kind: LampKind): LampLoad | undefined {
  if (kind.supply !== 'mains' || !lamp.feed) return undefined;
  return {
    watts: kind.watts,
    ratedV: head.volts ?? kind.ratedV,
    kind: kind.source === 'tungsten' ? 'tungsten' : kind.inrush.kind === 'gear' ? 'magnetic' : 'electronic',
    powerFactor: kind.powerFactor,
    ...(kind.classI === undefined ? {} : { classI: kind.classI }),
  };
}

export interface WeighedLamp {
  lamp: LampWeight;
  /** One per layer of `layersOf`, in order. */
  layers: LayerWeight[];
}

/** What the readings make of a lamp. */
export type LampLearned = Pick<LampWeight, 'causes' | 'shiftStops' | 'bandStops' | 'metered'> & {
  /** Factor on its bounced light, the surfaces’ part. */
  bounceGain: number;
};

/** `volts`: at the lamp by the network, undefined if it is not on it (battery, or nobody told the feed). */
export function weigh(
  id: string,
  lamp: RigLamp,
  head: KitLamp,
  kind: LampKind,
  network: { volts: number; currentA: number } | undefined,
  learned: LampLearned,
): WeighedLamp {
  const ratedV = head.volts ?? kind.ratedV;
  const ratedK = head.cctK ?? kind.cctK;
  const peg = pegged(lamp.sheets, lamp.scrims);

  // Volts and level: light and warmth of the bare lamp.
  let lightFactor = lamp.level;
  let cctK = ratedK;
  let volts = network?.volts;
  if (kind.source === 'tungsten' && ratedV > 0) {
    volts = (network?.volts ?? ratedV) * lamp.level;
    const state = atVolts({ volts: ratedV, cctK: ratedK }, volts);
    lightFactor = state.fluxFactor;
    cctK = Math.max(1000, state.cctK);
  }
  if (!lamp.on) lightFactor = 0;

  // Spectrum per bare rated lumen, after gels, and its matrices.
  const { bounceGain, ...ofLamp } = learned;
  const factor = lightFactor * 2 ** learned.shiftStops;
  const spectrum = product(sourceSpectrum(kind.source, cctK), peg.colour);
  const unit = fitMatrix(spectrum);
  const straight = scaled(unit, factor * peg.straight, bounceGain);
  const layers: LayerWeight[] = [straight];
  if (peg.scattered > 0) layers.push(scaled(unit, factor * peg.scattered, bounceGain));

  const colour = cctOf(xyzOf(spectrum));
  const white = whiteOf(unit)[1];
  return {
    lamp: {
      id,
      volts,
      lightFactor,
      cctK,
      outCctK: colour.cctK,
      outDuv: colour.duv,
      passes: white * (peg.straight + peg.scattered),
      ...ofLamp,
      kindWords: kind.words,
      currentA: network?.currentA ?? 0,
    },
    layers,
  };
}

export const scaled = (matrix: Float64Array, k: number, bounceGain: number): LayerWeight => {
  const m = matrix.map((v) => v * k);
  return { matrix: m, white: whiteOf(m), ...(bounceGain === 1 ? {} : { bounceGain }) };
};

const whiteOf = (m: Float64Array): [number, number, number] => {
  const out: [number, number, number] = [0, 0, 0];
  for (let c = 0; c < 3; c++) for (let k = 0; k < 12; k++) out[c]! += m[c * 12 + k]!;
  return out;
};

/** Spectrum of a lamp after its sheets, W/nm per bare rated lumen (for white balance and charts). */
export function spectrumOf(lamp: RigLamp, kind: LampKind, cctK: number): Spectrum {
  return product(sourceSpectrum(kind.source, cctK), pegged(lamp.sheets, lamp.scrims).colour);
}
