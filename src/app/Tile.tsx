/** One angle: caption, picture with its troubles, the ruler in stops. */
import { useEffect, useRef, useState } from 'react';
import type { Cure } from '../scheme/trouble.ts';
import { lampColour } from './identity.ts';
import type { AngleView } from './model.ts';
import { Ruler } from './Ruler.tsx';

const LABEL: Record<string, string> = {
  'lamp-in-frame': 'head of',
  'stand-in-frame': 'stand of',
};

export function Tile(p: {
  angle: AngleView;
  chosen: boolean;
  numberOf: (lamp: string) => string;
  ramp: ((stops: number) => string) | undefined;
  onChoose: () => void;
  onNear: () => void;
  onTry: (cure: Cure | undefined) => void;
  onKeep: (cure: Cure) => void;
  onMeant: (index: number) => void;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [open, setOpen] = useState(false);
  const [more, setMore] = useState(false);
  const picture = p.angle.picture;
  useEffect(() => {
    const el = canvas.current;
    if (!el || !picture) return;
    if (el.width !== picture.width || el.height !== picture.height) {
      el.width = picture.width;
      el.height = picture.height;
    }
    el.getContext('2d')?.putImageData(new ImageData(picture.pixels, picture.width, picture.height), 0, 0);
  }, [picture]);

  const live = p.angle.troubles
    .map((t, index) => ({ t, index }))
    .filter(({ t }) => t.meant === undefined && t.severity >= 1);
  const bad = live.filter(({ t }) => t.severity >= 2);
  const shown = bad[0] ?? (open ? live[0] : undefined);
  const strip = open || bad.length > 0 ? shown : undefined;
  return (
    <section
      className="tile"
      data-angle={p.angle.id}
      data-chosen={p.chosen}
      aria-label={`${p.angle.id}, ${p.angle.name}`}
      onPointerDown={p.onChoose}
    >
      <header>
        <strong>{p.angle.id}</strong>
        <span className="name quiet">{p.angle.name}</span>
        {p.angle.cheats.length > 0 ? (
          <span title="This angle cheats these lamps">
            {p.angle.cheats.map((c) => (
              <span key={c.lamp} className="notch" style={{ background: lampColour(c.identity) }}>
                {c.number}
              </span>
            ))}{' '}
            <span className="quiet">cheats</span>
          </span>
        ) : null}
        <span className="state">
          {p.angle.focalMm} mm · {p.angle.state}
        </span>
      </header>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the header's Enter key does the same */}
      <div className="picture" onDoubleClick={p.onNear}>
        <canvas ref={canvas} aria-label={`Picture of ${p.angle.name}`} />
        {bad.map(({ t }) =>
          t.frame ? (
            <span
              key={`${t.kind}${t.lamp}${t.subject}`}
              className="outline"
              style={{
                left: `${t.frame.left * 100}%`,
                top: `${t.frame.top * 100}%`,
                width: `${(t.frame.right - t.frame.left) * 100}%`,
                height: `${(t.frame.bottom - t.frame.top) * 100}%`,
              }}
            >
              {t.lamp && LABEL[t.kind] ? (
                <b className={t.frame.top < 0.12 ? 'below' : ''}>
                  {LABEL[t.kind]} {p.numberOf(t.lamp)}
                </b>
              ) : null}
            </span>
          ) : null,
        )}
        {bad.length > 0 ? (
          <button
            type="button"
            className="corner"
            aria-expanded={open}
            aria-label={`${bad.length} ${bad.length === 1 ? 'trouble' : 'troubles'} in ${p.angle.id}`}
            onClick={() => setOpen(!open)}
          >
            <span>{bad.length}</span>
          </button>
        ) : null}
        {p.angle.progress < 1 ? (
          <span className="ember" style={{ width: `${Math.round(p.angle.progress * 100)}%` }} />
        ) : null}
        {strip ? (
          <div className="cure-strip">
            <span>{strip.t.says}</span>
            {strip.t.cures.slice(0, more ? 4 : 1).map((cure) => (
              <button
                key={cure.says}
                type="button"
                onPointerEnter={() => p.onTry(cure)}
                onPointerLeave={() => p.onTry(undefined)}
                onFocus={() => p.onTry(cure)}
                onBlur={() => p.onTry(undefined)}
                onClick={() => p.onKeep(cure)}
              >
                {cure.says}
              </button>
            ))}
            {!more && strip.t.cures.length > 1 ? (
              <button type="button" className="plain" onClick={() => setMore(true)}>
                {strip.t.cures.length - 1} more
              </button>
            ) : null}
            <button type="button" className="plain" onClick={() => p.onMeant(strip.index)}>
              meant
            </button>
          </div>
        ) : null}
      </div>
      <Ruler
        marks={p.angle.ruler}
        clipStops={p.angle.clipStops}
        floorStops={p.angle.floorStops}
        {...(p.ramp ? { ramp: p.ramp } : {})}
      />
    </section>
  );
}
