/** A rating as shown: no trailing zeros, rounded down. */
export const ratingWords = (amps: number): string => String(Math.floor(amps * 10 + 1e-7) / 10);
