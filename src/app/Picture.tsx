/** A small picture as last painted, or the dark where none has come yet. */
import type { PictureSent } from './messages.ts';
import { Canvas } from './Tile.tsx';

export const Picture = (p: { picture: PictureSent | undefined; label: string }) => (
  <span className="little">
    <Canvas picture={p.picture} label={p.label} />
  </span>
);
