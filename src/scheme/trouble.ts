/** A trouble: what would look unintended or must not be, with its cures as edits in data. */
import type { Vec3 } from '../maths/vec3.ts';

export type TroubleKind =
  | 'lamp-in-frame'
  | 'stand-in-frame'
  | 'flare'
  | 'unattractive-zone'
  | 'clipped'
  | 'under'
  | 'stand-cannot-stand'
  | 'heat-near'
  | 'circuit-over'
  | 'plug-over'
  | 'lead-over'
  | 'long-load'
  | 'power-not-checked'
  | 'keep-off'
  | 'lead-in-the-way'
  | 'flicker'
  | 'flashing'
  | 'battery';

/** A named edit of the document that would help, and what it costs. */
export interface Cure {
  edit: string;
  args: Record<string, unknown>;
  says: string;
}

export interface Trouble {
  kind: TroubleKind;
  lamp?: string;
  /** Mark, spot, circuit, device or part it is about. */
  subject?: string;
  /** 0 a note … 3 must not be. */
  severity: number;
  says: string;
  at?: Vec3;
  /** Where it shows on the frame, 0–1 from left and top. */
  frame?: { left: number; top: number; right: number; bottom: number };
  /** The crew's word if it is wanted. */
  meant?: string;
  cures: Cure[];
}

/** Worst first, grouped by lamp: a lamp's troubles stand together where its worst one stands. */
export function inOrder(troubles: readonly Trouble[]): Trouble[] {
  const worst = new Map<string, number>();
  const group = (t: Trouble) => t.lamp ?? `:${t.subject ?? t.kind}`;
  const weight = (t: Trouble) => (t.meant === undefined ? t.severity : -1);
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
