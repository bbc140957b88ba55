/** One angle: caption, picture with its troubles, the ruler in stops. */
import { useEffect, useRef, useState } from 'react';
import { stopColour } from '../camera/stopRamp.ts';
import { keyOf, type Trouble } from '../scheme/trouble.ts';
import type { Shoot } from '../shoot/schema.ts';
import { Cures } from './Cures.tsx';
import { lampColour } from './identity.ts';
import type { PictureSent } from './messages.ts';
import { meterOn } from './metering.ts';
import { outlineTags } from './outlineTags.ts';
import { Pull } from './Pull.tsx';
import { Ruler } from './Ruler.tsx';
import { sentPicture } from './sentPictures.ts';
import { useStore } from './store.ts';
import { Teach } from './Teach.tsx';
import { Typed } from './Typed.tsx';
import { foldOf } from './troubleViews.ts';
import { readLens } from './typing.ts';
import { useSaid } from './useUnits.ts';
import { heldBy, isOfAngle, rulerOf } from './views.ts';
import { Words } from './Words.tsx';

/** What an outline's tag says. */
function nameOf(t: Trouble, numberOf: (lamp: string) => string): string {
  const lamp = t.lamp === undefined ? '' : numberOf(t.lamp);
  switch (t.kind) {
    case 'lamp-in-frame':
      return `head of ${lamp}`;
    case 'stand-in-frame':
      return `stand of ${lamp}`;
    case 'flag-in-frame':
      return `${t.subject}`;
    case 'shadow':
      if (t.subject?.startsWith('boom')) return 'microphone’s shadow';
      return t.subject?.startsWith('camera') ? 'camera’s shadow' : 'shadow';
    case 'lead-in-frame':
      return `lead of ${lamp}`;
    case 'clipped':
      return 'clipped';
    default:
      return '';
  }
}

export const rampColour = (s: number): string =>
  `rgb(${stopColour(s)
    .map((v) => Math.round(v * 255))
    .join(' ')})`;

