/** A bar on standard error while something long is computed; nothing at all where nobody watches. */

/** What a bar writes to. */
export interface Watched {
  isTTY?: boolean;
  columns?: number;
  write(text: string): unknown;
}

/** Told how far it is (share 0–1) and with what. `end` clears the line. */
export interface Progress {
  at(share: number, words?: string): void;
  end(): void;
}

const CELLS = 24;

/** A bar with these words before it. Written only when it would look different. */
export function progress(words: string, out: Watched = process.stderr): Progress {
  if (!out.isTTY) return { at: () => {}, end: () => {} };
  let shown = '';
  return {
    at(share, more = '') {
      const full = Math.round(Math.min(1, Math.max(0, share)) * CELLS);
      const text = `${words} ${'━'.repeat(full)}${'·'.repeat(CELLS - full)} ${more}`.slice(
        0,
        (out.columns ?? 80) - 1,
      );
      if (text === shown) return;
      shown = text;
      out.write(`\r\x1b[K${text}`);
    },
    end() {
      if (shown) out.write('\r\x1b[K');
      shown = '';
    },
  };
}
