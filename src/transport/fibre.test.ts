import { describe, expect, test } from 'vitest';
import { along, fibre, logI0, SHARE_TRT, SHARE_TT, strand } from './fibre.ts';

/** Mean of a function of direction over the sphere times 4π, by a midpoint rule in cylinder coordinates about z. */
function overSphere(f: (x: number, y: number, z: number) => number, n = 400): number {
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const z = -1 + (2 * (i + 0.5)) / n;
    const r = Math.sqrt(1 - z * z);
    for (let j = 0; j < n; j++) {
      const a = (2 * Math.PI * (j + 0.5)) / n;
      sum += f(r * Math.cos(a), r * Math.sin(a), z);
    }
  }
  return (sum * 4 * Math.PI) / (n * n);
}

describe('hair', () => {
  // Abramowitz and Stegun, table 9.8 (values of I0 by its definition: Σ (x²/4)^k / k!²), summed here.
  test('the Bessel function is its power series', () => {
    for (const x of [0.1, 1, 3.7, 3.8, 10, 40]) {
      let term = 1;
      let sum = 1;
      for (let k = 1; k < 200; k++) {
        term *= (x * x) / 4 / (k * k);
        sum += term;
      }
      expect(logI0(x)).toBeCloseTo(Math.log(sum), 6);
    }
  });

  test('what is spread along the fibre is neither more nor less than one, at any inclination', () => {
    for (const v of [0.005, 0.02, 0.08]) {
      for (const deg of [0, 30, 60, 80]) {
        const t = (deg * Math.PI) / 180;
        let sum = 0;
        const n = 4000;
        for (let i = 0; i < n; i++) {
          const o = -Math.PI / 2 + (Math.PI * (i + 0.5)) / n;
          sum += ((along(Math.sin(t), Math.cos(t), Math.sin(o), Math.cos(o), v) * Math.cos(o)) / n) * Math.PI;
        }
        expect(sum).toBeCloseTo(1, 3);
      }
    }
  });

  // Born & Wolf: Fresnel's equations for a dielectric, unpolarised, averaged over the width of a round fibre.
  test('a fibre in the open sends on what a round one of index 1.55 would: white off its face, the rest through', () => {
    let fresnel = 0;
    const n = 2000;
    for (let i = 0; i < n; i++) {
      const h = (i + 0.5) / n;
      const ci = Math.sqrt(1 - h * h);
      const ct = Math.sqrt(1 - (h / 1.55) ** 2);
      const s = ((ci - 1.55 * ct) / (ci + 1.55 * ct)) ** 2;
      const p = ((1.55 * ci - ct) / (1.55 * ci + ct)) ** 2;
      fresnel += (s + p) / 2 / n;
    }
    const light: [number, number, number] = [1, 0, 0];
    // Light from behind the hair (n·l = -1): no other hairs send it back.
    const at = (e: [number, number, number]) => fibre(0, 0, 1, -1, 0, 0, ...light, ...e, 1, 1);
    const white = overSphere((...e) => {
      at(e);
      return strand.shine;
    });
    const coloured = overSphere((...e) => {
      at(e);
      return strand.lux / Math.PI;
    });
    expect(Math.abs(white / fresnel - 1)).toBeLessThan(0.1);
    expect(coloured).toBeCloseTo(SHARE_TRT + SHARE_TT, 2);
    expect(white + coloured).toBeLessThan(1);
  });

  test('light and eye may change places', () => {
    const t: [number, number, number] = [0, 0, 1];
    const n: [number, number, number] = [1, 0, 0];
    const unit = (x: number, y: number, z: number): [number, number, number] => {
      const k = 1 / Math.hypot(x, y, z);
      return [x * k, y * k, z * k];
    };
    for (const [a, b] of [
      [unit(-1, 0.3, 0.4), unit(-0.2, 1, -0.3)],
      [unit(-0.7, -0.5, -0.6), unit(-0.9, 0.1, 0.5)],
    ] as const) {
      fibre(...t, ...n, ...a, ...b, 1, 1);
      const there = { ...strand };
      fibre(...t, ...n, ...b, ...a, 1, 1);
      expect(strand.shine).toBeCloseTo(there.shine, 9);
    }
  });

  test('the cone: from a lamp 40° up the hair the glint is seen 40° down it, and fades within a few degrees', () => {
    const deg = Math.PI / 180;
    const seen = (down: number): number => {
      fibre(
        0,
        0,
        1,
        1,
        0,
        0,
        Math.cos(40 * deg),
        0,
        Math.sin(40 * deg),
        Math.cos(down * deg),
        0,
        -Math.sin(down * deg),
        1,
        1,
      );
      return strand.shine;
    };
    const angles = [20, 25, 30, 35, 40, 45, 50, 55, 60];
    const best = angles.reduce((a, b) => (seen(b) > seen(a) ? b : a));
    expect(Math.abs(best - 40)).toBeLessThanOrEqual(5);
    expect(seen(10)).toBeLessThan(0.05 * seen(40));
  });
});
