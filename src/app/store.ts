/** What the page knows: the shoot with its steps, what is chosen, what the light said last. */
import { create } from 'zustand';
import { applyEdit, type Edit } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import { act, back, drag, drop, forward, type History, leave, newHistory } from '../shoot/history.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { AngleResult, Outlines, PictureSent } from './messages.ts';

export type Panel = 'none' | 'troubles' | 'readings' | 'checks' | 'keys' | 'open';
export interface Cured extends Edit {
  says: string;
}

export interface State {
  fileName: string;
  history: History | undefined;
  readOnly: boolean;
  scene: string;
  /** Sentences: what could not be opened, or is worth saying about what was. */
  said: string[];
  tried: { edit: Cured; shoot: Shoot } | undefined;
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
  day: boolean;
  /** Which area fills the page: an id of `AREAS`. */
  area: string;
  panel: Panel;
  /** The one line after an act. */
  line: { words: string; back: boolean; stamp: number } | undefined;
  /** What was read before the act that the line speaks of. */
  lineFrom: Record<string, AngleResult>;
  results: Record<string, AngleResult>;
  pictures: Record<string, PictureSent>;
  before: Record<string, PictureSent>;
  outlines: Record<string, Outlines>;
  failures: string[];

  open: (text: string, fileName: string) => boolean;
  set: (part: Partial<State>) => void;
  /** One edit, one step; a sentence if it cannot be. */
  act: (edit: Edit) => void;
  drag: (edit: Edit, moving: { lamp?: string }) => void;
  drop: () => void;
  leave: () => void;
  back: () => void;
  forward: () => void;
  try: (cure: Cured | undefined) => void;
  keep: (cure: Cured) => void;
}

let stamp = 0;
const line = (words: string, canGoBack: boolean) => ({ words, back: canGoBack, stamp: ++stamp });

export const useStore = create<State>((set, get) => ({
  fileName: '',
  history: undefined,
  readOnly: false,
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
  day: false,
  area: 'light',
  panel: 'none',
  line: undefined,
  lineFrom: {},
  results: {},
  pictures: {},
  before: {},
  outlines: {},
  failures: [],

  open(text, fileName) {
    const opened = openShoot(text);
    if (!opened.ok) {
      set({ said: opened.message });
      return false;
    }
    const scene = Object.keys(opened.shoot.scenes)[0] ?? '';
    set({
      fileName,
      history: newHistory(opened.shoot),
      readOnly: opened.readOnly,
      scene,
      said: opened.notes,
      tried: undefined,
      steady: undefined,
      angle: Object.keys(opened.shoot.scenes[scene]?.angles ?? {})[0],
      lamp: undefined,
      only: undefined,
      near: false,
      panel: 'none',
      results: {},
      pictures: {},
      before: {},
      outlines: {},
      alone: {},
      failures: [],
    });
    return true;
  },
  set,
  act(edit) {
    const { history, readOnly, pictures, steady, results } = get();
    if (!history) return;
    if (readOnly) return set({ line: line('This shoot is open to read only.', false) });
    try {
      const next = act(leave(history), edit);
      if (next.done.length === history.done.length) return set({ tried: undefined, steady: undefined });
      set({
        history: next,
        tried: undefined,
        steady: undefined,
        before: pictures,
        lineFrom: steady ?? results,
        line: line(`${next.done.at(-1)!.says}.`, true),
      });
    } catch (error) {
      set({ line: line((error as Error).message, false), tried: undefined, steady: undefined });
    }
  },
  drag(edit, { lamp }) {
    const { history, readOnly, pictures, before, results, lineFrom } = get();
    if (!history || readOnly) return;
    try {
      set({
        history: drag(history, edit),
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
      ...(next.done.length > history.done.length ? { line: line(`${next.done.at(-1)!.says}.`, true) } : {}),
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
    const { history, pictures, results } = get();
    if (!history?.done.length) return;
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
    const { history, pictures } = get();
    if (!history?.undone.length) return;
    const says = history.undone.at(-1)!.says;
    set({
      history: forward(history),
      tried: undefined,
      before: pictures,
      line: line(`Again: ${says}.`, true),
    });
  },
  try(cure) {
    const { history, tried, steady, results } = get();
    if (!history || history.held) return;
    if (!cure) {
      // What was read before stands again at once; the workers say the same a moment later.
      if (tried) set({ tried: undefined, steady: undefined, results: steady ?? results });
      return;
    }
    try {
      set({
        tried: { edit: cure, shoot: applyEdit(history.shoot, cure).shoot },
        steady: steady ?? results,
      });
    } catch (error) {
      set({ line: line((error as Error).message, false) });
    }
  },
  keep(cure) {
    get().act({ edit: cure.edit, args: cure.args });
  },
}));

/** The shoot as it is shown: with the cure that is being tried. */
export const shownShoot = (s: State): Shoot | undefined => s.tried?.shoot ?? s.history?.shoot;
export const anglesIn = (shoot: Shoot, scene: string): AngleRef[] =>
  Object.keys(shoot.scenes[scene]?.angles ?? {}).map((angle) => ({ scene, angle }));
