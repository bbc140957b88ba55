/**
 * The front of a house, for what one sees across a street: a wall along local x, its face along local −y, with rows of
 * sashes and a door. `detail`: `storeys` (else one each 2.8 m), `across` windows in a row, `doorAt` which of them is the
 * door downstairs (0 the first, −1 none), `windowM` width, `shop` 1: one wide shop window downstairs instead.
 */
import { box, type Hole, panel } from '../build.ts';
import { PANE, VARNISH } from '../finish.ts';
import { slotOf } from '../mesh.ts';
import type { Piece } from './piece.ts';

export const facade: Piece = {
  kind: 'facade',
  patchM: 0.5,
  sizeM: [6, 0.3, 6],
  outM: 0.25,
  build: ({ d, w, deep, h, slot, detail }) => {
    const [x, y] = [w / 2, deep / 2];
    const s = slot();
    const trim = slot('trim', VARNISH);
    const dark = slot('rooms');
    const storeys = Math.max(1, Math.round(detail('storeys', Math.max(1, Math.round(h / 2.8)))));
    const across = Math.max(1, Math.round(detail('across', Math.max(1, Math.round(w / 2)))));
    const tall = (h - 0.3) / storeys;
    const wide = Math.min(detail('windowM', 1), (w / across) * 0.75);
    const high = Math.min(1.45, tall * 0.58);
    const doorAt = Math.round(detail('doorAt', 0));
    const shop = detail('shop', 0) > 0;
    type Light = Hole & { door: boolean };
    const holes: Light[] = [];
    for (let k = 0; k < storeys; k++)
      for (let i = 0; i < across; i++) {
        const u = ((i + 0.5) * w) / across;
        const floor = k * tall;
        const door = k === 0 && i === doorAt;
        if (k === 0 && shop && !door) continue;
        const half = door ? Math.min(0.45, wide / 2) : wide / 2;
        const v0 = door ? 0 : floor + Math.min(0.85, tall * 0.3);
        const v1 = door ? Math.min(2.05, tall * 0.78) : v0 + high;
        if (half > 0.05 && v1 > v0 + 0.1) holes.push({ u0: u - half, u1: u + half, v0, v1, door });
      }
    if (shop) {
      const from = doorAt === 0 ? w / across : 0.25;
      const to = doorAt === across - 1 ? w - w / across : w - 0.25;
      if (to > from + 0.4)
        holes.push({
          u0: from,
          u1: to,
          v0: Math.min(0.5, tall / 4),
          v1: Math.min(2.4, tall * 0.85),
          door: false,
        });
    }
    // The wall, open at the lights; sides, back and coping.
    panel(d, [-x, -y, 0], [w, 0, 0], [0, 0, h], s, { holes });
    panel(d, [x, y, 0], [-w, 0, 0], [0, 0, h], s);
    panel(d, [-x, y, 0], [0, -deep, 0], [0, 0, h], s);
    panel(d, [x, -y, 0], [0, deep, 0], [0, 0, h], s);
    panel(d, [-x, -y, h], [w, 0, 0], [0, deep, 0], s);
    const set = Math.min(0.12, deep * 0.4);
    for (const o of holes) {
      const [a, b] = [o.u0 - x, o.u1 - x];
      // Reveals.
      panel(d, [a, -y, o.v0], [0, set, 0], [0, 0, o.v1 - o.v0], s);
      panel(d, [b, -y + set, o.v0], [0, -set, 0], [0, 0, o.v1 - o.v0], s);
      panel(d, [a, -y + set, o.v1], [0, -set, 0], [b - a, 0, 0], s);
      panel(d, [a, -y, o.v0], [b - a, 0, 0], [0, set, 0], trim);
      if (o.door) {
        box(d, [a, -y + set, o.v0], [b, -y + set + 0.04, o.v1], slot('door', VARNISH));
        box(d, [b - 0.12, -y + set - 0.03, 1], [b - 0.08, -y + set, 1.04], trim);
        continue;
      }
      // Sill, sash bars, glass, and dark behind.
      box(d, [a - 0.06, -y - 0.06, o.v0 - 0.07], [b + 0.06, -y + 0.02, o.v0], trim);
      const bar = 0.05;
      const yb = -y + set;
      box(d, [a, yb, o.v0], [a + bar, yb + 0.04, o.v1], trim);
      box(d, [b - bar, yb, o.v0], [b, yb + 0.04, o.v1], trim);
      box(d, [a + bar, yb, o.v0], [b - bar, yb + 0.04, o.v0 + bar], trim);
      box(d, [a + bar, yb, o.v1 - bar], [b - bar, yb + 0.04, o.v1], trim);
      const mid = (o.v0 + o.v1) / 2;
      if (b - a < 1.6) box(d, [a + bar, yb, mid - bar / 2], [b - bar, yb + 0.04, mid + bar / 2], trim);
      panel(d, [a, yb + 0.02, o.v0], [b - a, 0, 0], [0, 0, o.v1 - o.v0], slotOf(d, PANE), { patchM: 1e3 });
      panel(d, [a, y - 0.01, o.v0], [b - a, 0, 0], [0, 0, o.v1 - o.v0], dark);
    }
    // Plinth and eaves.
    const plinth = Math.min(0.3, h / 8);
    for (const [from, to] of [
      [-x, doorEdge(holes, x, true)],
      [doorEdge(holes, x, false), x],
    ] as const)
      if (to > from + 0.01)
        box(d, [from, -y - 0.03, 0], [to, -y, plinth], slot('plinth'), { without: ['y+', 'z-'] });
    box(d, [-x, -y - 0.2, h - 0.12], [x, -y, h], trim, { without: ['y+'] });
  },
};

function doorEdge(holes: readonly (Hole & { door: boolean })[], x: number, left: boolean): number {
  const o = holes.find((q) => q.door);
  return o ? (left ? o.u0 : o.u1) - x : left ? x : x + 1;
}
