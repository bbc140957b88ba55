/** Troubles of a face: a lamp in the unattractive zone, too little light. */

import { lightsOf } from '../setup/angle.ts';
import { isDaylight, lightName } from '../shoot/rigFor.ts';
import type { SchemeContext } from './context.ts';
import { level, putOut, setStop, slide, turnFace, type Where } from './cureEdits.ts';
import { loses } from './inFrame.ts';
import { nearTo } from './meant.ts';
import { m, stops, type Trouble } from './trouble.ts';

/** From the way the face looks; light from here rakes the cheek and ear (common practice, no source). */
export const ZONE_DEG = { from: 95, to: 135, nearTo: 145 } as const;

export function zoneTroubles(c: SchemeContext): Trouble[] {
  const w: Where = { scene: c.angle.scene, angle: c.angle.angle };
  const out: Trouble[] = [];
  for (const mark of c.marks) {
    const place = c.angle.marks.find((g) => g.id === mark.mark)!;
    // Of a face that this angle does not see nobody asks how the light rakes it.
    if (place.part < 0 || !nearTo(c, mark.mark)) continue;
    for (const l of mark.lamps) {
      if (l.role === 'none' || l.role === 'background' || l.role === 'practical' || l.role === 'top')
        continue;
      if (l.azimuthDeg < ZONE_DEG.from || l.azimuthDeg > ZONE_DEG.nearTo) continue;
      const near = l.azimuthDeg > ZONE_DEG.to;
      const day = isDaylight(l.lamp);
      const number = day ? `The ${lightName(c.angle.rig, l.lamp)}` : c.angle.rig.lamps[l.lamp]!.number;
      // Turn the face away from the lamp until it stands well behind, or the lamp on round.
      const turn = (near ? ZONE_DEG.nearTo : ZONE_DEG.to) + 5 - l.azimuthDeg;
      const away = l.side === 'left' ? -turn : turn;
      const key = mark.lamps.find((x) => x.role === 'key');
      const keyAfter = key
        ? key.side === l.side
          ? key.azimuthDeg + turn
          : Math.abs(key.azimuthDeg - turn)
        : undefined;
      const lamp = lightsOf(c.angle).find((g) => g.id === l.lamp)!;
      const round = roundTo(place.eyes, lamp.at, l.side === 'left' ? turn : -turn);
      out.push({
        kind: 'unattractive-zone',
        ...(day ? {} : { lamp: l.lamp }),
        subject: mark.mark,
        severity: near ? 1 : 2,
        says: `${number} stands ${l.azimuthDeg.toFixed(1)}° round from ${mark.mark}’s face, ${l.elevationDeg.toFixed(0)}° up: ${near ? 'near' : 'in'} the unattractive zone (${ZONE_DEG.from}–${ZONE_DEG.to}°).`,
        at: lamp.at,
        cures: [
          turnFace(
            w,
            mark.mark,
            away,
            `Turn ${mark.mark} ${turn.toFixed(0)}° to their ${l.side === 'left' ? 'right' : 'left'}, ${w.angle} only${keyAfter === undefined ? '' : `: key at ${keyAfter.toFixed(0)}°`}.`,
          ),
          // Nobody carries the sky.
          ...(day
            ? []
            : [
                slide(
                  w,
                  l.lamp,
                  round,
                  `Carry ${number} ${turn.toFixed(0)}° further behind ${mark.mark}, to (${round[0].toFixed(2)}, ${round[1].toFixed(2)}), ${w.angle} only.`,
                ),
                putOut(w, l.lamp, `Put ${number} out in ${w.angle}${loses(c, l.lamp)}.`),
              ]),
        ],
      });
    }
  }
  return out;
}

function roundTo(
  eyes: readonly [number, number, number],
  lamp: readonly [number, number, number],
  deg: number,
): [number, number, number] {
  const a = (deg * Math.PI) / 180;
  const dx = lamp[0] - eyes[0];
  const dy = lamp[1] - eyes[1];
  return [
    eyes[0] + dx * Math.cos(a) - dy * Math.sin(a),
    eyes[1] + dx * Math.sin(a) + dy * Math.cos(a),
    lamp[2],
  ];
}

/** More than this under what was wished (or under the stop, where nothing was wished) is a trouble, stops. */
const UNDER_STOPS = 1;

export function underTroubles(c: SchemeContext): Trouble[] {
  const w: Where = { scene: c.angle.scene, angle: c.angle.angle };
  const out: Trouble[] = [];
  for (const mark of c.marks) {
    const place = c.angle.marks.find((g) => g.id === mark.mark)!;
    // A back turned to the lens is not asked to be exposed.
    if (place.part < 0 || !nearTo(c, mark.mark)) continue;
    const wish = c.angle.rig.angle.wishes.find((x) => x.mark === mark.mark && x.reading === 'overStops');
    const wanted = wish?.target ?? 0;
    const short = wanted - mark.overStops;
    if (short < UNDER_STOPS + mark.bandStops * 0.5) continue;
    const key = mark.lamps.find((l) => l.role === 'key');
    const rig = key ? c.angle.rig.lamps[key.lamp] : undefined;
    const cures = [];
    if (key && rig && rig.level < 0.98) {
      const to = Math.min(1, rig.level * 2 ** Math.min(short, 3));
      cures.push(
        level(w, key.lamp, to, `Burn ${rig.number} at ${(to * 100).toFixed(0)} %, ${w.angle} only.`),
      );
    }
    if (key && rig) {
      const t = 1 - 2 ** (-Math.min(short, 2) / 2);
      const at = c.angle.lamps.find((g) => g.id === key.lamp)!.at;
      const to: [number, number, number] = [
        at[0] + (place.eyes[0] - at[0]) * t,
        at[1] + (place.eyes[1] - at[1]) * t,
        at[2] + (place.eyes[2] - at[2]) * t * 0.5,
      ];
      cures.push(
        slide(w, key.lamp, to, `Bring ${rig.number} ${m(key.distanceM * t)} nearer, ${w.angle} only.`),
      );
    }
    const stop = c.stop / 2 ** (Math.min(short, 4) / 2);
    if (stop >= 1)
      cures.push(
        setStop(w, stop, `Open up to T${stop.toFixed(1)}, ${w.angle} only: everything ${stops(short)}.`),
      );
    out.push({
      kind: 'under',
      subject: mark.mark,
      ...(key && rig ? { lamp: key.lamp } : {}),
      severity: 2,
      says: `${mark.mark}’s key side is ${Math.abs(mark.overStops).toFixed(1)} stops under at T${c.stop.toFixed(1)}${wish ? ` (wanted ${stops(wanted)})` : ''}${key ? '' : '; no key here'}.`,
      at: place.eyes,
      cures,
    });
  }
  return out;
}
