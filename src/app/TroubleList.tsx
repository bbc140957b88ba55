import type { Trouble } from '../scheme/trouble.ts';
import type { Shoot } from '../shoot/schema.ts';
import { lampColour } from './identity.ts';
import { useStore } from './store.ts';
import { CureStrip } from './Tile.tsx';
import { isOfAngle, supplyTroubles } from './views.ts';

export function TroubleList(p: { shoot: Shoot; scene: string; angles: string[]; bare?: boolean }) {
  const results = useStore((s) => s.steady ?? s.results);
  const set = useStore((s) => s.set);
  const scene = p.shoot.scenes[p.scene]!;
  const all: { angle: string; t: Trouble }[] = p.angles.flatMap((angle) =>
    (results[angle]?.troubles ?? []).filter((t) => isOfAngle(t.kind)).map((t) => ({ angle, t })),
  );
  const supply = supplyTroubles(results);
  const live = all.filter(({ t }) => t.meant === undefined);
  const meant = all.filter(({ t }) => t.meant !== undefined);
  const lamps = Object.keys(scene.rig.lamps);
  const groups = [...lamps, undefined]
    .map((lamp) => ({
      lamp,
      list: live.filter(({ t }) => t.lamp === lamp).sort((a, b) => b.t.severity - a.t.severity),
    }))
    .filter((g) => g.list.length > 0)
    .sort((a, b) => b.list[0]!.t.severity - a.list[0]!.t.severity);
  const grave = supply.filter((t) => t.severity >= 1);
  return (
    <section className="troubles" aria-label="Troubles">
      {p.bare ? null : (
        <h2>{live.length + grave.length === 0 ? 'Nothing wrong was found' : 'What is wrong, worst first'}</h2>
      )}
      {live.length && !p.bare ? (
        <p className="faint">Point at a cure to try it; a press keeps it, Esc leaves.</p>
      ) : null}
      {Object.keys(results).length < p.angles.length ? <p className="faint">still reading</p> : null}
      {groups.map((g) => (
        <div key={g.lamp ?? '-'} className="trouble-group">
          {g.lamp ? (
            <span
              className="number"
              style={{ '--lamp': lampColour(lamps.indexOf(g.lamp) + 1) } as React.CSSProperties}
            >
              {scene.rig.lamps[g.lamp]!.number}
            </span>
          ) : (
            <span className="number none">·</span>
          )}
          <ul>
            {g.list.map(({ angle, t }) => (
              <li
                key={`${angle}${t.kind}${t.subject}`}
                data-severity={t.severity}
                onPointerDown={() => set({ angle })}
              >
                <b>{angle}</b>
                <CureStrip list scene={p.scene} angle={angle} trouble={t} others={0} />
              </li>
            ))}
          </ul>
        </div>
      ))}
      {grave.length > 0 ? (
        <div className="trouble-group">
          <span className="number none">V</span>
          <ul>
            {grave.map((t) => (
              <li key={`${t.kind}${t.subject}`} data-severity={t.severity}>
                <b>supply</b>
                <CureStrip list scene={p.scene} angle={p.angles[0]!} trouble={t} others={0} />
              </li>
            ))}
          </ul>
        </div>
      ) : null}
      {meant.length > 0 ? (
        <ul className="meant">
          {meant.map(({ angle, t }) => (
            <li key={`${angle}${t.kind}${t.lamp}${t.subject}`} title={t.says}>
              <b>{angle}</b> {t.lamp ? `${scene.rig.lamps[t.lamp]?.number} ` : ''}
              {t.kind.replaceAll('-', ' ')}: <em>meant</em>
              {t.meant && t.meant !== 'meant' ? `, ${t.meant}` : ''}
              <button
                type="button"
                className="tiny"
                onClick={() => {
                  const m = scene.angles[angle]!.meant.find(
                    (x) =>
                      x.kind === t.kind &&
                      (!x.lamp || x.lamp === t.lamp) &&
                      (!x.subject || x.subject === t.subject),
                  );
                  if (m)
                    useStore.getState().act({
                      edit: 'unmeant',
                      args: {
                        scene: p.scene,
                        angle,
                        kind: m.kind,
                        ...(m.lamp ? { lamp: m.lamp } : {}),
                        ...(m.subject ? { subject: m.subject } : {}),
                      },
                    });
                }}
              >
                no longer
              </button>
            </li>
          ))}
        </ul>
      ) : null}
    </section>
  );
}
