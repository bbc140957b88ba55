/** How far from a wall a person stands so that the shadow falls out of frame [CHECKS-CAMERA §3.4]. Metres, radians. */

/** Gap along the light below which the shadow of a point at `h` still shows above the frame line `frameLine`. */
export const wallGapVertical = (
  lampToSubject: number,
  h: number,
  lampHeight: number,
  frameLine: number,
): number => (lampToSubject * (h - frameLine)) / (lampHeight - h);

/** Gap behind a round head that keeps its shadow outside the frame's side; undefined: never. */
export function wallGapLateral(c: {
  cameraToSubject: number;
  halfFov: number;
  keyAzimuth: number;
  lampToHead: number;
  headRadius: number;
}): number | undefined {
  const d = Math.asin(c.headRadius / c.lampToHead);
  const bracket = Math.tan(c.keyAzimuth - d) - Math.tan(c.halfFov);
  return bracket <= 0
    ? undefined
    : (c.cameraToSubject * Math.tan(c.halfFov) + c.headRadius / Math.cos(c.keyAzimuth - d)) / bracket;
}
