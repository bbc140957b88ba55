/** A rig made whole: lamps set, fed and checked against the mains, the camera following; as edits, reasons and a price. */
import { exactStop } from '../camera/exposure.ts';
import type { Vec3 } from '../maths/vec3.ts';
import type { Solution } from '../power/solution.ts';
import { ampsUp } from '../power/verdict.ts';
import { supplyOf } from '../setup/weights.ts';
import { applyEdits, type Edit } from '../shoot/edits.ts';
import { regionWord } from '../shoot/region-words.ts';
import type { RigLamp, Shoot } from '../shoot/schema.ts';
import type { Doors } from './blade.ts';
import { BACK_OVER, type Bench, givesOf, type Put } from './rigBench.ts';
import { feedAll } from './rigFeed.ts';
import { rigFlags, type There } from './rigFlags.ts';
import { inAPane } from './rigGround.ts';
import type { Elsewhere } from './rigJobs.ts';
import { levels } from './rigLevels.ts';
import { meanLx, NEAR_ENOUGH, type Settled, settle } from './rigLight.ts';

export type RigName = 'crossed-pair' | 'two-point' | 'three-point' | 'one-lamp';
export const RIG_WORDS: Record<RigName, string> = {
  'crossed-pair': 'crossed pair',
  'two-point': 'two-point',
  'three-point': 'three-point',
  'one-lamp': 'one lamp',
};

export interface StartingRig {
  name: RigName;
  words: string;
  /** Takes away the rig there was and puts this one. */
  edits: Edit[];
  /** Why each lamp is where it is, a sentence each. */
  reasons: string[];
  /** What could not be had, a sentence each. */
  gave: string[];
  /** Amps at nominal volts in the angle that takes most; `moves`: how often a lamp is carried or put out for one angle. */
  price: { lamps: number; amps: number; watts: number; moves: number };
}

/** Stops one may go to before index and filters are touched (common practice, no source). */
const WIDEST = 1.4;
const NARROWEST = 11;
/** Doors as one opens them first: clear of the beam, off lens and ceiling, degrees (common practice, no source). */
const DOORS = { top: 50, bottom: 60, left: 55, right: 55 };

export function finish(
  b: Bench,
  name: RigName,
  puts: Put[],
  before: Edit[],
  told: string[],
  gave: string[],
): StartingRig | string {
  const { shoot, sceneId, scene } = b;
  const says = [...told];
  const gives = [...gave];
  const { keyLx, readLx, settled } = levels(b, puts);
  const edits: Edit[] = [...clearing(b), ...before];
  const ids = puts.map((_, i) => `L${i + 1}`);
  const fed = feedAll(
    shoot,
    scene.place,
    puts.map((p, i) => ({ id: ids[i]!, number: String(i + 1), at: p.placed.at, kind: p.head.kind })),
  );
  gives.push(...fed.gave);
  for (const [id, multiway] of Object.entries(fed.multiways))
    edits.push({ edit: 'setMultiway', args: { scene: sceneId, id, multiway } });
  const flags = rigFlags(b, (angle) => thereIn(puts, settled, angle), asked(b, readLx));
  puts.forEach((p, i) => {
    const id = ids[i]!;
    const { setting } = settled[i]!;
    const doors = doorsOf(p, flags.doors.get(String(i + 1)));
    const feed = fed.feeds[id];
    const lamp: RigLamp = {
      head: p.head.id,
      number: String(i + 1),
      words: p.head.head.words ?? p.head.kind.words,
      on: true,
      at: triple(p.placed.at),
      aim: triple(p.placed.aim),
      ...setting,
      ...(doors ? { doors } : {}),
      support: { kind: 'stand', kit: p.stand.id, footM: p.stand.footM },
      ...(feed ? { feed } : {}),
    };
    edits.push({ edit: 'addLamp', args: { scene: sceneId, id, lamp } });
    for (const [angle, e] of p.placed.cheats)
      edits.push({
        edit: 'cheatLamp',
        args: {
          scene: sceneId,
          angle,
          lamp: id,
          changes: e.on ? carried(b, p, settled[i]!, e, keyLx) : { on: false, at: triple(e.at) },
        },
      });
    says.push(reason(b, p, settled[i]!, i + 1));
    for (const { id: angle, view } of b.ground.views) {
      const e = p.placed.cheats.get(angle);
      if (e?.on !== false && inAPane(b.place, view, e?.at ?? p.placed.at, 0.15))
        gives.push(`In ${angle} the window’s glass mirrors ${i + 1}: draw a curtain or open the pane.`);
    }
    const off = Math.abs(settled[i]!.overStops);
    const allowed = p.job === 'back' && settled[i]!.overStops > 0 ? BACK_OVER : NEAR_ENOUGH;
    if (off > allowed + 0.02)
      gives.push(
        `${i + 1} gives ${off.toFixed(1)} stops ${settled[i]!.overStops > 0 ? 'more' : 'less'} than was asked of it: nothing one owns ${settled[i]!.overStops > 0 ? 'takes it off' : 'adds it'}.`,
      );
  });
  for (const { id, flag } of flags.hung) edits.push({ edit: 'addFlag', args: { scene: sceneId, id, flag } });
  says.push(...flags.says, ...flags.hung.map((h) => h.says));
  gives.push(...flags.gave);
  edits.push(...cameraEdits(b, puts, readLx, says, gives));

  // What the mains say to it, in every angle: nothing may be over; what nobody told stays not checked.
  const supplies = suppliesWith(shoot, edits, sceneId);
  const over = supplies
    .flatMap((s) => [...s.circuits, ...s.devices, ...s.upstream])
    .find((x) => x.level === 'over');
  if (over) {
    const heavy = `${over.words}: ${over.verdict}`;
    const sockets = regionWord(b.place.supply.region, 'socket', 2);
    return `${heavy}. It takes lighter lamps, or ${sockets} on another circuit that are told as such.`;
  }
  const ampsOf = (s: Solution) =>
    s.loads.filter((l) => ids.includes(l.id)).reduce((sum, l) => sum + l.nominalCurrentA, 0);
  const most = supplies.reduce((m, s) => (ampsOf(s) > ampsOf(m) ? s : m));
  for (const c of most.circuits) if (c.nominalCurrentA > 0) says.push(`${c.words}: ${c.verdict}.`);
  return {
    name,
    words: RIG_WORDS[name],
    edits,
    reasons: says,
    gave: gives,
    price: {
      lamps: puts.length,
      amps: Number(ampsUp(ampsOf(most))),
      watts: puts.reduce((s, p) => s + p.head.kind.watts, 0),
      moves: puts.reduce((s, p) => s + p.placed.cheats.size, 0),
    },
  };
}

