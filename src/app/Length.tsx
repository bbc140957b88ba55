/** A length that is typed in place, in any unit, and shown in the page's. */
import { lengthFigure, lengthUnit } from '../shoot/units.ts';
import { Typed } from './Typed.tsx';
import { readLength } from './typing.ts';
import { useUnits } from './useUnits.ts';

export function Length(p: {
  value: number;
  label: string;
  onValue: (metres: number) => unknown;
  /** Without its unit's name: the line it stands in says it. */
  bare?: boolean;
}) {
  const units = useUnits();
  return (
    <Typed
      value={p.value}
      digits={2}
      unit={p.bare ? '' : lengthUnit(units)}
      show={(v) => lengthFigure(v, units)}
      label={`${p.label}, ${units.length === 'imperial' ? 'feet and inches' : 'metres'}`}
      read={(text) => readLength(text, units.length)}
      onValue={p.onValue}
    />
  );
}
