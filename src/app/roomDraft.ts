/** One's own room while it is told: a shoot of its own beside the one that is shown, until it is lit. */
import { create } from 'zustand';
import { type StartingRig, startingRigs } from '../scheme/startingRigs.ts';
import { usualAngles } from '../scheme/usualAngles.ts';
import { applyEdits, type Edit } from '../shoot/edits.ts';
import { act, back, drag, drop, type History, leave, newHistory } from '../shoot/history.ts';
import type { Region } from '../shoot/kit.ts';
import { newShoot, SCENE_ID } from '../shoot/newShoot.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { Point } from '../shoot/walls.ts';
import { useStore } from './store.ts';

export type Chosen = { kind: 'opening' | 'socket' | 'furniture' | 'mark' | 'head'; id: string };
export type Tool =
  | 'door'
  | 'window'
  | 'socket'
  | 'person'
  | 'corner'
  | 'room'
  /** The picture under the plan: carried by a drag; two points of it a known length apart. */
  | 'lay'
  | 'known'
  | `thing:${string}`;

interface Room {
  /** `draft`: a new room, the shown shoot stays; `open`: the room of the shoot that is shown. */
  telling: 'draft' | 'open' | undefined;
  history: History | undefined;
  chosen: Chosen | undefined;
  tool: Tool | undefined;
  corners: Point[];
  /** Why something could not be, as a sentence. */
  said: string;
  /** Rigs to choose from, made for this shoot’s room, with what could not be. */
  offered:
    | { rigs: StartingRig[]; not: { words: string; why: string }[]; says: string[]; chosen: number }
    | undefined;
  set: (part: Partial<Room>) => void;
}

export const useRoom = create<Room>((set) => ({
  telling: undefined,
  history: undefined,
  chosen: undefined,
  tool: undefined,
  corners: [],
  said: '',
  offered: undefined,
  set,
}));

/** Where this machine seems to be: for volts, plugs and words, until somebody says otherwise. */
export function regionHere(language = navigator.language): Region {
  if (/-(US|CA|MX)\b/i.test(language)) return 'na';
  if (/-(AU|NZ)\b/i.test(language)) return 'au';
  if (/^ja/i.test(language)) return 'jp';
  if (/-(GB|IE)\b/i.test(language) || language === 'en') return 'uk';
  return 'eu';
}

export function beginRoom(): void {
  const room = useRoom.getState();
  room.set({
    telling: 'draft',
    history: room.history ?? newHistory(newShoot({ region: regionHere() })),
    said: '',
    tool: undefined,
    chosen: undefined,
  });
}

/** How a room is told, wherever its shoot is kept. */
export interface Teller {
  shoot: Shoot;
  scene: string;
  /** What the last step did; undefined: none. */
  last: string | undefined;
  act: (edits: Edit | readonly Edit[]) => boolean;
  drag: (edits: Edit | readonly Edit[]) => void;
  drop: () => void;
  leave: () => void;
  back: () => void;
}

export function useTeller(): Teller | undefined {
  const { telling, history } = useRoom();
  const open = useStore((s) => s.history);
  const scene = useStore((s) => s.scene);
  return tellerOf(telling, history, open, scene);
}

/** The same, of what is told or shown just now. */
export function tellerNow(): Teller | undefined {
  const { telling, history } = useRoom.getState();
  const s = useStore.getState();
  return tellerOf(telling, history, s.history, s.scene);
}

function tellerOf(
  telling: Room['telling'],
  draft: History | undefined,
  open: History | undefined,
  scene: string,
): Teller | undefined {
  const { set } = useRoom.getState();
  if (telling === 'draft' && draft) {
    const attempt = (make: () => History): boolean => {
      try {
        set({ history: make(), said: '' });
        return true;
      } catch (error) {
        set({ said: (error as Error).message });
        return false;
      }
    };
    const now = () => useRoom.getState().history!;
    return {
      shoot: draft.shoot,
      scene: SCENE_ID,
      last: draft.done.at(-1)?.says,
      act: (e) => attempt(() => act(leave(now()), e)),
      drag: (e) => void attempt(() => drag(now(), e)),
      drop: () => void attempt(() => drop(now())),
      leave: () => void attempt(() => leave(now())),
      back: () => void attempt(() => back(now())),
    };
  }
  if (!open) return undefined;
  const s = useStore.getState;
  return {
    shoot: open.shoot,
    scene,
    last: open.done.at(-1)?.says,
    act: (e) => {
      const said = s().act(e);
      set({ said: said ?? '' });
      return said === undefined;
    },
    drag: (e) => s().drag(e, {}),
    drop: () => s().drop(),
    leave: () => s().leave(),
    back: () => s().back(),
  };
}

/** The usual angles where there are none, and rigs to begin with; the first of them is put. */
export function lightIt(teller: Teller): void {
  const { set, telling } = useRoom.getState();
  const { shoot, scene } = teller;
  const angles = Object.keys(shoot.scenes[scene]!.angles).length
    ? { edits: [], says: [] as string[] }
    : usualAngles(shoot, scene);
  const seen = applyEdits(shoot, angles.edits).shoot;
  const made = startingRigs(seen, scene);
  if (Object.keys(seen.scenes[scene]!.angles).length === 0) {
    set({ said: angles.says.join(' ') });
    return;
  }
  const first = made.rigs[0];
  if (!first) {
    set({ said: made.not.map((n) => `${n.words}: ${n.why}`).join(' ') });
    return;
  }
  const edits = [...angles.edits, ...first.edits];
  const offered = { ...made, says: angles.says, chosen: 0 };
  if (telling !== 'draft') {
    if (teller.act(edits)) set({ telling: undefined, tool: undefined, chosen: undefined, offered });
    return;
  }
  try {
    // One history: steps back go on into the telling.
    const history = act(leave(useRoom.getState().history!), edits);
    history.done.at(-1)!.says = `Lit: ${first.words}`;
    useStore.getState().begin(history, { fileName: '', origin: { kind: 'made' } });
    useStore.getState().set({ area: 'light', score: false, planLarge: false });
    set({ telling: undefined, history: undefined, tool: undefined, chosen: undefined, said: '', offered });
  } catch (error) {
    set({ said: (error as Error).message });
  }
}

/** Another of the rigs in place of the one there is. */
export function takeRig(index: number): void {
  const { offered, set } = useRoom.getState();
  const { history, scene, act: does } = useStore.getState();
  const name = offered?.rigs[index]?.name;
  if (!history || !offered || !name) return;
  // Made anew for the shoot as it is now: what was changed since counts.
  const rig = startingRigs(history.shoot, scene).rigs.find((r) => r.name === name) ?? offered.rigs[index]!;
  if (does(rig.edits) === undefined) {
    set({ offered: { ...offered, chosen: index } });
    useStore.getState().set({ line: { words: `${rig.words}.`, back: true, stamp: Date.now() } });
  }
}
