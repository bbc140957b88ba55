/** A blind cut in a card: lying slots `gapM` open and `slatM` of card between them, held by upright tapes. */
import { EDGE_M, oblong, type Pattern } from './pattern.ts';

export const slats: Pattern = {
  kind: 'slats',
  words: 'blind’s slats',
  usual: { slatM: 0.035, gapM: 0.045, tapes: 2, tapeM: 0.015, rimM: 0.03 },
  cut(w, h, measure) {
    const gap = Math.max(0.001, measure('gapM'));
    const slat = Math.max(0.001, measure('slatM'));
    const rim = Math.max(EDGE_M, measure('rimM'));
    const tapes = Math.max(0, Math.round(measure('tapes')));
    const tape = Math.max(0.001, measure('tapeM'));
    const [wide, tall] = [w - 2 * rim, h - 2 * rim];
    const rows = Math.floor((tall + slat) / (gap + slat) + 1e-9);
    // Tapes divide the width evenly, a third of a field in from each side as a blind's cords hang.
    const middles = Array.from({ length: tapes }, (_, k) => -wide / 2 + (wide * (k + 0.5)) / tapes);
    const starts = [-wide / 2, ...middles.map((x) => x + tape / 2)];
    const ends = [...middles.map((x) => x - tape / 2), wide / 2];
    const low = -(rows * (gap + slat) - slat) / 2;
    return {
      holes: Array.from({ length: Math.max(0, rows) }, (_, r) =>
        starts.flatMap((x0, k) => {
          const y = low + r * (gap + slat);
          return ends[k]! - x0 > 0.001 ? [oblong(x0, y, ends[k]!, y + gap)] : [];
        }),
      ).flat(),
    };
  },
};
