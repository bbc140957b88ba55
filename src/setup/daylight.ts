/**
 * Daylight of a scene as lights: sun, moon, the sky through each opening and over what stands outside, the far ground,
 * windows with a level of their own. What rays meet (emitters, at reference levels) apart from what they weigh (level,
 * colour), so that another hour under an overcast sky traces nothing.
 */
import { neutral, reflectanceFromColour } from '../colour/reflectance.ts';
import type { Spectrum } from '../colour/spectrum.ts';
import { moonSpectrum, SKY_K, skySpectrum, sunSpectrum } from '../light/daySpectra.ts';
import { throughGap } from '../light/openings.ts';
import { levelOverZenith, towards } from '../light/sky.ts';
import { sourceSpectrum } from '../light/source.ts';
import { add, DEG, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { lightName, type RigForAngle } from '../shoot/rigFor.ts';
import type { Day, Place } from '../shoot/schema.ts';
import { FAR_M } from '../transport/far.ts';
import type { Emitter, EmitterShape } from '../transport/scene.ts';
import { outletsOf, roomsOf } from './gaps.ts';
import { gainOf } from './metered.ts';
import { type SkyNow, skyNow } from './skyNow.ts';

/** Reference levels that layers are traced at, lux: sun and moon square to them, sky and stated windows on the level. */
const SUN_REF_LX = 100_000;
const SKY_REF_LX = 10_000;
/** Radius of sun and moon as seen, radians: 0.53° across. */
const DISC = 0.2665 * DEG;

/** One light of the day. */
export interface DayLight {
  /** As `lightName` knows it. */
  id: string;
  words: string;
  /** Where one looks to see it: the middle of its opening, or far off. */
  at: Vec3;
  /** Its light travels along this. */
  axis: Vec3;
  sizeM: number;
  emitters: Emitter[];
  /** Now against the reference it is traced at. */
  factor: number;
  spectrum: Spectrum;
  /** Its level is told or metered. */
  metered: boolean;
}

const disc = (from: Vec3): EmitterShape => ({
  kind: 'disc',
  centre: scale(from, FAR_M),
  axis: scale(from, -1),
  up: Math.abs(from[2]) > 0.99 ? [0, 1, 0] : [0, 0, 1],
  radiusM: FAR_M * Math.tan(DISC),
});

type Lit = Pick<RigForAngle, 'scene' | 'place' | 'day' | 'lamps'>;

/** The lights of daylight in an angle, in a fixed order, held to the meter; none by night. */
export const daylightOf = (rig: Lit): DayLight[] => lights(rig, gainOf);
/** The same where only their shapes matter: no meter is asked. */
export const dayShapesOf = (rig: Lit): Omit<DayLight, 'factor' | 'spectrum'>[] => lights(rig, () => 1);

const lights = (rig: Lit, gain: typeof gainOf): DayLight[] => [
  ...stated(rig),
  ...(rig.day ? ofDay(rig, rig.place, rig.day, gain(rig.scene, rig.place, rig.day)) : []),
];

function ofDay(rig: Pick<RigForAngle, 'lamps' | 'place'>, place: Place, day: Day, gain: number): DayLight[] {
  const now = skyNow(day, place);
  const out: DayLight[] = [];
  const north = place.northDeg ?? 0;
  const metered = (day.readings?.length ?? 0) > 0 || day.levelLx !== undefined;
  const outlets = outletsOf(place).filter((o) => o.opening?.light === undefined);
  const rooms = roomsOf(place);
  const far = { at: [0, 0, FAR_M] as Vec3, axis: [0, 0, -1] as Vec3, sizeM: FAR_M };
  if (now.sunLx > 0) {
    const from = towards(now.sun.azimuthDeg, now.sun.elevationDeg, north);
    out.push({
      id: 'day:sun',
      words: 'sun',
      at: scale(from, FAR_M),
      axis: scale(from, -1),
      sizeM: 2 * FAR_M * Math.tan(DISC),
      emitters: [
        { shape: disc(from), beam: { kind: 'cosine', peakCd: SUN_REF_LX * FAR_M ** 2, exponent: 1 } },
      ],
      factor: (gain * now.sunLx) / SUN_REF_LX,
      spectrum: sunSpectrum(now.sun.elevationDeg, now.weather),
      metered: false,
    });
  }
  if (now.moon && now.moonLx > 0) {
    const from = towards(now.moon.azimuthDeg, now.moon.elevationDeg, north);
    out.push({
      id: 'day:moon',
      words: 'moon',
      at: scale(from, FAR_M),
      axis: scale(from, -1),
      sizeM: 2 * FAR_M * Math.tan(DISC),
      emitters: [
        { shape: disc(from), beam: { kind: 'cosine', peakCd: SUN_REF_LX * FAR_M ** 2, exponent: 1 } },
      ],
      factor: (gain * now.moonLx) / Math.max(0.05, Math.sin(now.moon.elevationDeg * DEG)) / SUN_REF_LX,
      spectrum: moonSpectrum(),
      metered: false,
    });
  }
  const skyColour = skySpectrum(now.weather, day.skyK ?? SKY_K[now.weather]);
  const skyBeam: Emitter['beam'] = {
    kind: 'sky',
    peakCd: SKY_REF_LX / levelOverZenith(now.sky),
    sky: now.sky,
  };
  const skyFactor = (gain * now.skyLx) / SKY_REF_LX;
  for (const o of outlets)
    out.push({
      id: `sky:${o.id}`,
      words: lightName(rig, `sky:${o.id}`),
      at: o.middle,
      axis: scale(o.out, -1),
      sizeM: Math.sqrt(o.areaM2),
      emitters: [{ shape: { kind: 'far', half: 'sky', portal: o.gap, rooms }, beam: skyBeam }],
      factor: skyFactor,
      spectrum: skyColour,
      metered,
    });
  const even = { kind: 'isotropic', cd: SKY_REF_LX / Math.PI } as const;
  const groundShape = { kind: 'far', half: 'ground', rooms } as const;
  if (place.outside)
    out.push({
      id: 'day:sky',
      words: 'sky',
      ...far,
      emitters: [{ shape: { kind: 'far', half: 'sky', rooms }, beam: skyBeam }],
      factor: skyFactor,
      spectrum: skyColour,
      metered,
    });
  // A layer for each way in: what lights a point is then of one shape.
  const below = {
    at: [0, 0, -FAR_M] as Vec3,
    axis: [0, 0, 1] as Vec3,
    sizeM: FAR_M,
    factor: (gain * now.levelLx) / SKY_REF_LX,
    spectrum: groundSpectrum(place, now, skyColour),
    metered,
  };
  for (const o of outlets)
    if (o.id !== 'roof')
      out.push({
        ...below,
        id: `ground:${o.id}`,
        words: lightName(rig, `ground:${o.id}`),
        at: add(o.middle, [0, 0, -0.5]),
        emitters: [{ shape: { ...groundShape, portal: o.gap }, beam: even }],
      });
  if (place.outside)
    out.push({
      ...below,
      id: 'day:ground',
      words: 'ground outside',
      emitters: [{ shape: groundShape, beam: even }],
    });
  return out;
}

/** What the far ground sends up of each lumen that falls on it: sun and sky in their shares, times its colour. */
function groundSpectrum(place: Place, now: SkyNow, sky: Spectrum): Spectrum {
  const ground = place.outside?.ground;
  const rho = ground?.colour
    ? reflectanceFromColour(ground.colour, ground.reflectance)
    : neutral(ground?.reflectance ?? 0.2);
  const sun = now.sunLx > 0 ? sunSpectrum(now.sun.elevationDeg, now.weather) : sky;
  const share = now.levelLx > 0 ? Math.min(1, Math.max(0, 1 - (now.skyLx + now.moonLx) / now.levelLx)) : 0;
  return rho.map((r, i) => r * (share * sun[i]! + (1 - share) * sky[i]!));
}

/** Windows whose level is stated or metered: even matte panes. */
function stated(rig: Pick<RigForAngle, 'place' | 'lamps'>): DayLight[] {
  return outletsOf(rig.place).flatMap((o) => {
    const light = o.opening?.light;
    if (!light) return [];
    const out = light.out === true;
    const w = Math.hypot(...o.pane.u);
    const h = Math.hypot(...o.pane.v);
    const way = scale(o.out, out ? 1 : -1);
    const centre = add(o.middle, scale(way, 0.02));
    const beam = { kind: 'cosine', peakCd: (w * h * SKY_REF_LX) / Math.PI, exponent: 1 } as const;
    return [
      {
        id: `window:${o.id}`,
        words: lightName(rig, `window:${o.id}`),
        at: centre,
        axis: way,
        sizeM: Math.hypot(w, h),
        emitters: [
          {
            shape: { kind: 'rectangle', centre, axis: way, up: [0, 0, 1] as Vec3, widthM: w, heightM: h },
            beam,
          },
        ],
        factor: light.lux / (SKY_REF_LX * facing(o.pane, light.atM)),
        spectrum: sourceSpectrum('daylight', light.cctK ?? 6500),
        metered: true,
      } satisfies DayLight,
    ];
  });
}

/** Lux per lux at the pane, a meter held so far in front of its middle, square to it. */
function facing(pane: { corner: Vec3; u: Vec3; v: Vec3 }, atM: number | undefined): number {
  if (atM === undefined || atM <= 0) return 1;
  const middle = add(pane.corner, add(scale(pane.u, 0.5), scale(pane.v, 0.5)));
  const n: Vec3 = [pane.u[1] * pane.v[2], -pane.u[0] * pane.v[2], 0];
  const l = Math.hypot(...n) || 1;
  const out = scale(n, 1 / l);
  return throughGap(pane, sub(middle, scale(out, atM)), out, () => 1 / Math.PI, { grid: 80 });
}
