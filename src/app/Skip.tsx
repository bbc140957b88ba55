/** The first thing a key comes to: straight to what is wrong, or else to the rig. */
import { useStore } from './store.ts';
import { countTroubles } from './views.ts';

export function Skip() {
  const n = useStore((s) => countTroubles(s.results));
  const go = () => {
    const to =
      document.querySelector<HTMLElement>('.cure-strip button, .troubles button') ??
      document.querySelector<HTMLElement>('.rig button, .thumb button');
    if (to) return to.focus();
    useStore.getState().set({ panel: 'troubles' });
  };
  return (
    <button type="button" className="skip" onClick={go}>
      {n ? `To what is wrong: ${n}` : 'Nothing is wrong: to the rig'}
    </button>
  );
}
