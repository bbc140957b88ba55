/** What stands about the screen: a dark set, or daylight. Keys do the same; a finger has only this. */
import { useStore } from './store.ts';

export function ScreenChoice() {
  const day = useStore((s) => s.day);
  const { set } = useStore.getState();
  return (
    <fieldset className="screen-choice">
      <legend className="quiet">The screen, in</legend>
      <button type="button" className="boxed" aria-pressed={!day} onClick={() => set({ day: false })}>
        a dark set
      </button>
      <button type="button" className="boxed" aria-pressed={day} onClick={() => set({ day: true })}>
        daylight <kbd>D</kbd>
      </button>
      <button type="button" className="quiet" onClick={() => set({ panel: 'checks' })}>
        checks against published values
      </button>
    </fieldset>
  );
}
