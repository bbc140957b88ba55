/** Troubles of a working day: sockets to keep off, leads over stairs, batteries, flicker, flashes. */

import { MOST_FLASHES, mostInASecond } from '../camera/flashes.ts';
import { beatHz, rippleStops, steadyAngles } from '../camera/flicker.ts';
import { DEG } from '../maths/vec3.ts';
import { runHours } from '../power/battery.ts';
import { kindOf } from '../setup/lamps.ts';
import type { Place, RigLamp } from '../shoot/schema.ts';
import { here, type SchemeContext } from './context.ts';
import { plugInto, putOut, setCamera, type Where } from './cureEdits.ts';
import { feedInto } from './powerIdeas.ts';
import type { Found, Idea } from './trouble.ts';

/** Ripple from frame to frame that shows, stops peak to peak (judgement: two per cent). */
const SHOWS_STOPS = 0.03;

export function setTroubles(c: SchemeContext): Found[] {
  const lamps = Object.entries(c.angle.rig.lamps).filter(([, l]) => l.on);
  return [
    ...lamps.flatMap(([id, l]) => [
      ...keepOff(c, id, l),
      ...leadInTheWay(c, id, l),
      ...flicker(c, id, l),
      ...flashes(c, id, l),
    ]),
    ...batteries(c, lamps),
  ];
}

/** A lamp on a socket that somebody else needs. */
function keepOff(c: SchemeContext, id: string, l: RigLamp): Found[] {
  const sockets = c.place.supply.sockets;
  const socket = l.feed ? sockets[l.feed.socket] : undefined;
  if (!socket?.keepOff) return [];
  return [
    {
      kind: 'keep-off',
      lamp: id,
      subject: l.feed!.socket,
      severity: 3,
      size: 1,
      says: `${l.number} is plugged into ${socket.words ?? l.feed!.socket}, to be kept off: ${socket.keepOff}.`,
      short: `${l.number} is on a socket to be kept off`,
      at: l.at,
      ideas: () =>
        Object.entries(sockets)
          .filter(([, s]) => !s.keepOff && !s.dead)
          .slice(0, 3)
          .map(([to, s]) =>
            plugInto(here(c), id, feedInto(l.feed, to), `Plug ${l.number} into ${s.words ?? to}`),
          ),
    },
  ];
}

/** A lead that must lie across a stair: the straight line from socket to stand crosses one. */
function leadInTheWay(c: SchemeContext, id: string, l: RigLamp): Found[] {
  const socket = l.feed ? c.place.supply.sockets[l.feed.socket] : undefined;
  if (!socket) return [];
  const stair = stairBetween(c.place, socket.at, l.at);
  return stair
    ? [
        {
          kind: 'lead-in-the-way',
          lamp: id,
          subject: stair.id,
          severity: 3,
          says: `The lead of ${l.number} from ${socket.words ?? l.feed!.socket} would lie on ${stair.words}: an escape route is kept clear. Not checked: another way round.`,
          size: 1,
          short: `the lead of ${l.number} lies on ${stair.words}`,
          at: l.at,
          // Another socket from which the line stays off the stairs.
          ideas: () =>
            Object.entries(c.place.supply.sockets)
              .filter(([, s]) => !s.keepOff && !s.dead && !stairBetween(c.place, s.at, l.at))
              .slice(0, 3)
              .map(([to, s]) =>
                plugInto(here(c), id, feedInto(l.feed, to), `Plug ${l.number} into ${s.words ?? to}`),
              ),
        },
      ]
    : [];
}

type P3 = readonly [number, number, number];

/** The first stair that the line between two points passes over, in plan, at its own height or a floor apart. */
function stairBetween(place: Place, a: P3, b: P3): { id: string; words: string } | undefined {
  for (const [id, f] of Object.entries(place.furniture)) {
    if (f.kind !== 'stair' && f.kind !== 'landing') continue;
    const low = Math.min(a[2], b[2]);
    const high = Math.max(a[2], b[2]);
    if (f.at[2] > high || f.at[2] + f.sizeM[2] < low - 0.5) continue;
    // Landings count when one goes from one floor to another over them.
    if (f.kind === 'landing' && high - low < 2) continue;
    const turn = -(f.turnDeg ?? 0) * DEG;
    const local = (p: P3) => {
      const [x, y] = [p[0] - f.at[0], p[1] - f.at[1]];
      return [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)] as const;
    };
    const [p, q] = [local(a), local(b)];
    for (let k = 0; k <= 40; k++) {
      const t = k / 40;
      const x = p[0] + (q[0] - p[0]) * t;
      const y = p[1] + (q[1] - p[1]) * t;
      if (Math.abs(x) < f.sizeM[0] / 2 && Math.abs(y) < f.sizeM[1] / 2)
        return { id, words: f.words ?? 'the stairs' };
    }
  }
  return undefined;
}

const FRACTION = (s: number): string => `1/${Math.round(1 / s)} s`;

