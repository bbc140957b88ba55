/**
 * What all workers of a pool keep, written down on the pool's side: stages by key, layers by key, lists of layers by
 * number. All workers keep the same, and forget the same, the least lately used first.
 */
import type { TransportScene } from '../transport/scene.ts';
import { STAGE_ARRAYS, type Stage, type StageArray, type ToWorker } from './protocol.ts';

/** Stages kept, lists of layers kept, and bytes a worker may spend on stages, about. */
export const MOST_STAGES = 12;
export const MOST_LISTS = 24;
export const MOST_BYTES = 200e6;

/** A scene as workers know it. */
export interface Held {
  stage: string;
  list: number;
}

interface KeptStage {
  stage: Stage;
  pins: number;
}
interface KeptList {
  keys: string[];
  pins: number;
}

/** Tree of a triangle in a worker, bytes: corners 36, number and pass 8, half a node 28. */
const TREE_BYTES = 72;

export interface Ledger {
  /** Makes sure that workers keep `scene`: what must be sent to each of them for it, in this order. */
  hold(scene: TransportScene): { held: Held; send: ToWorker[]; building: number | undefined };
  /** Keeps a scene from being forgotten, until what this gives is called. */
  pin(held: Held): () => void;
  drop(stage: string): void;
  /** Everything is to be forgotten: the message that says so. */
  clear(): ToWorker;
}

/** `share`: arrays of stages are put in shared memory, once for all workers. `number`: a new number at each call. */
export function ledger(share: boolean, number: () => number): Ledger {
  // Maps keep the order of insertion: first is least lately used.
  const stages = new Map<string, KeptStage>();
  const lists = new Map<number, KeptList>();
  const numberOf = new Map<string, number>();
  const layers = new Set<string>();

  /** Bytes that stages cost a worker: still halves in common count once, shared arrays not at all. */
  function bytes(): number {
    let sum = 0;
    const stillSeen = new Set<string>();
    for (const { stage } of stages.values()) {
      const total = stage.indices.length / 3;
      sum += (total - stage.stillTriangles) * 2 * TREE_BYTES;
      if (!stillSeen.has(stage.stillKey)) sum += stage.stillTriangles * TREE_BYTES;
      stillSeen.add(stage.stillKey);
      if (!share) for (const name of STAGE_ARRAYS) sum += stage[name]?.byteLength ?? 0;
    }
    return sum;
  }

  function holdStage(stage: Stage): { send: ToWorker[]; building: number | undefined } {
    const known = stages.get(stage.key);
    if (known) {
      stages.delete(stage.key);
      stages.set(stage.key, known);
      return { send: [], building: undefined };
    }
    const kin = [...stages.values()].reverse();
    const like = kin.find((k) => k.stage.stillKey === stage.stillKey)?.stage;
    const before = like ?? kin[0]?.stage;
    const kept: Stage = { ...stage, faces: {} };
    for (const name of STAGE_ARRAYS) {
      const array = stage[name];
      if (array) (kept as unknown as Record<string, unknown>)[name] = share ? shared(array) : array;
    }
    const id = number();
    const send: ToWorker[] = [
      {
        kind: 'stage',
        id,
        ...(share ? { stage: kept } : sentOf(kept, like)),
        ...(before && { before: before.key }),
      },
    ];
    stages.set(stage.key, { stage: kept, pins: 0 });
    const gone: string[] = [];
    for (const [key, { pins }] of stages) {
      if (stages.size <= MOST_STAGES && bytes() <= MOST_BYTES) break;
      if (pins > 0 || key === stage.key) continue;
      stages.delete(key);
      gone.push(key);
    }
    if (gone.length > 0) send.push({ kind: 'forget', stages: gone, lists: [], layers: [] });
    return { send, building: id };
  }

  function holdList(scene: TransportScene): { list: number; send: ToWorker[] } {
    const keys = scene.layers.map((layer) => layer.key);
    const name = JSON.stringify(keys);
    const known = numberOf.get(name);
    if (known !== undefined) {
      const kept = lists.get(known)!;
      lists.delete(known);
      lists.set(known, kept);
      return { list: known, send: [] };
    }
    const list = number();
    const send: ToWorker[] = [
      {
        kind: 'list',
        list,
        keys,
        layers: scene.layers.filter((l, i) => !layers.has(l.key) && keys.indexOf(l.key) === i),
      },
    ];
    for (const key of keys) layers.add(key);
    lists.set(list, { keys, pins: 0 });
    numberOf.set(name, list);
    const gone: number[] = [];
    for (const [number, { keys, pins }] of lists) {
      if (lists.size <= MOST_LISTS) break;
      if (pins > 0 || number === list) continue;
      lists.delete(number);
      numberOf.delete(JSON.stringify(keys));
      gone.push(number);
    }
    if (gone.length > 0) {
      const needed = new Set([...lists.values()].flatMap((l) => l.keys));
      const unused = [...layers].filter((key) => !needed.has(key));
      for (const key of unused) layers.delete(key);
      send.push({ kind: 'forget', stages: [], lists: gone, layers: unused });
    }
    return { list, send };
  }

  return {
    hold(scene) {
      const { send, building } = holdStage(scene.stage);
      const { list, send: more } = holdList(scene);
      return { held: { stage: scene.stage.key, list }, send: [...send, ...more], building };
    },
    pin({ stage, list }) {
      const pinned = [stages.get(stage), lists.get(list)];
      for (const kept of pinned) if (kept) kept.pins++;
      return () => {
        for (const kept of pinned) if (kept) kept.pins--;
      };
    },
    drop(stage) {
      stages.delete(stage);
    },
    clear() {
      const all: ToWorker = {
        kind: 'forget',
        stages: [...stages.keys()],
        lists: [...lists.keys()],
        layers: [...layers],
      };
      stages.clear();
      lists.clear();
      numberOf.clear();
      layers.clear();
      return all;
    },
  };
}

type Numbers = NonNullable<Stage[StageArray]>;

/** The same numbers in shared memory. */
function shared<T extends Numbers>(array: T): T {
  if (array.buffer instanceof SharedArrayBuffer) return array;
  const made = new (array.constructor as new (b: SharedArrayBuffer) => T)(
    new SharedArrayBuffer(array.byteLength),
  );
  made.set(array);
  return made;
}

/** The stage as it is sent by copying: without what stands at the front of the same arrays of `like`. */
function sentOf(
  stage: Stage,
  like: Stage | undefined,
): Pick<Extract<ToWorker, { kind: 'stage' }>, 'stage' | 'like'> {
  const sent = { ...stage };
  const same = {} as Record<StageArray, number>;
  for (const name of STAGE_ARRAYS) {
    const array = stage[name];
    same[name] = 0;
    if (!array) continue;
    let n = 0;
    const other = like?.[name];
    if (other) {
      const most = Math.min(array.length, other.length);
      while (n < most && Object.is(array[n], other[n])) n++;
    }
    same[name] = n;
    // Sending a part of an array would send all of the memory it lies in.
    (sent as unknown as Record<string, unknown>)[name] =
      n > 0 || array.byteLength < array.buffer.byteLength ? array.slice(n) : array;
  }
  return like ? { stage: sent, like: { key: like.key, same } } : { stage: sent };
}
