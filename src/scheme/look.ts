/**
 * A character’s own light: taken from what was read in one angle, and asked for in another scene, place or kit. Worked
 * out by geometry and inverse square as edits of that angle alone; what cannot be held is said, and by how much. What
 * comes of it is for the light to say: the edits are tried like a cure.
 */

import { diffusionById } from '../light/diffusion.ts';
import { DEG, distance, type Vec3 } from '../maths/vec3.ts';
import { castOf } from '../readings/balance.ts';
import { bearing, wrap } from '../readings/bearing.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { LampWeight } from '../setup/angle.ts';
import { kindOf, sizeOf } from '../setup/lamps.ts';
import { viewOf } from '../setup/view.ts';
import type { Edit } from '../shoot/edits.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Look, RigLamp, Shoot } from '../shoot/schema.ts';
import { gelled } from './lookColour.ts';
import { groundOf, type Holding, sites, UNDER_CEILING_M } from './rigGround.ts';
import {
  BARE,
  diffusionStock,
  dims,
  givesLx,
  type Head,
  headsIn,
  type Setting,
  settingsOf,
  throws,
} from './rigLight.ts';
import { inTheWay } from './sightLines.ts';

/** The balance as colours are told against it. */
export interface Balanced {
  cctK: number;
  duv: number;
}
export interface LookRead {
  mark: MarkReading;
  eRefLx: number;
  balance: Balanced;
  lamps: readonly LampWeight[];
}

/** A camera nearer to straight on than this has no far side, degrees (judgement). */
const STRAIGHT_DEG = 10;
/** A pegged sheet is lit wider than the face behind it, as the setup has it. */
const SHEET_WIDER = 1.4;

const eyesOf = (shoot: Shoot, ref: AngleRef, mark: string): { eyes: Vec3; facingDeg: number } => {
  const { scene, angle } = rigFor(shoot, ref);
  const m = scene.marks[mark]!;
  return {
    eyes: [m.at[0], m.at[1], m.eyeM],
    facingDeg: m.facings[angle.facings?.[mark] ?? 0] ?? m.facings[0]!,
  };
};

/** How wide a lamp looks from a point, degrees; what is pegged on it makes it wider. */
function sourceDeg(lamp: Pick<RigLamp, 'sheets'>, sizeM: number, fromM: number): number {
  const scatters = lamp.sheets.some((s) => diffusionById(s));
  return (2 * Math.atan((sizeM * (scatters ? SHEET_WIDER : 1)) / 2 / fromM)) / DEG;
}

const cameraSide = (shoot: Shoot, ref: AngleRef, mark: string): 'left' | 'right' | undefined => {
  const { eyes, facingDeg } = eyesOf(shoot, ref, mark);
  const b = bearing(eyes, facingDeg, rigFor(shoot, ref).angle.at as Vec3);
  return b.azimuthDeg < STRAIGHT_DEG || b.azimuthDeg > 180 - STRAIGHT_DEG ? undefined : b.side;
};

/** The light on a face as it is; a sentence where there is none to keep. */
export function lookOf(shoot: Shoot, ref: AngleRef, r: LookRead, words: string): Look | string {
  const rig = rigFor(shoot, ref);
  const m = r.mark;
  const key = m.lamps.find((l) => l.role === 'key');
  const lamp = key && rig.lamps[key.lamp];
  const kind = lamp && kindOf(shoot.kit.lamps[lamp.head]);
  if (!key || !lamp || !kind)
    return `No lamp keys ${m.mark} in ${ref.angle}: there is no light of its own to keep.`;
  const camera = cameraSide(shoot, ref, m.mark);
  const mired = (xyz: MarkReading['litXyz']) => {
    const c = xyz && castOf(xyz, r.balance);
    return c ? +c.mired.toFixed(1) : undefined;
  };
  const [keyMired, fillMired] = [mired(m.litXyz), mired(m.shadeXyz)];
  const person = rig.scene.marks[m.mark]?.person;
  return {
    words,
    ...(person === undefined ? {} : { person }),
    scene: ref.scene,
    angle: ref.angle,
    mark: m.mark,
    azimuthDeg: +key.azimuthDeg.toFixed(1),
    elevationDeg: +key.elevationDeg.toFixed(1),
    ...(camera === undefined ? {} : { farSide: key.side !== camera }),
    side: key.side,
    sourceDeg: +sourceDeg(lamp, sizeOf(kind), key.distanceM).toFixed(2),
    overStops: +m.overStops.toFixed(2),
    ...(m.ratioStops === undefined ? {} : { ratioStops: +Math.max(0, m.ratioStops).toFixed(2) }),
    ...(keyMired === undefined ? {} : { keyMired }),
    ...(fillMired === undefined ? {} : { fillMired }),
  };
}

