/** A lamp of an angle in the words of a plan's table: what, how high, aimed where, what is in its beam, fed from where. */
import { beamDegOf, kindOf } from '../setup/lamps.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { RigLamp, Shoot } from '../shoot/schema.ts';
import { sheetWords } from './cutList.ts';
import { leadRoute } from './leadRoute.ts';

export interface LampWords {
  id: string;
  number: string;
  /** 1 … its place in the rig: its line pattern. */
  identity: number;
  what: string;
  burns: boolean;
  /** “62 %”, “out”. */
  level: string;
  heightM: number;
  at: readonly [number, number, number];
  aim: string;
  downDeg: number;
  /** Full angle at half intensity; undefined: all round. */
  beamDeg: number | undefined;
  inBeam: string;
  stands: string;
  feed: string;
  /** How far its leads and its own cord reach, metres; undefined: no lead, or its length not told. */
  reachM: number | undefined;
  /** How far the way along the walls is, metres (`leadRoute`). */
  routeM: number | undefined;
  crosses: string[];
  /** What was told of how its lead lies: “round to the left of its socket, taped and covered”. */
  lies: string;
  cheats: boolean;
  practical: boolean;
}

const RAD = Math.PI / 180;
/** A plug's own cord, metres (common practice, no source). */
const OWN_CORD_M = 2;

export function lampWords(shoot: Shoot, ref: AngleRef): LampWords[] {
  const rig = rigFor(shoot, ref);
  const place = shoot.places[rig.scene.place]!;
  return Object.entries(rig.lamps).map(([id, l], i): LampWords => {
    const head = shoot.kit.lamps[l.head];
    const kind = kindOf(head);
    const burns = l.on && l.level > 0;
    const [dx, dy, dz] = [l.aim[0] - l.at[0], l.aim[1] - l.at[1], l.aim[2] - l.at[2]];
    const beam = kind ? beamDegOf(l, kind) : undefined;
    const socket = l.feed ? place.supply.sockets[l.feed.socket] : undefined;
    const route = socket ? leadRoute(place, socket.at, l) : undefined;
    const leads = l.feed?.leads ?? [];
    const lengths = leads.map((x) => shoot.kit.leads[x.kit]?.lengthM);
    const haveM = lengths.every((m) => m !== undefined)
      ? lengths.reduce<number>((s, m) => s + m!, OWN_CORD_M)
      : undefined;
    const via = l.feed?.via ? rig.scene.rig.multiways[l.feed.via] : undefined;
    return {
      id,
      number: l.number,
      identity: i + 1,
      what: l.words ?? head?.words ?? kind?.words ?? l.head,
      burns,
      level: burns ? `${Math.round(l.level * 100)} %` : 'out',
      heightM: l.at[2],
      at: l.at,
      aim: aimOf(rig.scene, l),
      downDeg: -Math.atan2(dz, Math.hypot(dx, dy)) / RAD,
      beamDeg: beam === undefined || beam >= 180 ? undefined : beam,
      inBeam: inBeamOf(l),
      stands: `${l.support.words ?? l.support.kind}${l.support.kind === 'clamp' && l.support.bond && !/bond/.test(l.support.words ?? '') ? ', safety bond' : ''}`,
      feed: l.feed
        ? [
            l.feed.socket,
            ...(l.feed.via
              ? [via?.words && !via.words.includes(l.feed.socket) ? via.words : `block ${l.feed.via}`]
              : []),
            ...leads.map((x) => `${shoot.kit.leads[x.kit]?.words ?? x.kit}${x.coiled ? ', unwind' : ''}`),
          ].join(', ')
        : 'battery',
      reachM: haveM !== undefined && !l.practical && leads.length ? haveM : undefined,
      routeM: route?.lengthM,
      crosses: route?.crosses.map((o) => place.openings[o]?.words ?? o) ?? [],
      lies: [
        l.feed?.way ? `round to the ${l.feed.way} of its socket` : '',
        l.feed?.taped ? 'taped down, covered where it shows' : '',
      ]
        .filter(Boolean)
        .join(', '),
      cheats: rig.cheated.includes(id),
      practical: l.practical ?? false,
    };
  });
}

export function inBeamOf(l: RigLamp): string {
  const doors = l.doors
    ? `doors ${(['top', 'bottom', 'left', 'right'] as const).map((d) => `${d} ${Math.round(l.doors![d])}°`).join(' ')}`
    : '';
  return [...l.scrims.map((s) => `${s} scrim`), ...l.sheets.map(sheetWords), ...(doors ? [doors] : [])].join(
    ', ',
  );
}

/** A face or a spot by name, else where on the plan. */
function aimOf(scene: ReturnType<typeof rigFor>['scene'], l: RigLamp): string {
  let best: { words: string; d: number } | undefined;
  const take = (words: string, p: readonly [number, number, number], within: number) => {
    const d = Math.hypot(l.aim[0] - p[0], l.aim[1] - p[1], l.aim[2] - p[2]);
    if (d <= within && (!best || d < best.d)) best = { words, d };
  };
  for (const [id, m] of Object.entries(scene.marks)) take(`face of ${id}`, [m.at[0], m.at[1], m.eyeM], 0.3);
  for (const s of Object.values(scene.spots)) take(s.name, s.at, 0.2);
  if (best) return best.words;
  if (Math.hypot(l.aim[0] - l.at[0], l.aim[1] - l.at[1]) < 0.05)
    return l.aim[2] < l.at[2] ? 'straight down' : 'straight up';
  return `x ${l.aim[0].toFixed(2)} y ${l.aim[1].toFixed(2)} h ${l.aim[2].toFixed(2)}`;
}
