/**
 * Generic lamps: what a head of each kind is and does. Candela and angles are planning values from memory, rounded
 * between several makers' ordinary heads [CHECKS-CAMERA §7.2–7.3], half a stop either way unless said; one reading of
 * the real head replaces them (calibration.ts). Sizes and masses: common practice, no source.
 */
import type { Beam, BeamEnd } from './beam.ts';
import { cosineBeam, focusBeam, isotropicBeam, tubeBeam } from './beam.ts';
import type { SourceKind } from './source.ts';

/** Luminous opening, true size, metres. */
export type EmitterSize =
  | { kind: 'disc'; diameterM: number }
  | { kind: 'rectangle'; widthM: number; heightM: number }
  | { kind: 'tube'; lengthM: number; diameterM: number }
  | { kind: 'sphere'; diameterM: number };

export interface KitLamp {
  id: string;
  words: string;
  source: SourceKind;
  cctK: number;
  /** A bi-colour head's range. */
  cctRangeK?: readonly [number, number];
  /** Real power, W. */
  watts: number;
  /** watts / VA. */
  powerFactor: number;
  supply: 'mains' | 'battery' | 'none';
  /** Volts it is rated for; a filament's light depends on it. 0: no mains. */
  ratedV: number;
  /** Lumens of the bare lamp inside, for the energy check; undefined: not known. */
  bareLm?: number;
  emitter: EmitterSize;
  /** Housing box, metres: across, up, along the axis. */
  housing: { widthM: number; heightM: number; depthM: number };
  massKg: number;
  /** A head that focuses between two ends, or one fixed beam. */
  optics: { kind: 'focus'; spot: BeamEnd; flood: BeamEnd } | { kind: 'fixed'; beam: Beam };
  /** Half-width of a 90 % interval on its candela, stops. */
  bandStops: number;
  /** Class I: metal parts on the earth wire. Undefined: not known. */
  classI?: boolean;
  /** Switch-on current: cold filament, capacitor, gear. Times the running current; planning values from memory. */
  inrush: { kind: 'filament' | 'capacitor' | 'gear' | 'none'; times?: number };
  /** May its light go up and down by changing the mains voltage? */
  dimsByVoltage: boolean;
  /** Half of peak-to-peak over mean of its light at twice the mains frequency; undefined: not known. */
  ripple?: number;
  /** Has it a slot for scrims and doors? */
  doors: boolean;
  note?: string;
}

const tungsten = {
  source: 'tungsten',
  cctK: 3200,
  powerFactor: 1,
  supply: 'mains',
  ratedV: 230,
  bandStops: 0.5,
  classI: true,
  inrush: { kind: 'filament', times: 14 },
  dimsByVoltage: true,
  doors: true,
} as const;

const fresnel = (
  id: string,
  watts: number,
  bareLm: number,
  lensM: number,
  massKg: number,
  spot: BeamEnd,
  flood: BeamEnd,
  housing: KitLamp['housing'],
  ripple: number,
): KitLamp => ({
  ...tungsten,
  id,
  words: `${watts >= 1000 ? `${watts / 1000} kW` : `${watts} W`} fresnel`,
  watts,
  bareLm,
  emitter: { kind: 'disc', diameterM: lensM },
  housing,
  massKg,
  optics: { kind: 'focus', spot, flood },
  ripple,
});

const bulb = (id: string, words: string, watts: number, bareLm: number): KitLamp => ({
  ...tungsten,
  id,
  words,
  cctK: 2700,
  watts,
  bareLm,
  emitter: { kind: 'sphere', diameterM: 0.06 },
  housing: { widthM: 0.06, heightM: 0.1, depthM: 0.06 },
  massKg: 0.05,
  optics: { kind: 'fixed', beam: isotropicBeam(bareLm) },
  bandStops: 0.25,
  classI: false,
  ripple: 0.1,
  doors: false,
  note: 'Lumens of lists for 120 V (100 W: 230 V); a 230 V bulb gives up to 15 % less, lists differ by as much.',
});

const led = {
  source: 'led',
  supply: 'mains',
  ratedV: 230,
  powerFactor: 0.9,
  inrush: { kind: 'capacitor' },
  dimsByVoltage: false,
} as const;

