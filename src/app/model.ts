/** What the Light screen shows, worked out by the studio: plain data for the components. */
import type { Drawing } from '../drawing/display.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { Role } from '../readings/roles.ts';
import type { Trouble } from '../scheme/trouble.ts';
import type { RulerMark } from './Ruler.tsx';

export interface Picture {
  width: number;
  height: number;
  /** RGBA, sRGB. */
  pixels: Uint8ClampedArray<ArrayBuffer>;
  /** Counts up with every new picture, so that a canvas knows. */
  stamp: number;
}

export interface AngleView {
  id: string;
  name: string;
  focalMm: number;
  /** Lamps this angle cheats. */
  cheats: { lamp: string; number: string; identity: number }[];
  picture: Picture | undefined;
  /** 'quick', or how far it has settled: noise in stops. */
  state: string;
  /** 0–1 while refining, 1 settled. */
  progress: number;
  ruler: RulerMark[];
  clipStops: number;
  floorStops: number;
  marks: MarkReading[];
  troubles: Trouble[];
}

export interface LampRow {
  id: string;
  identity: number;
  number: string;
  words: string;
  beam: string;
  on: boolean;
  level: number;
  heightM: number;
  /** What it gives alone on the mark it serves best, and the band. */
  gives: string;
  volts: number | undefined;
  cctK: number;
  cells: {
    angle: string;
    role: Role | 'out' | 'flare' | 'seen';
    says: string;
    stops: string;
    cheats: boolean;
    trouble: boolean;
  }[];
}

export interface LightView {
  title: string;
  sceneName: string;
  angles: AngleView[];
  lamps: LampRow[];
  plan: Drawing | undefined;
  supply: Trouble[];
  power: { words: string; verdict: string; level: string }[];
  notChecked: readonly string[];
  settings: { ei: number; stop: number; balance: string; class: 'old-sd' | 'modern'; constant: number };
}
