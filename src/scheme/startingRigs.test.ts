import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bearing } from '../readings/bearing.ts';
import { inFrame, onFrame, viewOf } from '../setup/view.ts';
import { supplyOf } from '../setup/weights.ts';
import { applyEdit, applyEdits } from '../shoot/edits.ts';
import type { Region } from '../shoot/kit.ts';
import { newShoot, ROOM_ID, SCENE_ID } from '../shoot/newShoot.ts';
import { faults, looseEnds } from '../shoot/references.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { HOW } from '../shoot/seatings.ts';
import { tellKit, tellLamp } from '../shoot/tell.ts';
import { MAINS } from '../shoot/usualRoom.ts';
import { onFloor } from '../shoot/walls.ts';
import { ZONE_DEG } from './faceTroubles.ts';
import { leadNeedM } from './rigFeed.ts';
import { seesFace, UNDER_CEILING_M } from './rigGround.ts';
import { givesLx, headsIn, settle } from './rigLight.ts';
import { cannotStand } from './standing.ts';
import { startingRigs } from './startingRigs.ts';
import { usualAngles } from './usualAngles.ts';

fc.configureGlobal({ seed: 20 });

const LAMPS = [
  'fresnel-300',
  'fresnel-650',
  'open-face-800',
  'site-flood-500',
  'led-panel-60',
  'led-spot-200',
];
const asked = fc.record({
  region: fc.constantFrom<Region>('uk', 'eu', 'na', 'au', 'jp'),
  widthM: fc.double({ min: 3, max: 9, noNaN: true }),
  depthM: fc.double({ min: 2.8, max: 8, noNaN: true }),
  heightM: fc.double({ min: 2.2, max: 4, noNaN: true }),
  how: fc.constantFrom(...HOW),
  people: fc.constantFrom<1 | 2 | 3>(1, 2, 3),
  kit: fc.array(fc.constantFrom(...LAMPS), { minLength: 1, maxLength: 4 }),
  sheets: fc.boolean(),
});
type Asked = typeof asked extends fc.Arbitrary<infer T> ? T : never;

function readyFor(a: Asked): Shoot {
  let s = newShoot(a);
  for (const kind of new Set(a.kit))
    s = applyEdits(s, tellLamp(s, kind, a.kit.filter((k) => k === kind).length)).shoot;
  if (a.sheets) s = applyEdits(s, tellKit(s, 'half-white', 2)).shoot;
  return applyEdits(s, usualAngles(s, SCENE_ID).edits).shoot;
}

/** Every rig of every room, lamp by lamp as an angle has it. */
function each(
  runs: number,
  see: (q: {
    shoot: Shoot;
    angle: string;
    id: string;
    lamp: ReturnType<typeof rigFor>['lamps'][string];
  }) => void,
  whole: (shoot: Shoot, rig: ReturnType<typeof startingRigs>['rigs'][number]) => void = () => undefined,
): number {
  let rigs = 0;
  fc.assert(
    fc.property(asked, (a) => {
      const ready = readyFor(a);
      for (const rig of startingRigs(ready, SCENE_ID).rigs) {
        rigs++;
        const { shoot } = applyEdits(ready, rig.edits);
        whole(shoot, rig);
        for (const angle of Object.keys(shoot.scenes[SCENE_ID]!.angles))
          for (const [id, lamp] of Object.entries(rigFor(shoot, { scene: SCENE_ID, angle }).lamps))
            see({ shoot, angle, id, lamp });
      }
    }),
    { numRuns: runs },
  );
  return rigs;
}

