/** A light kept and asked for again: laws of sameness, mirrors and what cannot be held; no figures of our own. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { bearing } from '../readings/bearing.ts';
import type { MarkReading } from '../readings/readMark.ts';
import { weightsOf } from '../setup/weights.ts';
import { applyEdits } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Look, Shoot } from '../shoot/schema.ts';
import { askLook, type LookRead, lookOf, lookWords } from './look.ts';
import { gelled } from './lookColour.ts';
import { givesLx, headsIn } from './rigLight.ts';

const opened = openShoot(readFileSync(new URL('../../shoots/kitchen.json', import.meta.url), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join('\n'));
const ref: AngleRef = { scene: 'rent', angle: 'OA' };

/** A bare room of 7 × 6 m with one sister, one camera and one 300 W fresnel on a stand. */
function room(changes: (s: Shoot) => void = () => undefined): Shoot {
  const s = structuredClone(opened.ok ? opened.shoot : never());
  const place = s.places.kitchen!;
  place.outline = [
    [0, 0],
    [7, 0],
    [7, 6],
    [0, 6],
  ];
  place.ceilingM = 3.5;
  Object.assign(place, { openings: {}, furniture: {}, rigging: {} });
  delete place.outside;
  delete place.wallFinishes;
  const scene = s.scenes.rent!;
  scene.marks = { A: { ...scene.marks.A!, at: [3.5, 3], eyeM: 1.6, facings: [0], posture: 'standing' } };
  delete scene.marks.A!.present;
  scene.spots = {};
  scene.angles = {
    OA: {
      ...scene.angles.OA!,
      at: [6.2, 1.9, 1.6],
      lookAt: [3.5, 3, 1.6],
      focalMm: 50,
      cheats: {},
      wishes: [],
      meant: [],
    },
  };
  scene.rig.flags = {};
  const L1 = scene.rig.lamps.L1!;
  scene.rig.lamps = { L1: { ...L1, at: [5.3, 4.3, 2.8], aim: [3.5, 3, 1.6], scrims: [], sheets: [] } };
  s.kit.supports.stand!.heightM = [1, 3];
  changes(s);
  return s;
}
const never = (): never => {
  throw new Error('no shoot');
};

/** What a meter would say there by the plain sum: no walls. `of`: what the other side gets, for a ratio. */
function readIn(s: Shoot, at: AngleRef = ref): LookRead {
  const rig = rigFor(s, at);
  const m = rig.scene.marks.A!;
  const eyes = [m.at[0], m.at[1], m.eyeM] as [number, number, number];
  const head = headsIn(s).find((h) => h.id === rig.lamps.L1!.head)!;
  const l = rig.lamps.L1!;
  const { weights } = weightsOf(s, at);
  const w = weights.lamps.find((x) => x.id === 'L1')!;
  const plain = givesLx(
    head,
    l.at,
    l.aim,
    { focus: l.focus, level: l.level, sheets: l.sheets, scrims: l.scrims },
    eyes,
  );
  const lx = plain * (w.lightFactor / l.level) * gelled(l.sheets).passes;
  const b = bearing(eyes, m.facings[0]!, l.at);
  const bouncedLx = 0.1 * lx;
  const on = Math.cos(b.elevationDeg * (Math.PI / 180));
  const lit = lx * on * Math.cos((b.azimuthDeg - 60) * (Math.PI / 180)) + bouncedLx;
  const shade = lx * on * Math.max(0, Math.cos((b.azimuthDeg + 60) * (Math.PI / 180))) + bouncedLx;
  const white = weights.layers[0]!.white;
  const mark = {
    mark: 'A',
    toward: 'L1',
    incidentLx: lx + bouncedLx,
    overStops: Math.log2((lx + bouncedLx) / 300),
    ratioStops: Math.log2(lit / shade),
    litOverGreyStops: Math.log2(lit / 300),
    shadeOverGreyStops: Math.log2(shade / 300),
    litSide: b.side,
    litXyz: white,
    shadeXyz: white,
    lamps: [
      { lamp: 'L1', ...b, directLx: lx, bouncedLx, lx: lx + bouncedLx, overStops: 0, role: 'key', clock: 4 },
    ],
  } as unknown as MarkReading;
  return { mark, eRefLx: 300, balance: { cctK: 3200, duv: 0 }, lamps: weights.lamps };
}
const kept = (s: Shoot): Look => {
  const look = lookOf(s, ref, readIn(s), 'sister');
  if (typeof look === 'string') throw new Error(look);
  return look;
};
const asked = (s: Shoot, look: Look) => {
  const a = askLook(s, ref, 'A', look, readIn(s));
  if (typeof a === 'string') throw new Error(a);
  return a;
};

