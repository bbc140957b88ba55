/** At the plan’s foot: a bar of true length, which a press turns from metres to feet; north, and where the sun comes from. */
import { FOOT_M } from '../shoot/units.ts';
import { useStore } from './store.ts';
import { bearingWord } from './typingDay.ts';
import { useUnits } from './useUnits.ts';

const BARS = {
  metric: [10, 5, 2, 1, 0.5, 0.2].map((m) => ({ m, words: `${m} m` })),
  imperial: [30, 15, 10, 5, 2, 1].map((ft) => ({ m: ft * FOOT_M, words: `${ft} ft` })),
};

export function PlanFoot(p: {
  pxPerM: number;
  northDeg: number;
  /** Where the sun stands while it is up. */
  sun?: { azimuthDeg: number; elevationDeg: number } | undefined;
}) {
  const units = useUnits();
  const act = useStore((s) => s.act);
  const bars = BARS[units.length];
  const bar = bars.find((b) => b.m * p.pxPerM <= 110) ?? bars.at(-1)!;
  const w = Math.max(8, bar.m * p.pxPerM);
  const imperial = units.length === 'imperial';
  const to = imperial
    ? ({ units: 'metric', light: 'lux' } as const)
    : ({ units: 'imperial', light: 'footcandle' } as const);
  return (
    <div className="plan-foot">
      <button
        type="button"
        title={imperial ? 'Metres and lux instead' : 'Feet and foot-candles instead'}
        aria-label={`Scale bar of ${bar.words}. ${imperial ? 'Metres and lux' : 'Feet and foot-candles'} instead`}
        onClick={() => act({ edit: 'setUnits', args: to })}
      >
        <svg width={w + 2} height="10" aria-hidden="true">
          <path d={`M1 1v8M1 5h${w}M${w + 1} 1v8`} stroke="var(--ink2)" strokeWidth="1.4" fill="none" />
        </svg>
        {bar.words}
      </button>
      {p.sun && p.sun.elevationDeg > 0 ? (
        <svg
          className="sun"
          width="26"
          height="26"
          viewBox="-13 -13 26 26"
          role="img"
          aria-label={`Sun in the ${bearingWord(p.sun.azimuthDeg)}, ${p.sun.elevationDeg.toFixed(0)}° up`}
        >
          <g transform={`rotate(${p.sun.azimuthDeg - p.northDeg})`}>
            <circle cy="-8" r="3.4" stroke="var(--ember)" strokeWidth="1.8" fill="none" />
            <path d="M0 -3.6V11M-3 7L0 11L3 7" stroke="var(--ember)" strokeWidth="1.4" fill="none" />
          </g>
        </svg>
      ) : null}
      <svg className="north" width="22" height="22" viewBox="-11 -11 22 22" role="img" aria-label="North">
        <g transform={`rotate(${-p.northDeg})`}>
          <path d="M0 10V-9M-4 -4L0 -10L4 -4" stroke="var(--ink2)" strokeWidth="1.4" fill="none" />
        </g>
      </svg>
    </div>
  );
}
