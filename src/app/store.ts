/** What the page knows: the shoot with its steps, what is chosen, what the light said last. */
import { create } from 'zustand';
import type { ReadBy } from '../camera/meter.ts';
import type { EarnedInAngle } from '../scheme/earns.ts';
import type { Neared } from '../scheme/matchCures.ts';
import { applyEdits, type Edit } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import { act, back, drag, drop, forward, type History, leave, newHistory } from '../shoot/history.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { Stands } from './lights.ts';
import type { AngleResult, Outlines, PictureSent, Wanted } from './messages.ts';

export type Panel = 'none' | 'troubles' | 'readings' | 'checks' | 'keys' | 'open' | 'meter' | 'earns' | 'day';
/** Where a meter is held in the chosen angle, and which lamps burn; no lamps: all that burn. */
export interface MeterAt {
  mark?: string;
  spot?: string;
  toward: string;
  lamps: string[];
}

/** What is tried by pointing and kept by a press: some edits as one step. */
export interface Wish {
  says: string;
  edits: readonly Edit[];
}

/** Where the shoot that is open came from. A new one for every opening. */
export interface Origin {
  kind: 'demo' | 'file' | 'page' | 'shelf' | 'made';
  /** The text it was read from. */
  text?: string;
  /** Of a kept shoot: its id. */
  id?: string;
}

export interface State {
  fileName: string;
  history: History | undefined;
  origin: Origin | undefined;
  readOnly: boolean;
  /** Why it may only be read, as a sentence. */
  onlyRead: string;
  scene: string;
  /** Sentences: what could not be opened, or is worth saying about what was. */
  said: string[];
  tried: (Wish & { shoot: Shoot }) | undefined;
  /** What was read before the cure that is being tried: its sentences stand still under the pointer. */
  steady: Record<string, AngleResult> | undefined;
  angle: string | undefined;
  lamp: string | undefined;
  /** Whom an edit of the chosen lamp on the plan touches. */
  scope: 'rig' | 'angle';
  moving: string | undefined;
  busy: boolean;
  only: string | undefined;
  stops: boolean;
  was: boolean;
  near: boolean;
  planLarge: boolean;
  /** The rig grown into a matrix: each lamp alone in each angle. */
  score: boolean;
  /** By `lamp/angle`. */
  alone: Record<string, PictureSent>;
  /** By angle: what each lamp earns there. */
  earned: Record<string, EarnedInAngle[]>;
  day: boolean;
  /** Which area fills the page: an id of `AREAS`. */
  area: string;
  panel: Panel;
  meter: MeterAt | undefined;
  /** The mark of which the plan shows where it could stand. */
  stand: string | undefined;
  stands: Stands | undefined;
  /** The cut that is looked at, and what was tried for it. */
  match: Wanted['match'];
  matched: { key: string; found: Neared[] } | undefined;
  /** How readings are made: the way last used. */
  readBy: ReadBy;
  /** The one line after an act. */
  line: { words: string; back: boolean; stamp: number } | undefined;
  /** What was read before the act that the line speaks of. */
  lineFrom: Record<string, AngleResult>;
  results: Record<string, AngleResult>;
  pictures: Record<string, PictureSent>;
  before: Record<string, PictureSent>;
  outlines: Record<string, Outlines>;
  failures: string[];

  open: (text: string, fileName: string, kind?: Origin['kind']) => boolean;
  /** Shows a shoot that was read already. */
  begin: (history: History, about: About) => void;
  /** The same shoot, as another window changed it. */
  follow: (history: History) => void;
  set: (part: Partial<State>) => void;
  /** One edit, or several together, one step; says in a sentence why it cannot be, if it cannot. */
  act: (edit: Edit | readonly Edit[]) => string | undefined;
  /** Edits of the shoot as it was when the drag began; one step when it is dropped. */
  drag: (edits: Edit | readonly Edit[], moving: { lamp?: string }) => void;
  drop: () => void;
  leave: () => void;
  back: () => void;
  forward: () => void;
  try: (wish: Wish | undefined) => void;
  keep: (wish: Wish) => void;
}

export interface About {
  fileName: string;
  origin: Origin;
  readOnly?: boolean;
  notes?: string[];
  scene?: string;
}

const NEWER = 'This shoot is open to read only.';
let stamp = 0;
const line = (words: string, canGoBack: boolean) => ({ words, back: canGoBack, stamp: ++stamp });

