/** The plan's cell: where everything stands, as the chosen angle has it; things to take; whom that touches, in words. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import type { Ref } from '../drawing/display.ts';
import { drawPlan } from '../drawing/plan.ts';
import { planFacts } from '../scheme/planFacts.ts';
import type { Puttable } from '../scheme/putDown.ts';
import { skyNow } from '../setup/skyNow.ts';
import { onPlan } from '../shoot/openings.ts';
import { type RigForAngle, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { freeFloor } from '../shoot/tell.ts';
import { lengthFigure, lengthWords } from '../shoot/units.ts';
import { Adding, put } from './Adding.tsx';
import { leaveBrought, setDown, useBrought } from './bringing.ts';
import { FromFile } from './FromFile.tsx';
import { OpeningTold } from './OpeningFields.tsx';
import { openingName, openingWords } from './openingWords.ts';
import { PlanFoot } from './PlanFoot.tsx';
import { PlanView, type Thing } from './PlanView.tsx';
import { RigChoices } from './RigChoices.tsx';
import { beginRoom, useRoom } from './roomDraft.ts';
import { StandLayer } from './StandLayer.tsx';
import { StandWords, type WalkTo, walkEnd } from './StandWords.tsx';
import { askedOf, drawingOf } from './standing.ts';
import { useStore } from './store.ts';
import { Teach } from './Teach.tsx';
import { UnderFields, UnderImage } from './UnderPicture.tsx';
import { useHands } from './useHands.ts';
import { useUnits } from './useUnits.ts';
import { WhereFields } from './WhereFields.tsx';
import { WhoFields } from './WhoFields.tsx';

/** The plan's drawing for the chosen angle. */
function useDrawing(p: { shoot: Shoot; scene: string }) {
  const angle = useStore((s) => s.angle);
  const result = useStore((s) => (angle ? s.results[angle] : undefined));
  const outlines = useStore((s) => (angle ? s.outlines[angle] : undefined));
  const units = useUnits();
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
    return drawPlan(planFacts(p.shoot, { scene: p.scene, angle }, result, troubled, outlineOf), (m) =>
      lengthFigure(m, units),
    );
  }, [p.shoot, p.scene, angle, result, outlines, units]);
}

/** The plan small, to look at. */
export function SmallPlan(p: { shoot: Shoot; scene: string }) {
  const drawing = useDrawing(p);
  if (!drawing) return null;
  const marks = drawing.marks.filter((m) => m.kind !== 'words' && !(m.kind === 'line' && m.dash));
  return <PlanView drawing={{ ...drawing, marks }} label="Plan" />;
}

export function Where(p: { shoot: Shoot; scene: string }) {
  const angle = useStore((s) => s.angle);
  if (!angle) return null;
  return <Plan {...p} angle={angle} />;
}

/** What a grip is of. */
const OF: Partial<Record<Ref['kind'], Ref['kind']>> = {
  height: 'lamp',
  aim: 'lamp',
  wedge: 'lamp',
  beam: 'lamp',
  rigPlace: 'lamp',
  look: 'camera',
  lens: 'camera',
  facing: 'mark',
};

/** Points of a chosen thing to take hold of besides what is drawn. */
function pointsOf(chosen: Ref | undefined, rig: RigForAngle): { ref: Ref; at: readonly [number, number] }[] {
  if (chosen?.kind === 'lamp') {
    const aim = rig.lamps[chosen.id]?.aim;
    return aim ? [{ ref: { kind: 'aim' as const, id: chosen.id }, at: [aim[0], aim[1]] as const }] : [];
  }
  if (chosen?.kind === 'camera') {
    const look = rig.scene.angles[chosen.id]?.lookAt;
    return look ? [{ ref: { kind: 'look' as const, id: chosen.id }, at: [look[0], look[1]] as const }] : [];
  }
  const mark = chosen?.kind === 'mark' ? rig.scene.marks[chosen.id] : undefined;
  if (!mark || !chosen) return [];
  const deg = mark.facings[rig.angle.facings?.[chosen.id] ?? 0] ?? mark.facings[0]!;
  const rad = (deg * Math.PI) / 180;
  const at = [mark.at[0] + 0.32 * Math.cos(rad), mark.at[1] + 0.32 * Math.sin(rad)] as const;
  return [{ ref: { kind: 'facing' as const, id: chosen.id }, at }];
}

