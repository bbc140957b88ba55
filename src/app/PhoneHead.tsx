/** The head of a phone's page: the shoot by its name, which opens all that is kept, and the scene. */
import type { Shoot } from '../shoot/schema.ts';
import { DayPress, Mark } from './Bar.tsx';
import { SceneChoice } from './SceneChoice.tsx';
import { useStore } from './store.ts';

export function PhoneHead(p: { shoot: Shoot; scene: string }) {
  const { set } = useStore.getState();
  return (
    <header className="phone-head">
      <h1>
        <button type="button" onClick={() => set({ panel: 'open' })}>
          <span className="aside">Shoot, settings: </span>
          <Mark />
          <em>{p.shoot.title}</em>
        </button>
      </h1>
      <SceneChoice shoot={p.shoot} scene={p.scene} />
      <DayPress scene={p.shoot.scenes[p.scene]!} />
    </header>
  );
}