export const useStore = create<State>((set, get) => ({
  fileName: '',
  history: undefined,
  origin: undefined,
  readOnly: false,
  onlyRead: NEWER,
  scene: '',
  said: [],
  tried: undefined,
  steady: undefined,
  angle: undefined,
  lamp: undefined,
  scope: 'rig',
  moving: undefined,
  busy: false,
  only: undefined,
  stops: false,
  was: false,
  near: false,
  planLarge: false,
  score: false,
  alone: {},
  earned: {},
  day: false,
  area: 'light',
  panel: 'none',
  meter: undefined,
  stand: undefined,
  stands: undefined,
  match: undefined,
  matched: undefined,
  readBy: 'stop',
  line: undefined,
  lineFrom: {},
  results: {},
  pictures: {},
  before: {},
  outlines: {},
  failures: [],

  open(text, fileName, kind = 'made') {
    const opened = openShoot(text);
    if (!opened.ok) {
      set({ said: opened.message });
      return false;
    }
    const { shoot, readOnly, notes } = opened;
    get().begin(newHistory(shoot), { fileName, origin: { kind, text }, readOnly, notes });
    return true;
  },
  begin(history, { fileName, origin, readOnly = false, notes = [], scene: wanted = '' }) {
    const { scenes } = history.shoot;
    const scene = Object.hasOwn(scenes, wanted) ? wanted : (Object.keys(scenes)[0] ?? '');
    set({
      fileName,
      history,
      origin,
      readOnly,
      onlyRead: NEWER,
      scene,
      said: notes,
      tried: undefined,
      steady: undefined,
      angle: Object.keys(scenes[scene]?.angles ?? {})[0],
      lamp: undefined,
      moving: undefined,
      busy: false,
      only: undefined,
      near: false,
      panel: 'none',
      line: undefined,
      meter: undefined,
      stand: undefined,
      stands: undefined,
      results: {},
      pictures: {},
      before: {},
      outlines: {},
      alone: {},
      earned: {},
      failures: [],
    });
  },
  follow(history) {
    const { scene, angle, lamp } = get();
    const now = history.shoot.scenes[scene] ? scene : (Object.keys(history.shoot.scenes)[0] ?? '');
    const there = history.shoot.scenes[now];
    set({
      history,
      tried: undefined,
      steady: undefined,
      scene: now,
      angle: angle && there?.angles[angle] ? angle : Object.keys(there?.angles ?? {})[0],
      lamp: lamp && there?.rig.lamps[lamp] ? lamp : undefined,
    });
  },
  set,
  act(edit) {
    const { history, readOnly, onlyRead, pictures, steady, results } = get();
    if (!history) return undefined;
    if (readOnly) {
      set({ line: line(onlyRead, false), tried: undefined, steady: undefined });
      return onlyRead;
    }
    try {
      const next = act(leave(history), edit);
      if (next.done === history.done) {
        set({ tried: undefined, steady: undefined });
        return undefined;
      }
      set({
        history: next,
        tried: undefined,
        steady: undefined,
        before: pictures,
        lineFrom: steady ?? results,
        line: line(`${next.done.at(-1)!.says}.`, true),
      });
      return undefined;
    } catch (error) {
      const { message } = error as Error;
      set({ line: line(message, false), tried: undefined, steady: undefined });
      return message;
    }
  },
  drag(edits, { lamp }) {
    const { history, readOnly, onlyRead, pictures, before, results, lineFrom } = get();
    if (!history) return;
    if (readOnly) return set({ line: line(onlyRead, false) });
    try {
      set({
        history: drag(history, edits),
        tried: undefined,
        before: history.held ? before : pictures,
        lineFrom: history.held ? lineFrom : results,
        moving: lamp,
        busy: true,
      });
    } catch (error) {
      set({ line: line((error as Error).message, false) });
    }
  },
  drop() {
    const { history } = get();
    if (!history) return;
    const next = drop(history);
    set({
      history: next,
      moving: undefined,
      busy: false,
      ...(next.done !== history.done ? { line: line(`${next.done.at(-1)!.says}.`, true) } : {}),
    });
  },
  leave() {
    const { history, steady, results } = get();
    set({
      ...(history ? { history: leave(history) } : {}),
      moving: undefined,
      busy: false,
      tried: undefined,
      steady: undefined,
      results: steady ?? results,
    });
  },
  back() {
    const { history, readOnly, onlyRead, pictures, results } = get();
    if (!history?.done.length) return;
    if (readOnly) return set({ line: line(onlyRead, false) });
    const says = history.done.at(-1)!.says;
    set({
      history: back(history),
      tried: undefined,
      before: pictures,
      lineFrom: results,
      line: line(`Back: ${says}.`, false),
    });
  },
  forward() {
    const { history, readOnly, onlyRead, pictures } = get();
    if (!history?.undone.length) return;
    if (readOnly) return set({ line: line(onlyRead, false) });
    const says = history.undone.at(-1)!.says;
    set({
      history: forward(history),
      tried: undefined,
      before: pictures,
      line: line(`Again: ${says}.`, true),
    });
  },
  try(wish) {
    const { history, tried, steady, results } = get();
    if (!history || history.held) return;
    if (!wish) {
      // What was read before stands again at once; the workers say the same a moment later.
      if (tried) set({ tried: undefined, steady: undefined, results: steady ?? results });
      return;
    }
    if (tried && JSON.stringify(tried.edits) === JSON.stringify(wish.edits)) return;
    try {
      set({
        tried: { ...wish, shoot: applyEdits(history.shoot, wish.edits).shoot },
        steady: steady ?? results,
      });
    } catch (error) {
      set({ line: line((error as Error).message, false) });
    }
  },
  keep(wish) {
    get().act(wish.edits);
  },
}));

/** The shoot as it is shown: with the cure that is being tried. */
export const shownShoot = (s: State): Shoot | undefined => s.tried?.shoot ?? s.history?.shoot;
export const anglesIn = (shoot: Shoot, scene: string): AngleRef[] =>
  Object.keys(shoot.scenes[scene]?.angles ?? {}).map((angle) => ({ scene, angle }));
