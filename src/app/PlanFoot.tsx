/** At the plan's foot: a bar of true length, which a press turns from metres to feet, and north. */
import { FOOT_M } from '../shoot/units.ts';
import { useStore } from './store.ts';
import { useUnits } from './useUnits.ts';

const BARS = {
  metric: [10, 5, 2, 1, 0.5, 0.2].map((m) => ({ m, words: `${m} m` })),
  imperial: [30, 15, 10, 5, 2, 1].map((ft) => ({ m: ft * FOOT_M, words: `${ft} ft` })),
};

export function PlanFoot(p: { pxPerM: number; northDeg: number }) {
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
      <svg className="north" width="22" height="22" viewBox="-11 -11 22 22" role="img" aria-label="North">
        <g transform={`rotate(${-p.northDeg})`}>
          <path d="M0 10V-9M-4 -4L0 -10L4 -4" stroke="var(--ink2)" strokeWidth="1.4" fill="none" />
        </g>
      </svg>
    </div>
  );
}
