/**
 * Gloss: GGX microfacets, height-correlated Smith shadowing, Schlick's Fresnel; alpha = roughness²
 * [WALTER-2007; HEITZ-2014]. No light is taken from the diffuse part for it: `Material.reflectance` is what
 * is measured with the gloss excluded.
 */

/** Schlick's Fresnel: reflectance at the cosine between ray and half vector. */
export function schlick(f0: number, cosine: number): number {
  const m = 1 - cosine;
  const m2 = m * m;
  return f0 + (1 - f0) * m2 * m2 * m;
}

/** The smallest alpha used: below it a lobe is a mirror's and single precision gives out. */
export const MIN_ALPHA = 1e-3;
export const alphaOf = (roughness: number): number => Math.max(MIN_ALPHA, roughness * roughness);

/** The last `gloss`: value of the lobe per steradian, and the density with which `sampleGloss` picks it. */
export const lobe = { value: 0, density: 0 };

/**
 * Gloss from unit direction `l` (to the light) to `e` (to the eye) about the unit normal `n`. Both zero where
 * either is under the surface. Fills `lobe`.
 */
export function gloss(
  f0: number,
  alpha: number,
  nx: number,
  ny: number,
  nz: number,
  lx: number,
  ly: number,
  lz: number,
  ex: number,
  ey: number,
  ez: number,
): void {
  const nl = nx * lx + ny * ly + nz * lz;
  const ne = nx * ex + ny * ey + nz * ez;
  if (nl <= 0 || ne <= 0) {
    lobe.value = 0;
    lobe.density = 0;
    return;
  }
  let hx = lx + ex;
  let hy = ly + ey;
  let hz = lz + ez;
  const inv = 1 / Math.sqrt(hx * hx + hy * hy + hz * hz);
  hx *= inv;
  hy *= inv;
  hz *= inv;
  const nh = nx * hx + ny * hy + nz * hz;
  const eh = ex * hx + ey * hy + ez * hz;
  const a2 = alpha * alpha;
  // 1 - nh² (1 - a²), kept exact near the peak by the sine of the half vector.
  const cx = ny * hz - nz * hy;
  const cy = nz * hx - nx * hz;
  const cz = nx * hy - ny * hx;
  const s = cx * cx + cy * cy + cz * cz + a2 * nh * nh;
  const d = a2 / (Math.PI * s * s);
  const rootE = Math.sqrt(a2 + (1 - a2) * ne * ne);
  const rootL = Math.sqrt(a2 + (1 - a2) * nl * nl);
  lobe.value = (schlick(f0, eh) * d) / (2 * (nl * rootE + ne * rootL));
  // Density of the visible half vectors, turned into that of directions: D G1(e) / (4 n·e).
  lobe.density = d / (2 * (ne + rootE));
}

/** Direction last picked by `sampleGloss`. */
export const glossRay = new Float64Array(3);

/** Picks a direction to the light by the half vectors visible from `e` [HEITZ-2018]. False if under the surface. */
export function sampleGloss(
  alpha: number,
  nx: number,
  ny: number,
  nz: number,
  ex: number,
  ey: number,
  ez: number,
  u: number,
  v: number,
): boolean {
  // A frame about the normal [DUFF-2017], the eye in it, stretched.
  const s = nz >= 0 ? 1 : -1;
  const k = -1 / (s + nz);
  const b = nx * ny * k;
  const ux = 1 + s * nx * nx * k;
  const uy = s * b;
  const uz = -s * nx;
  const vx = b;
  const vy = s + ny * ny * k;
  const vz = -ny;
  let wx = alpha * (ex * ux + ey * uy + ez * uz);
  let wy = alpha * (ex * vx + ey * vy + ez * vz);
  let wz = ex * nx + ey * ny + ez * nz;
  if (wz <= 0) return false;
  const wl = 1 / Math.sqrt(wx * wx + wy * wy + wz * wz);
  wx *= wl;
  wy *= wl;
  wz *= wl;
  // A point of the disc seen from there.
  const len2 = wx * wx + wy * wy;
  let t1x = 1;
  let t1y = 0;
  if (len2 > 1e-20) {
    const il = 1 / Math.sqrt(len2);
    t1x = -wy * il;
    t1y = wx * il;
  }
  const t2x = -wz * t1y;
  const t2y = wz * t1x;
  const t2z = wx * t1y - wy * t1x;
  const r = Math.sqrt(u);
  const phi = 2 * Math.PI * v;
  const p1 = r * Math.cos(phi);
  let p2 = r * Math.sin(phi);
  const half = 0.5 * (1 + wz);
  p2 = (1 - half) * Math.sqrt(Math.max(0, 1 - p1 * p1)) + half * p2;
  const p3 = Math.sqrt(Math.max(0, 1 - p1 * p1 - p2 * p2));
  // The half vector, unstretched, back in the stage.
  let hx = alpha * (p1 * t1x + p2 * t2x + p3 * wx);
  let hy = alpha * (p1 * t1y + p2 * t2y + p3 * wy);
  let hz = Math.max(0, p2 * t2z + p3 * wz);
  const hl = 1 / Math.sqrt(hx * hx + hy * hy + hz * hz);
  hx *= hl;
  hy *= hl;
  hz *= hl;
  const gx = hx * ux + hy * vx + hz * nx;
  const gy = hx * uy + hy * vy + hz * ny;
  const gz = hx * uz + hy * vz + hz * nz;
  const twice = 2 * (ex * gx + ey * gy + ez * gz);
  glossRay[0] = twice * gx - ex;
  glossRay[1] = twice * gy - ey;
  glossRay[2] = twice * gz - ez;
  return glossRay[0]! * nx + glossRay[1]! * ny + glossRay[2]! * nz > 0;
}
