/** Mains flicker and pulsed light against frame rate and shutter [CHECKS-CAMERA §2]. */

/** Beat between pulses of `pulseHz` (twice the mains) and the frame rate, Hz; 0: none. */
export const beatHz = (pulseHz: number, fps: number): number =>
  Math.abs(pulseHz - fps * Math.round(pulseHz / fps));

/** Frame-to-frame ripple, peak to peak in stops, of light with modulation m (0–1) under an exposure of `te` seconds. */
export function rippleStops(m: number, pulseHz: number, te: number): number {
  const x = Math.PI * pulseHz * te;
  const a = x === 0 ? m : m * Math.abs(Math.sin(x) / x);
  return a < 1e-12 ? 0 : Math.log2((1 + a) / (1 - a));
}

/** Ripple that shows: none where frames always catch the same part of the wave. */
export const visibleRippleStops = (m: number, pulseHz: number, fps: number, te: number): number =>
  beatHz(pulseHz, fps) < 1e-9 ? 0 : rippleStops(m, pulseHz, te);

/** Shutter angles, radians, up to a full turn, that hold whole pulses: 360·fps·k/f. */
export function steadyAngles(pulseHz: number, fps: number): number[] {
  const out: number[] = [];
  for (let k = 1; (fps * k) / pulseHz <= 1 + 1e-9; k++) out.push((2 * Math.PI * fps * k) / pulseHz);
  return out;
}

/** Worst ripple of short pulses (PWM) over one exposure, stops peak to peak; whole counts give none. */
export function pulseRippleStops(pulseHz: number, te: number): number {
  const n = pulseHz * te;
  const k = Math.floor(n + 1e-9);
  if (Math.abs(n - Math.round(n)) < 1e-9) return 0;
  return k === 0 ? Number.POSITIVE_INFINITY : Math.log2((k + 1) / k);
}
