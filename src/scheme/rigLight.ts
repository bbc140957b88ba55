/**
 * What a head of the kit gives at a point, bare or with what one owns in its beam, and the setting that gives as much as
 * is wanted. Direct light by inverse square from the middle of its face: within 1 % from five times its size [IES-ISL],
 * at a panel 1.5 m away some 3 % too much.
 */
import { type Beam, fluxLm, intensityCd } from '../light/beam.ts';
import { DIFFUSIONS } from '../light/diffusion.ts';
import { beamOfLamp, type KitLamp as LampKind } from '../light/kitlamps.ts';
import { add, cross, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { headCause, kindCause } from '../setup/causes.ts';
import { kindOf } from '../setup/lamps.ts';
import { learnedOf, shiftOf } from '../setup/learned.ts';
import { pegged, scatteredBeam } from '../setup/sheets.ts';
import type { KitLamp, Shoot } from '../shoot/schema.ts';

/** One head of the kit with what is known of it. */
export interface Head {
  id: string;
  head: KitLamp;
  kind: LampKind;
  /** What readings of it and of its kind make of its light. */
  factor: number;
}

export interface Setting {
  focus: number;
  level: number;
  sheets: string[];
  scrims: ('half' | 'full')[];
}
export const BARE: Setting = { focus: 0, level: 1, sheets: [], scrims: [] };

/** Heads with a knob that dims them; a filament without a dimmer, and a floodlight, burn full or not at all. */
const HAS_KNOB = new Set(['led-panel-60', 'led-panel-1ft', 'led-spot-200', 'led-small']);
/** A panel with less than this of its light left flickers or shifts its tint often enough (common practice). */
const LEAST_LEVEL = 0.05;

export function headsIn(shoot: Shoot): Head[] {
  const learned = learnedOf(shoot);
  return Object.entries(shoot.kit.lamps).flatMap(([id, head]) => {
    const kind = kindOf(head);
    if (!kind) return [];
    const stops = shiftOf(learned, kindCause(head.kind)) + shiftOf(learned, headCause(id, head.old));
    return [{ id, head, kind, factor: 2 ** stops }];
  });
}

/** Heads that throw their light one way, and so can be a key or a back light from a stand. */
export const throws = (kind: LampKind): boolean => {
  const beam = beamOfLamp(kind, 0);
  return beam.kind === 'cosine' || beam.kind === 'table';
};

const cdToward = (beam: Beam, axis: Vec3, to: Vec3): number => {
  const level: Vec3 = Math.abs(axis[2]) > 0.999 ? [0, 1, 0] : [0, 0, 1];
  const up = normalize(sub(level, scale(axis, dot(level, axis))));
  const right = cross(up, axis);
  return intensityCd(beam, [dot(to, right), dot(to, up), dot(to, axis)]);
};

/** Direct light at a point, on a meter turned to the lamp, lux; nothing in the way. */
export function givesLx(h: Head, at: Vec3, aim: Vec3, s: Setting, point: Vec3): number {
  const axis = normalize(sub(aim, at));
  const beam = beamOfLamp(h.kind, s.focus);
  const peg = pegged(s.sheets, s.scrims);
  const part = (b: Beam, from: Vec3, share: number): number => {
    if (share <= 0) return 0;
    const d = sub(point, from);
    const d2 = dot(d, d);
    return (share * cdToward(b, axis, scale(d, 1 / Math.sqrt(d2)))) / d2;
  };
  // A filament's level is a share of volts; planned at full volts only.
  const power = s.level * h.factor;
  return (
    power *
    (part(beam, at, peg.straight) +
      (peg.scattered > 0
        ? part(scatteredBeam(beam, peg.scatterDeg), add(at, scale(axis, 0.14)), peg.scattered)
        : 0))
  );
}

/** Diffusion one owns, with how many sheets are left. */
export type Stock = Map<string, number>;
export function diffusionStock(shoot: Shoot): Stock {
  const stock: Stock = new Map();
  for (const t of Object.values(shoot.kit.sheets))
    if (t.count > 0 && DIFFUSIONS.some((d) => d.id === t.kind))
      stock.set(t.kind, (stock.get(t.kind) ?? 0) + t.count);
  return stock;
}

/** Every way one can set a head with what one owns: focus, one sheet, wire; at full light. */
export function settingsOf(h: Head, stock: Stock): Setting[] {
  const focuses = h.kind.optics.kind === 'focus' ? [0, 0.25, 0.5, 0.75] : [0];
  const sheets: string[][] = [
    [],
    // A head without slot or doors takes nothing: its glass burns what touches it.
    ...(h.kind.doors ? [...stock].filter(([, n]) => n > 0).map(([id]) => [id]) : []),
  ];
  const slot = h.kind.doors && h.kind.source === 'tungsten';
  const scrims: Setting['scrims'][] = slot ? [[], ['half'], ['full'], ['half', 'full']] : [[]];
  return focuses.flatMap((focus) =>
    sheets.flatMap((sheet) => scrims.map((scrim) => ({ focus, level: 1, sheets: sheet, scrims: scrim }))),
  );
}
export const dims = (h: Head): boolean => HAS_KNOB.has(h.kind.id);

export interface Settled {
  setting: Setting;
  /** At each point asked about, lux. */
  lx: number[];
  /** Mean of those over what was wanted, stops. */
  overStops: number;
}
/** What a head gives at the points it is for, at a setting. */
export type Gives = (s: Setting) => number[];

/** A lamp is as it was asked for within this, stops: a third, as lenses are marked. */
export const NEAR_ENOUGH = 1 / 3;

/** Least and most that a head can be made to give there, lux. */
export function rangeOf(h: Head, gives: Gives, stock: Stock): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = 0;
  for (const s of settingsOf(h, stock)) {
    const lx = meanLx(gives(s));
    low = Math.min(low, dims(h) ? lx * LEAST_LEVEL : lx);
    high = Math.max(high, lx);
  }
  return [low, high];
}

