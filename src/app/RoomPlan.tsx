/** The plan of a room while it is told: walls to tap openings and sockets on, people and things to drag. */
import { type PointerEvent, useEffect, useRef, useState } from 'react';
import type { Edit } from '../shoot/edits.ts';
import { roomKind, tellRoom } from '../shoot/moreRooms.ts';
import { boundsOfPlace, outlineOf, roomsIn } from '../shoot/rooms.ts';
import { standing, tellOpening, tellPerson, tellSocket, tellThing } from '../shoot/tell.ts';
import { roomThing } from '../shoot/things.ts';
import { cornersOf } from '../shoot/underlay.ts';
import { atWall, boundsOf, nearestWall, type Point, tidyOutline } from '../shoot/walls.ts';
import { setDown, useBrought } from './bringing.ts';
import { type Chosen, type Teller, type Tool, useRoom } from './roomDraft.ts';
import { UnderImage } from './UnderPicture.tsx';

const snap = (v: number) => +(Math.round(v / 0.05) * 0.05).toFixed(3);

/** What a tap with a tool does. */
export function tapWith(t: Teller, tool: Tool, tap: Point): void {
  const { set, corners } = useRoom.getState();
  const id = t.shoot.scenes[t.scene]!.place;
  const place = t.shoot.places[id]!;
  if (tool === 'corner') {
    const first = corners[0];
    // Tapping the first again, or near it, closes the round.
    if (first && corners.length > 2 && Math.hypot(first[0] - tap[0], first[1] - tap[1]) < 0.35) {
      closeRound(t);
      return;
    }
    set({ corners: [...corners, [snap(tap[0]), snap(tap[1])]], said: '' });
    return;
  }
  if (tool === 'lay') return;
  if (tool === 'known') {
    set({ corners: corners.length > 1 ? [tap] : [...corners, tap], said: '' });
    return;
  }
  if (tool === 'door' || tool === 'window') t.act(tellOpening(place, id, tool, tap));
  else if (tool === 'socket') t.act(tellSocket(place, id, tap));
  else if (tool === 'room') {
    const made = tellRoom(place, id, roomKind('room')!, tap);
    if (typeof made === 'string') set({ said: made });
    else if (t.act(made.edits)) set({ tool: undefined });
  } else if (tool === 'person') {
    const p = tellPerson(t.shoot, t.scene, [snap(tap[0]), snap(tap[1])]);
    if (t.act(p.edits)) set({ chosen: { kind: 'mark', id: p.id }, tool: undefined });
  } else {
    const thing = roomThing(tool.slice(6));
    if (!thing) return;
    const made = tellThing(place, id, thing, [snap(tap[0]), snap(tap[1])]);
    if (t.act(made.edits)) set({ chosen: { kind: 'furniture', id: made.id }, tool: undefined });
  }
}

/** The corners tapped so far become the room. */
export function closeRound(t: Teller): void {
  const { corners, set } = useRoom.getState();
  const outline = tidyOutline(corners);
  if (typeof outline === 'string') {
    set({ said: outline });
    return;
  }
  const place = t.shoot.scenes[t.scene]!.place;
  const b = boundsOf(outline);
  const moved = outline.map(([x, y]) => [+(x - b.x0).toFixed(3), +(y - b.y0).toFixed(3)]);
  // The picture that was traced goes with its room.
  const under = t.shoot.under?.[place];
  const at = under && [+(under.at[0] - b.x0).toFixed(4), +(under.at[1] - b.y0).toFixed(4)];
  const edits = [
    { edit: 'setOutline', args: { place, outline: moved, carry: true } },
    ...(at ? [{ edit: 'changeUnder', args: { place, changes: { at } } }] : []),
  ];
  if (t.act(edits)) set({ corners: [], tool: undefined });
}

