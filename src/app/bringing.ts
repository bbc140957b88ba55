/** Files that are no shoots but belong into the one that is open: a picture for under its plan, a thing to stand in it. */
import { create } from 'zustand';
import { freeId, standing } from '../shoot/tell.ts';
import { lengthFigure, lengthUnit, unitsOf } from '../shoot/units.ts';
import { looksLikeShape, readShape } from './bringShape.ts';
import { looksLikePicture } from './readPicture.ts';
import { refuse } from './refused.ts';
import { type Teller, tellerNow } from './roomDraft.ts';
import { useStore } from './store.ts';
import { layPicture } from './UnderPicture.tsx';

type Read = Exclude<Awaited<ReturnType<typeof readShape>>, string[]>;

/** A thing that was read and waits for the tap where it stands. */
export const useBrought = create<{ waiting: (Read & { says: string }) | undefined }>(() => ({
  waiting: undefined,
}));
export const leaveBrought = (): void => useBrought.setState({ waiting: undefined });

/** True: it was such a file, and is dealt with. */
export async function broughtIn(file: File, at?: { x: number; y: number }): Promise<boolean> {
  const picture = looksLikePicture(file);
  if (!picture && !looksLikeShape(file)) return false;
  const t = tellerNow();
  if (!t) {
    refuse({ words: [`“${file.name}” is no shoot, and none is open to bring it into.`], at });
    return true;
  }
  if (picture) {
    const place = t.shoot.scenes[t.scene]!.place;
    await layPicture(file, place, t.shoot.places[place]!.outline, t.act, at);
    return true;
  }
  const slow = setTimeout(() => refuse({ words: [`Reading ${file.name} …`], at, busy: true }), 300);
  let read: Awaited<ReturnType<typeof readShape>>;
  try {
    read = await readShape(file);
  } catch (error) {
    read = [`“${file.name}” could not be read: ${(error as Error).message}.`, 'Nothing was changed.'];
  }
  clearTimeout(slow);
  if (Array.isArray(read)) {
    refuse({ words: read, at });
    return true;
  }
  refuse(undefined);
  const units = unitsOf(t.shoot, t.scene);
  const size = read.furniture.sizeM.map((v) => lengthFigure(v, units)).join(' × ');
  useBrought.setState({
    waiting: { ...read, says: `${read.furniture.words}, ${size} ${lengthUnit(units)}`.trim() },
  });
  return true;
}

/** Sets the waiting thing down; its id. */
export function setDown(t: Pick<Teller, 'shoot' | 'scene'> & { act: Act }, to: readonly [number, number]) {
  const { waiting } = useBrought.getState();
  if (!waiting) return undefined;
  const place = t.shoot.scenes[t.scene]!.place;
  const things = t.shoot.places[place]!.furniture;
  const id = freeId(things, 'brought');
  // As any thing: near a wall it stands against it and looks into the room. Its front is local −y (`gltfShape.ts`).
  const { sizeM, finish } = waiting.furniture;
  const like = { id, kind: 'shape', words: '', found: [], sizeM, finish, front: '-y' as const };
  const { at, turnDeg } = standing(t.shoot.places[place]!, like, [to[0], to[1]]);
  const furniture = {
    ...waiting.furniture,
    at: [+at[0].toFixed(3), +at[1].toFixed(3), 0] as [number, number, number],
    ...(turnDeg ? { turnDeg: +turnDeg.toFixed(1) } : {}),
  };
  const said = t.act({ edit: 'setFurniture', args: { place, id, furniture } });
  if (said === false || typeof said === 'string') return undefined;
  leaveBrought();
  if (waiting.notes.length)
    useStore.setState({
      line: { words: `${waiting.says}. ${waiting.notes.join(' ')}`, back: true, stamp: Date.now() },
    });
  return id;
}
type Act = (edit: { edit: string; args: Record<string, unknown> }) => unknown;
