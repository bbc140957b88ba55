/** Residual-current devices: standing leakage, and whether one counts for people at all. */
import type { RcdType, Source } from './network.ts';

/** Leakage reckoned for an electronic load that states none, mA: the upper end of what is found [RCD-LEAK]. */
export const UNSTATED_LEAKAGE_MA = 3.5;

/** Time a class A ground-fault device takes, s: (20 / mA)^1.43; formula from memory [UL-943]. */
export const gfciTimeS = (faultMa: number): number => (20 / faultMa) ** 1.43;

/** What the standing leakage may come to, mA: note and stop. 30 % and half of the rating [EN-61008]; class A 2 and 4 [UL-943]. */
export const leakageLines = (ratingMa: number, type?: RcdType): { warnMa: number; stopMa: number } =>
  type === 'gfci-a' ? { warnMa: 2, stopMa: 4 } : { warnMa: 0.3 * ratingMa, stopMa: 0.5 * ratingMa };

/** How the standing leakage of everything on one device stands. */
export function judgeLeakage(
  leakageMa: number,
  ratingMa: number,
  type?: RcdType,
): { level: 'within' | 'warn' | 'over'; words: string } {
  const { warnMa, stopMa } = leakageLines(ratingMa, type);
  const sum = `${leakageMa.toFixed(1)} mA standing leakage`;
  if (leakageMa > stopMa) return { level: 'over', words: `${sum}: over the ${stopMa} mA stop` };
  if (leakageMa > warnMa) return { level: 'warn', words: `${sum}: over the ${warnMa} mA line` };
  return { level: 'within', words: `${sum}: within the ${warnMa} mA line` };
}

/** Whether an RCD may be counted for people. Everything unknown: not counted. */
export function rcdCounts(
  rcd: { ma: number | 'none' | undefined; type?: RcdType | undefined; electronic: boolean },
  source: Source,
): { counted: boolean; words: string } {
  const no = (words: string) => ({ counted: false, words: `not counted: ${words}` });
  if (rcd.ma === undefined) return no('nobody told whether there is one');
  if (rcd.ma === 'none') return no('there is none');
  if (source.kind !== 'mains' && source.bondedNeutral !== true)
    return no('neutral and earth are not known to be joined at the set, so it stays shut on a first fault');
  if (rcd.ma > 30) return no(`${rcd.ma} mA is more than 30 mA`);
  if (rcd.type === undefined) return no('its type is not told');
  if (rcd.type === 'S') return no('it is time-delayed');
  if (rcd.type === 'AC' && rcd.electronic) return no('type AC can be blinded by electronic loads');
  return { counted: true, words: `${rcd.ma} mA type ${rcd.type}: counted if its test button works today` };
}
