/** The sum behind what a meter should read, in words, with the two largest doubts. */
import { diffusionById } from '../light/diffusion.ts';
import { causeWords } from '../readings/causeWords.ts';
import type { MeterPoint } from '../readings/meter.ts';
import { lampSum } from '../readings/sum.ts';
import { lightName, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { stopWords } from '../shoot/thirds.ts';
import { FOOT_M } from '../shoot/units.ts';
import type { AngleResult } from './messages.ts';
import { Said } from './Said.tsx';
import type { MeterAt } from './store.ts';
import { useLight, useUnits } from './useUnits.ts';
import { sheetWords, signed } from './views.ts';

export function MeterSum(p: {
  shoot: Shoot;
  at: MeterAt;
  point: MeterPoint;
  result: AngleResult;
  doubts: { cause: string; stops: number }[];
  /** What the readings make of bounced light, a factor. */
  bounceGain: number;
}) {
  const { shoot, at, result: r } = p;
  const said = useLight();
  const units = useUnits();
  // Candela over square feet are foot-candles, over square metres lux.
  const inFeet = units.light === 'footcandle';
  const rig = rigFor(shoot, r.ref);
  const need = <Said>{`${stopWords(r.exposure.stop)} needs ${said(r.exposure.eRefLx)}`}</Said>;
  const alone = at.lamps.length === 1 ? at.lamps[0]! : undefined;
  const weight = alone === undefined ? undefined : r.lamps.find((l) => l.id === alone);
  const mark = at.mark === undefined ? undefined : rig.scene.marks[at.mark];
  const part = p.point.parts.find((x) => x.lamp === alone);
  const light = (id: string) => {
    const x = p.point.parts.find((q) => q.lamp === id);
    const w = r.lamps.find((l) => l.id === id);
    const gain = 2 ** (w?.shiftStops ?? 0);
    return { direct: (x?.directLx ?? 0) * gain, bounced: (x?.bouncedLx ?? 0) * gain * p.bounceGain };
  };
  const doubts = p.doubts.length ? (
    <p className="quiet">
      Doubts:{' '}
      {p.doubts.map((d) => `${causeWords(shoot, r.ref.scene, d.cause)} ±${d.stops.toFixed(2)}`).join('; ')}.
    </p>
  ) : null;

  if (alone !== undefined && weight && mark && part) {
    const own = light(alone);
    const sum = lampSum(
      rig.lamps[alone]!,
      shoot.kit.lamps[rig.lamps[alone]!.head],
      weight,
      [mark.at[0], mark.at[1], mark.eyeM],
      own.direct,
      sheetWords,
    );
    return (
      <div className="sum">
        <h3>The sum</h3>
        {sum ? (
          <p className="quiet">
            {Math.round(sum.cd).toLocaleString('en').replaceAll(',', ' ')} cd{' '}
            {sum.offAxisDeg < 1 ? 'on its axis' : `${Math.round(sum.offAxisDeg)}° off its axis`} ÷{' '}
            {inFeet ? `${(sum.distanceM / FOOT_M).toFixed(2)}² ft` : `${sum.distanceM.toFixed(2)}² m`} ={' '}
            {said(sum.bareLx)}
            {sum.steps.map((s) => `; ${s.words} ${signed(s.stops)}`).join('')}
            {Math.abs(sum.restStops) >= 0.05
              ? `; ${rig.lamps[alone]!.sheets.some((x) => diffusionById(x)) ? 'spread by the sheet, size and shadows' : 'size and shadows'} ${signed(sum.restStops)}`
              : ''}
            ; so {said(own.direct)}
            {own.bounced > 0.5 ? ` and ${said(own.bounced)} by way of the walls` : ''}. {need}:{' '}
            {signed(Math.log2((own.direct + own.bounced) / r.exposure.eRefLx))}.
          </p>
        ) : (
          <p className="quiet">
            No light of {rig.lamps[alone]!.number} goes straight there; {said(own.bounced)} come by way of the
            walls. {need}.
          </p>
        )}
        {doubts}
      </div>
    );
  }
  const lights = at.lamps.map((id) => ({ id, ...light(id) }));
  const walls = lights.reduce((s, l) => s + l.bounced, 0);
  const all = lights.reduce((s, l) => s + l.direct, walls);
  return (
    <div className="sum">
      <h3>The sum</h3>
      <p className="quiet">
        {lights
          .filter((l) => l.direct >= 0.5)
          .sort((a, b) => b.direct - a.direct)
          .map((l) => `${lightName(rig, l.id)}: ${said(l.direct)}`)
          .join(' + ') || 'nothing straight'}{' '}
        + by way of the walls {said(walls)} = {said(all)}. {need}:{' '}
        {signed(Math.log2(all / r.exposure.eRefLx))}.
      </p>
      {doubts}
    </div>
  );
}
