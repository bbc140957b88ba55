/** A camera's settings in one line, as a slate or a title block says them. */
import type { CameraSettings } from '../shoot/schema.ts';

export function cameraWords(c: CameraSettings, balance?: { cctK: number }): string {
  const shutter = c.shutter.kind === 'angle' ? `${c.shutter.deg}°` : `1/${Math.round(1 / c.shutter.seconds)}`;
  const wb =
    c.whiteBalance.kind === 'kelvin'
      ? `WB ${c.whiteBalance.kelvin} K`
      : `WB on a card${balance ? `, ${Math.round(balance.cctK / 50) * 50} K` : ''}`;
  const nd = c.ndDensity ? ` ND ${c.ndDensity}` : '';
  return `T${c.stop}  EI ${c.ei}  ${c.fps} fps  ${shutter}  ${wb}${nd}`;
}
export const lensWords = (focalMm: number): string => `${focalMm} mm`;
