/** Frame, focal length, sharpness in depth. Lengths in metres unless a name says mm. */

export interface Sensor {
  id: string;
  words: string;
  widthMm: number;
  heightMm: number;
}

/** Picture areas [CHECKS-CAMERA §3.1]; Super 16, Super 35 and wide 2/3 from memory. */
export const SENSORS: readonly Sensor[] = [
  { id: 'third-inch', words: '1/3 inch, 4:3', widthMm: 4.8, heightMm: 3.6 },
  { id: 'third-inch-wide', words: '1/3 inch, 16:9 crop', widthMm: 4.8, heightMm: 2.7 },
  { id: 'half-inch', words: '1/2 inch, 4:3', widthMm: 6.4, heightMm: 4.8 },
  { id: 'two-thirds', words: '2/3 inch, 4:3', widthMm: 8.8, heightMm: 6.6 },
  { id: 'two-thirds-wide', words: '2/3 inch, 16:9', widthMm: 9.6, heightMm: 5.4 },
  { id: 'super-16', words: 'Super 16', widthMm: 12.52, heightMm: 7.41 },
  { id: 'four-thirds', words: '4/3 inch, 16:9', widthMm: 17.3, heightMm: 9.73 },
  { id: 'super-35', words: 'Super 35, 16:9', widthMm: 24.9, heightMm: 14 },
  { id: 'aps-c', words: 'APS-C, 3:2', widthMm: 23.7, heightMm: 15.7 },
  { id: 'full-frame', words: 'full frame, 3:2', widthMm: 36, heightMm: 24 },
  { id: 'full-frame-wide', words: 'full frame, 16:9', widthMm: 36, heightMm: 20.25 },
];

export const sensorById = (id: string): Sensor | undefined => SENSORS.find((s) => s.id === id);

/** Full angle of view, radians, of a picture side and a focal length, both mm. */
export const fieldOfView = (sideMm: number, focalMm: number): number => 2 * Math.atan(sideMm / (2 * focalMm));

/** Half-extents of the frame at unit distance: tangents of half the angles of view. */
export const frameTangents = (sensor: Sensor, focalMm: number): { tanH: number; tanV: number } => ({
  tanH: sensor.widthMm / (2 * focalMm),
  tanV: sensor.heightMm / (2 * focalMm),
});

/** Width and height of the frame at a distance. */
export const frameAt = (
  sensor: Sensor,
  focalMm: number,
  distanceM: number,
): { widthM: number; heightM: number } => ({
  widthM: (sensor.widthMm * distanceM) / focalMm,
  heightM: (sensor.heightMm * distanceM) / focalMm,
});

/** Circle of confusion, mm: diagonal/1500 [CHECKS-CAMERA §3.1]. */
export const circleOfConfusionMm = (sensor: Sensor): number =>
  Math.hypot(sensor.widthMm, sensor.heightMm) / 1500;

/** N is the f-stop (depth), not the T-stop (light). All mm. */
export interface Depth {
  hyperfocalMm: number;
  nearMm: number;
  /** Infinity beyond the hyperfocal distance. */
  farMm: number;
}

/** Depth of field, exact thin-lens forms: H = f²/(Nc) + f. */
export function depthOfField(focalMm: number, fStop: number, cMm: number, focusMm: number): Depth {
  const f = focalMm;
  const s = focusMm;
  const H = (f * f) / (fStop * cMm) + f;
  return {
    hyperfocalMm: H,
    nearMm: (s * (H - f)) / (H + s - 2 * f),
    farMm: s >= H ? Number.POSITIVE_INFINITY : (s * (H - f)) / (H - s),
  };
}