const doorsOf = (p: Put, closed: Doors | undefined): Doors | undefined =>
  p.head.kind.doors ? (closed ?? DOORS) : undefined;

/** The lamps as an angle has them, its cheats in; a cheated one is taken to burn as in the rig. */
function thereIn(puts: readonly Put[], settled: readonly Settled[], angle: string): There[] {
  return puts.map((put, i): There => {
    const e = put.placed.cheats.get(angle);
    const doors = doorsOf(put, undefined);
    return {
      number: String(i + 1),
      put,
      at: e?.at ?? put.placed.at,
      aim: e?.aim ?? put.placed.aim,
      setting: settled[i]!.setting,
      ...(doors ? { doors } : {}),
      on: e?.on ?? true,
    };
  });
}

/** What the stop will ask for: the set one's light, or the key's where the stop follows it. */
const asked = (b: Bench, readLx: number): number =>
  Math.abs(Math.log2(readLx / b.wantLx)) > NEAR_ENOUGH ? readLx : b.wantLx;

const triple = (v: Vec3): [number, number, number] => [+v[0].toFixed(3), +v[1].toFixed(3), +v[2].toFixed(3)];

/** The rig there was goes. */
function clearing(b: Bench): Edit[] {
  const { rig } = b.scene;
  const scene = b.sceneId;
  return [
    ...Object.keys(rig.lamps).map((lamp): Edit => ({ edit: 'removeLamp', args: { scene, lamp } })),
    ...Object.keys(rig.flags).map((flag): Edit => ({ edit: 'removeFlag', args: { scene, flag } })),
    ...Object.keys(rig.multiways).map((id): Edit => ({ edit: 'setMultiway', args: { scene, id } })),
  ];
}

/** The lamp carried for one angle: its place there, and what keeps its light as it was. */
function carried(b: Bench, p: Put, settled: Settled, e: Elsewhere, keyLx: number): Partial<RigLamp> {
  const there: Pick<Put, 'job' | 'for' | 'head'> = e.backOf
    ? { job: 'back', for: [e.backOf], head: p.head }
    : p;
  const stock = new Map(settled.setting.sheets.map((s) => [s, 1]));
  const want = e.backOf ? keyLx : meanLx(settled.lx);
  const soft = there.job === 'key' || there.job === 'fill';
  const { setting } = settle(p.head, givesOf(b, there, e.at, e.aim), want, stock, soft);
  const out: Record<string, unknown> = { at: triple(e.at) };
  if (JSON.stringify(triple(e.aim)) !== JSON.stringify(triple(p.placed.aim))) out.aim = triple(e.aim);
  for (const key of ['focus', 'level', 'scrims', 'sheets'] as const)
    if (JSON.stringify(setting[key]) !== JSON.stringify(settled.setting[key])) out[key] = setting[key];
  return out as Partial<RigLamp>;
}