/** The edits of carrying what is chosen to a point. */
export function carryTo(t: Teller, c: Chosen, to: Point): Edit[] {
  const id = t.shoot.scenes[t.scene]!.place;
  const place = t.shoot.places[id]!;
  const [x, y] = [snap(to[0]), snap(to[1])];
  if (c.kind === 'mark') return [{ edit: 'moveMark', args: { scene: t.scene, mark: c.id, to: [x, y] } }];
  if (c.kind === 'socket') return [{ edit: 'moveSocket', args: { place: id, socket: c.id, to: [x, y] } }];
  if (c.kind === 'opening') {
    const o = place.openings[c.id];
    if (!o) return [];
    const w = nearestWall(outlineOf(place, o) ?? place.outline, to);
    return [
      {
        edit: 'moveOpening',
        args: { place: id, id: c.id, wall: w.wall, fromM: snap(w.alongM - (o.toM - o.fromM) / 2) },
      },
    ];
  }
  const f = place.furniture[c.id];
  if (!f) return [];
  const like = roomThing(c.id.replace(/\d+$/, ''));
  const front =
    f.kind === 'sofa' || f.kind === 'bed'
      ? 'x'
      : /^(table|chair|box|drum|cylinder|trestle)$/.test(f.kind)
        ? undefined
        : '-y';
  const s = standing(
    place,
    {
      ...(like ?? roomThing('box')!),
      sizeM: f.sizeM,
      ...(front ? { front } : {}),
    },
    [x, y],
  );
  const nearWall = front !== undefined && (s.at[0] !== x || s.at[1] !== y);
  return [
    {
      edit: 'moveFurniture',
      args: {
        place: id,
        id: c.id,
        to: [+s.at[0].toFixed(3), +s.at[1].toFixed(3), f.at[2]],
        ...(nearWall ? { turnDeg: +s.turnDeg.toFixed(1) } : {}),
      },
    },
  ];
}

