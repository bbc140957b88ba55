/** What meter and eye would say of one face in one angle. Pure: from measured light, weights and exposure. */
import { type AngleGeometry, type AngleWeights, lightsOf, type MarkGeometry } from '../setup/angle.ts';
import { CONSTANT, slopeOf } from '../setup/causes.ts';
import { type Bearing, bearing, clock } from './bearing.ts';
import { type Causes, difference, doubt, type PartOfReading, sensitivity } from './doubt.ts';
import { type FaceReading, readFace } from './faces.ts';
import { findProbe, lampAt, xyzAt } from './lightAt.ts';
import type { Measured } from './measure.ts';
import { readHere } from './meter.ts';
import { type LampAtFace, type Role, rolesAt } from './roles.ts';

export interface LampOnMark extends Bearing {
  lamp: string;
  /** Meter pointed at the lamp, the others out, lux. */
  directLx: number;
  /** What this lamp sends there by way of walls and things, receptor facing as the face does, lux. */
  bouncedLx: number;
  lx: number;
  /** Direct light against the set stop, stops. */
  overStops: number;
  role: Role;
  clock: number;
}

export interface MarkReading {
  mark: string;
  /** Where the incident meter is turned: to the key, or to the camera when there is no key. */
  toward: string;
  incidentLx: number;
  towardCameraLx: number;
  /** T-stop that the incident reading asks for. */
  askedT: number;
  overStops: number;
  bandStops: number;
  doubts: string[];
  /** A reading made here tells of the lamps that light it now. */
  metered: boolean;
  /** Lit side against shadow side, stops; undefined: nobody stands there or no light. */
  ratioStops: number | undefined;
  /** The same as n:1. */
  ratio: number | undefined;
  ratioBandStops: number | undefined;
  convention: string;
  /** Key lamp against all light that is not the key's, on the face’s front: the other convention. */
  keyToRest: number | undefined;
  /** Strongest back light over the key, stops. */
  backOverKeyStops: number | undefined;
  /** The two sides as the camera will have them, stops over grey: reflectance of the skin included. */
  litOverGreyStops: number | undefined;
  shadeOverGreyStops: number | undefined;
  litSide: 'left' | 'right' | undefined;
  /** XYZ of the light on each cheek (Y in lux), for colour after white balance. */
  litXyz: [number, number, number] | undefined;
  shadeXyz: [number, number, number] | undefined;
  /** What the light does on the face itself; undefined: not read. */
  face: FaceReading | undefined;
  lamps: LampOnMark[];
}

export interface ReadContext {
  angle: AngleGeometry;
  weights: AngleWeights;
  measured: Measured;
  causes: Causes;
  /** Illuminance that lands an 18 % card on grey at the set stop, lux. */
  eRefLx: number;
  /** T-stop set, as N = 2^(k/2) or typed. */
  stop: number;
  /** By lamp: its practical part is seen in this angle; share of the light on named spots in view. */
  practicalInFrame: ReadonlySet<string>;
  backgroundShare: ReadonlyMap<string, number>;
}

export const CONVENTION = 'the two sides of the face, meter turned 60° to each: (key + fill) : fill';

