/** Chairs, sofas, armchairs; seats look along local +x. */
import { cylinder } from '../build.ts';
import { VARNISH } from '../finish.ts';
import type { Draft } from '../mesh.ts';
import { roundBox } from '../roundBox.ts';
import { cushion } from './soft.ts';
import type { Builder } from './work.ts';

/** A wooden chair: seat, four legs, a back of two posts, a top rail and slats that lean with it. */
export const chair: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot(undefined, VARNISH);
  const light = slot(undefined, VARNISH, 1.08);
  const seat = Math.min(detail('seatM', 0.45), h);
  const x = w / 2;
  const y = deep / 2;
  const leg = 0.036;
  const back = 0.04;
  const ease = 0.005;
  const wood = (lo: [number, number, number], hi: [number, number, number], of = s, foot = false) =>
    roundBox(d, lo, hi, ease, of, foot ? { without: ['z-'] } : {});
  roundBox(d, [-x + 0.02, -y, seat - 0.032], [x, y, seat], 0.012, slot('seat', VARNISH), { steps: 2 });
  for (const sy of [-1, 1]) {
    const cy = sy * (y - leg / 2);
    // Front leg; back leg runs on as a post.
    wood([x - leg, cy - leg / 2, 0], [x, cy + leg / 2, seat - 0.03], s, true);
    wood([-x, cy - leg / 2, 0], [-x + leg, cy + leg / 2, h], s, true);
    // Rails under the seat, and a stretcher lower down.
    wood([-x + leg, cy - 0.01, seat - 0.085], [x - leg, cy + 0.01, seat - 0.03], light);
    cylinder(d, [-x + leg / 2, cy, 0.19], [x - leg / 2, cy, 0.19], 0.011, s, { sides: 10 });
  }
  for (const cx of [-x + leg / 2, x - leg / 2])
    wood([cx - 0.01, -y + leg, seat - 0.085], [cx + 0.01, y - leg, seat - 0.03], light);
  if (h > seat + 0.15) {
    const inner = y - leg;
    roundBox(
      d,
      [-x + 0.004, -inner - 0.004, h - 0.095],
      [-x + back - 0.008, inner + 0.004, h - 0.005],
      0.012,
      light,
      {
        steps: 2,
      },
    );
    wood([-x + 0.008, -inner, seat + 0.09], [-x + back - 0.01, inner, seat + 0.12]);
    const slats = 3;
    for (let k = 0; k < slats; k++) {
      const cy = -inner + (2 * inner * (k + 1)) / (slats + 1);
      const tone = slot(undefined, VARNISH, [1.06, 0.94, 1][k % 3]);
      roundBox(d, [-x + 0.012, cy - 0.02, seat + 0.115], [-x + 0.028, cy + 0.02, h - 0.09], 0.004, tone);
    }
  }
};

/** Four short feet near the corners of a base of half sizes x, y, a little wider above. */
export function feet(d: Draft, x: number, y: number, h: number, slot: number): void {
  const r = Math.min(0.025, x / 4, y / 4);
  for (const sx of [-1, 1])
    for (const sy of [-1, 1]) {
      const [cx, cy] = [sx * (x - 2 * r), sy * (y - 2 * r)];
      cylinder(d, [cx, cy, 0], [cx, cy, h], r * 0.75, slot, { r1: r, sides: 14 });
    }
}

/** A sofa or armchair: a stuffed frame, two arms, cushions to sit on and to lean on, by width. */
export const sofa: Builder = ({ d, w, deep, h, slot, detail }) => {
  const s = slot();
  const c = slot('cushions');
  // Welts and undersides lie deeper in the cloth.
  const welt = slot('cushions', undefined, 0.8);
  const seat = Math.min(detail('seatM', 0.42), h * 0.6);
  const x = w / 2;
  const y = deep / 2;
  const arm = Math.min(0.18, deep / 5);
  const back = Math.min(0.22, w / 3);
  const frame = back * 0.5;
  const foot = Math.min(0.06, seat / 4);
  const lift = Math.min(0.12, seat / 3);
  roundBox(d, [-x + 0.01, -y + 0.012, foot], [x - 0.012, y - 0.012, seat - lift], 0.02, s, { steps: 2 });
  feet(d, x, y, foot + 0.01, slot('feet'));
  // The frame's back; what one leans on stands before it.
  roundBox(
    d,
    [-x, -y + 0.012, seat - lift - 0.03],
    [-x + frame, y - 0.012, h],
    Math.min(0.05, frame * 0.49),
    s,
    {
      steps: 3,
    },
  );
  for (const sy of [-1, 1]) {
    const a = sy < 0 ? -y : y - arm;
    const top = Math.min(h, seat + 0.18);
    roundBox(d, [-x + frame * 0.6, a, foot - 0.004], [x, a + arm, top], Math.min(0.06, arm * 0.4), s, {
      steps: 2,
      without: ['z-'],
    });
  }
  const count = Math.max(1, Math.round((deep - 2 * arm) / 0.65));
  const cw = (deep - 2 * arm) / count;
  const tops = Math.max(seat + 0.1, h - 0.035);
  for (let k = 0; k < count; k++) {
    const a = -y + arm + k * cw;
    cushion(d, [-x + frame, a + 0.004, seat - lift], [x - 0.01, a + cw - 0.004, seat + 0.008], c, {
      up: 2,
      fullM: 0.022,
      seed: k,
      piping: welt,
    });
    cushion(d, [-x + frame - 0.01, a + 0.008, seat - 0.02], [-x + back + 0.025, a + cw - 0.008, tops], c, {
      up: 0,
      fullM: 0.03,
      seed: k + 5,
      piping: welt,
    });
  }
};
