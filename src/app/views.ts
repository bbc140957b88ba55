/** From what the light said to what the screen shows: rulers, rows, cells, sentences. Pure. */
import { kindOf, levelAfterStops } from '../setup/lamps.ts';
import { type AngleRef, lightName, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { AngleResult } from './messages.ts';
import type { RulerMark } from './Ruler.tsx';

/** Stops with sign and a true minus. */
export const signed = (v: number, digits = 1): string => {
  if (!Number.isFinite(v)) return '';
  const t = Math.abs(v).toFixed(digits);
  return Number(t) === 0 ? '0' : `${v > 0 ? '+' : '−'}${t}`;
};
export const lux = (v: number): string =>
  v >= 100 ? Math.round(v).toLocaleString('en').replace(',', ' ') : v >= 10 ? v.toFixed(0) : v.toFixed(1);
/** Half-width of a band as one says it. */
export const band = (v: number): string => `±${v.toFixed(1)}`;
export const ratioWords = (n: number): string => `${n >= 10 ? Math.round(n) : n.toFixed(1)}:1`;

export function rulerOf(shoot: Shoot, r: AngleResult): RulerMark[] {
  const rig = rigFor(shoot, r.ref);
  const out: RulerMark[] = [];
  for (const id of r.facesSeen) {
    const m = r.marks.find((x) => x.mark === id);
    if (!m || m.litOverGreyStops === undefined || m.shadeOverGreyStops === undefined) continue;
    const wish = rig.angle.wishes.find((w) => w.mark === id && w.reading === 'ratioStops');
    out.push({
      kind: 'face',
      id,
      fromStops: m.shadeOverGreyStops,
      toStops: m.litOverGreyStops,
      bandStops: m.bandStops,
      metered: m.metered,
      says: m.ratio === undefined ? '' : ratioWords(m.ratio),
      ...(wish ? { want: ratioWords(2 ** wish.target) } : {}),
      ...(wish ? { wish: { fromStops: m.litOverGreyStops - wish.target, toStops: m.litOverGreyStops } } : {}),
    });
  }
  for (const s of r.spots) {
    if (!s.seen || s.overGreyStops === undefined) continue;
    const spot = rig.scene.spots[s.spot]!;
    out.push({
      kind: s.kind === 'window' ? 'glass' : 'wall',
      id: s.spot,
      words: spot.kind === 'thing' ? spot.name : spot.kind,
      stops: s.overGreyStops,
      metered: s.metered,
    });
  }
  for (const [lamp, stops] of Object.entries(r.glowStops))
    out.push({ kind: 'shining', id: lamp, words: lightName(rig, lamp), stops, metered: false });
  return out;
}

export interface Cell {
  angle: string;
  /** What the light does: italic. */
  job: string;
  stops: string;
  /** What else it does there, to other faces. */
  more?: string;
  /** From where, on a clock seen from above with the camera at 6. */
  from: string;
  /** Its direct light on each face, stops about what the stop asks. */
  dots: { mark: string; stops: number; bandStops: number }[];
  says: string;
  cheats: boolean;
  /** 0 none, 1 note, 2 or more: its turned corner. */
  trouble: number;
  on: boolean;
  /** As it burns in this angle, and the per cent at which it gives so many stops more. */
  level: number;
  afterStops: (stops: number) => number;
}
export interface Row {
  id: string;
  identity: number;
  number: string;
  words: string;
  beam: string;
  on: boolean;
  level: number;
  afterStops: (stops: number) => number;
  heightM: number;
  gives: string;
  givesOn: string;
  band: string;
  /** This head was read where it stands. */
  metered: boolean;
  warmth: string;
  volts: string;
  cells: Cell[];
  cheats: { angle: string; words: string }[];
}

/** A sheet's id as it is said: half-cto → half CTO. */
export const sheetWords = (id: string): string =>
  id.replaceAll('-', ' ').replace(/\b(cto|ctb)\b/g, (w) => w.toUpperCase());

export function rowsOf(shoot: Shoot, angles: AngleRef[], results: Record<string, AngleResult>): Row[] {
  const scene = shoot.scenes[angles[0]?.scene ?? '']!;
  return Object.entries(scene.rig.lamps).map(([id, l], i): Row => {
    const head = shoot.kit.lamps[l.head];
    const kind = kindOf(head);
    const cells = angles.map((a) => cellOf(shoot, a, results[a.angle], id));
    // Alone, on the mark that it lights most.
    let best: { mark: string; over: number; bandStops: number } | undefined;
    let weight: AngleResult['lamps'][number] | undefined;
    for (const a of angles)
      for (const m of results[a.angle]?.marks ?? []) {
        weight ??= results[a.angle]?.lamps.find((w) => w.id === id);
        const on = m.lamps.find((x) => x.lamp === id);
        if (
          on &&
          on.directLx > 0 &&
          (!best || on.overStops > best.over) &&
          !rigFor(shoot, a).cheated.includes(id)
        )
          best = {
            mark: m.mark,
            over: on.overStops,
            bandStops: weight?.bandStops ?? 0,
          };
      }
    const beam = [...l.scrims.map((s) => `${s} scrim`), ...l.sheets.map(sheetWords)].join(', ');
    return {
      id,
      identity: i + 1,
      number: l.number,
      words: l.words ?? kind?.words ?? l.head,
      beam: beam || 'bare',
      on: l.on,
      level: l.level,
      afterStops: (stops) => 100 * (kind ? levelAfterStops(kind, l.level, stops) : l.level),
      heightM: l.at[2],
      gives: best ? signed(best.over) : '—',
      givesOn: best?.mark ?? '',
      band: best ? band(best.bandStops) : '',
      metered: weight?.metered ?? false,
      warmth: weight ? `${Math.round(weight.outCctK / 10) * 10} K` : '',
      volts: weight?.volts === undefined ? '' : `${weight.volts.toFixed(1)} V`,
      cells,
      cheats: angles.flatMap((a) => {
        const cheat = scene.angles[a.angle]!.cheats[id];
        return cheat ? [{ angle: a.angle, words: cheatWords(l, cheat) }] : [];
      }),
    };
  });
}

/** Only what differs from the rig. */
function cheatWords(rig: { at: readonly number[]; number: string }, cheat: Record<string, unknown>): string {
  const parts: string[] = [];
  if (cheat.on === false) parts.push('out');
  if (cheat.on === true) parts.push('on');
  if (Array.isArray(cheat.at)) {
    const d = (cheat.at as number[]).map((v, k) => v - rig.at[k]!);
    const flat = Math.hypot(d[0]!, d[1]!);
    if (flat > 0.004) parts.push(`moved ${flat.toFixed(2)} m ${compass(d[0]!, d[1]!)}`);
    if (Math.abs(d[2]!) > 0.004)
      parts.push(`${Math.abs(d[2]!).toFixed(2)} m ${d[2]! > 0 ? 'higher' : 'lower'}`);
  }
  if (cheat.aim) parts.push('aimed elsewhere');
  if (typeof cheat.level === 'number') parts.push(`burns ${Math.round(cheat.level * 100)} %`);
  if (typeof cheat.focus === 'number') parts.push(`focus ${Math.round(cheat.focus * 100)} %`);
  if (Array.isArray(cheat.sheets)) parts.push(cheat.sheets.join(', ') || 'no sheets');
  if (Array.isArray(cheat.scrims)) parts.push(cheat.scrims.join(', ') || 'no scrims');
  if (cheat.doors) parts.push('doors otherwise');
  if (cheat.support) parts.push('held otherwise');
  return parts.join(', ') || 'differs';
}
const compass = (dx: number, dy: number): string =>
  ['east', 'north-east', 'north', 'north-west', 'west', 'south-west', 'south', 'south-east'][
    (Math.round((Math.atan2(dy, dx) / Math.PI) * 4) + 8) % 8
  ]!;

export const clockWord = (clock: number): string => {
  const h = Math.round(clock) % 12;
  return `${h === 0 ? 12 : h} o’clock`;
};

function cellOf(shoot: Shoot, ref: AngleRef, r: AngleResult | undefined, lamp: string): Cell {
  const rig = rigFor(shoot, ref);
  const l = rig.lamps[lamp]!;
  const kind = kindOf(shoot.kit.lamps[l.head]);
  const base = {
    level: l.level,
    afterStops: (stops: number) => 100 * (kind ? levelAfterStops(kind, l.level, stops) : l.level),
    angle: ref.angle,
    cheats: rig.cheated.includes(lamp),
    on: l.on,
    from: '',
    dots: [],
  };
  if (!l.on)
    return { ...base, job: 'out', stops: '', says: `Lamp ${l.number} is out in ${ref.angle}`, trouble: 0 };
  if (!r)
    return {
      ...base,
      job: '',
      stops: '',
      says: `Lamp ${l.number} in ${ref.angle}: not read yet`,
      trouble: 0,
    };
  const troubles = r.troubles.filter((t) => t.lamp === lamp && t.meant === undefined);
  const worst = Math.max(0, ...troubles.map((t) => t.severity));
  const marks = r.marks.filter((m) => (r.facesSeen.length ? r.facesSeen.includes(m.mark) : true));
  const jobs = marks
    .map((m) => ({ m, on: m.lamps.find((x) => x.lamp === lamp) }))
    .filter((x) => x.on && x.on.role !== 'none');
  const order = ['key', 'fill', 'kicker', 'back', 'top', 'under', 'background', 'practical'];
  jobs.sort((a, b) => order.indexOf(a.on!.role) - order.indexOf(b.on!.role));
  const first = jobs[0];
  const glow = r.glowStops[lamp] !== undefined;
  if (!first) {
    const job = troubles.some((t) => t.kind === 'flare') ? 'flare' : glow ? 'in shot' : 'rests';
    return {
      ...base,
      job,
      stops: '',
      says: `Lamp ${l.number} in ${ref.angle}: ${job}. ${troubles.map((t) => t.says).join(' ')}`,
      trouble: worst,
    };
  }
  const same = jobs.filter((j) => j.on!.role === first.on!.role);
  const on = first.on!;
  const names = (list: typeof jobs) =>
    list.length > 3 ? `${list.length} faces` : list.map((j) => j.m.mark).join(list.length > 2 ? ' ' : ', ');
  const whom = marks.length > 1 ? ` ${names(same)}` : '';
  const more = [...new Set(jobs.filter((j) => !same.includes(j)).map((j) => j.on!.role))]
    .map((role) => `${role} ${names(jobs.filter((j) => j.on!.role === role))}`)
    .join(', ');
  return {
    ...base,
    job: `${on.role}${whom}`,
    ...(more ? { more } : {}),
    from: `${clockWord(on.clock)} ${on.elevationDeg >= 0 ? '↑' : '↓'}${Math.abs(Math.round(on.elevationDeg))}°`,
    dots: jobs
      .filter((j) => Number.isFinite(j.on!.overStops))
      .map((j) => ({ mark: j.m.mark, stops: j.on!.overStops, bandStops: j.m.bandStops })),
    stops: on.role === 'background' || on.role === 'practical' ? '' : signed(on.overStops),
    says: `Lamp ${l.number} in ${ref.angle}: ${jobs
      .map(
        (j) =>
          `${j.on!.role} on ${j.m.mark}, ${signed(j.on!.overStops) || 'no direct light'}${signed(j.on!.overStops) ? ` stops, plus or minus ${j.m.bandStops.toFixed(1)}, ${r.lamps.find((w) => w.id === lamp)?.metered ? '' : 'not '}metered` : ''}; ${clockWord(j.on!.clock)}, ${Math.round(j.on!.elevationDeg)} degrees up`,
      )
      .join('; ')}. ${troubles.map((t) => t.says).join(' ')}`,
    trouble: worst,
  };
}

/** How many troubles stand unmeant that must be looked at. */
export const countTroubles = (results: Record<string, AngleResult>): number =>
  Object.values(results).reduce(
    (n, r) =>
      n + r.troubles.filter((t) => t.meant === undefined && t.severity >= 2 && isOfAngle(t.kind)).length,
    supplyTroubles(results).filter((t) => t.severity >= 2).length,
  );
/** Matters of the supply and of safety: nobody may mean them. */
const OF_SUPPLY: ReadonlySet<string> = new Set([
  ...['circuit-over', 'plug-over', 'lead-over', 'long-load', 'volts-low', 'power-not-checked'],
  ...['keep-off', 'lead-in-the-way', 'battery', 'flashing'],
]);
export const isOfAngle = (kind: string): boolean => !OF_SUPPLY.has(kind);
/** What the supply says, once, whichever angle it came from. */
export function supplyTroubles(results: Record<string, AngleResult>) {
  const seen = new Map<string, AngleResult['troubles'][number]>();
  for (const r of Object.values(results))
    for (const t of r.troubles)
      if (!isOfAngle(t.kind)) {
        const key = `${t.kind}|${t.subject}|${t.lamp}`;
        const had = seen.get(key);
        if (!had || had.severity < t.severity) seen.set(key, t);
      }
  return [...seen.values()].sort((a, b) => b.severity - a.severity);
}

/** Whether an angle keeps its own of what a hand is changing in the rig just now. */
export function heldBy(from: Shoot | undefined, now: Shoot, scene: string, angle: string): boolean {
  const before = from?.scenes[scene]?.rig.lamps;
  const after = now.scenes[scene]?.rig.lamps;
  const cheats = now.scenes[scene]?.angles[angle]?.cheats;
  if (!before || !after || !cheats || before === after) return false;
  return Object.entries(cheats).some(([lamp, cheat]) =>
    Object.keys(cheat).some((k) => {
      const key = k as keyof typeof cheat;
      return cheat[key] !== undefined && before[lamp]?.[key] !== after[lamp]?.[key];
    }),
  );
}