export function RoomPlan(p: { teller: Teller }) {
  const t = p.teller;
  const { chosen, tool, corners, set } = useRoom();
  const svg = useRef<SVGSVGElement>(null);
  const [held, setHeld] = useState<{ c: Chosen; from: Point; at: Point; turn?: boolean; moved: boolean }>();
  const placeId = t.shoot.scenes[t.scene]!.place;
  const place = t.shoot.places[placeId]!;
  const marks = t.shoot.scenes[t.scene]!.marks;
  const under = t.shoot.under?.[placeId];
  const traced = under && !under.hidden && (tool === 'corner' || tool === 'lay' || tool === 'known');
  const laid = useRef<{ from: Point; at: Point; bounds: ReturnType<typeof boundsOf> }>(undefined);
  const whole = boundsOfPlace(place);
  const corner: Point[] = [
    [whole.x0, whole.y0],
    [whole.x1, whole.y1],
  ];
  // The paper stays still under a hand.
  const b = laid.current?.bounds ?? (traced ? boundsOf([...corner, ...cornersOf(under)]) : whole);
  const pad = tool === 'corner' || tool === 'room' ? 1.2 : 0.55;
  const [w, h] = [b.x1 - b.x0 + 2 * pad, b.y1 - b.y0 + 2 * pad];
  // One pixel in metres, so that words and targets keep their size whatever the room's.
  const [px, setPx] = useState(0.01);
  useEffect(() => {
    const el = svg.current;
    if (!el) return;
    const measure = () => {
      const r = el.getBoundingClientRect();
      if (r.width > 0) setPx(Math.max(w / r.width, h / Math.max(1, r.height)));
    };
    measure();
    const seen = new ResizeObserver(measure);
    seen.observe(el);
    return () => seen.disconnect();
  }, [w, h]);
  const at = (e: PointerEvent): Point => {
    const m = svg.current!.getScreenCTM()!.inverse();
    const q = new DOMPoint(e.clientX, e.clientY).matrixTransform(m);
    return [q.x, -q.y];
  };
  const take = (e: PointerEvent, c: Chosen, where: Point, turn = false) => {
    if (tool || useBrought.getState().waiting) return;
    e.stopPropagation();
    e.preventDefault();
    svg.current?.setPointerCapture(e.pointerId);
    set({ chosen: c });
    setHeld({ c, from: at(e), at: where, turn, moved: false });
  };
  const move = (e: PointerEvent) => {
    if (!held) return;
    const q = at(e);
    if (!held.moved && Math.hypot(q[0] - held.from[0], q[1] - held.from[1]) < 5 * px) return;
    if (!held.moved) setHeld({ ...held, moved: true });
    if (held.turn) {
      const m = marks[held.c.id]!;
      const deg = (Math.atan2(q[1] - m.at[1], q[0] - m.at[0]) * 180) / Math.PI;
      t.drag({ edit: 'setFacing', args: { scene: t.scene, mark: held.c.id, deg: Math.round(deg / 5) * 5 } });
    } else t.drag(carryTo(t, held.c, [held.at[0] + q[0] - held.from[0], held.at[1] + q[1] - held.from[1]]));
  };
  const is = (kind: Chosen['kind'], id: string) => chosen?.kind === kind && chosen.id === id;
  const grab = (kind: Chosen['kind'], id: string, where: Point) => ({
    'data-ref': `${kind}:${id}`,
    style: { cursor: tool ? 'crosshair' : 'grab' },
    onPointerDown: (e: PointerEvent) => take(e, { kind, id }, where),
  });
  const line = (q: readonly Point[], close = false) =>
    `${q.map(([x, y], i) => `${i ? 'L' : 'M'}${x} ${-y}`).join('')}${close ? 'Z' : ''}`;
  return (
    <svg
      ref={svg}
      className="room-plan"
      data-tool={tool ?? ''}
      viewBox={`${b.x0 - pad} ${-b.y1 - pad} ${w} ${h}`}
      role="img"
      aria-label="Plan of the room"
      onPointerDown={(e) => {
        if (useBrought.getState().waiting) {
          e.preventDefault();
          const id = setDown(t, at(e));
          if (id) set({ chosen: { kind: 'furniture', id } });
          return;
        }
        if (!tool) return set({ chosen: undefined });
        e.preventDefault();
        if (tool === 'lay' && under) {
          svg.current?.setPointerCapture(e.pointerId);
          laid.current = { from: at(e), at: under.at, bounds: b };
        } else tapWith(t, tool, at(e));
      }}
      onPointerMove={(e) => {
        const l = laid.current;
        if (!l) return move(e);
        const q = at(e);
        const to = [l.at[0] + q[0] - l.from[0], l.at[1] + q[1] - l.from[1]].map((v) => +v.toFixed(3));
        t.drag({ edit: 'changeUnder', args: { place: placeId, changes: { at: to } } });
      }}
      onPointerUp={() => {
        if (laid.current) t.drop();
        laid.current = undefined;
        if (held?.moved) t.drop();
        setHeld(undefined);
      }}
      onPointerCancel={() => {
        if (laid.current) t.leave();
        laid.current = undefined;
        if (held?.moved) t.leave();
        setHeld(undefined);
      }}
    >
      <title>Plan of the room</title>
      {roomsIn(place).map((r) => (
        <path key={r.id ?? ''} d={line(r.outline, true)} className="floor" strokeWidth={7 * px} />
      ))}
      <UnderImage under={under} />
      {under
        ? roomsIn(place).map((r) => (
            <path key={r.id ?? ''} d={line(r.outline, true)} className="round-wall" strokeWidth={7 * px} />
          ))
        : null}
      {Object.entries(place.furniture).map(([id, f]) => {
        const a = ((f.turnDeg ?? 0) * Math.PI) / 180;
        const corner = ([-1, 1] as const).flatMap((x) => ([-x, x] as const).map((y) => [x, y] as const));
        const pts = corner.map(([x, y]): Point => {
          const [u, v] = [(x * f.sizeM[0]) / 2, (y * f.sizeM[1]) / 2];
          return [f.at[0] + u * Math.cos(a) - v * Math.sin(a), f.at[1] + u * Math.sin(a) + v * Math.cos(a)];
        });
        return (
          <path
            key={id}
            d={line(pts, true)}
            className="thing"
            data-chosen={is('furniture', id)}
            strokeWidth={1.4 * px}
            {...grab('furniture', id, [f.at[0], f.at[1]])}
          >
            <title>{f.words ?? id}</title>
          </path>
        );
      })}
      {Object.entries(place.openings).map(([id, o]) => {
        const outline = outlineOf(place, o) ?? place.outline;
        const from = atWall(outline, o.wall, o.fromM);
        const to = atWall(outline, o.wall, o.toM);
        const mid: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
        // Beside the wall, whichever way it runs: a word is wider than it is high.
        const [ax, ay] = [(to[0] - from[0]) / (o.toM - o.fromM), (to[1] - from[1]) / (o.toM - o.fromM)];
        const off = Math.max(0.26, (12 * Math.abs(ax) + 27 * Math.abs(ay)) * px);
        const word = atWall(outline, o.wall, (o.fromM + o.toM) / 2, -off);
        return (
          <g key={id} {...grab('opening', id, mid)}>
            <path d={line([from, to])} className="gap" strokeWidth={9 * px} />
            <path
              d={line([from, to])}
              className={o.kind}
              data-chosen={is('opening', id)}
              strokeWidth={3.5 * px}
              strokeDasharray={o.guessed ? `${5 * px} ${4 * px}` : undefined}
            />
            <path d={line([from, to])} stroke="transparent" strokeWidth={34 * px} />
            <text x={word[0]} y={-word[1]} fontSize={13 * px} data-chosen={is('opening', id)}>
              {o.kind}
              {o.guessed ? '?' : ''}
            </text>
          </g>
        );
      })}
      {Object.entries(place.supply.sockets).map(([id, s]) => (
        <g key={id} {...grab('socket', id, [s.at[0], s.at[1]])}>
          <circle
            cx={s.at[0]}
            cy={-s.at[1]}
            r={6 * px}
            className="socket"
            data-chosen={is('socket', id)}
            strokeWidth={1.5 * px}
            strokeDasharray={s.guessed ? `${2.5 * px} ${2.5 * px}` : undefined}
          />
          {s.dead ? (
            <path
              d={`M${s.at[0] - 9 * px} ${-s.at[1] - 9 * px}l${18 * px} ${18 * px}`}
              className="dead"
              strokeWidth={2 * px}
            />
          ) : null}
          <circle className="unseen" cx={s.at[0]} cy={-s.at[1]} r={18 * px} />
          <title>
            socket {id}
            {s.guessed ? ', supposed' : ''}
          </title>
        </g>
      ))}
      {Object.entries(marks).map(([id, m]) => {
        const deg = -(m.facings[0] ?? 0);
        const a = ((m.facings[0] ?? 0) * Math.PI) / 180;
        const nose: Point = [m.at[0] + 0.42 * Math.cos(a), m.at[1] + 0.42 * Math.sin(a)];
        return (
          <g key={id}>
            <g {...grab('mark', id, m.at)} data-chosen={is('mark', id)} className="person">
              <circle className="unseen" cx={m.at[0]} cy={-m.at[1]} r={24 * px} />
              <ellipse
                cx={m.at[0]}
                cy={-m.at[1]}
                rx={0.13}
                ry={0.23}
                strokeWidth={1.5 * px}
                transform={`rotate(${deg} ${m.at[0]} ${-m.at[1]})`}
              />
              <text x={m.at[0]} y={-m.at[1]} fontSize={14 * px} dominantBaseline="central">
                {id}
              </text>
            </g>
            <g
              className="nose"
              data-ref={`face:${id}`}
              style={{ cursor: 'grab' }}
              onPointerDown={(e) => take(e, { kind: 'mark', id }, m.at, true)}
            >
              <path
                d={line([[m.at[0] + 0.2 * Math.cos(a), m.at[1] + 0.2 * Math.sin(a)], nose])}
                strokeWidth={1.6 * px}
              />
              <circle cx={nose[0]} cy={-nose[1]} r={3.5 * px} />
              <circle className="unseen" cx={nose[0]} cy={-nose[1]} r={15 * px} />
            </g>
          </g>
        );
      })}
      {(tool === 'corner' || tool === 'known') && corners.length ? (
        <g className="round">
          <path d={line(corners)} strokeWidth={2 * px} />
          {corners.map(([x, y], i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: corners have no other name
            <circle key={i} cx={x} cy={-y} r={(i || tool === 'known' ? 4 : 7) * px} strokeWidth={1.6 * px} />
          ))}
        </g>
      ) : null}
    </svg>
  );
}
