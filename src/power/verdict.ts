/** Verdict words, and the one comparison behind them. Nothing here ever calls a plan free of danger. */

/** How a figure stands; later is worse. `not-checked` is never a pass. */
export type Level = 'within' | 'not-checked' | 'warn' | 'over';

const ORDER: readonly Level[] = ['within', 'not-checked', 'warn', 'over'];

/** The worse of two levels. */
export const worse = (a: Level, b: Level): Level => (ORDER.indexOf(a) >= ORDER.indexOf(b) ? a : b);

/** Amps as shown: one decimal, always rounded up, so that no sheet shows less than it reckoned. */
export const ampsUp = (amps: number): string => (Math.ceil(amps * 10 - 1e-7) / 10).toFixed(1);

/** A rating as shown: no trailing zeros, rounded down. */
export const ratingWords = (amps: number): string => String(Math.floor(amps * 10 + 1e-7) / 10);

/** Whole per cent; anything over 100 shows as at least 101. */
export const percent = (share: number): string =>
  `${share > 1 ? Math.max(101, Math.round(share * 100)) : Math.round(share * 100)} %`;

/** Amps split by how long they last. */
export interface Draw {
  readonly longA: number;
  readonly briefA: number;
}

/** A limit that is not the device's own: a planning cap with its reason. */
export interface Cap {
  readonly limitA: number;
  readonly words: string;
}

/** What is compared. */
export interface Question {
  /** Amps at nominal volts. */
  readonly nominal: Draw;
  /** Amps at the worst volts: decides the level. */
  readonly planning: Draw;
  readonly ratingA: number | undefined;
  /** Long-load line, A; undefined = 0.8 of the rating. */
  readonly lineA?: number | undefined;
  readonly lineWords: string;
  readonly caps?: readonly Cap[];
  /** Worst volts, for the words. */
  readonly worstV: number;
}

/** The outcome: level, one sentence, the limit that binds and how far from it. */
export interface Judgement {
  readonly level: Level;
  readonly words: string;
  /** The lowest of rating and caps, A; undefined when none is known. */
  readonly limitA: number | undefined;
  /** Long-load line, A. */
  readonly lineA: number | undefined;
  /** Nominal amps over the binding limit. */
  readonly share: number | undefined;
  /** Limit less planning amps, A. */
  readonly marginA: number | undefined;
}

const beyond = (a: number, limit: number): boolean => a > limit * (1 + 1e-9);

/** Compares nominal and planning amps with rating, caps and long-load line. */
export function judge(q: Question): Judgement {
  const caps = q.caps ?? [];
  const lineA = q.lineA ?? (q.ratingA === undefined ? undefined : 0.8 * q.ratingA);
  const limits = caps.map((c) => c.limitA);
  if (q.ratingA !== undefined) limits.push(q.ratingA);
  const limitA = limits.length > 0 ? Math.min(...limits) : undefined;
  const total = q.nominal.longA + q.nominal.briefA;
  const most = q.planning.longA + q.planning.briefA;

  const standing = (d: Draw): Level => {
    const sum = d.longA + d.briefA;
    if (limitA !== undefined && beyond(sum, limitA)) return 'over';
    if (q.ratingA === undefined || lineA === undefined) return 'not-checked';
    const mixed = d.briefA > 0 && beyond(d.longA / 0.8 + d.briefA, q.ratingA);
    return beyond(d.longA, lineA) || mixed ? 'warn' : 'within';
  };

  // Say the device first, then each cap, then the line, then what the worst volts change.
  const parts: string[] = [];
  if (q.ratingA === undefined) parts.push('not checked: rating not told');
  else if (beyond(total, q.ratingA))
    parts.push(
      `over ${ratingWords(q.ratingA)} A (${(Math.ceil((total / q.ratingA) * 100 - 0.5) / 100).toFixed(2)} times)`,
    );
  else parts.push(`within ${ratingWords(q.ratingA)} A (${percent(total / q.ratingA)})`);
  for (const cap of caps)
    parts.push(
      beyond(total, cap.limitA)
        ? `over the ${ratingWords(cap.limitA)} A ${cap.words}`
        : `${percent(total / cap.limitA)} of the ${ratingWords(cap.limitA)} A ${cap.words}`,
    );
  const atNominal = standing(q.nominal);
  if (atNominal === 'warn' && lineA !== undefined)
    parts.push(
      beyond(q.nominal.longA, lineA)
        ? `over the ${ratingWords(lineA)} A ${q.lineWords}`
        : `over the ${q.lineWords} with the brief load on top`,
    );
  const level = worse(atNominal, standing(q.planning));
  if (level !== atNominal && limitA !== undefined)
    parts.push(
      `${ampsUp(most)} A at the worst volts: ${
        level === 'over'
          ? `over ${ratingWords(limitA)} A`
          : `over the ${ratingWords(lineA ?? limitA)} A ${q.lineWords}`
      }`,
    );
  return {
    level,
    words: `${ampsUp(total)} A: ${parts.join(', ')}`,
    limitA,
    lineA,
    share: limitA === undefined ? undefined : total / limitA,
    marginA: limitA === undefined ? undefined : limitA - most,
  };
}
