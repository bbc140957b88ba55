/** Flags that rigs hang from the start, against straight lines; against the light itself in rigFlags.long.ts. */
import { expect, test } from 'vitest';
import { GLASS_RADIUS_M } from '../light/veil.ts';
import { add, cross, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { inFrame, onFrame, viewOf } from '../setup/view.ts';
import { applyEdits } from '../shoot/edits.ts';
import { newShoot, ROOM_ID, SCENE_ID } from '../shoot/newShoot.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { RigFlag, Shoot } from '../shoot/schema.ts';
import { tellLamp } from '../shoot/tell.ts';
import { benchOf } from './rigBench.ts';
import { hotWall, rigFlags, sizeOf, type There } from './rigFlags.ts';
import { BARE } from './rigLight.ts';
import { startingRigs } from './startingRigs.ts';
import { usualAngles } from './usualAngles.ts';

function ready(): Shoot {
  let s = newShoot({ region: 'uk', widthM: 6, depthM: 5, heightM: 2.7, how: 'table', people: 2 });
  for (const kind of ['fresnel-300', 'fresnel-650', 'open-face-800'])
    s = applyEdits(s, tellLamp(s, kind, 1)).shoot;
  return applyEdits(s, usualAngles(s, SCENE_ID).edits).shoot;
}
const room = ready();
const rigs = startingRigs(room, SCENE_ID).rigs;
const flagsOf = (r: (typeof rigs)[number]) =>
  r.edits.flatMap((e) =>
    e.edit === 'addFlag' ? [(e.args as unknown as { id: string; flag: RigFlag }).flag] : [],
  );

test('each starting rig hangs what keeps its lamps off the lenses, and says what holds it', () => {
  expect(rigs.map((r) => r.name)).toEqual(['crossed-pair', 'two-point', 'three-point']);
  for (const r of rigs) {
    const flags = flagsOf(r);
    expect(flags.length, r.name).toBeGreaterThan(0);
    for (const f of flags) {
      expect(f.support?.words).toMatch(/arm/);
      expect(r.reasons.join(' ')).toContain(f.words);
    }
    // Nothing that holds a flag is in this kit: it is said.
    expect(r.gave.join(' ')).toMatch(/What holds F1 is not in the kit/);
    expect(flags.every((f) => (f.angles ?? []).length > 0)).toBe(true);
  }
});

test('every line from a lamp it is against to the glass meets it; it is out of frame, and in no face’s light', () => {
  for (const r of rigs) {
    const made = applyEdits(room, r.edits).shoot;
    for (const f of flagsOf(r))
      for (const angle of f.angles!) {
        const rig = rigFor(made, { scene: SCENE_ID, angle });
        const number = /keeps (\S+) off the lens/.exec(f.words!)![1];
        const lamp = Object.values(rig.lamps).find((l) => l.number === number)!;
        const view = viewOf(rig.angle);
        const kind = benchOf(room, SCENE_ID).heads.find((h) => h.id === lamp.head)!;
        const size = sizeOf({ put: { head: kind } } as unknown as There);
        for (const a of round(view.eye, view.forward, GLASS_RADIUS_M))
          for (const b of round(lamp.at as Vec3, sub(lamp.aim as Vec3, lamp.at as Vec3), size / 2))
            expect(through(f, a, b), `${r.name} ${f.words}`).toBe(true);
        expect(inFrame(onFrame(view, f.at as Vec3))).toBe(false);
        for (const l of Object.values(rig.lamps))
          for (const m of Object.values(rig.scene.marks))
            expect(through(f, l.at as Vec3, [m.at[0], m.at[1], m.eyeM])).toBe(false);
      }
  }
});

/** The middle and eight points round the edge of a disc. */
function round(at: Vec3, facing: Vec3, radiusM: number): Vec3[] {
  const n = normalize(facing);
  const u = normalize(cross(Math.abs(n[2]) > 0.9 ? [1, 0, 0] : [0, 0, 1], n));
  const v = cross(n, u);
  return [
    at,
    ...Array.from({ length: 8 }, (_, i): Vec3 => {
      const a = (i * Math.PI) / 4;
      return add(at, add(scale(u, radiusM * Math.cos(a)), scale(v, radiusM * Math.sin(a))));
    }),
  ];
}

/** Whether a line meets the round that lies within a flag's square, however that is turned about its middle. */
function through(f: RigFlag, a: Vec3, b: Vec3): boolean {
  const n = normalize(f.facing as Vec3);
  const d = sub(b, a);
  const t = dot(sub(f.at as Vec3, a), n) / dot(d, n);
  if (!(t > 0 && t < 1)) return false;
  const hit = sub(add(a, scale(d, t)), f.at as Vec3);
  return Math.hypot(...hit) <= f.sizeM[0] / 2 + 1e-9;
}

test('a lamp close to a wall in frame burns it out: a door or a flag, and the wall is cool behind it', () => {
  const b = benchOf(room, SCENE_ID);
  const { view, id } = b.ground.views[0]!;
  const head = b.heads.find((h) => h.kind.id === 'fresnel-650')!;
  // Half a metre from the wall that the first angle looks at, aimed along it at a face.
  const face = b.ground.faces[0]!;
  const wallY = Math.max(...room.places[ROOM_ID]!.outline.map((p) => p[1]));
  const ahead = view.forward[1] > 0 ? wallY - 0.5 : 0.5;
  const at: Vec3 = [face.eyes[0] + 1.2, ahead, 2];
  const lamp: There = {
    number: '1',
    put: { job: 'back', for: [face], head } as unknown as There['put'],
    at,
    aim: [face.eyes[0] + 0.6, ahead + (view.forward[1] > 0 ? 0.5 : -0.5), 1.6],
    setting: BARE,
    doors: { top: 60, bottom: 60, left: 70, right: 70 },
    on: true,
  };
  const hot = hotWall(b, view, lamp, b.wantLx);
  expect(hot.length).toBeGreaterThan(0);
  const made = rigFlags({ ...b, ground: { ...b.ground, views: [{ id, view }] } }, () => [lamp], b.wantLx);
  // Something is done, or it is said that nothing does.
  expect(made.doors.size + made.hung.length + made.gave.length).toBeGreaterThan(0);
  const doors = made.doors.get('1');
  if (doors) expect(hotWall(b, view, { ...lamp, doors }, b.wantLx)).toEqual([]);
});
