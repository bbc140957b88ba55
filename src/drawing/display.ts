/** A drawing as a list of marks in metres (x east, y north), for screen and paper alike. No DOM. */
export type Point = readonly [number, number];

/** What a mark is of, so that a pointer can find it and a voice can say it. */
export interface Ref {
  kind:
    | 'lamp'
    | 'aim'
    /** An edge of a lamp's wedge, the wedge itself, the figure of its height, its place in the rig while an angle cheats it. */
    | 'beam'
    | 'wedge'
    | 'height'
    | 'rigPlace'
    | 'camera'
    /** What a camera looks at; an edge of what its lens sees. */
    | 'look'
    | 'lens'
    | 'mark'
    | 'facing'
    | 'flag'
    | 'socket'
    | 'furniture'
    | 'wall'
    | 'opening'
    | 'rigging';
  id: string;
}

/**
 * Named weights and tones; a painter gives them pixels or millimetres and a colour by mode.
 * `lamp:N` takes the identity of lamp number N (colour and line pattern together).
 */
export type Tone =
  | 'wall'
  | 'furniture'
  | 'faint'
  | 'glass'
  | 'person'
  | 'camera'
  | 'seen'
  | 'outside'
  | 'rigging'
  | 'socket'
  | 'lead'
  | 'flag'
  | 'trouble'
  | 'ghost'
  | `lamp:${number}`
  | `beam:${number}`;

export type DrawMark =
  | {
      kind: 'area';
      points: Point[];
      tone: Tone;
      outline?: Tone;
      ref?: Ref;
      colour?: string;
      opacity?: number;
    }
  | {
      kind: 'line';
      points: Point[];
      tone: Tone;
      weight: 'heavy' | 'medium' | 'light' | 'hair';
      dash?: 'dash' | 'dot' | 'dashdot';
      ref?: Ref;
    }
  | {
      kind: 'circle';
      centre: Point;
      radiusM: number;
      tone: Tone;
      fill?: boolean;
      dash?: 'dash' | 'dot';
      ref?: Ref;
    }
  | {
      kind: 'words';
      at: Point;
      text: string;
      tone: Tone;
      size: 'number' | 'label' | 'small';
      anchor: 'start' | 'middle' | 'end';
      dx?: number;
      dy?: number;
      /** May stand on any side of `at`, so many metres clear of it; words of one thing stay together. */
      clearM?: number;
      ref?: Ref;
    };

export interface Drawing {
  marks: DrawMark[];
  /** Smallest rectangle that holds everything, metres. */
  bounds: { x0: number; y0: number; x1: number; y1: number };
}

/** Bounds of all marks' points. */
export function boundsOf(marks: readonly DrawMark[]): Drawing['bounds'] {
  const b = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  const take = ([x, y]: Point, r = 0) => {
    b.x0 = Math.min(b.x0, x - r);
    b.y0 = Math.min(b.y0, y - r);
    b.x1 = Math.max(b.x1, x + r);
    b.y1 = Math.max(b.y1, y + r);
  };
  for (const m of marks) {
    if (m.kind === 'circle') take(m.centre, m.radiusM);
    else if (m.kind === 'words') take(m.at);
    else for (const p of m.points) take(p);
  }
  return b;
}