/** “from their left, 35° round, 24° up, 4.5:1, 2.4° wide” */
export function lookWords(l: Look): string {
  const from = l.farSide === undefined ? `their ${l.side}` : l.farSide ? 'the far side' : 'the camera’s side';
  const ratio =
    l.ratioStops === undefined ? '' : `, ${(2 ** l.ratioStops).toFixed(l.ratioStops > 3.3 ? 0 : 1)}:1`;
  const colour =
    l.keyMired === undefined || Math.abs(l.keyMired) < 10
      ? ''
      : `, ${Math.abs(l.keyMired).toFixed(0)} mired ${l.keyMired > 0 ? 'warm' : 'cold'}`;
  return `key from ${from}, ${l.azimuthDeg.toFixed(0)}° round, ${l.elevationDeg.toFixed(0)}° up${ratio}, ${l.sourceDeg.toFixed(1)}° wide${colour}`;
}

export interface Asked {
  /** Of this angle alone; none: it is there already. */
  edits: Edit[];
  /** What the lamps do, a sentence. */
  says: string;
  /** What could not be held, and by how much, a sentence each. */
  gave: string[];
}

/** Off by less than this nothing is done or said: as near as a hand sets a lamp (judgement). */
const NEAR = { deg: 4, stops: 0.1, mired: 10 } as const;
const wantedSide = (look: Look, camera: 'left' | 'right' | undefined): 'left' | 'right' => {
  if (look.farSide === undefined || camera === undefined) return look.side;
  return look.farSide ? (camera === 'left' ? 'right' : 'left') : camera;
};

/** Angle at the eyes between two directions told as bearings, degrees. */
function apartDeg(
  a: { azimuthDeg: number; side: 'left' | 'right'; elevationDeg: number },
  b: typeof a,
): number {
  const v = (x: typeof a): Vec3 => {
    const az = (x.side === 'left' ? 1 : -1) * x.azimuthDeg * DEG;
    const el = x.elevationDeg * DEG;
    return [Math.cos(el) * Math.cos(az), Math.cos(el) * Math.sin(az), Math.sin(el)];
  };
  const [p, q] = [v(a), v(b)];
  return Math.acos(Math.max(-1, Math.min(1, p[0] * q[0] + p[1] * q[1] + p[2] * q[2]))) / DEG;
}

interface Candidate {
  lamp: string;
  head: Head;
  at: Vec3;
  holding: Holding | undefined;
  kit: string | undefined;
  moved: boolean;
  offDeg: number;
  cost: number;
  setting: Setting;
  lx: number;
  wideDeg: number;
}