/**
 * The setting whose light at the points comes nearest to `wantLx`. Of settings alike: diffusion on a small hard source
 * before wire, wire before nothing; the flood before the spot where more than one face is to be lit.
 */
export function settle(h: Head, gives: Gives, wantLx: number, stock: Stock, soft = true): Settled {
  const small = h.kind.emitter.kind === 'disc' || h.kind.emitter.kind === 'rectangle';
  let best: (Settled & { cost: number }) | undefined;
  for (const plain of settingsOf(h, stock)) {
    let setting = plain;
    let lx = gives(setting);
    let over = meanStops(lx, wantLx);
    if (over > 0.05 && dims(h)) {
      setting = { ...plain, level: Math.max(LEAST_LEVEL, +(2 ** -over).toFixed(3)) };
      lx = lx.map((v) => v * setting.level);
      over = meanStops(lx, wantLx);
    }
    const uneven = Math.log2(Math.max(...lx) / Math.max(1e-9, Math.min(...lx)));
    const scatters = soft && small && setting.sheets.length > 0 ? 0.25 : 0;
    const cost =
      Math.max(0, Math.abs(over) - NEAR_ENOUGH) * 4 +
      Math.abs(over) * 0.5 +
      uneven * 0.8 +
      setting.scrims.length * 0.15 +
      setting.focus * (lx.length > 1 ? 0.6 : 0.3) +
      (setting.level < 0.15 ? 0.3 : 0) -
      scatters +
      (soft ? 0 : setting.sheets.length * 0.2);
    if (!best || cost < best.cost) best = { setting, lx, overStops: over, cost };
  }
  const { cost: _cost, ...settled } = best!;
  return settled;
}

export const meanLx = (lx: readonly number[]): number =>
  lx.reduce((s, v) => s + v, 0) / Math.max(1, lx.length);
const meanStops = (lx: readonly number[], want: number): number =>
  lx.reduce((s, v) => s + Math.log2(Math.max(v, 1e-9) / want), 0) / lx.length;

/** Lumens that leave a head at a setting. */
export function sentLm(h: Head, s: Setting): number {
  const peg = pegged(s.sheets, s.scrims);
  return fluxLm(beamOfLamp(h.kind, s.focus)) * s.level * h.factor * (peg.straight + peg.scattered);
}

/** What the ceiling sends to a face from a lamp aimed into it, lux. */
export interface Bouncer {
  /** Middle of what is lit overhead. */
  at: Vec3;
  reflectance: number;
  /** Whole inner surface of the room, square metres, and its mean reflectance: for what goes round after that. */
  areaM2: number;
  meanReflectance: number;
}
/**
 * A lit patch overhead as a small matte source, Φρ cosθ / (π d²), and an even share of what then goes round the room,
 * Φρ ρ̄ / (A (1 − ρ̄)) (integrating-sphere mean; both textbook). Planning only: a stop either way.
 */
export function bouncedLx(h: Head, s: Setting, b: Bouncer, point: Vec3): number {
  const sent = sentLm(h, s) * b.reflectance;
  const d = sub(b.at, point);
  const d2 = dot(d, d);
  const down = Math.max(0, d[2]) / Math.sqrt(d2);
  return sent * (down / (Math.PI * d2) + b.meanReflectance / (b.areaM2 * (1 - b.meanReflectance)));
}
