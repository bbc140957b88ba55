/** A kind of furniture told whole in its own file: name, ordinary size, body. */
import type { Vec3 } from '../../maths/vec3.ts';
import type { Builder } from './work.ts';

export interface Piece {
  kind: string;
  /** Width (local x), depth (local y), height of an ordinary one, metres; common practice where no source is told. */
  sizeM: Vec3;
  /** What may stand out of its box, metres: handles, leaves, a fall of cloth. */
  outM?: number;
  /** Widest patch where it stands outside only, metres; absent: 0.3, as indoors. */
  patchM?: number;
  build: Builder;
}
