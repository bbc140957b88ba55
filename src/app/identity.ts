/** A lamp's identity: colour, line pattern and number, always together. Four, then the four again, doubled. */
export const lampColour = (identity: number): string => `var(--lamp${((identity - 1) % 4) + 1})`;
export const lampDash = (identity: number): string => ['none', '9 5', '2 4', '9 4 2 4'][(identity - 1) % 4]!;
export const lampDoubled = (identity: number): boolean => identity > 4;
