/** Troubles of a face: a lamp in the unattractive zone, too little light. */
import { RESPONSES } from '../camera/response.ts';
import { add, DEG, distance, sub, turnZ, type Vec3 } from '../maths/vec3.ts';
import { lightsOf } from '../setup/angle.ts';
import { kindOf } from '../setup/lamps.ts';
import { isDaylight } from '../shoot/rigFor.ts';
import { canStand } from './canStand.ts';
import { faceSeen, here, numberOf, rigLamp, type SchemeContext } from './context.ts';
import { burn, carry, light, peg, putOut, scrim, setCamera, spot, turnFace } from './cureEdits.ts';
import { type Found, type Idea, m, stops } from './trouble.ts';

/** From the way the face looks; light from here rakes the cheek and ear (common practice, no source). */
export const ZONE_DEG = { from: 95, to: 135, nearTo: 145 } as const;

export function zoneTroubles(c: SchemeContext): Found[] {
  const out: Found[] = [];
  for (const mark of c.marks) {
    const place = c.angle.marks.find((g) => g.id === mark.mark)!;
    // Of a face that this angle does not see nobody asks how the light rakes it.
    if (!faceSeen(c, mark.mark)) continue;
    for (const l of mark.lamps) {
      if (l.role === 'none' || l.role === 'background' || l.role === 'practical' || l.role === 'top')
        continue;
      if (l.azimuthDeg < ZONE_DEG.from || l.azimuthDeg > ZONE_DEG.nearTo) continue;
      // A sky that comes in only by way of what it lights outside stands nowhere.
      if (isDaylight(l.lamp) && l.directLx < 0.01) continue;
      const near = l.azimuthDeg > ZONE_DEG.to;
      const number = numberOf(c, l.lamp);
      const lamp = lightsOf(c.angle).find((g) => g.id === l.lamp)!;
      const day = isDaylight(l.lamp);
      out.push({
        kind: 'unattractive-zone',
        ...(day ? {} : { lamp: l.lamp }),
        subject: mark.mark,
        severity: near ? 1 : 2,
        size: ZONE_DEG.nearTo - l.azimuthDeg,
        says: `${number.replace(/^t/, 'T')} stands ${l.azimuthDeg.toFixed(1)}° round from ${mark.mark}’s face, ${l.elevationDeg.toFixed(0)}° up: ${near ? 'near' : 'in'} the unattractive zone (${ZONE_DEG.from}–${ZONE_DEG.to}°).`,
        short: `${number} ${near ? 'comes near' : 'stands in'} the unattractive zone of ${mark.mark}`,
        at: lamp.at,
        ideas: () => {
          const w = here(c);
          // Turn the face away from the lamp until it stands well behind, or carry the lamp on round.
          const turn = ZONE_DEG.nearTo + 1 - l.azimuthDeg;
          const key = mark.lamps.find((x) => x.role === 'key');
          const side = l.side === 'left' ? 'right' : 'left';
          const ideas: Idea[] = [];
          // Well behind; or only out of the worst, which turns the face less.
          for (const deg of near ? [turn] : [turn, ZONE_DEG.to + 1 - l.azimuthDeg]) {
            const keyAfter =
              key && (key.side === l.side ? key.azimuthDeg + deg : Math.abs(key.azimuthDeg - deg));
            const says = keyAfter === undefined ? '' : `, key at ${keyAfter.toFixed(0)}°`;
            const by = l.side === 'left' ? -deg : deg;
            ideas.push(
              turnFace(w, mark.mark, by, `Turn ${mark.mark} ${deg.toFixed(0)}° to their ${side}${says}`),
            );
          }
          // Nobody carries the sky.
          if (day) return ideas;
          const dir = l.side === 'left' ? 1 : -1;
          for (const deg of [turn, -(l.azimuthDeg - ZONE_DEG.from + 1)]) {
            const to = add(place.eyes, turnZ(sub(lamp.at, place.eyes), dir * deg * DEG));
            if (!canStand(c, l.lamp, to)) continue;
            ideas.push(
              carry(
                w,
                l.lamp,
                to,
                `Carry ${number} ${Math.abs(deg).toFixed(0)}° ${deg > 0 ? 'further behind' : 'round to the side of'} ${mark.mark}, to (${to[0].toFixed(2)}, ${to[1].toFixed(2)})`,
              ),
            );
          }
          ideas.push(putOut(w, l.lamp, `Put ${number} out`));
          return ideas;
        },
      });
    }
  }
  return out;
}