test('asked where it was kept, it changes nothing: bearing, level and ratio within a tenth', () => {
  const s = room();
  const look = kept(s);
  const a = asked(s, look);
  expect(a.gave).toEqual([]);
  const after = readIn(a.edits.length ? applyEdits(s, a.edits).shoot : s);
  expect(Math.abs(after.mark.overStops - look.overStops)).toBeLessThanOrEqual(0.1);
  expect(Math.abs(after.mark.ratioStops! - look.ratioStops!)).toBeLessThanOrEqual(0.1);
  expect(a.edits).toEqual([]);
  expect(lookWords(look)).toMatch(/^key from the far side, \d+° round/);
});

test('the key in another place comes back to where it was kept from', () => {
  const look = kept(room());
  const other = room((s) => {
    s.scenes.rent!.rig.lamps.L1!.at = [1.2, 1.2, 1.4];
  });
  const a = asked(other, look);
  const after = readIn(applyEdits(other, a.edits).shoot).mark.lamps[0]!;
  expect(Math.abs(after.azimuthDeg - look.azimuthDeg)).toBeLessThan(6);
  expect(Math.abs(after.elevationDeg - look.elevationDeg)).toBeLessThan(6);
  expect(after.side).toBe(look.side);
  // Only that angle is touched.
  expect(a.edits.every((e) => e.args.angle === 'OA')).toBe(true);
});

test('a mirrored room gives the mirrored light: the far side stays the far side', () => {
  const look = kept(room());
  const dark = (s: Shoot) => {
    s.scenes.rent!.rig.lamps.L1!.at = [1.2, 1.2, 1.4];
  };
  /** North for south. */
  const mirrored = room((s) => {
    dark(s);
    const m = ([x, y, z]: [number, number, number]): [number, number, number] => [x, 6 - y, z];
    const angle = s.scenes.rent!.angles.OA!;
    angle.at = m(angle.at);
    const lamp = s.scenes.rent!.rig.lamps.L1!;
    lamp.at = m(lamp.at);
    lamp.aim = m(lamp.aim);
  });
  const plain = room(dark);
  const one = readIn(applyEdits(plain, asked(plain, look).edits).shoot).mark.lamps[0]!;
  const two = readIn(applyEdits(mirrored, asked(mirrored, look).edits).shoot).mark.lamps[0]!;
  expect(two.side).not.toBe(one.side);
  expect(Math.abs(two.azimuthDeg - one.azimuthDeg)).toBeLessThan(3);
  expect(Math.abs(two.elevationDeg - one.elevationDeg)).toBeLessThan(3);
});

test('under a low ceiling the height is lost, and said by how much', () => {
  const high = { ...kept(room()), elevationDeg: 50 };
  const low = room((s) => {
    s.places.kitchen!.ceilingM = 2.3;
    s.scenes.rent!.rig.lamps.L1!.at = [5.3, 4.3, 1.9];
  });
  const a = asked(low, high);
  const said = a.gave.find((g) => g.startsWith('Height'))!;
  expect(said).toMatch(/where 50° was kept; the ceiling holds it down/);
  const after = readIn(applyEdits(low, a.edits).shoot).mark.lamps[0]!;
  expect(Math.abs(Number(/comes from (\d+)°/.exec(said)![1]) - after.elevationDeg)).toBeLessThanOrEqual(0.5);
  // The same room with air above lets it higher.
  const free = room();
  const higher = readIn(applyEdits(free, asked(free, high).edits).shoot).mark.lamps[0]!;
  expect(higher.elevationDeg).toBeGreaterThan(after.elevationDeg + 5);
});

test('without a sheet softness is lost; a sheet of the kit is pegged for it', () => {
  const soft = { ...kept(room()), sourceDeg: 12 };
  const bare = room((s) => {
    s.kit.sheets = {};
  });
  const lost = asked(bare, soft).gave.find((g) => g.startsWith('Softness'));
  expect(lost).toMatch(/where 12\.0° was kept; no sheet/);
  expect(asked(bare, soft).edits.find((e) => e.edit === 'setSheets')).toBeUndefined();
  const sheets = asked(room(), soft).edits.find((e) => e.edit === 'setSheets')?.args.sheets;
  expect(sheets).toContain('half-white');
});

test('a colour that no gel reaches is said; one that a gel of the kit reaches is pegged', () => {
  const warm = { ...kept(room()), keyMired: 90 };
  const bare = room((s) => {
    s.kit.sheets = {};
  });
  expect(asked(bare, warm).gave.find((g) => g.startsWith('Colour'))).toMatch(/colder than kept/);
  // Half CTO shifts by about 81 mired in the trade's tables [TRADE-MIRED].
  const a = asked(room(), warm);
  expect(a.edits.find((e) => e.edit === 'setSheets')?.args.sheets).toContain('half-cto');
});

test('a face nobody keys has no light to keep', () => {
  const s = room();
  const r = readIn(s);
  const none = {
    ...r,
    mark: { ...r.mark, lamps: r.mark.lamps.map((l) => ({ ...l, role: 'fill' as const })) },
  };
  expect(lookOf(s, ref, none, 'x')).toMatch(/^No lamp keys A/);
});
