/** Which scene of the shoot is looked at: its name, or a choice where there are several. */
import type { Shoot } from '../shoot/schema.ts';
import { useStore } from './store.ts';

export function SceneChoice(p: { shoot: Shoot; scene: string }) {
  const { set } = useStore.getState();
  const scene = p.shoot.scenes[p.scene]!;
  return Object.keys(p.shoot.scenes).length > 1 ? (
    <select
      className="scene"
      aria-label="Scene"
      value={p.scene}
      onChange={(e) =>
        set({
          scene: e.target.value,
          angle: Object.keys(p.shoot.scenes[e.target.value]!.angles)[0],
          lamp: undefined,
          only: undefined,
          results: {},
          pictures: {},
          before: {},
          outlines: {},
          alone: {},
        })
      }
    >
      {Object.entries(p.shoot.scenes).map(([id, s]) => (
        <option key={id} value={id}>
          {s.name}
        </option>
      ))}
    </select>
  ) : (
    <span className="quiet scene">{scene.name}</span>
  );
}
