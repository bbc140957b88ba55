/** What the page and its workers of light say to each other: plain data, copied. */
import type { WhiteBalance } from '../camera/whitebalance.ts';
import type { Solution } from '../power/solve.ts';
import type { AirReading } from '../readings/airReading.ts';
import type { MeterPoint } from '../readings/meter.ts';
import type { SpotReading } from '../readings/readAngle.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { StandMap } from '../readings/standMap.ts';
import type { EarnedInAngle } from '../scheme/earns.ts';
import type { MatchRead, Tolerance } from '../scheme/match.ts';
import type { Neared } from '../scheme/matchCures.ts';
import type { Cure, Trouble } from '../scheme/trouble.ts';
import type { LampWeight } from '../setup/angle.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { RayCount } from '../transport/tracer.ts';

/** What is to be shown, whole; a worker finds out by content what of it is new. */
export interface Wanted {
  /** Counts up; answers carry it. */
  turn: number;
  shoot: Shoot;
  /** Angles this worker looks after, the one that matters most first. */
  angles: AngleRef[];
  /** Every angle was seen before, as it is now: no glimpse is needed. */
  seen?: boolean;
  /** Pixels of a settled picture by angle id. */
  sizes: Record<string, { width: number; height: number }>;
  /** Set while a hand moves this lamp. */
  moving: string | undefined;
  /** A hand moves something else: the smallest picture first, nothing refined. */
  busy: boolean;
  /** Pictures as stops in our ramp. */
  stops: boolean;
  /** Daylight about the screen: pictures half a stop up. */
  day: boolean;
  /** A cure is only pointed at: what it shows is not worked on any further. */
  trying: boolean;
  /** Each lamp alone too, small. */
  score: boolean;
  /** Each lamp struck in turn, and what is lost. */
  earns: boolean;
  /** Only this lamp burns in the pictures. */
  only: string | undefined;
  /** Where this mark could stand, as this angle has it. */
  stand?: { mark: string; angle: string } | undefined;
  /** The cut into this angle is looked at: what it is cut from as read, what may differ, a word that comes back. */
  match?: { angle: string; wide: MatchRead; tolerance: Tolerance; key: string } | undefined;
}

/** What workers build between them, before anything is shown of it. */
export interface Expected {
  shoot: Shoot;
  /** The angle each of them looks after first. */
  firsts: AngleRef[];
  /** Which of them this one is. */
  own: number;
  /** So many of them, the first, build; the others are given what those built. */
  builders: number;
}

export type ToLight =
  /** Bytes, or the address they are read from. */
  | { kind: 'people'; bytes: Uint8Array<ArrayBuffer> | string }
  /** `ports`: to each of the workers; none to itself. */
  | { kind: 'expect'; expected: Expected; ports: (MessagePort | undefined)[] }
  | { kind: 'show'; wanted: Wanted };

/** Everything read in one angle. */
export interface AngleResult {
  ref: AngleRef;
  marks: MarkReading[];
  /** Marks whose face this angle sees. */
  facesSeen: string[];
  spots: SpotReading[];
  /** What each lamp gives at every meter, as expected before any reading. */
  meters: MeterPoint[];
  lamps: LampWeight[];
  /** Stops over grey that each lamp's own luminous face shows, where it is in frame. */
  glowStops: Record<string, number>;
  supply: Solution;
  exposure: { eRefLx: number; stop: number; clipStops: number; floorStops: number };
  balance: Pick<WhiteBalance, 'cctK' | 'duv' | 'clamped' | 'matrix'>;
  /** Linear XYZ white of each lamp's layers, for the colour its wedge has on the plan. */
  whites: Record<string, [number, number, number]>;
  /** What haze, rain or snow shows, once there is a picture; absent: clear air. */
  air?: AirReading;
  troubles: Trouble[];
  /** Cures of this angle that cost nothing and go together. */
  free: Cure[];
  savingStop: number;
  quick: boolean;
  noiseStops: number;
  notes: string[];
}

export interface PictureSent {
  angle: string;
  width: number;
  height: number;
  pixels: Uint8ClampedArray<ArrayBuffer>;
  state: string;
  /** 0–1; 1: settled. */
  progress: number;
}

/** Things from above, by part of the stage; `at`: where the person stood. */
export type Outlines = Record<
  string,
  { loops: (readonly [number, number])[][]; at: readonly [number, number] }
>;

export type FromLight =
  | { kind: 'earned'; turn: number; angle: string; earned: EarnedInAngle[] }
  | { kind: 'alone'; turn: number; lamp: string; picture: PictureSent }
  | { kind: 'outlines'; turn: number; angle: string; outlines: Outlines }
  | { kind: 'stands'; turn: number; angle: string; mark: string; map: StandMap | undefined }
  | { kind: 'matched'; turn: number; angle: string; key: string; found: Neared[] }
  | { kind: 'ready' }
  | { kind: 'read'; turn: number; result: AngleResult; rays: RayCount }
  | { kind: 'picture'; turn: number; picture: PictureSent; rays: RayCount }
  | { kind: 'done'; turn: number; rays: RayCount }
  | { kind: 'failed'; turn: number; angle: string; words: string };
