/**
 * More angles than fit on one page: all still of one size and none under 280 px wide, in a wall that scrolls by itself
 * beside the plan and over the rig; a rail names every angle, lights those in view, counts the troubles of all.
 */
import { useEffect, useRef, useState } from 'react';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { useStore } from './store.ts';
import { Tile } from './Tile.tsx';
import { isOfAngle } from './views.ts';

/** From so many on the wall scrolls. */
export const MANY = 8;

export function ManyWall(p: { shoot: Shoot; scene: string; angles: AngleRef[] }) {
  const chosen = useStore((s) => s.angle);
  const results = useStore((s) => s.results);
  const set = useStore((s) => s.set);
  const wall = useRef<HTMLDivElement>(null);
  const [seen, setSeen] = useState<ReadonlySet<string>>(new Set());

  // biome-ignore lint/correctness/useExhaustiveDependencies: other tiles are watched when there are others
  useEffect(() => {
    const el = wall.current;
    if (!el) return;
    const watch = new IntersectionObserver(
      (entries) =>
        setSeen((before) => {
          const next = new Set(before);
          for (const e of entries) {
            const angle = (e.target as HTMLElement).dataset.angle!;
            if (e.intersectionRatio > 0.7) next.add(angle);
            else next.delete(angle);
          }
          return next;
        }),
      { root: el, threshold: [0, 0.7, 1] },
    );
    for (const tile of el.querySelectorAll('.tile')) watch.observe(tile);
    return () => watch.disconnect();
  }, [p.angles]);

  // The chosen one comes into view, whoever chose it.
  useEffect(() => {
    if (!chosen) return;
    wall.current
      ?.querySelector(`.tile[data-angle="${CSS.escape(chosen)}"]`)
      ?.scrollIntoView({ block: 'nearest' });
  }, [chosen]);

  return (
    <div className="many">
      <nav className="rail" aria-label="All angles">
        {p.angles.map(({ angle }) => {
          const n = (results[angle]?.troubles ?? []).filter(
            (t) => t.meant === undefined && t.severity >= 2 && isOfAngle(t.kind),
          ).length;
          return (
            <button
              key={angle}
              type="button"
              aria-pressed={angle === chosen}
              data-seen={seen.has(angle)}
              aria-label={`${angle}${seen.has(angle) ? ', in view' : ''}${n ? `, ${n} ${n === 1 ? 'trouble' : 'troubles'}` : ''}`}
              onClick={() => set({ angle })}
            >
              {angle}
              {n ? <sup className="count">{n}</sup> : null}
            </button>
          );
        })}
      </nav>
      <div className="many-wall" ref={wall}>
        {p.angles.map((a) => (
          <Tile key={a.angle} shoot={p.shoot} scene={p.scene} angle={a.angle} />
        ))}
      </div>
    </div>
  );
}