export function askLook(shoot: Shoot, ref: AngleRef, mark: string, look: Look, r: LookRead): Asked | string {
  const rig = rigFor(shoot, ref);
  const place = shoot.places[rig.scene.place]!;
  const { eyes, facingDeg } = eyesOf(shoot, ref, mark);
  const side = wantedSide(look, cameraSide(shoot, ref, mark));
  const want = { azimuthDeg: look.azimuthDeg, elevationDeg: look.elevationDeg, side };
  const m = r.mark;
  const keyNow = m.lamps.find((l) => l.role === 'key');
  const heads = new Map(headsIn(shoot).map((h) => [h.id, h]));
  const faces = Object.entries(rig.scene.marks)
    .filter(([, k]) => k.person !== undefined && (k.present === undefined || k.present.includes(ref.angle)))
    .map(([id, k]) => ({ id, eyes: [k.at[0], k.at[1], k.eyeM] as Vec3, facingDeg: k.facings[0]! }));
  const ground = groundOf(place, faces, [{ id: ref.angle, view: viewOf(rig.angle) }]);
  const others = ground.posts.filter((p) => p.id !== mark);

  // How much of the incident light the key must give: the rest stays.
  const restLx = keyNow ? Math.max(0, m.incidentLx - keyNow.directLx) : m.incidentLx;
  const wantLx = Math.max(r.eRefLx * 2 ** look.overStops - restLx, (r.eRefLx * 2 ** look.overStops) / 8);
  const stock = diffusionStock(shoot);

  // Try every head that throws its light one way, where it is and wherever its stand may go.
  const stands = Object.entries(shoot.kit.supports).flatMap(([id, t]) =>
    t.heightM && t.footM !== undefined && t.count > 0
      ? [{ id, footM: t.footM, heightM: t.heightM, holdsKg: t.holdsKg ?? 6 }]
      : [],
  );
  let best: Candidate | undefined;
  for (const [id, lamp] of Object.entries(rig.lamps)) {
    const head = heads.get(lamp.head);
    if (!head || !throws(head.kind) || lamp.practical) continue;
    const now = m.lamps.find((l) => l.lamp === id);
    // What the traced light is against the plain sum: volts, gels, what shades it.
    const own: Setting = { focus: lamp.focus, level: lamp.level, sheets: lamp.sheets, scrims: lamp.scrims };
    const plain = givesLx(head, lamp.at as Vec3, lamp.aim as Vec3, own, eyes);
    const weight = r.lamps.find((w) => w.id === id);
    const truth =
      now && id === keyNow?.lamp && now.directLx > 0 && plain > 0
        ? now.directLx / plain
        : (weight && lamp.on ? weight.lightFactor / Math.max(lamp.level, 1e-6) : 1) * gelShare(lamp);
    const using = [...new Set(m.lamps.filter((l) => l.role === 'key').map((l) => l.lamp))];
    const busy = using.includes(id) ? 0 : 0.4;
    const consider = (at: Vec3, kit: string | undefined, holding: Holding | undefined, moved: boolean) => {
      const b = bearing(eyes, facingDeg, at);
      const offDeg = apartDeg(b, want);
      const far = distance(at, eyes);
      const aim = moved ? eyes : (lamp.aim as Vec3);
      const set = setFor(head, own, at, aim, eyes, wantLx / truth, look, far, stock, moved);
      const over = Math.log2((set.lx * truth) / wantLx);
      const wideDeg = sourceDeg(set.setting, sizeOf(head.kind), far);
      const cost =
        offDeg / 10 +
        Math.max(0, Math.abs(over) - NEAR.stops) +
        0.4 * Math.abs(Math.log2(Math.max(wideDeg, 0.2) / Math.max(look.sourceDeg, 0.2))) +
        busy +
        (moved ? 0.3 : 0);
      if (!best || cost < best.cost - 1e-9)
        best = {
          lamp: id,
          head,
          at,
          holding,
          kit,
          moved,
          offDeg,
          cost,
          setting: set.setting,
          lx: set.lx * truth,
          wideDeg,
        };
    };
    consider(lamp.at as Vec3, undefined, undefined, false);
    for (const stand of stands) {
      if (stand.holdsKg < head.kind.massKg) continue;
      for (const site of sites(ground, stand)) {
        const flat = Math.hypot(site.at[0] - eyes[0], site.at[1] - eyes[1]);
        const around = wrap(Math.atan2(site.at[1] - eyes[1], site.at[0] - eyes[0]) / DEG - facingDeg);
        // The nearest height to the wanted one that stand, ceiling and frame allow.
        if (Math.abs(Math.abs(around) - look.azimuthDeg) > 60) continue;
        const top = Math.min(site.highM, site.topM[0] ?? site.highM);
        if (top < site.lowM) continue;
        const z = Math.max(site.lowM, Math.min(top, eyes[2] + flat * Math.tan(look.elevationDeg * DEG)));
        const at: Vec3 = [site.at[0], site.at[1], +z.toFixed(2)];
        if (apartDeg(bearing(eyes, facingDeg, at), want) > 45) continue;
        if (inTheWay(place, others, at, eyes)) continue;
        consider(at, stand.id, stand, true);
      }
    }
  }
  if (!best) return 'No lamp of this rig throws its light one way: there is nothing to key with.';
  return finished(shoot, ref, mark, look, r, best, {
    want,
    wantLx,
    eyes,
    facingDeg,
    restLx,
    ceilingM: place.ceilingM,
  });
}

/** Luminous share the gels of a lamp pass, by what is pegged; diffusion is in the sum already. */
function gelShare(lamp: Pick<RigLamp, 'sheets'>): number {
  return gelled(lamp.sheets).passes;
}