describe('in any room, with any kit', () => {
  test('lamps stand in the room, under its ceiling, where a stand can stand', () => {
    const rigs = each(30, ({ shoot, lamp }) => {
      const place = shoot.places[ROOM_ID]!;
      expect(onFloor(place.outline, [lamp.at[0], lamp.at[1]])).toBe(true);
      expect(lamp.at[2]).toBeLessThanOrEqual(place.ceilingM! - UNDER_CEILING_M + 1e-9);
      const thing = shoot.kit.supports[lamp.support.kit!];
      expect(cannotStand(place, lamp.support, lamp.at, thing)).toEqual([]);
    });
    expect(rigs).toBeGreaterThan(30);
  });

  test('no head and no column is in any angle’s frame', () => {
    each(30, ({ shoot, angle, lamp }) => {
      const view = viewOf(shoot.scenes[SCENE_ID]!.angles[angle]!);
      const [x, y, top] = lamp.at;
      for (let z = 0.1; z <= top; z += 0.1) expect(inFrame(onFrame(view, [x, y, z]))).toBe(false);
      // Corners of a box round the head, doors and yoke.
      for (const dx of [-0.14, 0.14])
        for (const dy of [-0.14, 0.14])
          for (const dz of [-0.14, 0.14])
            expect(inFrame(onFrame(view, [x + dx, y + dy, top + dz]))).toBe(false);
    });
  });

  test('no lamp that burns rakes a face that the angle sees (95–135° is the unattractive zone)', () => {
    each(30, ({ shoot, angle, lamp }) => {
      // What is aimed into the ceiling reaches faces only by it.
      if (!lamp.on || lamp.aim[2] > lamp.at[2] + 0.5) return;
      const scene = shoot.scenes[SCENE_ID]!;
      const view = viewOf(scene.angles[angle]!);
      for (const [id, m] of Object.entries(scene.marks)) {
        const eyes = [m.at[0], m.at[1], m.eyeM] as const;
        if (!seesFace(view, { id, eyes, facingDeg: m.facings[0]! })) continue;
        const b = bearing(eyes, m.facings[0]!, lamp.at);
        if (b.elevationDeg < 65)
          expect(b.azimuthDeg < ZONE_DEG.from || b.azimuthDeg > ZONE_DEG.to, `${b.azimuthDeg}`).toBe(true);
      }
    });
  });

  test('everything is plugged in at its own volts, and nothing on the mains is over', () => {
    each(
      30,
      ({ shoot, lamp }) => {
        const head = shoot.kit.lamps[lamp.head]!;
        const { region } = shoot.places[ROOM_ID]!.supply;
        expect(head.volts).toBe(MAINS[region].nominalV);
        expect(lamp.feed).toBeDefined();
      },
      (shoot, rig) => {
        expect([...faults(shoot), ...looseEnds(shoot)]).toEqual([]);
        for (const angle of Object.keys(shoot.scenes[SCENE_ID]!.angles)) {
          const s = supplyOf(shoot, { scene: SCENE_ID, angle });
          for (const c of [...s.circuits, ...s.devices]) {
            expect(c.level).not.toBe('over');
            // Nobody told the circuit: 10 A is what one plans at.
            if (c.limitA !== undefined) expect(c.planningCurrentA).toBeLessThanOrEqual(c.limitA + 1e-9);
          }
        }
        expect(rig.price.lamps).toBe(Object.keys(shoot.scenes[SCENE_ID]!.rig.lamps).length);
        expect(rig.reasons.length).toBeGreaterThanOrEqual(rig.price.lamps);
        const heads = Object.values(shoot.scenes[SCENE_ID]!.rig.lamps).map((l) => l.head);
        expect(new Set(heads).size).toBe(heads.length);
        for (const l of Object.values(shoot.scenes[SCENE_ID]!.rig.lamps))
          for (const sheet of l.sheets) expect(Object.keys(shoot.kit.sheets)).toContain(sheet);
      },
    );
  });

  test('in every angle each face that it sees has somebody’s light from before it', () => {
    each(
      30,
      () => undefined,
      (shoot, rig) => {
        if (rig.gave.some((g) => /^One key for everybody/.test(g))) return;
        const scene = shoot.scenes[SCENE_ID]!;
        for (const [angle, a] of Object.entries(scene.angles)) {
          const view = viewOf(a);
          const { lamps } = rigFor(shoot, { scene: SCENE_ID, angle });
          for (const [id, m] of Object.entries(scene.marks)) {
            const eyes = [m.at[0], m.at[1], m.eyeM] as const;
            if (!seesFace(view, { id, eyes, facingDeg: m.facings[0]! })) continue;
            // A third person of a crossed pair has what falls to them.
            if (rig.name === 'crossed-pair' && id === 'C') continue;
            const before = Object.values(lamps).filter(
              (l) => l.on && bearing(eyes, m.facings[0]!, l.at).azimuthDeg < ZONE_DEG.from,
            );
            expect(before.length, `${rig.name} ${angle} ${id}`).toBeGreaterThan(0);
          }
        }
      },
    );
  });
});

