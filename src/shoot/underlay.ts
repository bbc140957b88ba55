/**
 * A photograph or a sketch that lies under the plan of a place, to trace over: kept in the shoot itself, so that the one
 * file carries it. It is drawn anew, small, before it comes here (no file's own notes are kept), and is not printed.
 */
import { z } from 'zod';

/** Most letters of the picture as text: 450 kB of it. */
export const MOST_LETTERS = 600_000;
const metre = z.number().min(-1000).max(1000);

export const Underlay = z.looseObject({
  name: z.string().max(200).optional().describe('the file it came from'),
  picture: z
    .string()
    .max(MOST_LETTERS, 'a picture of 450 kB at most')
    .regex(/^data:image\/(?:jpeg|png|webp);base64,[A-Za-z0-9+/]+={0,2}$/, 'a JPEG, PNG or WebP as base64')
    .describe('the picture itself'),
  px: z
    .tuple([z.number().int().min(1).max(10_000), z.number().int().min(1).max(10_000)])
    .describe('its size, pixels'),
  at: z.tuple([metre, metre]).describe('its middle on the plan, metres'),
  widthM: z.number().gt(0.05).max(2000).describe('how wide it lies, metres'),
  turnDeg: z.number().min(-720).max(720).optional().describe('turned counter-clockwise, degrees'),
  seen: z.number().min(0.05).max(1).optional().describe('how strongly it shows, 0–1; absent: 0.35'),
  hidden: z.boolean().optional(),
  known: z.boolean().optional().describe('true: its scale was set by a known length'),
});
export type Underlay = z.infer<typeof Underlay>;
type Point = readonly [number, number];

export const heightM = (u: Underlay): number => (u.widthM * u.px[1]) / u.px[0];

/** Its four corners on the plan, round. */
export function cornersOf(u: Underlay): [number, number][] {
  const a = ((u.turnDeg ?? 0) * Math.PI) / 180;
  const [w, h] = [u.widthM / 2, heightM(u) / 2];
  return (
    [
      [-w, -h],
      [w, -h],
      [w, h],
      [-w, h],
    ] as const
  ).map(([x, y]) => [
    u.at[0] + x * Math.cos(a) - y * Math.sin(a),
    u.at[1] + x * Math.sin(a) + y * Math.cos(a),
  ]);
}

/** The same picture with these two points of it so far apart; the first stays where it lies. Or why not. */
export function scaledBy(u: Underlay, from: Point, to: Point, lengthM: number): Partial<Underlay> | string {
  const shown = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (!(shown > u.widthM / 200)) return 'The two points are as good as one: tap them further apart.';
  if (!(lengthM > 0.05)) return 'A known length has 5 cm at least.';
  const by = lengthM / shown;
  const widthM = +(u.widthM * by).toFixed(4);
  if (widthM > 2000 || widthM < 0.06)
    return `The picture would be ${widthM.toFixed(2)} m wide. Tap the two ends of the length again, or type it with its unit.`;
  return {
    widthM,
    known: true,
    at: [
      +(from[0] + (u.at[0] - from[0]) * by).toFixed(4),
      +(from[1] + (u.at[1] - from[1]) * by).toFixed(4),
    ] as [number, number],
  };
}