/** Light that pulses with the mains against frame rate and shutter. */
function flicker(c: SchemeContext, id: string, l: RigLamp): Found[] {
  const kind = kindOf(c.shoot.kit.lamps[l.head]);
  if (!kind || kind.supply === 'battery' || kind.source === 'flame') return [];
  const camera = c.angle.rig.camera;
  const te = camera.shutter.kind === 'time' ? camera.shutter.seconds : camera.shutter.deg / 360 / camera.fps;
  const pulseHz = 2 * c.place.supply.frequencyHz;
  const pulses = pulseHz * te;
  // Whole pulses in every exposure: whatever the wave, no frame differs from the next.
  const whole = Math.abs(pulses - Math.round(pulses)) < 0.005 * Math.max(1, pulses);
  if (whole || beatHz(pulseHz, camera.fps) < 1e-9) return [];
  const often = `${pulses.toFixed(2)} pulses a frame at ${camera.fps} fps and ${FRACTION(te)}`;
  if (kind.ripple === undefined)
    return [
      {
        kind: 'flicker',
        lamp: id,
        severity: 0,
        size: rippleStops(1, pulseHz, te),
        short: `${l.number} may flicker`,
        says: `${l.number}: nobody has told whether it flickers; ${often}: test it before the take.`,
        at: l.at,
        ideas: () => steadyIdeas(c, pulseHz, te),
      },
    ];
  // A chopped sine at most doubles what a filament shows [CHECKS-CAMERA §2].
  const dimmed = kind.dimsByVoltage && l.level < 1 ? 2 : 1;
  const stops = rippleStops(Math.min(1, kind.ripple * dimmed), pulseHz, te);
  if (stops < SHOWS_STOPS) return [];
  return [
    {
      kind: 'flicker',
      lamp: id,
      severity: stops > 0.1 ? 3 : 2,
      says: `${l.number} pulses ${pulseHz} times a second: ${often}, so pictures beat by ${stops.toFixed(2)} stop.`,
      size: stops,
      short: `${l.number} flickers`,
      at: l.at,
      ideas: () => steadyIdeas(c, pulseHz, te),
    },
  ];
}

/** Shutters that hold whole pulses, the nearest first, and the nearest speed at which every shutter does. */
function steadyIdeas(c: SchemeContext, pulseHz: number, te: number): Idea[] {
  const { fps, shutter } = c.angle.rig.camera;
  const own = c.angle.rig.angle.camera;
  const w: Where = own?.fps !== undefined || own?.shutter !== undefined ? here(c) : { scene: c.angle.scene };
  const now = 360 * fps * te;
  const out: Idea[] = steadyAngles(pulseHz, fps)
    .map((rad) => rad / DEG)
    .sort((a, b) => Math.abs(Math.log(a / now)) - Math.abs(Math.log(b / now)))
    .slice(0, 2)
    .map((deg) =>
      setCamera(
        w,
        {
          // In the measure it was set in.
          shutter:
            shutter.kind === 'angle'
              ? { kind: 'angle', deg: +deg.toFixed(2) }
              : { kind: 'time', seconds: +(deg / 360 / fps).toFixed(6) },
        },
        `Set the shutter to ${deg.toFixed(1)}° (${FRACTION(deg / 360 / fps)}), ${Math.round((deg / 360 / fps) * pulseHz)} whole pulses a frame`,
      ),
    );
  const whole = Array.from({ length: 60 }, (_, i) => pulseHz / (i + 1))
    .filter((f) => Math.abs(f - Math.round(f)) < 1e-9)
    .sort((a, b) => Math.abs(a - fps) - Math.abs(b - fps))[0];
  if (whole !== undefined && Math.abs(whole - fps) < 8)
    out.push(setCamera(w, { fps: whole }, `Shoot at ${whole} fps, if sound and delivery allow`));
  return out;
}

function flashes(c: SchemeContext, id: string, l: RigLamp): Found[] {
  const most = mostInASecond((l.strokes ?? []).map((s) => s.atS));
  return most > MOST_FLASHES
    ? [
        {
          kind: 'flashing',
          lamp: id,
          severity: 3,
          size: most,
          short: `${l.number} flashes too often`,
          says: `${l.number} flashes ${most} times within a second; no more than ${MOST_FLASHES}, for those who fall ill by it. Warn the set and the audience.`,
          at: l.at,
          ideas: () => [putOut(here(c), id, `Put ${l.number} out`)],
        },
      ]
    : [];
}

/** What runs from batteries, for how long, against the hours that are planned. */
function batteries(c: SchemeContext, lamps: readonly (readonly [string, RigLamp])[]): Found[] {
  const on = lamps.flatMap(([id, l]) => {
    const kind = kindOf(c.shoot.kit.lamps[l.head]);
    // At full, the worse case: dimmed they last longer.
    return kind && l.batteryWh !== undefined ? [{ id, l, watts: kind.watts, wh: l.batteryWh }] : [];
  });
  if (!on.length) return [];
  const planned = c.angle.rig.scene.hours;
  const hours = (h: number): string => `${(Math.floor(h * 10) / 10).toFixed(1)} h`;
  const first = on.map((x) => ({ ...x, h: runHours(x.wh, x.watts) })).sort((a, b) => a.h - b.h)[0]!;
  const wh = on.reduce((s, x) => s + x.wh, 0);
  const watts = on.reduce((s, x) => s + x.watts, 0);
  const all = runHours(wh, watts);
  // Batteries go from lamp to lamp: what counts is what there is of them together.
  const short = planned !== undefined && all < planned;
  const thin = planned !== undefined && all < 1.25 * planned;
  return [
    {
      kind: 'battery',
      subject: 'batteries',
      severity: short ? 3 : thin ? 1 : 0,
      says: `Batteries: ${Math.round(wh)} Wh carry ${Math.round(watts)} W for ${hours(all)} (all at full, 85 % usable); ${first.l.number} goes first, after ${hours(first.h)}${planned === undefined ? '' : `; ${hours(planned)} are planned${short ? ': too little' : thin ? ': no margin' : ''}`}.`,
      size: planned === undefined ? 0 : planned / Math.max(0.01, Math.min(first.h, all)),
      short: 'the batteries have no margin',
      ideas: () => [putOut(here(c), first.id, `Put ${first.l.number} out`)],
    },
  ];
}
