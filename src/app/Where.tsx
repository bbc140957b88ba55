/** The plan's cell: where everything stands, as the chosen angle has it; things to drag; whom a drag touches, in words. */
import { useMemo, useRef } from 'react';
import { drawPlan } from '../drawing/plan.ts';
import { planFacts } from '../scheme/planFacts.ts';
import { beamDegOf, kindOf } from '../setup/lamps.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { RigLamp, Shoot } from '../shoot/schema.ts';
import { type PlanDrag, PlanView } from './PlanView.tsx';

import { useStore } from './store.ts';
import { Typed } from './Typed.tsx';
import { readLength } from './typing.ts';

const SNAP_M = 0.05;
const snap = (v: number, free: boolean) =>
  free ? +v.toFixed(3) : +(Math.round(v / SNAP_M) * SNAP_M).toFixed(3);
const clamp01 = (v: number) => Math.max(0, Math.min(1, v));

/** Where an edit of a lamp goes: the rig, or this angle. A cheated thing stays the angle's own. */
function useScope(scene: string) {
  const scope = useStore((s) => s.scope);
  const angle = useStore((s) => s.angle);
  return scope === 'angle' && angle ? { scene, angle } : { scene };
}

/** The plan's drawing for the chosen angle. */
function useDrawing(p: { shoot: Shoot; scene: string }) {
  const angle = useStore((s) => s.angle);
  const result = useStore((s) => (angle ? s.results[angle] : undefined));
  const outlines = useStore((s) => (angle ? s.outlines[angle] : undefined));
  return useMemo(() => {
    if (!angle) return undefined;
    const troubled = new Set(
      (result?.troubles ?? [])
        .filter((t) => t.meant === undefined && t.severity >= 2 && t.lamp && t.frame)
        .map((t) => t.lamp!),
    );
    const marks = p.shoot.scenes[p.scene]!.marks;
    const outlineOf = (part: string) => {
      const o = outlines?.[part];
      if (!o?.loops.length) return undefined;
      const mark = part.startsWith('person:') ? marks[part.slice(7)] : undefined;
      const [dx, dy] = mark ? [mark.at[0] - o.at[0], mark.at[1] - o.at[1]] : [0, 0];
      return dx || dy ? o.loops.map((l) => l.map(([x, y]): [number, number] => [x + dx, y + dy])) : o.loops;
    };
    return drawPlan(planFacts(p.shoot, { scene: p.scene, angle }, result, troubled, outlineOf));
  }, [p.shoot, p.scene, angle, result, outlines]);
}

/** The plan small, to look at. */
export function SmallPlan(p: { shoot: Shoot; scene: string }) {
  const drawing = useDrawing(p);
  if (!drawing) return null;
  const marks = drawing.marks.filter((m) => m.kind !== 'words' && !(m.kind === 'line' && m.dash));
  return (
    <PlanView
      drawing={{ ...drawing, marks }}
      onDrag={() => undefined}
      onChoose={() => undefined}
      label="Plan"
      still
    />
  );
}