export function readMark(c: ReadContext, mark: MarkGeometry): MarkReading {
  const { angle, weights, measured } = c;
  const { surfaces, joint } = weights.metered;
  const names = measured.plan.names;
  const probe = (fits: (n: (typeof names)[number]) => boolean) => findProbe(names, fits);
  const toward = (what: 'front' | 'camera') =>
    probe((n) => 'mark' in n && n.mark === mark.id && 'toward' in n && n.toward === what);
  const front = toward('front');
  const camera = toward('camera');

  // Hold the meter to each lamp in turn.
  const rows = lightsOf(angle).map((lamp) => {
    const i = probe(
      (n) =>
        'mark' in n &&
        n.mark === mark.id &&
        'toward' in n &&
        typeof n.toward === 'object' &&
        n.toward.lamp === lamp.id,
    );
    const name = names[i] as { nearer: number };
    const directLx = lampAt(measured, weights, lamp.layers, i).directLx * name.nearer;
    const atFront = lampAt(measured, weights, lamp.layers, front);
    return {
      lamp,
      i,
      nearer: name.nearer,
      directLx,
      bouncedLx: atFront.bouncedLx,
      frontLx: atFront.directLx,
      bearing: bearing(mark.eyes, mark.facingDeg, lamp.at),
    };
  });
  const bouncedLx = rows.reduce((s, r) => s + r.bouncedLx, 0);
  const atFace: LampAtFace[] = rows.map((r) => ({
    lamp: r.lamp.id,
    bearing: r.bearing,
    directLx: r.directLx,
    frontLx: r.frontLx,
    bouncedLx: r.bouncedLx,
    practicalInFrame: c.practicalInFrame.has(r.lamp.id),
    backgroundShare: c.backgroundShare.get(r.lamp.id) ?? 0,
  }));
  const roles = rolesAt(atFace, c.eRefLx, bouncedLx);
  const key = rows.find((r) => roles.get(r.lamp.id) === 'key');

  // Read the incident meter toward the key, all lamps burning.
  const parts = (i: number, nearer: number): PartOfReading[] =>
    lightsOf(angle).flatMap((lamp) => {
      const light = lampAt(measured, weights, lamp.layers, i);
      const { causes: own } = weights.lamps.find((w) => w.id === lamp.id)!;
      const toEyes = key && lamp.id === key.lamp.id ? nearer : 1;
      return [
        { amount: light.directLx * toEyes, scaledBy: slopeOf(own, surfaces, false) },
        { amount: light.bouncedLx, scaledBy: slopeOf(own, surfaces, true) },
      ];
    });
  const total = (p: PartOfReading[]) => p.reduce((s, x) => s + x.amount, 0);
  const incidentParts = key ? parts(key.i, key.nearer) : parts(camera, 1);
  const incidentLx = total(incidentParts);
  const withMeter = sensitivity(incidentParts);
  withMeter.set(CONSTANT, 1);
  const noise = new Map(c.causes);
  noise.set('noise', { words: 'noise of the picture', sigmaStops: measured.noiseStops });
  withMeter.set('noise', 1);
  const said = doubt(withMeter, noise, joint);

  // Compare the two sides.
  const at = (side: 'left' | 'right') =>
    probe((n) => 'mark' in n && n.mark === mark.id && 'side' in n && n.side === side);
  const l = at('left');
  const r = at('right');
  const sides =
    l >= 0 && r >= 0
      ? [
          { side: 'left' as const, i: l, parts: parts(l, 1) },
          { side: 'right' as const, i: r, parts: parts(r, 1) },
        ].sort((a, b) => total(b.parts) - total(a.parts))
      : undefined;
  const lit = sides?.[0];
  const shade = sides?.[1];
  const litLx = lit ? total(lit.parts) : 0;
  const shadeLx = shade ? total(shade.parts) : 0;
  const compared = lit && shade && litLx > 0 && shadeLx > 0;
  const ratioStops = compared ? Math.log2(litLx / shadeLx) : undefined;
  const overGrey = (lx: number) =>
    lx > 0 ? Math.log2((mark.skinReflectance / 0.18) * (lx / c.eRefLx)) : undefined;

  const restLx = key ? rows.reduce((s, x) => s + (x === key ? 0 : x.frontLx), 0) + bouncedLx : 0;
  const backLx = Math.max(0, ...rows.filter((x) => roles.get(x.lamp.id) === 'back').map((x) => x.directLx));

  const faceLight = measured.faces?.find((f) => f.mark === mark.id);

  return {
    mark: mark.id,
    toward: key ? key.lamp.id : 'camera',
    incidentLx,
    towardCameraLx: total(parts(camera, 1)),
    askedT: c.stop * Math.sqrt(incidentLx / c.eRefLx),
    overStops: Math.log2(incidentLx / c.eRefLx),
    ...said,
    metered: readHere(
      weights,
      `mark:${mark.id}`,
      angle.lamps.map((lamp) => ({
        lamp: lamp.id,
        ...lampAt(measured, weights, lamp.layers, key ? key.i : camera),
      })),
    ),
    ratioStops,
    ratio: ratioStops === undefined ? undefined : 2 ** ratioStops,
    ratioBandStops: compared
      ? doubt(difference(sensitivity(lit.parts), sensitivity(shade.parts)), noise, joint).bandStops
      : undefined,
    convention: CONVENTION,
    keyToRest: key && restLx > 0 ? key.frontLx / restLx : undefined,
    backOverKeyStops: key && backLx > 0 ? Math.log2(backLx / key.directLx) : undefined,
    litOverGreyStops: lit ? overGrey(litLx) : undefined,
    shadeOverGreyStops: shade ? overGrey(shadeLx) : undefined,
    litSide: lit?.side,
    litXyz: lit ? xyzAt(angle, measured, weights, lit.i) : undefined,
    shadeXyz: shade ? xyzAt(angle, measured, weights, shade.i) : undefined,
    face: faceLight ? readFace(angle, weights, mark, faceLight, key?.lamp.id, bouncedLx) : undefined,
    lamps: rows.map((x) => ({
      lamp: x.lamp.id,
      ...x.bearing,
      directLx: x.directLx,
      bouncedLx: x.bouncedLx,
      lx: x.directLx + x.bouncedLx,
      overStops: Math.log2(x.directLx / c.eRefLx),
      role: roles.get(x.lamp.id) ?? 'none',
      clock: clock(mark.eyes, angle.view.eye, x.lamp.at),
    })),
  };
}