/** The setting of a head that comes nearest in level and width; its own if it does already. */
function setFor(
  head: Head,
  own: Setting,
  at: Vec3,
  aim: Vec3,
  eyes: Vec3,
  wantLx: number,
  look: Look,
  far: number,
  stock: ReturnType<typeof diffusionStock>,
  moved: boolean,
): { setting: Setting; lx: number } {
  const gels = own.sheets.filter((s) => !diffusionById(s));
  const lxOf = (s: Setting) => givesLx(head, at, aim, s, eyes);
  const size = sizeOf(head.kind);
  const wide = (s: Setting) => sourceDeg(s, size, far);
  const costOf = (s: Setting, lx: number, same: boolean) =>
    Math.max(0, Math.abs(Math.log2(Math.max(lx, 1e-9) / wantLx)) - NEAR.stops) * 2 +
    Math.max(0, Math.abs(Math.log2(wide(s) / Math.max(look.sourceDeg, 0.1))) - 0.2) +
    s.scrims.length * 0.05 +
    (same ? 0 : 0.1);
  let best = { setting: own, lx: lxOf(own) };
  let least = costOf(own, best.lx, !moved);
  const have = new Map(stock);
  for (const s of own.sheets) if (diffusionById(s)) have.set(s, Math.max(1, have.get(s) ?? 1));
  for (const plain of settingsOf(head, have)) {
    let s: Setting = { ...BARE, ...plain, sheets: [...gels, ...plain.sheets] };
    let lx = lxOf(s);
    if (lx > wantLx && (dims(head) || own.level < 1)) {
      s = { ...s, level: Math.max(0.05, +(wantLx / lx).toFixed(3)) };
      lx = lxOf(s);
    }
    const cost = costOf(s, lx, false);
    if (cost < least - 1e-9) [least, best] = [cost, { setting: s, lx }];
  }
  return best;
}

