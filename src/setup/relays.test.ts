/** Lamps that share a frame: a dimmer is a weight of its own lamp's layers alone, and no sheet sends out more than it gets. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { DIFFUSIONS } from '../light/diffusion.ts';
import { applyEdits, type Edit } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import type { Shoot } from '../shoot/schema.ts';
import { plainTracer } from '../transport/plain.ts';
import { geometryOf } from './geometry.ts';
import { framesKeyOf, relayed, withRelays } from './relays.ts';
import { weightsOf } from './weights.ts';

const opened = openShoot(readFileSync('shoots/visiting-hours.json', 'utf8'));
if (!opened.ok) throw new Error(opened.message.join());
const ref = { scene: 'visit', angle: 'A1' };

/** The lawn's lamp burns, and the small panel is carried out beside it, behind the same 1.8 m of grid cloth. */
const both: Shoot = structuredClone(opened.shoot);
Object.assign(both.scenes.visit!.rig.lamps.L1!, { on: true, level: 1 });
Object.assign(both.scenes.visit!.rig.lamps.L3!, {
  on: true,
  level: 1,
  at: [4.3, -2.4, 2],
  aim: [3.8, -0.9, 1.7],
});

test('dimming either of two lamps on one frame moves no ray and weighs that lamp alone', async () => {
  const angle = await withRelays(plainTracer(), geometryOf(both, ref, undefined), { seed: 1 });
  const ids = angle.transport.layers.map((l) => l.id);
  expect(ids).toEqual(expect.arrayContaining(['L1/F1', 'L3/F1']));
  const weighed = (shoot: Shoot) =>
    relayed(angle, weightsOf(shoot, ref).weights).layers.map((l) => l.white[1]);
  const full = weighed(both);
  for (const lamp of ['L1', 'L3']) {
    const dim = applyEdits(both, [
      { edit: 'setLevel', args: { scene: 'visit', lamp, level: 0.5 } },
    ] as Edit[]).shoot;
    const then = geometryOf(dim, ref, undefined);
    // Same stage, same view, same light on the frame: nothing to trace again.
    expect(then.viewKey).toBe(angle.viewKey);
    expect(framesKeyOf(then)).toBe(framesKeyOf(geometryOf(both, ref, undefined)));
    const half = weighed(dim);
    ids.forEach((id, l) => {
      const own = id === lamp || id.startsWith(`${lamp}/`);
      if (full[l]! > 0) expect(half[l]! / full[l]!, id).toBeCloseTo(own ? 0.5 : 1, 2);
    });
  }
});

test('no sheet in a frame gives out more light than falls on it', () => {
  for (const { id } of DIFFUSIONS) {
    const shoot = applyEdits(both, [
      { edit: 'setFlag', args: { scene: 'visit', flag: 'F1', changes: { sheet: id } } },
    ] as Edit[]).shoot;
    const { transport, frames } = geometryOf(shoot, ref, undefined);
    const part = transport.stage.parts.findIndex((p) => p.id === 'flag:F1');
    const cloth = transport.stage.materials.find(
      (m, k) =>
        m.kind === 'sheet' &&
        transport.stage.material.some((v, t) => v === k && transport.stage.part[t] === part),
    )!;
    const back = Math.max(...cloth.reflectance);
    expect(cloth.straight! + frames[0]!.scattered + back, id).toBeLessThanOrEqual(1 + 1e-9);
    expect(back).toBeGreaterThan(0.1);
  }
});
