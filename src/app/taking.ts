/** What may come to the page from outside at any time: a file dropped, a text pasted, the keys to save and to open. */
import { useEffect } from 'react';
import { openFile, openText } from './opening.ts';
import { refuse } from './refused.ts';
import { saveAsFile } from './saving.ts';

/** Where a drop or a paste belongs to something else on the page. */
const typedIn = (target: EventTarget | null) =>
  target instanceof HTMLElement && target.closest('input, textarea, [contenteditable]') !== null;

interface Handed extends DataTransferItem {
  getAsFileSystemHandle?: () => Promise<FileSystemHandle | null>;
}

export function useTaking(): void {
  useEffect(() => {
    const over = (e: DragEvent) => {
      if (!typedIn(e.target) || e.dataTransfer?.types.includes('Files')) e.preventDefault();
    };
    const dropped = (e: DragEvent) => {
      const files = [...(e.dataTransfer?.files ?? [])];
      const text = e.dataTransfer?.getData('text/plain') ?? '';
      if (files.length === 0 && typedIn(e.target)) return;
      e.preventDefault();
      const at = { x: e.clientX, y: e.clientY };
      const [item] = [...(e.dataTransfer?.items ?? [])].filter((i) => i.kind === 'file') as Handed[];
      if (files.length > 1)
        return refuse({
          words: [
            `${files.length} files were dropped; one shoot can be open here.`,
            'Drop one. Nothing was changed.',
          ],
          at,
        });
      if (item?.webkitGetAsEntry?.()?.isDirectory)
        return refuse({
          words: [
            `“${files[0]?.name}” is a folder.`,
            'Drop the shoot’s file that lies in it. Nothing was changed.',
          ],
          at,
        });
      const [file] = files;
      if (!file) {
        if (text) return void openText(text, at);
        return refuse({
          words: ['What was dropped is no file.', 'Drop a shoot’s file. Nothing was changed.'],
          at,
        });
      }
      const found = item?.getAsFileSystemHandle?.().catch(() => null) ?? Promise.resolve(null);
      void found.then((handle) =>
        openFile(
          file,
          at,
          handle?.kind === 'file' && file.name.endsWith('.json')
            ? (handle as FileSystemFileHandle)
            : undefined,
        ),
      );
    };
    const pasted = (e: ClipboardEvent) => {
      if (typedIn(e.target)) return;
      const [file] = [...(e.clipboardData?.files ?? [])];
      const text = e.clipboardData?.getData('text/plain') ?? '';
      if (!file && !text) return;
      e.preventDefault();
      void (file ? openFile(file) : openText(text));
    };
    const key = (e: KeyboardEvent) => {
      if (!(e.ctrlKey || e.metaKey) || e.altKey || e.code !== 'KeyS') return;
      e.preventDefault();
      if (!e.repeat) void saveAsFile({ another: e.shiftKey });
    };
    addEventListener('dragover', over);
    addEventListener('drop', dropped);
    addEventListener('paste', pasted);
    addEventListener('keydown', key);
    return () => {
      removeEventListener('dragover', over);
      removeEventListener('drop', dropped);
      removeEventListener('paste', pasted);
      removeEventListener('keydown', key);
    };
  }, []);
}
