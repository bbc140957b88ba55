/** How far a circuit is from its limit, in words: one place for screen and paper. */
import { ampsUp } from '../power/verdict.ts';

/** The margin is rounded down, what is too much rounded up: towards the worse. */
export const marginWords = (marginA: number | undefined): string =>
  marginA === undefined
    ? 'margin not known'
    : marginA >= 0
      ? `margin ${(Math.floor(marginA * 10 + 1e-7) / 10).toFixed(1)} A at the worst volts`
      : `${ampsUp(-marginA)} A too much at the worst volts`;