/** Paints pixels; with `left`, the picture as it was fills the left half. */
export function Canvas(p: {
  picture: PictureSent | undefined;
  left?: PictureSent | undefined;
  label: string;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { picture, left } = p;
  useEffect(() => {
    const el = canvas.current;
    if (!el || !picture) return;
    if (el.width !== picture.width || el.height !== picture.height) {
      el.width = picture.width;
      el.height = picture.height;
    }
    const c = el.getContext('2d')!;
    c.putImageData(new ImageData(picture.pixels, picture.width, picture.height), 0, 0);
    if (left) {
      const was = new OffscreenCanvas(left.width, left.height);
      was.getContext('2d')!.putImageData(new ImageData(left.pixels, left.width, left.height), 0, 0);
      c.drawImage(was, 0, 0, left.width / 2, left.height, 0, 0, picture.width / 2, picture.height);
      c.fillStyle = '#ecb45c';
      c.fillRect(picture.width / 2 - 0.5, 0, 1, picture.height);
    }
  }, [picture, left]);
  return <canvas ref={canvas} role="img" aria-label={p.label} data-lit={picture !== undefined} />;
}

export function Tile(p: {
  shoot: Shoot;
  scene: string;
  angle: string;
  /** Only the picture and its name. */
  small?: boolean;
  /** The line about pulling the light stands here. */
  teach?: boolean;
  phone?: boolean;
}) {
  const a = p.shoot.scenes[p.scene]!.angles[p.angle]!;
  const result = useStore((s) => s.results[p.angle]);
  const picture = useStore((s) => s.pictures[p.angle]);
  const before = useStore((s) => s.before[p.angle]);
  const chosen = useStore((s) => s.angle === p.angle);
  const was = useStore((s) => s.was);
  const stops = useStore((s) => s.stops);
  const day = useStore((s) => s.day);
  const set = useStore((s) => s.set);
  const [turn, setTurn] = useState(0);
  const act = useStore((s) => s.act);
  const lamps = p.shoot.scenes[p.scene]!.rig.lamps;
  const ids = Object.keys(lamps);
  const cheats = Object.keys(a.cheats);
  const troubles = (result?.troubles ?? []).filter((t) => isOfAngle(t.kind));
  const live = troubles.filter((t) => t.meant === undefined && t.severity >= 2);
  // All rulers of the wall are of one height: that of the angle with most faces in it.
  const faceRows = useStore((s) => Math.max(2, ...Object.values(s.results).map((r) => r.facesSeen.length)));
  const steady = useStore((s) => s.steady?.[p.angle]);
  const standing = steady
    ? steady.troubles.filter((t) => isOfAngle(t.kind) && t.meant === undefined && t.severity >= 2)
    : live;
  const at = standing.length ? turn % standing.length : 0;
  const shown = standing[at];
  const named = (t: Trouble) => nameOf(t, (id) => lamps[id]?.number ?? id);
  const outlines = outlineTags(
    live.filter((t) => t.frame),
    named,
  );
  const holds = useStore((s) => heldBy(s.history?.held?.from, p.shoot, p.scene, p.angle));
  // As the page brought it: nothing done yet, nothing tried, seen the ordinary way.
  const asSent = useStore(
    (s) => s.origin?.kind === 'page' && !s.history?.done.length && !s.tried && !s.only && !s.stops,
  );
  const sent = asSent ? sentPicture(p.scene, p.angle) : undefined;
  const state = picture ? picture.state : sent ? 'as sent' : 'waiting for light';
  return (
    <section
      className={p.small ? 'tile small' : 'tile'}
      data-angle={p.angle}
      data-chosen={chosen}
      {...(p.small ? {} : { 'aria-label': `${p.angle}, ${a.name}` })}
      onPointerDown={() => !chosen && set({ angle: p.angle })}
    >
      {p.small ? null : (
        <header>
          <strong>{p.angle}</strong>
          {/* Before whatever grows and shrinks: it stays where one points. */}
          <Typed
            value={a.focalMm}
            digits={a.focalMm % 1 ? 1 : 0}
            unit="mm"
            label={`${p.angle}: lens, millimetres`}
            read={readLens}
            onValue={(focalMm) => act({ edit: 'setLens', args: { scene: p.scene, angle: p.angle, focalMm } })}
          />
          <Words
            className="name quiet"
            value={a.name}
            label={`Name of ${p.angle}`}
            onValue={(name) => act({ edit: 'nameThing', args: { scene: p.scene, angle: p.angle, name } })}
          />
          {cheats.length > 0 ? (
            <span className="quiet cheats">
              {cheats.map((c) => (
                <span key={c} className="notch" style={{ background: lampColour(ids.indexOf(c) + 1) }}>
                  {lamps[c]?.number}
                </span>
              ))}{' '}
              cheats
            </span>
          ) : null}
          <span className="state">
            {/* First, so that it is said even where the rest is cut. */}
            {day && !stops && picture ? 'lifted ½ stop · ' : ''}
            {holds ? <span className="ember-word">holds</span> : state}
          </span>
        </header>
      )}
      <div className="picture-box">
        {/* biome-ignore lint/a11y/noStaticElementInteractions: Enter does the same */}
        <div className="picture" onDoubleClick={() => set({ angle: p.angle, near: true })}>
          <Canvas
            picture={picture}
            left={was ? before : undefined}
            label={`Picture of ${p.angle}, ${a.name}`}
          />
          {picture ? null : sent ? (
            <img className="sent" src={sent} alt="" />
          ) : (
            <span className="waiting">{'the first light is on its way'}</span>
          )}
          {p.small ? <b className="tag">{p.angle}</b> : null}
          {p.small
            ? null
            : outlines.map(({ t, frame, labelAt }) => (
                <span
                  key={`${t.kind}${t.lamp}${t.subject}`}
                  className="outline"
                  style={{
                    left: `${frame.left * 100}%`,
                    top: `${frame.top * 100}%`,
                    width: `${(frame.right - frame.left) * 100}%`,
                    height: `${(frame.bottom - frame.top) * 100}%`,
                  }}
                >
                  <b className={labelAt}>{named(t)}</b>
                </span>
              ))}
          {p.small ? null : <Pull shoot={p.shoot} scene={p.scene} angle={p.angle} chosen={chosen} />}
          {p.teach ? <Teach at="pull" phone={p.phone ?? false} /> : null}
          {live.length > 0 && p.small ? (
            <span className="corner" />
          ) : live.length > 0 ? (
            <button
              type="button"
              className="corner"
              aria-label={`${live.length} ${live.length === 1 ? 'trouble' : 'troubles'} in ${p.angle}${live.length > 1 ? ': show the next' : ''}`}
              onClick={() => setTurn(turn + 1)}
            >
              <span>{live.length}</span>
            </button>
          ) : null}
          {picture && picture.progress < 1 ? (
            <span
              className="ember"
              style={{ width: `${Math.max(2, Math.round(picture.progress * 100))}%` }}
            />
          ) : null}
        </div>
        {shown && !p.small ? (
          <CureStrip
            key={keyOf(shown)}
            scene={p.scene}
            angle={p.angle}
            trouble={shown}
            at={at}
            of={standing.length}
            next={() => setTurn(turn + 1)}
            phone={p.phone ?? false}
          />
        ) : null}
      </div>
      {p.small ? null : (
        <button
          type="button"
          className="ruler-tap"
          onClick={() => set({ angle: p.angle, panel: 'readings' })}
        >
          <span className="aside">Readings of {p.angle}: </span>
          <Ruler
            marks={result ? rulerOf(p.shoot, result) : []}
            onPick={(m) => set({ angle: p.angle, panel: 'meter', meter: result && meterOn(result, m) })}
            clipStops={result?.exposure.clipStops ?? 3}
            floorStops={result?.exposure.floorStops ?? 5}
            rows={faceRows}
            {...(stops ? { ramp: rampColour } : {})}
          />
        </button>
      )}
    </section>
  );
}

/** A trouble at the picture's foot, with what would cure it. */
function CureStrip(p: {
  scene: string;
  angle: string;
  trouble: Trouble;
  /** Which of how many it is, and how to go on. */
  at: number;
  of: number;
  next: () => void;
  phone: boolean;
}) {
  const said = useSaid();
  const fold = foldOf(keyOf(p.trouble), [{ angle: p.angle, t: p.trouble }]);
  return (
    <div className="cure-strip">
      <span className="trouble-says" title={said(p.trouble.says)}>
        {said(p.trouble.short.charAt(0).toUpperCase() + p.trouble.short.slice(1))}{' '}
        {p.of > 1 ? (
          <button type="button" className="plain next" onClick={p.next}>
            {p.at + 1} of {p.of}
            <span className="aside">, next trouble of {p.angle}</span>
          </button>
        ) : null}
      </span>
      <Cures few scene={p.scene} fold={fold} />
      <Teach at="cure" phone={p.phone} />
    </div>
  );
}
