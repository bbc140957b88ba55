/** A file asked for: the field that no eye needs to see; a button beside it clicks it. */
import type { RefObject } from 'react';

export const FileInput = (p: {
  of: RefObject<HTMLInputElement | null>;
  accept: string;
  label: string;
  onFile: (file: File) => void;
}) => (
  <input
    ref={p.of}
    type="file"
    hidden
    accept={p.accept}
    aria-label={p.label}
    onChange={(e) => {
      const [file] = [...(e.target.files ?? [])];
      // The same file may be asked for again.
      e.target.value = '';
      if (file) p.onFile(file);
    }}
  />
);