function finished(
  shoot: Shoot,
  ref: AngleRef,
  mark: string,
  look: Look,
  r: LookRead,
  c: Candidate,
  on: {
    want: { azimuthDeg: number; side: 'left' | 'right'; elevationDeg: number };
    wantLx: number;
    eyes: Vec3;
    facingDeg: number;
    restLx: number;
    ceilingM: number | undefined;
  },
): Asked {
  const rig = rigFor(shoot, ref);
  const lamp = rig.lamps[c.lamp]!;
  const where = { scene: ref.scene, angle: ref.angle, lamp: c.lamp };
  const edits: Edit[] = [];
  const gave: string[] = [];
  const { number } = lamp;

  // Where it stands.
  if (c.moved) {
    edits.push({ edit: 'moveLamp', args: { ...where, to: c.at } });
    edits.push({ edit: 'aimLamp', args: { ...where, mark } });
    edits.push({
      edit: 'setSupport',
      args: {
        ...where,
        support: { kind: 'stand', kit: c.kit, footM: c.holding!.footM, words: 'stand, bagged' },
      },
    });
  }
  if (!lamp.on) edits.push({ edit: 'switchLamp', args: { ...where, on: true } });
  const b = bearing(on.eyes, on.facingDeg, c.at);
  const low = on.want.elevationDeg - b.elevationDeg;
  if (Math.abs(low) > NEAR.deg) {
    const topM = c.holding?.heightM[1];
    const ceiling = on.ceilingM === undefined ? Number.POSITIVE_INFINITY : on.ceilingM - UNDER_CEILING_M;
    const why =
      low > 0 && c.moved && Math.abs(c.at[2] - Math.min(ceiling, topM ?? ceiling)) < 0.06
        ? ceiling <= (topM ?? Number.POSITIVE_INFINITY)
          ? 'the ceiling holds it down'
          : 'the stand goes no higher'
        : 'nearer the frame, walls and things leave it no room';
    gave.push(
      `Height: the key comes from ${b.elevationDeg.toFixed(0)}° up, where ${look.elevationDeg.toFixed(0)}° was kept; ${why}.`,
    );
  }
  const round =
    b.side === on.want.side ? b.azimuthDeg - on.want.azimuthDeg : b.azimuthDeg + on.want.azimuthDeg;
  if (Math.abs(round) > NEAR.deg)
    gave.push(
      `Side: ${b.azimuthDeg.toFixed(0)}° round on their ${b.side}, where ${look.azimuthDeg.toFixed(0)}° on their ${on.want.side} was kept; no clear floor out of frame is nearer.`,
    );

  // How it is set.
  const s = c.setting;
  if (s.focus !== lamp.focus) edits.push({ edit: 'focusLamp', args: { ...where, focus: s.focus } });
  if (Math.abs(s.level - lamp.level) > 0.005)
    edits.push({ edit: 'setLevel', args: { ...where, level: s.level } });
  if (s.scrims.join() !== lamp.scrims.join())
    edits.push({ edit: 'setScrims', args: { ...where, scrims: s.scrims } });
  let sheets = s.sheets;
  const over = Math.log2(c.lx / on.wantLx);
  if (Math.abs(over) > 1 / 3)
    gave.push(
      `Level: ${number} comes ${Math.abs(over).toFixed(1)} stops ${over < 0 ? 'short' : 'over'}; ${over < 0 ? 'open up, or bring a stronger head' : 'close down, or take it further off'}.`,
    );
  const soft = Math.log2(c.wideDeg / Math.max(look.sourceDeg, 0.1));
  if (soft < -0.5)
    gave.push(
      `Softness: the key is ${c.wideDeg.toFixed(1)}° wide from the face, where ${look.sourceDeg.toFixed(1)}° was kept; no sheet of the kit makes it so wide. Shadows will have harder edges.`,
    );
  else if (soft > 1)
    gave.push(
      `Softness: the key is ${c.wideDeg.toFixed(1)}° wide from the face, where ${look.sourceDeg.toFixed(1)}° was kept: shadows will be softer.`,
    );

  // Its colour, by the gels there are.
  if (look.keyMired !== undefined) {
    const gel = gelFor(shoot, ref, c.lamp, sheets, look.keyMired, r);
    if (gel) {
      sheets = gel.sheets;
      if (Math.abs(gel.offMired) > 15)
        gave.push(
          `Colour: the key comes ${Math.abs(gel.offMired).toFixed(0)} mired ${gel.offMired > 0 ? 'warmer' : 'colder'} than kept; no gel of the kit comes nearer.`,
        );
    }
  }
  if (sheets.join() !== lamp.sheets.join()) edits.push({ edit: 'setSheets', args: { ...where, sheets } });

  // Its ratio, by the lamp that fills.
  if (look.ratioStops !== undefined) {
    const fill = fillFor(r, ref, rig.lamps, c, b, look.ratioStops, on, shoot);
    edits.push(...fill.edits);
    gave.push(...fill.gave);
  }
  const beam = [...sheets.map((x) => x.replaceAll('-', ' ')), ...s.scrims.map((x) => `${x} scrim`)];
  const set = [
    ...(sheets.join() !== lamp.sheets.join() || s.scrims.join() !== lamp.scrims.join()
      ? [beam.length ? `${beam.join(', ')} in the beam` : 'nothing in the beam']
      : []),
    ...(s.focus !== lamp.focus ? [`${(s.focus * 100).toFixed(0)} % toward spot`] : []),
    ...(Math.abs(s.level - lamp.level) > 0.005 ? [`burning ${(s.level * 100).toFixed(0)} %`] : []),
  ];
  return {
    edits,
    gave,
    says: edits.length
      ? `${number} keys ${mark} from ${b.azimuthDeg.toFixed(0)}° on their ${b.side}, ${b.elevationDeg.toFixed(0)}° up${c.moved ? `, carried to (${c.at.map((v) => v.toFixed(2)).join(', ')})` : ''}${set.length ? `; ${set.join(', ')}` : ''}; ${ref.angle} only.`
      : `${mark} has that light in ${ref.angle} already.`,
  };
}

/** The gel owned and free that brings the key nearest to the kept colour; undefined: it cannot be judged. */
function gelFor(shoot: Shoot, ref: AngleRef, lampId: string, sheets: string[], wanted: number, r: LookRead) {
  const rig = rigFor(shoot, ref);
  const lamp = rig.lamps[lampId]!;
  const weight = r.lamps.find((w) => w.id === lampId);
  if (!weight) return undefined;
  const used = (kind: string) =>
    Object.entries(rig.lamps).filter(([id, l]) => id !== lampId && l.sheets.includes(kind)).length;
  const rest = sheets.filter((s) => !gelled([s]).gel);
  const owned = Object.values(shoot.kit.sheets)
    .filter((t) => gelled([t.kind]).gel && t.count - used(t.kind) > 0)
    .map((t) => t.kind);
  const now = sheets.filter((s) => gelled([s]).gel);
  const off = (gels: string[]) =>
    gelled(gels, kindOf(shoot.kit.lamps[lamp.head])!.source, weight.cctK).mired -
    1e6 / r.balance.cctK -
    wanted;
  let best = { sheets, offMired: off(now) };
  for (const gels of [[], ...owned.map((g) => [g])]) {
    const o = off(gels);
    if (Math.abs(o) < Math.abs(best.offMired) - NEAR.mired)
      best = { sheets: [...gels, ...rest], offMired: o };
  }
  return best;
}

