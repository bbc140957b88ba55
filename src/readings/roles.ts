/**
 * What a lamp does for a face in an angle, from where it stands and what it gives — never from a label.
 * The bounds are common practice, no source; the published ranges disagree with each other, so a role is
 * a word for what was computed beside it (azimuth, elevation, lux).
 */
import type { Bearing } from './bearing.ts';

export type Role = 'key' | 'fill' | 'back' | 'kicker' | 'top' | 'under' | 'background' | 'practical' | 'none';

export interface LampAtFace {
  lamp: string;
  bearing: Bearing;
  /** Direct light, meter pointed at the lamp, lux. */
  directLx: number;
  /** Direct light on a flat receptor that looks where the face looks, lux. */
  frontLx: number;
  /** What it sends there by way of walls and things, lux. */
  bouncedLx: number;
  /** A lamp of the story whose luminous part or shade is seen in this angle. */
  practicalInFrame: boolean;
  /** Largest share it has of the light on a named spot or thing that this angle sees, 0–1. */
  backgroundShare: number;
}

/** A lamp this many stops under the strongest at the face does nothing to speak of. */
const TO_SPEAK_OF_STOPS = 5;
/** Frontal light this many stops under what the exposure asks for is no key. */
const NO_KEY_STOPS = 4;

/**
 * Roles by lamp id. `askedLx`: illuminance that the set stop asks for; `bouncedLx`: at the face.
 * At most one key; none if no frontal lamp rises above half the bounce and to within four stops of the stop.
 */
export function rolesAt(lamps: readonly LampAtFace[], askedLx: number, bouncedLx: number): Map<string, Role> {
  const roles = new Map<string, Role>();
  const strongest = Math.max(0, ...lamps.map((l) => l.directLx));
  const floorLx = Math.max(strongest / 2 ** TO_SPEAK_OF_STOPS, askedLx / 2 ** (NO_KEY_STOPS + 2));
  const speaks = (l: LampAtFace) => l.directLx > floorLx;

  let key: LampAtFace | undefined;
  for (const l of lamps) {
    if (!speaks(l) || l.bearing.azimuthDeg >= 95 || l.bearing.elevationDeg >= 65) continue;
    if (
      l.bearing.elevationDeg <= -20 &&
      lamps.some((o) => speaks(o) && frontal(o) && o.frontLx > l.frontLx / 4)
    )
      continue; // light from below is a key only when nothing else is
    if (!key || l.frontLx > key.frontLx) key = l;
  }
  if (key && (key.directLx < askedLx / 2 ** NO_KEY_STOPS || key.directLx < bouncedLx / 2)) key = undefined;

  for (const l of lamps)
    roles.set(
      l.lamp,
      l === key ? 'key' : otherRole(l, speaks(l), l.bouncedLx > Math.max(floorLx, askedLx / 16)),
    );
  return roles;
}

const frontal = (l: LampAtFace) =>
  l.bearing.azimuthDeg < 95 && l.bearing.elevationDeg > -20 && l.bearing.elevationDeg < 65;

function otherRole(l: LampAtFace, speaks: boolean, fills: boolean): Role {
  if (!speaks) {
    // Hidden from the face, but the room sends its light on: a shaded pendant, a lamp into the ceiling.
    if (fills) return 'fill';
    if (l.practicalInFrame) return 'practical';
    return l.backgroundShare >= 0.25 ? 'background' : 'none';
  }
  const { azimuthDeg, elevationDeg } = l.bearing;
  if (elevationDeg >= 65) return 'top';
  if (elevationDeg <= -20) return 'under';
  if (azimuthDeg >= 110) return elevationDeg < 15 && azimuthDeg < 150 ? 'kicker' : 'back';
  if (azimuthDeg >= 75) return 'kicker';
  return 'fill';
}
