/** The units in which this page speaks and is spoken to. */
import { useMemo } from 'react';
import { inUnits, METRIC, type Units, unitsOf } from '../shoot/units.ts';
import { useStore } from './store.ts';

const of = (s: ReturnType<typeof useStore.getState>): Units =>
  s.history ? unitsOf(s.history.shoot, s.scene) : METRIC;

export function useUnits(): Units {
  const length = useStore((s) => of(s).length);
  const light = useStore((s) => of(s).light);
  return useMemo(() => ({ length, light }), [length, light]);
}

/** Turns sentences that were made in metres and lux. */
export function useSaid(): (sentence: string) => string {
  const units = useUnits();
  return useMemo(() => (sentence: string) => inUnits(sentence, units), [units]);
}
