/** Light that comes through the air: what haze leaves of it. */
import { passed } from '../light/haze.ts';
import type { Air } from '../stage/air.ts';
import { FAR_M } from './far.ts';

/** Share of light that haze lets through over `metres`; of sun and sky all, whose level is told as it arrives. */
export const clearOf = (air: Air, metres: number): number =>
  metres > FAR_M / 2 ? 1 : passed(air.extinctionPerM, metres);
