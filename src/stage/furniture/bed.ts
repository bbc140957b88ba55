/** A bed that was made: frame and head board, mattress, pillows, a cover that hangs over its sides. Head at local −x. */
import type { Vec3 } from '../../maths/vec3.ts';
import { VARNISH } from '../finish.ts';
import { roundBox } from '../roundBox.ts';
import { feet } from './seat.ts';
import { pillow, uneven } from './soft.ts';
import type { Builder } from './work.ts';

export const bed: Builder = ({ d, w, deep, h, slot, detail }) => {
  const x = w / 2;
  const y = deep / 2;
  const top = Math.min(h, detail('mattressM', Math.min(h, 0.5)));
  const frame = slot('frame', VARNISH);
  const linen = slot('linen');
  const thick = Math.min(0.2, top / 2);
  roundBox(d, [-x, -y + 0.035, Math.min(0.08, top / 4)], [x - 0.035, y - 0.035, top - thick], 0.006, frame);
  feet(d, x - 0.035, y - 0.035, Math.min(0.09, top / 4), frame);
  roundBox(d, [-x + 0.03, -y + 0.04, top - thick], [x - 0.04, y - 0.04, top - 0.012], 0.05, linen, {
    steps: 3,
  });
  // Posts and a board between them.
  if (h > top + 0.1) {
    roundBox(
      d,
      [-x, -y + 0.03, top - thick],
      [-x + 0.025, y - 0.03, h - 0.02],
      0.008,
      slot('frame', VARNISH, 1.08),
    );
    roundBox(d, [-x, -y + 0.005, h - 0.05], [-x + 0.032, y - 0.005, h], 0.012, frame, { steps: 2 });
    for (const sy of [-1, 1])
      roundBox(
        d,
        [-x, Math.min(sy * y, sy * (y - 0.05)), 0],
        [-x + 0.035, Math.max(sy * y, sy * (y - 0.05)), h],
        0.008,
        frame,
        { without: ['z-'] },
      );
  }
  const each = (deep - 0.1) / (deep > 1.2 ? 2 : 1);
  const low = Math.min(0.46, w / 4);
  for (let k = 0; k < (deep > 1.2 ? 2 : 1); k++)
    pillow(
      d,
      [-x + 0.05 + low / 2, -y + 0.05 + (k + 0.5) * each, top - 0.014],
      [low * 0.98, each - 0.03, Math.min(0.15, top / 3)],
      slot('pillow'),
      { leanRad: h > top + 0.2 ? 0.16 : 0, seed: k + 1 },
    );
  // The cover lies loose on the mattress and falls over three sides in folds that open downwards.
  const from = -x + Math.min(0.5, w * 0.28);
  const hem = Math.max(0.06, top * 0.42);
  const cover = slot('cover');
  const cloth = (p: Vec3, n: Vec3): Vec3 => {
    const down = Math.max(0, Math.min(1, (top - 0.04 - p[2]) / Math.max(0.05, top - 0.04 - hem)));
    const level = Math.max(0, n[2]);
    const fold = 0.5 + 0.5 * uneven(p[0] * 1.4 + p[1] * 1.4, p[2] * 0.15, 0.34, 3);
    const q: [number, number, number] = [p[0], p[1], p[2]];
    for (const k of [0, 1]) q[k]! -= n[k]! * (0.006 + 0.024 * fold) * down;
    // On top it lies in soft ridges, deeper toward its middle than at its edges.
    q[2] -= level * (0.007 + 0.007 * uneven(p[0], p[1], 0.42, 1) + 0.004 * uneven(p[0], p[1], 0.15, 2));
    // The hem is not ruled with a ruler.
    q[2] += down * 0.012 * uneven(p[0] + p[1], 0, 0.5, 4);
    return q;
  };
  roundBox(d, [from, -y + 0.004, hem], [x - 0.004, y - 0.004, top + 0.004], 0.045, cover, {
    without: ['z-', 'x-'],
    steps: 2,
    cellM: 0.085,
    bend: cloth,
  });
  // Turned back at the head: the sheet shows.
  const turned = Math.min(0.24, w / 8);
  roundBox(
    d,
    [from - 0.02, -y + 0.001, Math.max(hem, top * 0.6)],
    [from + turned, y - 0.001, top + 0.016],
    0.02,
    linen,
    {
      without: ['z-'],
      steps: 2,
      cellM: 0.12,
      bend: (p, n) => {
        const q = cloth(p, n);
        return [
          Math.max(q[0], from - 0.02) + 0.01 * uneven(p[1], 0, 0.6, 7) * (p[0] > from ? 1 : 0),
          q[1],
          q[2],
        ];
      },
    },
  );
};
