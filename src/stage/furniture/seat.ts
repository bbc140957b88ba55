/** Things to sit and lie on; seats look along local +x. */
import { bar, box, cylinder } from '../build.ts';
import { VARNISH } from '../finish.ts';
import type { Draft } from '../mesh.ts';
import type { Builder } from './work.ts';

/** A wooden chair: seat, four legs, a back of two posts, a top rail and slats. */
export const chair: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot(undefined, VARNISH);
  const seat = Math.min(detail('seatM', 0.45), h);
  const x = w / 2;
  const y = deep / 2;
  const leg = 0.036;
  const back = 0.04;
  box(d, [-x + 0.02, -y, seat - 0.035], [x, y, seat], slot('seat', VARNISH));
  for (const sy of [-1, 1]) {
    const cy = sy * (y - leg / 2);
    // Front leg; back leg runs on as a post.
    box(d, [x - leg, cy - leg / 2, 0], [x, cy + leg / 2, seat - 0.035], s, { without: ['z-'] });
    box(d, [-x, cy - leg / 2, 0], [-x + leg, cy + leg / 2, h], s, { without: ['z-'] });
    bar(d, [-x + leg / 2, cy, 0.18], [x - leg / 2, cy, 0.18], 0.025, 0.02, s);
  }
  if (h > seat + 0.15) {
    const inner = y - leg;
    box(d, [-x + 0.006, -inner, h - 0.09], [-x + back - 0.008, inner, h - 0.005], s);
    box(d, [-x + 0.008, -inner, seat + 0.09], [-x + back - 0.01, inner, seat + 0.12], s);
    const slats = 3;
    for (let k = 0; k < slats; k++) {
      const cy = -inner + (2 * inner * (k + 1)) / (slats + 1);
      box(d, [-x + 0.012, cy - 0.02, seat + 0.12], [-x + 0.028, cy + 0.02, h - 0.09], s);
    }
  }
};

/** Four short feet near the corners of a base of half sizes x, y. */
function feet(d: Draft, x: number, y: number, h: number, slot: number): void {
  const r = Math.min(0.025, x / 4, y / 4);
  for (const sx of [-1, 1])
    for (const sy of [-1, 1]) {
      const [cx, cy] = [sx * (x - 2 * r), sy * (y - 2 * r)];
      cylinder(d, [cx, cy, 0], [cx, cy, h], r, slot);
    }
}

/** A sofa or armchair: base, back, two arms, cushions by width. */
export const sofa: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot();
  const c = slot('cushions');
  const seat = Math.min(detail('seatM', 0.42), h * 0.6);
  const x = w / 2;
  const y = deep / 2;
  const arm = Math.min(0.18, deep / 5);
  const back = Math.min(0.22, w / 3);
  box(d, [-x, -y, 0.06], [x, y, seat - 0.12], s);
  feet(d, x, y, 0.06, slot('feet'));
  box(d, [-x, -y, seat - 0.12], [-x + back, y, h], s);
  for (const sy of [-1, 1]) {
    const a = sy < 0 ? -y : y - arm;
    box(d, [-x + back, a, seat - 0.12], [x, a + arm, Math.min(h, seat + 0.18)], s);
  }
  const count = Math.max(1, Math.round((deep - 2 * arm) / 0.65));
  const cw = (deep - 2 * arm) / count;
  for (let k = 0; k < count; k++) {
    const a = -y + arm + k * cw;
    box(d, [-x + back, a + 0.005, seat - 0.12], [x - 0.01, a + cw - 0.005, seat], c);
  }
};

/** A bed: frame, mattress, pillow at the head (local −x), head board. */
export const bed: Builder = ({ d, w, deep, h, slot, detail }) => {
  const x = w / 2;
  const y = deep / 2;
  const top = Math.min(h, detail('mattressM', Math.min(h, 0.5)));
  const frame = slot();
  const linen = slot('linen');
  box(d, [-x, -y, 0.08], [x, y, top - 0.2], frame);
  feet(d, x, y, 0.08, frame);
  box(d, [-x + 0.02, -y + 0.01, top - 0.2], [x - 0.02, y - 0.01, top], linen);
  if (h > top + 0.1) box(d, [-x, -y, top - 0.2], [-x + 0.03, y, h], frame);
  const pillows = deep > 1.2 ? 2 : 1;
  const each = (deep - 0.1) / pillows;
  for (let k = 0; k < pillows; k++) {
    const a = -y + 0.05 + k * each;
    box(d, [-x + 0.06, a + 0.03, top], [-x + 0.46, a + each - 0.03, top + 0.1], slot('pillow'));
  }
};
