import { useStore } from './store.ts';

/** Longer than this the keeping does not wait for pictures, milliseconds. */
const PATIENCE_MS = 10_000;

/** When the first pictures are there: fetching the whole program to keep it would take their time. */
const lit = (): Promise<void> =>
  new Promise((resolve) => {
    const there = () => Object.keys(useStore.getState().results).length > 0;
    const stop = useStore.subscribe(() => there() && done());
    const done = () => {
      stop();
      clearTimeout(late);
      resolve();
    };
    const late = setTimeout(done, PATIENCE_MS);
  });

/** Keeps the program in this browser, so that it opens again with no network. Not in the one-file page. */
export function keepOffline(): void {
  if (import.meta.env.MODE === 'onefile' || !('serviceWorker' in navigator)) return;
  void (async () => {
    try {
      await lit();
      const kept = await navigator.serviceWorker.register('./sw.js');
      await kept.update();
    } catch {
      // A private window, or no network just now: the program works all the same.
    }
  })();
  // A page that stayed open over an update may ask for a part that is gone: begin anew, once.
  addEventListener('vite:preloadError', (event) => {
    if (sessionStorage.getItem('begun-anew')) return;
    sessionStorage.setItem('begun-anew', 'yes');
    event.preventDefault();
    location.reload();
  });
}
