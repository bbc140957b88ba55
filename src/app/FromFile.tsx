/** A thing drawn elsewhere, out of a file: chosen, then set down by a tap on the plan. */
import { useRef } from 'react';
import { broughtIn, leaveBrought, useBrought } from './bringing.ts';
import { FileInput } from './FileInput.tsx';

export function FromFile(p: { onFreeFloor: () => void }) {
  const input = useRef<HTMLInputElement>(null);
  const waiting = useBrought((s) => s.waiting);
  if (waiting)
    return (
      <span className="from-file">
        <span className="ember-word">Tap where it stands: {waiting.says}.</span>{' '}
        <button type="button" className="tiny" onClick={p.onFreeFloor}>
          on free floor
        </button>
        <button type="button" className="tiny" onClick={leaveBrought}>
          leave it
        </button>
      </span>
    );
  return (
    <span className="from-file">
      <FileInput
        of={input}
        accept=".glb,.gltf,model/gltf-binary,model/gltf+json"
        label="A thing as a glTF file"
        onFile={(file) => void broughtIn(file)}
      />
      <button
        type="button"
        className="tiny"
        title="A thing that was drawn elsewhere: .glb, or a .gltf that holds everything; or drop it on this page"
        onClick={() => input.current?.click()}
      >
        a thing from a file
      </button>
    </span>
  );
}