/** What the fill must do for the kept ratio, by the two sides as sums; what it cannot is said. */
function fillFor(
  r: LookRead,
  ref: AngleRef,
  lamps: Readonly<Record<string, RigLamp>>,
  c: Candidate,
  key: { azimuthDeg: number; elevationDeg: number },
  wantStops: number,
  on: { wantLx: number },
  shoot: Shoot,
): { edits: Edit[]; gave: string[] } {
  const m = r.mark;
  const none = { edits: [], gave: [] };
  if (m.ratioStops === undefined || m.litOverGreyStops === undefined || m.shadeOverGreyStops === undefined)
    return none;
  if (!c.moved && Math.abs(m.ratioStops - wantStops) < NEAR.stops) return none;
  const num = (v: number) => (v >= 10 ? v.toFixed(0) : v.toFixed(1));
  // The two cheeks, a flat receptor turned 60° to each: what the key gives by its cosines, the rest as it is.
  const cos = (turn: number) =>
    Math.max(0, Math.cos(key.elevationDeg * DEG) * Math.cos((key.azimuthDeg - turn) * DEG));
  const keyLit = c.lx * cos(60);
  const keyShade = c.lx * cos(-60);
  const fills = m.lamps.filter((l) => l.lamp !== c.lamp && l.role === 'fill' && lamps[l.lamp]);
  const bounced = m.lamps.reduce(
    (s, l) => s + l.bouncedLx * (l.lamp === c.lamp ? Math.min(4, on.wantLx / Math.max(l.directLx, 1e-3)) : 1),
    0,
  );
  const fill = fills.sort((a, b) => b.lx - a.lx)[0];
  const fillLx = fill ? fill.directLx * Math.max(0.2, Math.cos(fill.azimuthDeg * DEG)) : 0;
  const t = 2 ** wantStops;
  // (keyLit + B + f F) / (keyShade + B + f F) = t.
  const wanted = (keyLit + bounced - t * (keyShade + bounced)) / (t - 1);
  if (t <= 1.05) return none;
  const reached = (f: number) => (keyLit + bounced + f) / (keyShade + bounced + f);
  if (wanted < -0.1 * (keyShade + bounced)) {
    const edits: Edit[] =
      fill && fillLx > 0
        ? [{ edit: 'switchLamp', args: { scene: ref.scene, angle: ref.angle, lamp: fill.lamp, on: false } }]
        : [];
    return {
      edits,
      gave: [
        `Ratio: about ${num(reached(0))}:1, where ${num(t)}:1 was kept: the room sends back too much; black cloth on the shadow side takes some of it.`,
      ],
    };
  }
  if (!fill || fillLx <= 0)
    return wanted > 0.15 * (keyShade + bounced)
      ? {
          edits: [],
          gave: [
            `Ratio: about ${num(reached(0))}:1, where ${num(t)}:1 was kept: no lamp fills here. A white board on the shadow side comes nearer.`,
          ],
        }
      : none;
  const now = lamps[fill.lamp]!;
  const factor = wanted / fillLx;
  if (Math.abs(Math.log2(Math.max(factor, 1e-3))) < NEAR.stops) return none;
  const head = headsIn(shoot).find((h) => h.id === now.head);
  const canDim = head !== undefined && (dims(head) || now.level < 1);
  const to = Math.max(0.02, Math.min(1, now.level * factor));
  if (!canDim)
    return {
      edits: [],
      gave: [
        `Ratio: about ${num(reached(fillLx))}:1, where ${num(t)}:1 was kept: ${now.number} fills and has no knob.`,
      ],
    };
  const edits: Edit[] = [
    {
      edit: 'setLevel',
      args: { scene: ref.scene, angle: ref.angle, lamp: fill.lamp, level: +to.toFixed(3) },
    },
  ];
  const left = now.level * factor > 1.1;
  return {
    edits,
    gave: left
      ? [
          `Ratio: about ${num(reached(fillLx / now.level))}:1, where ${num(t)}:1 was kept: ${now.number} gives no more fill.`,
        ]
      : [],
  };
}
