import { useStore } from './store.ts';

export function Panel(p: { title: string; children: React.ReactNode }) {
  const set = useStore((s) => s.set);
  return (
    <aside className="panel" aria-label={p.title}>
      <header>
        <h2>{p.title}</h2>
        <button type="button" className="end quiet" onClick={() => set({ panel: 'none' })}>
          shut <kbd>Esc</kbd>
        </button>
      </header>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a list longer than the page is scrolled by keys as well */}
      <div className="panel-body" tabIndex={0}>
        {p.children}
      </div>
    </aside>
  );
}