export function Where(p: { shoot: Shoot; scene: string }) {
  const angle = useStore((s) => s.angle);
  const lamp = useStore((s) => s.lamp);
  const scope = useStore((s) => s.scope);
  const large = useStore((s) => s.planLarge);
  const moving = useStore((s) => s.busy);
  const set = useStore((s) => s.set);
  const where = useScope(p.scene);
  const began = useRef<{ lamp: RigLamp; half: number } | undefined>(undefined);
  const bounds = useRef<ReturnType<typeof drawPlan>['bounds'] | undefined>(undefined);
  const drawing = useDrawing(p);
  if (!drawing || !angle) return null;
  // The paper stays still under a hand that moves something on it.
  if (!moving || !bounds.current) bounds.current = drawing.bounds;
  const { act, drag, drop, leave } = useStore.getState();
  const rig = rigFor(p.shoot, { scene: p.scene, angle });
  const chosen = lamp ? rig.lamps[lamp] : undefined;
  const inRig = lamp ? rig.scene.rig.lamps[lamp] : undefined;
  const holders = lamp
    ? Object.entries(rig.scene.angles)
        .filter(([, a]) => a.cheats[lamp]?.at)
        .map(([id]) => id)
    : [];

  const onDrag = (d: PlanDrag, phase: 'begin' | 'move' | 'end' | 'leave') => {
    if (phase === 'leave') return leave();
    if (phase === 'end') return drop();
    const [x, y] = [snap(d.to[0], d.free), snap(d.to[1], d.free)];
    if (d.ref.kind === 'lamp' || d.ref.kind === 'aim' || d.ref.kind === 'beam') {
      const id = d.ref.id;
      const l = rig.lamps[id];
      const kind = l && kindOf(p.shoot.kit.lamps[l.head]);
      if (!l || !kind) return;
      if (phase === 'begin') {
        began.current = { lamp: l, half: beamDegOf(l, kind) };
        return;
      }
      const from = began.current?.lamp ?? l;
      if (d.ref.kind === 'lamp') {
        const to = [
          snap(from.at[0] + d.to[0] - d.from[0], d.free),
          snap(from.at[1] + d.to[1] - d.from[1], d.free),
          from.at[2],
        ];
        drag({ edit: 'moveLamp', args: { ...where, lamp: id, to } }, { lamp: id });
      } else if (d.ref.kind === 'aim')
        drag({ edit: 'aimLamp', args: { ...where, lamp: id, at: [x, y, from.aim[2]] } }, { lamp: id });
      else {
        // The edge follows the hand: the focus at which half the beam is as wide as the hand is off the axis.
        const dir = Math.atan2(from.aim[1] - from.at[1], from.aim[0] - from.at[0]);
        const hand = Math.atan2(d.to[1] - from.at[1], d.to[0] - from.at[0]);
        const want = Math.abs(((((hand - dir) * 180) / Math.PI + 540) % 360) - 180);
        let best = from.focus;
        for (let f = 0, least = 1e9; f <= 1.0001; f += 0.02) {
          const off = Math.abs(beamDegOf({ ...from, focus: clamp01(f) }, kind) - want);
          if (off < least) [least, best] = [off, clamp01(f)];
        }
        drag({ edit: 'focusLamp', args: { ...where, lamp: id, focus: +best.toFixed(2) } }, { lamp: id });
      }
    } else if (phase === 'move' && d.ref.kind === 'camera') {
      const a = rig.scene.angles[d.ref.id]!;
      drag({ edit: 'moveCamera', args: { scene: p.scene, angle: d.ref.id, to: [x, y, a.at[2]] } }, {});
    } else if (phase === 'move' && d.ref.kind === 'mark')
      drag({ edit: 'moveMark', args: { scene: p.scene, mark: d.ref.id, to: [x, y] } }, {});
  };

  return (
    <section className="where" aria-label="Where">
      <header>
        <strong>Where</strong>
        {chosen && inRig ? (
          <span className="scope">
            lamp {chosen.number}:{' '}
            <button type="button" aria-pressed={scope === 'rig'} onClick={() => set({ scope: 'rig' })}>
              whole rig
            </button>
            <button type="button" aria-pressed={scope === 'angle'} onClick={() => set({ scope: 'angle' })}>
              {angle} only
            </button>
          </span>
        ) : (
          <span className="quiet">seen for {angle}</span>
        )}
        <button
          type="button"
          className="quiet end"
          onClick={() => set({ planLarge: !large })}
          aria-pressed={large}
        >
          {large ? 'smaller' : 'larger'} <kbd>P</kbd>
        </button>
      </header>
      <PlanView
        drawing={{ ...drawing, bounds: bounds.current }}
        chosenLamp={lamp}
        aim={chosen ? [chosen.aim[0], chosen.aim[1]] : undefined}
        onDrag={onDrag}
        onChoose={(ref) => {
          if (ref.kind === 'lamp' || ref.kind === 'beam' || ref.kind === 'aim') set({ lamp: ref.id });
          if (ref.kind === 'camera') set({ angle: ref.id });
        }}
        label={`Plan for ${angle}`}
      />
      {chosen && inRig && lamp ? (
        <footer>
          <span className="pair">
            {(['x', 'y', 'h'] as const).map((name, k) => (
              <span key={name} className="pair">
                <span className="faint">{name}</span>
                <Typed
                  value={chosen.at[k]!}
                  digits={2}
                  unit=""
                  label={`Lamp ${chosen.number}: ${['east', 'north', 'height'][k]}, metres`}
                  read={readLength}
                  onValue={(v) =>
                    act({
                      edit: 'moveLamp',
                      args: { ...where, lamp, to: chosen.at.map((c, i) => (i === k ? v : c)) },
                    })
                  }
                />
              </span>
            ))}
          </span>
          {scope === 'rig' && holders.length > 0 ? (
            <span className="ember-word">{holders.join(', ')} holds its own place</span>
          ) : null}
        </footer>
      ) : null}
    </section>
  );
}