const kitchen = (more: Partial<Asked> = {}): Shoot =>
  readyFor({
    region: 'uk',
    widthM: 5,
    depthM: 4,
    heightM: 2.6,
    how: 'table',
    people: 2,
    kit: ['fresnel-300', 'fresnel-300', 'led-panel-60'],
    sheets: false,
    ...more,
  });

describe('by hand', () => {
  test('a 300 W fresnel flooded gives 2400 cd / 3² = 267 lx at 3 m [CHECKS-CAMERA §7.2]', () => {
    const [head] = headsIn(kitchen());
    const s = { focus: 0, level: 1, sheets: [], scrims: [] };
    expect(givesLx(head!, [0, 0, 2], [3, 0, 2], s, [3, 0, 2])).toBeCloseTo(267, 0);
    expect(givesLx(head!, [0, 0, 2], [3, 0, 2], { ...s, focus: 1 }, [3, 0, 2])).toBeCloseTo(2222, 0);
    // Half and full wire: a stop and a half.
    const wire = givesLx(head!, [0, 0, 2], [3, 0, 2], { ...s, scrims: ['half', 'full'] }, [3, 0, 2]);
    expect(Math.log2(267 / wire)).toBeCloseTo(1.5, 1);
  });

  test('a setting is found: 250 lx of a flood that gives 378 at 2.52 m takes half a stop of wire', () => {
    const [head] = headsIn(kitchen());
    const at = [0, 0, 2] as const;
    const to = [2.52, 0, 2] as const;
    const gives = (s: Parameters<typeof givesLx>[3]) => [givesLx(head!, at, to, s, to)];
    const { setting, overStops } = settle(head!, gives, 267, new Map());
    expect(setting.scrims).toEqual(['half']);
    expect(Math.abs(overStops)).toBeLessThan(0.05);
  });

  test('a lead from a socket to a head: along the floor at right angles, up the stand, less its flex', () => {
    // 3 + 2 m of floor, 2.1 m up, 0.5 m slack, 1.5 m of flex.
    expect(leadNeedM([0, 0, 0.3], [3, 2, 2.1])).toBeCloseTo(6.1, 6);
  });

  test('a crossed pair: each lamp before its own face and behind the other [CHECKS-CAMERA §4.1]', () => {
    const ready = kitchen();
    const rig = startingRigs(ready, SCENE_ID).rigs.find((r) => r.name === 'crossed-pair')!;
    const { shoot } = applyEdits(ready, rig.edits);
    const { marks, rig: made } = shoot.scenes[SCENE_ID]!;
    const at = (m: string, l: string) => {
      const x = marks[m]!;
      return bearing([x.at[0], x.at[1], x.eyeM], x.facings[0]!, made.lamps[l]!.at);
    };
    for (const [own, other, lamp] of [
      ['A', 'B', 'L1'],
      ['B', 'A', 'L2'],
    ] as const) {
      expect(at(own, lamp).azimuthDeg).toBeGreaterThan(15);
      expect(at(own, lamp).azimuthDeg).toBeLessThan(75);
      expect(at(other, lamp).azimuthDeg).toBeGreaterThan(135);
      // 20 to 35° up, where the ceiling leaves it.
      expect(at(own, lamp).elevationDeg).toBeGreaterThan(10);
      expect(at(own, lamp).elevationDeg).toBeLessThan(45);
    }
    // Two alike make the pair, and the panel stays in its bag.
    expect(Object.values(made.lamps).map((l) => shoot.kit.lamps[l.head]!.kind)).toEqual([
      'fresnel-300',
      'fresnel-300',
    ]);
  });

  test('rigs that are offered differ', () => {
    const { rigs } = startingRigs(kitchen(), SCENE_ID);
    expect(rigs.map((r) => r.name)).toEqual(['crossed-pair', 'two-point', 'three-point']);
    const says = rigs.map((r) => JSON.stringify(r.edits.filter((e) => e.edit === 'addLamp')));
    expect(new Set(says).size).toBe(3);
    for (const r of rigs) expect(r.price.amps).toBeGreaterThan(0);
  });

  test('a rig put again takes the place of the one there was', () => {
    const ready = kitchen();
    const [first, second] = startingRigs(ready, SCENE_ID).rigs;
    const once = applyEdits(ready, first!.edits).shoot;
    const again = startingRigs(once, SCENE_ID).rigs.find((r) => r.name === second!.name)!;
    const twice = applyEdits(once, again.edits).shoot;
    expect(Object.keys(twice.scenes[SCENE_ID]!.rig.lamps)).toHaveLength(again.price.lamps);
    expect([...faults(twice), ...looseEnds(twice)]).toEqual([]);
  });
});

