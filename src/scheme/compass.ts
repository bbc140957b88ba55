/** Which way a step goes, by the eight winds; the plan may be turned against north. */
const WINDS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'];

/** `dx` along the plan's x, `dy` along its y, metres; `northDeg`: bearing of +y from north. */
export function windOf(dx: number, dy: number, northDeg = 0): string {
  const bearing = (Math.atan2(dx, dy) * 180) / Math.PI + northDeg;
  return WINDS[((Math.round(bearing / 45) % 8) + 8) % 8]!;
}
