/** A trouble: what would look unintended or must not be, with its cures as edits in data. */
import type { Vec3 } from '../maths/vec3.ts';

export type TroubleKind =
  | 'lamp-in-frame'
  | 'stand-in-frame'
  | 'flag-in-frame'
  | 'face-hidden'
  | 'flare'
  | 'shadow'
  | 'unattractive-zone'
  | 'clipped'
  | 'under'
  | 'practical-weak'
  | 'hues'
  | 'air-not-lit'
  | 'flicker'
  | 'stand-cannot-stand'
  | 'heat-near'
  | 'circuit-over'
  | 'plug-over'
  | 'lead-over'
  | 'long-load'
  | 'volts-low'
  | 'power-not-checked'
  | 'keep-off'
  | 'lead-in-frame'
  | 'lead-in-the-way'
  | 'flashing'
  | 'battery';

/** A named edit of the document that might help, before anybody has tried it. */
export interface Idea {
  edit: string;
  args: Record<string, unknown>;
  /** The act, without a stop at its end: “Slide 2 east 0.60 m”. */
  act: string;
  /** Whom it touches: “OA only”, “in every angle”; empty where that is plain. */
  scope: string;
  /** What must be fetched for it: “a flag and an arm”. */
  needs?: string;
}

/** An idea that was tried: it ends its trouble or lessens it, and says what it costs. */
export interface Cure extends Idea {
  /** The whole sentence: act, price, what is left, what comes instead. */
  says: string;
  /** What it changes on faces: “key on B −0.1”. */
  price: string[];
  /** What it leaves of its trouble: “1 still shines into the lens”. */
  left?: string;
  /** Troubles it makes: “2 comes into frame”. */
  but: string[];
  /** Keys of all troubles that it ends. */
  ends: string[];
  /** No kit, no face that loses more than a sixth of a stop, no new trouble. */
  free: boolean;
}

interface What {
  kind: TroubleKind;
  lamp?: string;
  /** Mark, spot, circuit, device or part it is about. */
  subject?: string;
  /** 0 a note … 3 must not be. */
  severity: number;
  /** How much of it there is, in its own measure; grows as it gets worse. */
  size: number;
  says: string;
  /** The same in a clause: “2 shines into the lens”. */
  short: string;
  at?: Vec3;
  /** Where it shows on the frame, 0–1 from left and top. */
  frame?: Box;
  /** The crew's word if it is wanted. */
  meant?: string;
}

/** A trouble as it is found, with what might cure it: asked for only when somebody has time to try. */
export interface Found extends What {
  ideas: () => Idea[];
}

export interface Trouble extends What {
  cures: Cure[];
  /** False while its cures are still to be tried. */
  tried: boolean;
}

export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** The same trouble in another reading, or in another angle. */
export const keyOf = (t: { kind: string; lamp?: string; subject?: string }): string =>
  `${t.kind}|${t.lamp ?? ''}|${t.subject ?? ''}`;

/** A trouble without its ideas: as it stands until somebody has tried them. */
export function untried({ ideas: _, ...what }: Found): Trouble {
  return { ...what, cures: [], tried: false };
}

/** Worst first, grouped by lamp: a lamp's troubles stand together where its worst one stands. */
export function inOrder<T extends What>(troubles: readonly T[]): T[] {
  const worst = new Map<string, number>();
  const group = (t: T) => t.lamp ?? `:${t.subject ?? t.kind}`;
  const weight = (t: T) => (t.meant === undefined ? t.severity : -1);
  for (const t of troubles) worst.set(group(t), Math.max(worst.get(group(t)) ?? -2, weight(t)));
  return [...troubles].sort(
    (a, b) =>
      worst.get(group(b))! - worst.get(group(a))! ||
      group(a).localeCompare(group(b)) ||
      weight(b) - weight(a) ||
      a.kind.localeCompare(b.kind),
  );
}

/** Metres as one says them: 0.60 m. */
export const m = (v: number, digits = 2): string => `${v.toFixed(digits)} m`;
/** Stops with sign: +0.7, −0.2. */
export const stops = (v: number): string => `${v >= 0 ? '+' : '−'}${Math.abs(v).toFixed(1)}`;
