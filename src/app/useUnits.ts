/** The units in which this page speaks and is spoken to. */
import { createContext, useContext, useMemo } from 'react';
import { inRegion } from '../shoot/region-words.ts';
import { inUnits, lightWords, METRIC, type Units, unitsOf } from '../shoot/units.ts';
import { useStore } from './store.ts';

const of = (s: ReturnType<typeof useStore.getState>): Units =>
  s.history ? unitsOf(s.history.shoot, s.scene) : METRIC;

/** The units of a room that is told, beside the shoot that is shown. */
export const UnitsTold = createContext<Units | undefined>(undefined);

export function useUnits(): Units {
  const told = useContext(UnitsTold);
  const length = useStore((s) => of(s).length);
  const light = useStore((s) => of(s).light);
  return useMemo(() => told ?? { length, light }, [told, length, light]);
}

/** Turns sentences that were made in metres, lux and British words into the page's units and its region's words. */
export function useSaid(): (sentence: string) => string {
  const units = useUnits();
  const region = useStore((s) => {
    const shoot = s.history?.shoot;
    return shoot?.places[shoot.scenes[s.scene]?.place ?? '']?.supply.region ?? 'uk';
  });
  return useMemo(() => (sentence: string) => inUnits(inRegion(region, sentence), units), [units, region]);
}

/** Light on a surface as the page writes it, with its unit. */
export function useLight(): (lx: number) => string {
  const units = useUnits();
  return useMemo(() => (lx: number) => lightWords(lx, units), [units]);
}