function Plan(p: { shoot: Shoot; scene: string; angle: string }) {
  const { shoot, scene, angle } = p;
  const lamp = useStore((s) => s.lamp);
  const scope = useStore((s) => s.scope);
  const large = useStore((s) => s.planLarge);
  const moving = useStore((s) => s.busy);
  const set = useStore((s) => s.set);
  const stand = useStore((s) => s.stand);
  const stands = useStore((s) => s.stands);
  const floor = useMemo(
    () =>
      stands?.map && stands.angle === angle && stands.mark === stand
        ? drawingOf(stands.map, askedOf(shoot, scene, stands))
        : undefined,
    [stands, stand, shoot, scene, angle],
  );
  const units = useUnits();
  const act = useStore((s) => s.act);
  const [thing, setThing] = useState<Ref>();
  const [putting, setPutting] = useState<Puttable>();
  const [to, setTo] = useState<WalkTo>();
  const [tapping, setTapping] = useState(false);
  const bounds = useRef<ReturnType<typeof drawPlan>['bounds'] | undefined>(undefined);
  const waiting = useBrought((s) => s.waiting);
  const drawing = useDrawing({ shoot, scene });
  const hands = useHands({ shoot, scene, angle });
  const rig = useMemo(() => rigFor(shoot, { scene, angle }), [shoot, scene, angle]);

  // A lamp chosen elsewhere is chosen here; another thing or another angle begins with the whole rig again.
  useEffect(() => {
    if (lamp) setThing(undefined);
  }, [lamp]);
  const chosen: Ref | undefined = thing ?? (lamp && rig.lamps[lamp] ? { kind: 'lamp', id: lamp } : undefined);
  const points = pointsOf(chosen, rig);
  const things = useMemo((): Thing[] => {
    const at = (v: readonly number[]) =>
      `${lengthWords(v[0]!, units)} east, ${lengthWords(v[1]!, units)} north${v[2] === undefined ? '' : `, ${lengthWords(v[2], units)} high`}`;
    return [
      ...Object.entries(rig.lamps).map(([id, l]) => ({
        ref: { kind: 'lamp' as const, id },
        at: [l.at[0], l.at[1]] as const,
        says: `Lamp ${l.number}: ${at(l.at)}. Arrows move, Page Up and Down raise, [ and ] swing, comma and full stop flood and spot, Alt with arrows aims.`,
      })),
      ...Object.entries(rig.scene.marks)
        .filter(([, m]) => m.present === undefined || m.present.includes(angle))
        .map(([id, m]) => ({
          ref: { kind: 'mark' as const, id },
          at: m.at,
          says: `${id}, ${m.name}: ${at(m.at)}. Arrows move, [ and ] turn.`,
        })),
      ...Object.entries(rig.scene.angles).map(([id, a]) => ({
        ref: { kind: 'camera' as const, id },
        at: [a.at[0], a.at[1]] as const,
        says: `Camera ${id}: ${at(a.at)}, ${a.focalMm} millimetres. Arrows move, Alt with arrows looks, comma and full stop change the lens.`,
      })),
      ...Object.entries(rig.flags).map(([id, f]) => ({
        ref: { kind: 'flag' as const, id },
        at: [f.at[0], f.at[1]] as const,
        says: `${f.words ?? id}: ${at(f.at)}. Arrows move, [ and ] turn.`,
      })),
      ...Object.entries(rig.place.openings).flatMap(([id, o]) => {
        const where = onPlan(rig.place, o);
        if (!where) return [];
        const swings = o.kind === 'door' ? ' [ and ] swing it,' : '';
        return [
          {
            ref: { kind: 'opening' as const, id },
            at: where.middle,
            says: `${openingWords(rig.place, o, units, rig.scene.day !== undefined)}. Arrows slide it along the wall,${swings} Page Up and Down raise, comma and full stop narrow and widen.`,
          },
        ];
      }),
      ...Object.entries(rig.place.furniture).map(([id, f]) => ({
        ref: { kind: 'furniture' as const, id },
        at: [f.at[0], f.at[1]] as const,
        says: `${f.words ?? id}: ${at(f.at)}. Arrows move, [ and ] turn.`,
      })),
    ];
  }, [rig, angle, units]);

  // What waits to be set down is left by Esc, wherever the focus is.
  useEffect(() => {
    if (!putting && !tapping && !waiting) return;
    const down = (e: KeyboardEvent) => {
      if (e.key !== 'Escape') return;
      e.stopImmediatePropagation();
      setPutting(undefined);
      setTapping(false);
      leaveBrought();
    };
    addEventListener('keydown', down, { capture: true });
    return () => removeEventListener('keydown', down, { capture: true });
  }, [putting, tapping, waiting]);

  if (!drawing) return null;
  // The paper stays still under a hand that moves something on it.
  if (!moving || !bounds.current) bounds.current = drawing.bounds;
  const cheat = chosen?.kind === 'lamp' ? rig.angle.cheats[chosen.id] : undefined;
  const alone = scope === 'angle';
  const choose = (ref: Ref | undefined) => {
    if (!ref) {
      setThing(undefined);
      return;
    }
    const kind = OF[ref.kind] ?? ref.kind;
    const same = chosen?.kind === kind && chosen.id === ref.id;
    if (kind === 'lamp') {
      // What is taken is what is spoken of: a cheated lamp the angle's, its dashed place the rig's.
      const own = ref.kind === 'rigPlace' ? false : rig.angle.cheats[ref.id]?.at !== undefined;
      set({ lamp: ref.id, ...(ref.kind === 'rigPlace' || !same ? { scope: own ? 'angle' : 'rig' } : {}) });
      setThing(undefined);
    } else {
      if (!same) set({ scope: 'rig' });
      setThing({ kind, id: ref.id });
      if (kind === 'camera') set({ angle: ref.id });
    }
  };
  const nameOf = (ref: Ref) => {
    const kind = OF[ref.kind] ?? ref.kind;
    if (kind === 'lamp') return `lamp ${rig.lamps[ref.id]?.number ?? ref.id}`;
    if (kind === 'furniture') return rig.place.furniture[ref.id]?.words ?? ref.id;
    const opening = kind === 'opening' ? rig.place.openings[ref.id] : undefined;
    if (opening) return openingName(opening);
    return kind === 'flag' ? (rig.flags[ref.id]?.words ?? ref.id) : ref.id;
  };
  const whom =
    chosen?.kind === 'lamp'
      ? ['whole rig', `${angle} only`]
      : chosen?.kind === 'mark'
        ? ['faces: all angles', `${angle} only`]
        : undefined;

  const shownAt = stand === undefined ? undefined : rig.scene.marks[stand]?.at;
  const end = to && shownAt && walkEnd(shoot, scene, to);
  const path = shownAt && end ? ([shownAt, end] as const) : undefined;
  const shownStands = stands && stands.angle === angle && stands.mark === stand ? stands : undefined;
  const gone = () => {
    setThing(undefined);
    set({ lamp: undefined });
  };
  const bring = (at: readonly [number, number]) => {
    const id = setDown({ shoot, scene, act }, at);
    if (id) choose({ kind: 'furniture', id });
  };
  const putDownAt = (what: Puttable, at: readonly [number, number]) => {
    const ref = put(shoot, scene, angle, what, at);
    setPutting(undefined);
    if (ref && ref.kind !== 'room') choose({ kind: ref.kind, id: ref.id });
  };

  return (
    <section className="where" aria-label="Where">
      <header>
        <strong>Where</strong>
        {chosen && whom ? (
          <span className="scope">
            {nameOf(chosen)}:{' '}
            {whom.map((words, i) => (
              <button
                key={words}
                type="button"
                aria-pressed={alone === (i === 1)}
                onClick={() => set({ scope: i === 1 ? 'angle' : 'rig' })}
              >
                {words}
              </button>
            ))}
          </span>
        ) : chosen ? (
          <span className="scope">{chosen.kind === 'camera' ? `camera ${chosen.id}` : nameOf(chosen)}</span>
        ) : (
          <span className="quiet">seen for {angle}</span>
        )}
        {cheat?.at && !alone ? <span className="ember-word">{angle} holds its own place</span> : null}
        <button
          type="button"
          className="quiet end"
          data-add
          title="Something new on the plan: type its name"
          onClick={(e) => {
            const where = e.currentTarget.closest('.where');
            // At once: whoever types on must not have the next letters taken for keys.
            flushSync(gone);
            where?.querySelector<HTMLInputElement>('.adding .find')?.focus();
          }}
        >
          add <kbd>N</kbd>
        </button>
        <button
          type="button"
          className="quiet"
          onClick={() => set({ planLarge: !large })}
          aria-pressed={large}
        >
          {large ? 'smaller' : 'larger'} <kbd>P</kbd>
        </button>
      </header>
      <PlanView
        key={large ? 'large' : 'cell'}
        drawing={{ ...drawing, bounds: bounds.current }}
        chosen={chosen}
        points={points}
        things={things}
        hands={hands}
        onChoose={choose}
        under={<UnderImage under={shoot.under?.[rig.scene.place]} />}
        floor={floor && ((px) => <StandLayer drawing={floor} px={px} walk={path} />)}
        putting={
          tapping
            ? {
                says: `Tap where ${stand} walks to.`,
                put: (at) => {
                  setTapping(false);
                  setTo({ at });
                },
              }
            : waiting
              ? { says: `Tap where it stands: ${waiting.says}. Esc leaves it.`, put: bring }
              : putting && {
                  says: `Tap where the ${putting.words} goes. Esc leaves it.`,
                  put: (at) => putDownAt(putting, at),
                }
        }
        nameOf={nameOf}
        foot={(pxPerM) => (
          <PlanFoot
            pxPerM={pxPerM}
            northDeg={rig.place.northDeg ?? 0}
            sun={rig.day && skyNow(rig.day, rig.place).sun}
          />
        )}
        label={`Plan for ${angle}`}
      />
      {/* The paper keeps its size: what is told of a thing lies over its foot. */}
      <div className="where-foot">
        <div className="where-told">
          <footer>
            {chosen && !putting && !waiting ? (
              <WhereFields
                shoot={shoot}
                scene={scene}
                angle={angle}
                of={chosen}
                alone={alone}
                onGone={gone}
              />
            ) : (
              <>
                <Adding
                  shoot={shoot}
                  scene={scene}
                  angle={angle}
                  putting={putting}
                  onPutting={setPutting}
                  onPut={putDownAt}
                />
                <FromFile onFreeFloor={() => bring(freeFloor(shoot, rig.scene.place))} />
                <span className="faint">press a thing to take it, the paper to move it</span>
                {shoot.under?.[rig.scene.place] ? (
                  <UnderFields
                    place={rig.scene.place}
                    outline={rig.place.outline}
                    under={shoot.under[rig.scene.place]}
                    act={act}
                  />
                ) : null}
              </>
            )}
          </footer>
          {chosen?.kind === 'mark' && !putting ? (
            <WhoFields
              key={chosen.id}
              shoot={shoot}
              scene={scene}
              mark={chosen.id}
              angle={alone ? angle : undefined}
              act={act}
            />
          ) : null}
          {chosen?.kind === 'opening' && !putting && !waiting ? (
            <OpeningTold key={chosen.id} shoot={shoot} scene={scene} id={chosen.id} act={act} />
          ) : null}
          {stand !== undefined && rig.scene.marks[stand] ? (
            <StandWords
              shoot={shoot}
              scene={scene}
              stands={shownStands}
              to={to}
              onTo={(next) => {
                setTapping(next === 'tap');
                if (next !== 'tap') setTo(next);
              }}
              onAway={() => set({ stand: undefined, stands: undefined })}
            />
          ) : null}
          <RigChoices shoot={shoot} scene={scene} />
          <Teach at="room" />
          <div className="now-your-room">
            <button type="button" className="first" onClick={beginRoom}>
              Now your room
            </button>
            <button
              type="button"
              className="quiet"
              onClick={() => useRoom.getState().set({ telling: 'open', tool: undefined, chosen: undefined })}
            >
              change this room
            </button>
          </div>
        </div>
      </div>
    </section>
  );
}
