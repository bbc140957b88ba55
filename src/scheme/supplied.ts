/** A scene's supply with its rig plugged in, solved: for one angle with its cheats, or for the rig as it stands. */
import { cautions } from '../power/caution.ts';
import { type Solution, solve } from '../power/solve.ts';
import { kindOf, loadOf } from '../setup/lamps.ts';
import { networkOf } from '../setup/network.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';

export interface Supplied {
  solution: Solution;
  cautions: readonly string[];
  /** Lamps that could not be counted, in words. */
  uncounted: readonly string[];
}

export function suppliedOf(shoot: Shoot, at: { scene: string; angle: string | undefined }): Supplied {
  const scene = shoot.scenes[at.scene]!;
  const lamps =
    at.angle === undefined ? scene.rig.lamps : rigFor(shoot, { scene: at.scene, angle: at.angle }).lamps;
  const uncounted: string[] = [];
  const network = networkOf(shoot.places[scene.place]!, shoot.kit, lamps, scene.rig.multiways, (id) => {
    const lamp = lamps[id]!;
    const head = shoot.kit.lamps[lamp.head];
    const kind = kindOf(head);
    if (head && kind) return loadOf(lamp, head, kind);
    uncounted.push(
      `lamp ${lamp.number} (${lamp.head}): of no kind that is known, so its watts are not counted`,
    );
    return undefined;
  });
  return { solution: solve(network), cautions: cautions(network), uncounted };
}