/** More than this under what was wished (or under the stop, where nothing was wished) is a trouble, stops. */
const UNDER_STOPS = 1;

export function underTroubles(c: SchemeContext): Found[] {
  const out: Found[] = [];
  for (const mark of c.marks) {
    // A back turned to the lens is not asked to be exposed.
    if (!faceSeen(c, mark.mark)) continue;
    const place = c.angle.marks.find((g) => g.id === mark.mark)!;
    const wish = c.angle.rig.angle.wishes.find((x) => x.mark === mark.mark && x.reading === 'overStops');
    const wanted = wish?.target ?? 0;
    const short = wanted - mark.overStops;
    if (short < UNDER_STOPS + mark.bandStops * 0.5) continue;
    const key = mark.lamps.find((l) => l.role === 'key');
    const lamp = key && !isDaylight(key.lamp) ? key.lamp : undefined;
    out.push({
      kind: 'under',
      subject: mark.mark,
      ...(lamp === undefined ? {} : { lamp }),
      severity: 2,
      size: Math.min(short, 20),
      says: `${mark.mark}’s key side is ${Math.abs(mark.overStops).toFixed(1)} stops under at T${c.stop.toFixed(1)}${wish ? ` (wanted ${stops(wanted)})` : ''}${key ? '' : '; no key here'}.`,
      short: Number.isFinite(short)
        ? `${mark.mark} is ${short.toFixed(1)} stops under`
        : `no light is left on ${mark.mark}`,
      at: place.eyes,
      ideas: () => [
        ...(lamp === undefined ? litAgain(c) : moreFrom(c, lamp, place.eyes, short)),
        ...openUp(c, short),
      ],
    });
  }
  return out;
}

/** More light from the lamp that keys: up, bare, spotted in, nearer. */
function moreFrom(c: SchemeContext, id: string, eyes: Vec3, short: number): Idea[] {
  const w = here(c);
  const rig = rigLamp(c, id);
  const kind = kindOf(c.shoot.kit.lamps[rig.head]);
  const ideas: Idea[] = [];
  if (rig.level < 0.98) ideas.push(burn(w, id, rig.number, 1));
  if (rig.scrims.length) ideas.push(scrim(w, id, [], `Take the scrims out of ${rig.number}`));
  if (kind?.optics.kind === 'focus' && rig.focus < 0.9)
    ideas.push(spot(w, id, rig.number, Math.min(1, rig.focus + 0.25 * Math.ceil(short))));
  if (rig.sheets.length) ideas.push(peg(w, id, [], `Take all sheets off ${rig.number}`));
  const t = 1 - 2 ** (-Math.min(short, 2) / 2);
  const to: Vec3 = [
    rig.at[0] + (eyes[0] - rig.at[0]) * t,
    rig.at[1] + (eyes[1] - rig.at[1]) * t,
    rig.at[2] + (eyes[2] - rig.at[2]) * t * 0.5,
  ];
  if (rig.support.kind === 'stand' && canStand(c, id, to))
    ideas.push(carry(w, id, to, `Bring ${rig.number} ${m(distance(rig.at as Vec3, eyes) * t)} nearer`));
  return ideas;
}

/** Lamps that are out and would shine there. */
const litAgain = (c: SchemeContext): Idea[] =>
  Object.entries(c.angle.rig.lamps)
    .filter(([, l]) => !l.on)
    .slice(0, 3)
    .map(([id, l]) => light(here(c), id, `Light ${l.number}`));

function openUp(c: SchemeContext, short: number): Idea[] {
  const w = here(c);
  const ideas: Idea[] = [];
  const nd = c.camera.ndDensity ?? 0;
  if (nd > 0) ideas.push(setCamera(w, { ndDensity: 0 }, 'Take the density off the lens'));
  const stop = c.stop / 2 ** (Math.min(short, 4) / 2);
  if (stop >= 1) ideas.push(setCamera(w, { stop: +stop.toFixed(2) }, `Open up to T${stop.toFixed(1)}`));
  if (RESPONSES[c.camera.class].gain && c.camera.ei < 6400 && short <= 3.5) {
    const ei = Math.round(c.camera.ei * 2 ** Math.ceil(short));
    ideas.push(setCamera(w, { ei }, `Rate the camera at EI ${ei}, with that much more noise`));
  }
  return ideas;
}
