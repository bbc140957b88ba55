/** Whether a lamp does anything that this angle shows. */
import { faceSeen, type SchemeContext } from './context.ts';

/** Share of the light on a spot that makes a lamp its background's. */
const BACKGROUND_SHARE = 0.25;

export function speaks(c: SchemeContext, lamp: string): boolean {
  if (c.glow.has(lamp)) return true;
  for (const mark of c.marks) {
    if (!faceSeen(c, mark.mark)) continue;
    const role = mark.lamps.find((l) => l.lamp === lamp)?.role;
    if (role !== undefined && role !== 'none' && role !== 'background') return true;
  }
  for (const spot of c.spots.values()) {
    const share = (spot.lamps.find((l) => l.lamp === lamp)?.lx ?? 0) / Math.max(1e-9, spot.lx);
    if (spot.seen && spot.lx > c.eRefLx / 64 && share >= BACKGROUND_SHARE) return true;
  }
  return false;
}