describe('when it cannot be', () => {
  const why = (s: Shoot) =>
    startingRigs(s, SCENE_ID)
      .not.map((n) => `${n.words}: ${n.why}`)
      .join('\n');

  test('one lamp only: one lamp, and what gave', () => {
    const s = kitchen({ kit: ['led-panel-60'] });
    const { rigs } = startingRigs(s, SCENE_ID);
    expect(rigs.map((r) => r.name)).toEqual(['one-lamp']);
    expect(rigs[0]!.gave.join()).toMatch(/One lamp/);
    expect(why(s)).toMatch(/takes two lamps/);
  });

  test('no stand', () => {
    const s = structuredClone(kitchen());
    s.kit.supports = {};
    expect(why(s)).toMatch(/No stand is in the kit/);
  });

  test('a ceiling too low for the stand', () => {
    const s = kitchen();
    const told = applyEdits(s, tellKit(s, 'stand-wind', 3)).shoot;
    const low = applyEdit(told, {
      edit: 'setOutline',
      args: { place: ROOM_ID, outline: told.places[ROOM_ID]!.outline, ceilingM: 1.95 },
    }).shoot;
    expect(why(low)).toMatch(/under a ceiling of 1.95 m no head on the wind-up stand/);
  });

  test('bulbs only', () => {
    expect(why(kitchen({ kit: ['bulb-60'] }))).toMatch(/throws its light one way/);
  });

  test('nothing tapped, nobody there, other mains', () => {
    expect(why(kitchen({ kit: [] }))).toMatch(/tap what you own/);
    const s = structuredClone(kitchen());
    for (const h of Object.values(s.kit.lamps)) h.volts = 120;
    expect(why(s)).toMatch(/other mains than the 230 V/);
    s.scenes[SCENE_ID]!.marks = {};
    expect(why(s)).toMatch(/Nobody is in the room/);
  });

  test('all sockets dead is said', () => {
    const s = structuredClone(kitchen());
    for (const x of Object.values(s.places[ROOM_ID]!.supply.sockets)) x.dead = true;
    const { rigs } = startingRigs(s, SCENE_ID);
    for (const r of rigs) expect(r.gave.join()).toMatch(/No live socket/);
  });

  test('more than the circuit that nobody told is planned at is not offered', () => {
    // Two of 2 kW on 230 V: 17.4 A, over the 10 A one plans at.
    const s = kitchen({ widthM: 8, depthM: 7, heightM: 3.6, kit: ['open-face-2000', 'open-face-2000'] });
    const { rigs } = startingRigs(s, SCENE_ID);
    expect(rigs.map((r) => r.name)).toEqual(['one-lamp']);
    expect(why(s)).toMatch(/over the 10 A plan/);
  });
});