export const KIT_LAMPS: readonly KitLamp[] = [
  fresnel(
    'fresnel-300',
    300,
    7500,
    0.08,
    2.3,
    { peakCd: 20000, beamDeg: 14 },
    { peakCd: 2400, beamDeg: 60 },
    { widthM: 0.16, heightM: 0.2, depthM: 0.17 },
    0.05,
  ),
  fresnel(
    'fresnel-650',
    650,
    16500,
    0.11,
    3.3,
    { peakCd: 38000, beamDeg: 14 },
    { peakCd: 6500, beamDeg: 53 },
    { widthM: 0.21, heightM: 0.27, depthM: 0.22 },
    0.05,
  ),
  fresnel(
    'fresnel-1000',
    1000,
    26000,
    0.15,
    5.5,
    { peakCd: 65000, beamDeg: 13 },
    { peakCd: 9500, beamDeg: 58 },
    { widthM: 0.27, heightM: 0.33, depthM: 0.28 },
    0.035,
  ),
  fresnel(
    'fresnel-2000',
    2000,
    52000,
    0.25,
    10,
    { peakCd: 150000, beamDeg: 11 },
    { peakCd: 23000, beamDeg: 58 },
    { widthM: 0.36, heightM: 0.44, depthM: 0.36 },
    0.03,
  ),
  {
    ...tungsten,
    id: 'open-face-800',
    words: '800 W open-face',
    watts: 800,
    bareLm: 21000,
    emitter: { kind: 'disc', diameterM: 0.15 },
    housing: { widthM: 0.21, heightM: 0.24, depthM: 0.19 },
    massKg: 2.8,
    optics: { kind: 'focus', spot: { peakCd: 40000, beamDeg: 36 }, flood: { peakCd: 9500, beamDeg: 84 } },
    ripple: 0.04,
  },
  {
    ...tungsten,
    id: 'open-face-2000',
    words: '2 kW open-face',
    watts: 2000,
    bareLm: 52000,
    emitter: { kind: 'disc', diameterM: 0.24 },
    housing: { widthM: 0.32, heightM: 0.36, depthM: 0.28 },
    massKg: 6,
    optics: { kind: 'focus', spot: { peakCd: 100000, beamDeg: 36 }, flood: { peakCd: 26000, beamDeg: 80 } },
    ripple: 0.03,
  },
  {
    ...tungsten,
    id: 'site-flood-500',
    words: '500 W site floodlight',
    cctK: 2950,
    watts: 500,
    bareLm: 9500,
    emitter: { kind: 'rectangle', widthM: 0.15, heightM: 0.11 },
    housing: { widthM: 0.19, heightM: 0.15, depthM: 0.12 },
    massKg: 1.2,
    optics: { kind: 'fixed', beam: cosineBeam(3000, 110, 80) },
    ripple: 0.05,
    doors: false,
    note: 'Glass and housing burn; no slot, no doors.',
  },
  {
    id: 'tube-36',
    words: '4 ft fluorescent tube, cool white',
    source: 'fluorescent',
    cctK: 4000,
    watts: 45,
    powerFactor: 0.5,
    supply: 'mains',
    ratedV: 230,
    bareLm: 3350,
    emitter: { kind: 'tube', lengthM: 1.2, diameterM: 0.026 },
    housing: { widthM: 1.22, heightM: 0.06, depthM: 0.06 },
    massKg: 1.2,
    optics: { kind: 'fixed', beam: tubeBeam(3350) },
    bandStops: 0.35,
    classI: true,
    inrush: { kind: 'gear' },
    dimsByVoltage: false,
    ripple: 0.35,
    doors: false,
    note: '36 W tube on magnetic gear: 45 W with its gear and 90 VA, uncorrected.',
  },
  bulb('bulb-40', '40 W household bulb', 40, 450),
  bulb('bulb-60', '60 W household bulb', 60, 800),
  bulb('bulb-100', '100 W household bulb', 100, 1340),
  {
    ...led,
    id: 'led-bulb',
    words: 'LED bulb of unknown quality',
    cctK: 2700,
    watts: 9,
    powerFactor: 0.5,
    bareLm: 806,
    emitter: { kind: 'sphere', diameterM: 0.06 },
    housing: { widthM: 0.06, heightM: 0.11, depthM: 0.06 },
    massKg: 0.06,
    optics: { kind: 'fixed', beam: isotropicBeam(806) },
    bandStops: 0.5,
    classI: false,
    doors: false,
    note: 'Spectrum, flicker and dimming are not known: test before the take.',
  },
  {
    ...led,
    id: 'led-filament-6',
    words: '6 W LED filament bulb',
    cctK: 2700,
    watts: 6,
    powerFactor: 0.9,
    bareLm: 700,
    emitter: { kind: 'sphere', diameterM: 0.06 },
    housing: { widthM: 0.06, heightM: 0.11, depthM: 0.06 },
    massKg: 0.04,
    optics: { kind: 'fixed', beam: isotropicBeam(700) },
    bandStops: 0.35,
    classI: false,
    doors: false,
  },
  {
    ...led,
    id: 'led-flood-50',
    words: '50 W LED floodlight of unknown quality',
    cctK: 6000,
    watts: 50,
    powerFactor: 0.9,
    emitter: { kind: 'rectangle', widthM: 0.16, heightM: 0.12 },
    housing: { widthM: 0.2, heightM: 0.16, depthM: 0.05 },
    massKg: 1,
    // 4000 lm as from a matte plate: Φ/π on the axis, 120° to half.
    optics: { kind: 'fixed', beam: cosineBeam(4000 / Math.PI, 120) },
    bandStops: 0.75,
    classI: true,
    doors: false,
    note: 'Spectrum and flicker are not known.',
  },
  {
    ...led,
    id: 'led-panel-60',
    words: '60 W bi-colour LED panel',
    cctK: 3200,
    cctRangeK: [2800, 6500],
    watts: 63,
    bareLm: 5200,
    emitter: { kind: 'rectangle', widthM: 0.26, heightM: 0.2 },
    housing: { widthM: 0.3, heightM: 0.24, depthM: 0.07 },
    massKg: 1.8,
    optics: { kind: 'fixed', beam: cosineBeam(4000, 55) },
    bandStops: 0.5,
    doors: true,
  },
  {
    ...led,
    id: 'led-panel-1ft',
    words: '1 ft LED panel',
    cctK: 5600,
    cctRangeK: [3000, 6000],
    watts: 150,
    powerFactor: 0.95,
    bareLm: 14000,
    emitter: { kind: 'rectangle', widthM: 0.29, heightM: 0.29 },
    housing: { widthM: 0.36, heightM: 0.36, depthM: 0.12 },
    massKg: 3.2,
    optics: { kind: 'fixed', beam: cosineBeam(12000, 50) },
    bandStops: 0.5,
    classI: true,
    doors: true,
  },
  {
    ...led,
    id: 'led-spot-200',
    words: '200 W daylight LED spot',
    cctK: 5600,
    watts: 209,
    powerFactor: 0.95,
    bareLm: 20000,
    emitter: { kind: 'disc', diameterM: 0.12 },
    housing: { widthM: 0.16, heightM: 0.2, depthM: 0.36 },
    massKg: 3.5,
    optics: { kind: 'focus', spot: { peakCd: 60000, beamDeg: 15 }, flood: { peakCd: 12000, beamDeg: 55 } },
    bandStops: 0.75,
    classI: true,
    doors: true,
    note: 'Candela: our own planning value, no source.',
  },
  {
    ...led,
    id: 'led-small',
    words: 'small battery LED',
    cctK: 5600,
    watts: 8,
    powerFactor: 1,
    supply: 'battery',
    ratedV: 0,
    emitter: { kind: 'rectangle', widthM: 0.12, heightM: 0.07 },
    housing: { widthM: 0.14, heightM: 0.09, depthM: 0.04 },
    massKg: 0.35,
    optics: { kind: 'fixed', beam: cosineBeam(600, 75) },
    bandStops: 0.75,
    inrush: { kind: 'none' },
    doors: false,
  },
  {
    ...bulb('lantern-60', '0.6 m paper lantern with a 60 W bulb', 60, 800),
    emitter: { kind: 'sphere', diameterM: 0.6 },
    housing: { widthM: 0.6, heightM: 0.6, depthM: 0.6 },
    massKg: 0.25,
    // Paper passes about 0.75 (from memory).
    optics: { kind: 'fixed', beam: isotropicBeam(800 * 0.75) },
    bandStops: 0.35,
    note: 'Paper near a hot bulb burns: smallest bulb, kept to the middle.',
  },
  {
    id: 'candle',
    words: 'candle',
    source: 'flame',
    cctK: 1900,
    watts: 0,
    powerFactor: 1,
    supply: 'none',
    ratedV: 0,
    bareLm: 12.57,
    emitter: { kind: 'sphere', diameterM: 0.02 },
    housing: { widthM: 0.02, heightM: 0.2, depthM: 0.02 },
    massKg: 0.05,
    optics: { kind: 'fixed', beam: { kind: 'isotropic', cd: 1 } },
    bandStops: 0.5,
    inrush: { kind: 'none' },
    dimsByVoltage: false,
    doors: false,
    note: 'An open flame: someone watches it, water at hand.',
  },
];

export const kitLampById = (id: string): KitLamp | undefined => KIT_LAMPS.find((l) => l.id === id);

/** The lamp's beam at a focus, 0 flood … 1 spot (ignored where it cannot focus). */
export const beamOfLamp = (lamp: KitLamp, focus = 0): Beam =>
  lamp.optics.kind === 'focus' ? focusBeam(lamp.optics.spot, lamp.optics.flood, focus) : lamp.optics.beam;

/** Apparent power, VA. */
export const apparentVA = (lamp: KitLamp): number => lamp.watts / lamp.powerFactor;

/** The same lamp bought for another mains: same watts and light, other rated volts. */
export const forMains = (lamp: KitLamp, volts: number): KitLamp =>
  lamp.supply === 'mains' ? { ...lamp, ratedV: volts } : lamp;
