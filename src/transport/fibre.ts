/**
 * Light scattered by hair: a fibre sends light on in cones about itself, not from a face. White off its surface (R), through
 * it and on (TT), through it and back (TRT) [MARSCHNER-2003], each lobe's spread along the fibre so that it keeps its
 * energy [DEON-2011]. What hairs send to and fro among themselves is taken as that of a dull surface, and so is a hair that
 * light meets on its way elsewhere: only hair that is looked at, and what its strands let through, is a fibre's.
 */

/** Refractive index 1.55 at right angles [MARSCHNER-2003]. */
const F0 = ((1.55 - 1) / (1.55 + 1)) ** 2;
/** Spread along the fibre, radians: 5–10° for R, half of it for TT, twice for TRT [MARSCHNER-2003]. */
const BETA_R = (8 * Math.PI) / 180;
const V_R = BETA_R ** 2;
const V_TT = (BETA_R / 2) ** 2;
const V_TRT = (2 * BETA_R) ** 2;
/** Spread round the fibre of what goes through, a logistic's scale in radians; judged to the picture of a round fibre. */
const S_TT = 0.35;
/**
 * Shares of what falls on a fibre, its colour apart. R: mean of Fresnel's reflectance across a round fibre lit at right
 * angles (by quadrature: .098). TRT: that once more inside and twice through, (1 - R)² R = .08. The rest goes through;
 * in a head of hair it meets other hairs, all but what leaves at the rim.
 */
const SHARE_R = 0.098;
export const SHARE_TRT = (1 - SHARE_R) ** 2 * SHARE_R;
export const SHARE_TT = (1 - SHARE_R) ** 2;

/** Schlick's Fresnel for the fibre's surface. */
function fresnel(cosine: number): number {
  const m = 1 - Math.min(1, cosine);
  const m2 = m * m;
  return F0 + (1 - F0) * m2 * m2 * m;
}

/** log of the modified Bessel function I0, within 1e-7 [AS-9.8.1]. */
export function logI0(x: number): number {
  if (x < 3.75) {
    const t = (x / 3.75) ** 2;
    return Math.log(
      1 +
        t *
          (3.5156229 + t * (3.0899424 + t * (1.2067492 + t * (0.2659732 + t * (0.0360768 + t * 0.0045813))))),
    );
  }
  const t = 3.75 / x;
  return (
    x -
    0.5 * Math.log(x) +
    Math.log(
      0.39894228 +
        t *
          (0.01328592 +
            t *
              (0.00225319 +
                t *
                  (-0.00157565 +
                    t *
                      (0.00916281 +
                        t * (-0.02057706 + t * (0.02635537 + t * (-0.01647633 + t * 0.00392377))))))),
    )
  );
}

/** Spread along the fibre: sines and cosines of both inclinations, variance; ∫ M cosθ dθ = 1 [DEON-2011]. */
export function along(sinI: number, cosI: number, sinO: number, cosO: number, v: number): number {
  const b = (cosI * cosO) / v;
  // csch(1/v) / 2v, its exponential taken apart.
  return Math.exp(logI0(b) - (sinI * sinO) / v - 1 / v - Math.log(v * (1 - Math.exp(-2 / v))));
}

/** Logistic in φ about 0, trimmed to ±π: integral 1. */
function around(phi: number, s: number): number {
  const e = Math.exp(-Math.abs(phi) / s);
  const whole = 2 / (1 + Math.exp(-Math.PI / s)) - 1;
  return e / (s * (1 + e) ** 2) / whole;
}

/**
 * What a hair's colour leaves of light that goes through it once, from the reflectance of hairs en masse: light among many
 * hairs by two streams, ρ = (1 - √(1 - ω)) / (1 + √(1 - ω)) [CHANDRASEKHAR-1960], and ω is R + TT + TRT.
 */
export function throughFor(reflectance: number): number {
  const rho = Math.max(0, Math.min(1, reflectance));
  const albedo = 1 - ((1 - rho) / (1 + rho)) ** 2;
  return Math.max(0, Math.min(1, (albedo - SHARE_R) / (SHARE_TT + SHARE_TRT)));
}

/** The last `fibre`, per lux at right angles to the ray: white luminance, cd/m²; lux of a dull surface of the hair's colour. */
export const strand = { shine: 0, lux: 0 };

/**
 * A hair of unit direction t, in hair whose surface has the unit normal n on the seen side; light from unit l, seen
 * from unit e; `clear`: what its colour leaves of light that goes through, `rho`: what hairs en masse send back. Fills
 * `strand`.
 */
export function fibre(
  tx: number,
  ty: number,
  tz: number,
  nx: number,
  ny: number,
  nz: number,
  lx: number,
  ly: number,
  lz: number,
  ex: number,
  ey: number,
  ez: number,
  clear: number,
  rho: number,
): void {
  const sinI = tx * lx + ty * ly + tz * lz;
  const sinO = tx * ex + ty * ey + tz * ez;
  const cosI = Math.sqrt(Math.max(0, 1 - sinI * sinI));
  const cosO = Math.sqrt(Math.max(0, 1 - sinO * sinO));
  // Angle round the fibre between light and eye.
  const across = lx * ex + ly * ey + lz * ez - sinI * sinO;
  const cosPhi = Math.max(-1, Math.min(1, across / Math.max(1e-6, cosI * cosO)));
  const half = Math.sqrt((1 + cosPhi) / 2);
  const phi = Math.acos(cosPhi);
  // Half the difference of the inclinations: light and eye lie on opposite sides of the normal plane in a cone.
  const cosD = Math.sqrt((1 + cosI * cosO - sinI * sinO) / 2);
  // A round fibre's mirror sends evenly over its width: cos(φ/2) / 4 round it.
  const r = 0.25 * half * fresnel(cosD * half);
  strand.shine = along(sinI, cosI, sinO, cosO, V_R) * r;
  const through = SHARE_TT * around(Math.PI - phi, S_TT) * along(sinI, cosI, sinO, cosO, V_TT);
  const back = SHARE_TRT * 0.25 * half * along(sinI, cosI, sinO, cosO, V_TRT);
  // What goes through shows where the light stands behind the hair; before it, other hairs send it back as a dull surface.
  const cos = nx * lx + ny * ly + nz * lz;
  const behind = Math.max(0, Math.min(1, 0.5 - 3 * cos));
  // Hue is that of hairs en masse; how much gets through is the single hair's.
  const once = (Math.PI * clear) / Math.max(0.01, rho);
  strand.lux = once * (behind * through + clear * back) + (cos > 0 ? (1 - SHARE_R - SHARE_TRT) * cos : 0);
}
