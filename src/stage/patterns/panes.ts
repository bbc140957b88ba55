/** A window cut in a card: panes side by side and one over the other, bars between them, a meeting rail if told. */
import { EDGE_M, oblong, type Pattern } from './pattern.ts';

export const panes: Pattern = {
  kind: 'panes',
  words: 'window panes',
  // A small house window at half its size, as such cards are cut (common practice, no source).
  usual: { across: 2, up: 3, barM: 0.02, rimM: 0.04 },
  cut(w, h, measure) {
    const [across, up] = [Math.max(1, Math.round(measure('across'))), Math.max(1, Math.round(measure('up')))];
    const rim = Math.max(EDGE_M, measure('rimM'));
    const bar = Math.max(0.001, measure('barM'));
    const wide = (w - 2 * rim - (across - 1) * bar) / across;
    const tall = (h - 2 * rim - (up - 1) * bar) / up;
    if (wide < 0.001 || tall < 0.001) return { holes: [] };
    return {
      holes: Array.from({ length: across * up }, (_, k) => {
        const x = -w / 2 + rim + (k % across) * (wide + bar);
        const y = -h / 2 + rim + Math.floor(k / across) * (tall + bar);
        return oblong(x, y, x + wide, y + tall);
      }),
    };
  },
};
