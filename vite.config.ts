/**
 * Two builds of one program.
 * - plain: a static folder, hashed files, workers as files; what the little server hands out.
 * - `--mode onefile`: one script, `onefile.js`, that holds everything: workers as blobs, style, fonts and data
 *   inside, no import left. `src/book/onePage.ts` wraps it in a page that opens by double-click.
 */
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';

const here = import.meta.dirname;

/** In one file a worker cannot be a file of its own: `?worker` is read as `?worker&inline`. */
const workersInside = (): Plugin => ({
  name: 'rushlight:workers-inside',
  enforce: 'pre',
  transform(code, id) {
    if (!/\.tsx?$/.test(id) || !code.includes('?worker')) return null;
    return { code: code.replace(/\?worker(['"])/g, '?worker&inline$1'), map: null };
  },
});

/** Puts the style sheet into the script, and refuses anything else that would need a second file. */
const styleInside = (): Plugin => ({
  name: 'rushlight:style-inside',
  enforce: 'post',
  generateBundle(_options, bundle) {
    const files = Object.values(bundle);
    const style = files.flatMap((f) => (f.type === 'asset' && f.fileName.endsWith('.css') ? [f] : []));
    const script = files.find((f) => f.type === 'chunk' && f.isEntry);
    if (script?.type !== 'chunk') this.error('one file: no script came out');
    const css = style.map((s) => s.source.toString()).join('\n');
    if (css)
      script.code = `{const s=document.createElement('style');s.textContent=${JSON.stringify(css)};document.head.append(s);}\n${script.code}`;
    for (const s of style) delete bundle[s.fileName];
    const left = Object.keys(bundle).filter((name) => name !== script.fileName);
    if (left.length) this.error(`one file: these would be left outside: ${left.join(', ')}`);
  },
});

/** Writes sw.js with the list of what to keep and a name that changes with it. */
const serviceWorker = (): Plugin => ({
  name: 'rushlight:service-worker',
  enforce: 'post',
  async generateBundle(_options, bundle) {
    const names = Object.keys(bundle).filter((name) => name !== 'index.html');
    const page = bundle['index.html'];
    const hash = createHash('sha256').update(names.sort().join('\n'));
    if (page?.type === 'asset') hash.update(page.source);
    const files = ['./', ...names.map((name) => `./${name}`)];
    const source = (await readFile(resolve(here, 'src/app/offline.js'), 'utf8'))
      .replace('__NAME__', hash.digest('hex').slice(0, 16))
      .replace("['__FILES__']", JSON.stringify(files));
    this.emitFile({ type: 'asset', fileName: 'sw.js', source });
  },
});

export default defineConfig(({ mode, command }) => {
  const onefile = mode === 'onefile';
  return {
    root: resolve(here, 'src/app'),
    base: './',
    publicDir: false,
    plugins: onefile ? [react(), workersInside(), styleInside()] : [react(), serviceWorker()],
    define: command === 'build' ? { 'process.env.NODE_ENV': '"production"' } : {},
    server: {
      host: '127.0.0.1',
      port: 4590,
      fs: { allow: [here] },
      headers: {
        'Cross-Origin-Opener-Policy': 'same-origin',
        'Cross-Origin-Embedder-Policy': 'require-corp',
      },
    },
    worker: { format: onefile ? 'iife' : 'es' },
    build: {
      outDir: resolve(here, 'dist'),
      emptyOutDir: !onefile,
      target: 'es2023',
      modulePreload: { polyfill: false },
      assetsInlineLimit: onefile ? Number.POSITIVE_INFINITY : 0,
      cssCodeSplit: !onefile,
      chunkSizeWarningLimit: 4000,
      reportCompressedSize: false,
      ...(onefile && {
        rolldownOptions: {
          input: resolve(here, 'src/app/main.tsx'),
          output: { entryFileNames: 'onefile.js', codeSplitting: false },
        },
      }),
    },
  };
});