const suppliesWith = (shoot: Shoot, edits: readonly Edit[], scene: string): Solution[] => {
  const after = applyEdits(shoot, edits).shoot;
  return Object.keys(after.scenes[scene]!.angles).map((angle) => supplyOf(after, { scene, angle }));
};

/** “1, 650 W fresnel: 47° round from A's face, away from the cameras, 31° up, 2.6 m off; behind B.” */
function reason(b: Bench, p: Put, settled: Settled, number: number): string {
  const where =
    p.job === 'bounce'
      ? ['aimed into the ceiling, which sends it to everybody']
      : p.for.map((f) => {
          const x = p.placed.bearings.get(f.id)!;
          const side = (x.side === 'left' ? 1 : -1) * (b.cameraSide.get(f.id) ?? 0);
          const word =
            p.job === 'back'
              ? 'behind'
              : side < 0
                ? 'on the side away from the cameras'
                : 'on the cameras’ side';
          return `${x.azimuthDeg.toFixed(0)}° round from ${f.id}’s face, ${word}, ${x.elevationDeg.toFixed(0)}° up, ${x.distanceM.toFixed(1)} m off`;
        });
  if (p.behind)
    where.push(`behind ${p.behind.id}, ${p.placed.bearings.get(p.behind.id)!.azimuthDeg.toFixed(0)}° round`);
  const { setting, overStops } = settled;
  const beam = [
    setting.focus > 0 ? `${Math.round(setting.focus * 100)} % toward spot` : '',
    ...setting.sheets.map((s) => s.replaceAll('-', ' ')),
    setting.scrims.length ? `${setting.scrims.join(' and ')} scrim` : '',
    setting.level < 1 ? `${Math.round(setting.level * 100)} %` : '',
  ].filter(Boolean);
  const under = p.underStops - overStops;
  const level =
    p.job === 'key'
      ? 'gives the stop, with what the walls send back'
      : `is ${Math.abs(under).toFixed(1)} stops ${under < 0 ? 'over' : 'under'} the key`;
  const moves = [...p.placed.cheats].map(([angle, e]) =>
    e.on
      ? `For ${angle} it is carried ${Math.hypot(e.at[0] - p.placed.at[0], e.at[1] - p.placed.at[1]).toFixed(1)} m${e.backOf ? `, behind ${e.backOf.id}` : ''}.`
      : `For ${angle} it is out and stands aside.`,
  );
  const set = `${beam.length ? `With ${beam.join(', ')} it` : 'Bare it'} ${level}${p.job === 'bounce' ? ', a stop either way' : ''}.`;
  return [`${number}, ${p.head.head.words ?? p.head.kind.words}: ${where.join('; ')}.`, set, ...moves].join(
    ' ',
  );
}

const THIRDS = [1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10, 11];
const marked = (stop: number): number =>
  THIRDS.reduce((b, m) => (Math.abs(Math.log2(m / stop)) < Math.abs(Math.log2(b / stop)) ? m : b));

/** Stop and balance follow the key where the key cannot follow them. */
function cameraEdits(b: Bench, puts: readonly Put[], readLx: number, says: string[], gave: string[]): Edit[] {
  const camera: Record<string, unknown> = {};
  const set = b.scene.camera;
  const over = Math.log2(readLx / b.wantLx);
  if (Math.abs(over) > NEAR_ENOUGH) {
    const asks = exactStop(set.stop) * 2 ** (over / 2);
    const stop = marked(Math.max(WIDEST, Math.min(NARROWEST, asks)));
    camera.stop = stop;
    says.push(
      over > 0
        ? `The stop goes from T${set.stop} to T${stop}: with what one owns the lamps cannot all be brought lower and keep their steps.`
        : `The stop goes from T${set.stop} to T${stop}: the lamps give no more.`,
    );
    const left = 2 * Math.log2(asks / exactStop(stop));
    if (left < -0.5) {
      camera.ei = set.ei * 2 ** Math.ceil(-left - 0.3);
      gave.push(
        `Even at T${stop} it is ${(-left).toFixed(1)} stops under: the index goes up to ${camera.ei}.`,
      );
    } else if (left > 0.5) {
      camera.ndDensity = +((Math.round(left * 3) / 3) * 0.3).toFixed(1);
      says.push(`Neutral density ${camera.ndDensity} on the lens takes the rest.`);
    }
  }
  const key = puts.find((p) => p.job === 'key');
  const kelvin = key && Math.round((key.head.head.cctK ?? key.head.kind.cctK) / 50) * 50;
  const wb = set.whiteBalance;
  if (kelvin && (wb.kind !== 'kelvin' || Math.abs(1e6 / kelvin - 1e6 / wb.kelvin) > 15)) {
    camera.whiteBalance = { kind: 'kelvin', kelvin };
    says.push(`The camera is balanced for the key, ${kelvin} K.`);
  }
  return Object.keys(camera).length ? [{ edit: 'setCamera', args: { scene: b.sceneId, camera } }] : [];
}
