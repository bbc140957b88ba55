/**
 * The stage: everything that stands in the place, as triangles with materials and patches, in metres,
 * x east, y north, z up. It knows no lamp's light, only bodies.
 */
import type { Spectrum } from '../colour/spectrum.ts';
import type { Vec3 } from '../maths/vec3.ts';
import type { Air } from './air.ts';
import type { Figure } from './figure.ts';
import type { Relief } from './relief.ts';

/** What a surface does with light. */
export interface Material {
  name: string;
  /** Diffuse reflectance 0–1 at 380 … 780 nm. */
  reflectance: Spectrum;
  /**
   * Gloss over the diffuse part: normal-incidence reflectance 0–1 and GGX roughness (alpha = roughness²). `tint`: a
   * metal's gloss has its colour: that share of the lobe at 380 … 780 nm, 1 where it is greatest; absent: none.
   */
  gloss?: { f0: number; roughness: number; tint?: Spectrum };
  /**
   * Ribbons that stand for hairs: they send on light as fibres do. `through`: what a hair's own colour leaves of the light
   * that goes through it once, 0–1; `reflectance` is that of hairs en masse. Each of their triangles runs along the hair
   * from its second corner to its third.
   */
  fibre?: { through: number };
  /** Light comes out of it beside where it went in: length of the profile, metres, at 380 … 780 nm (`light/underSkin.ts`). */
  under?: { lengthM: Spectrum };
  /** What is seen of boards, bricks or a rolled wall from near; its mean is `reflectance`. */
  figure?: Figure;
  /** What is finer than its triangles, seen by a camera alone: light that goes on between things knows its mean. Needs `rest`. */
  relief?: Relief;
  /**
   * `opaque`: diffuse and gloss. `mirror`: specular reflection by `reflectance`. `glass`: a thin pane, clear
   * slab: reflects and passes by angle, passes shadow rays with its losses. `sheet`: a diffusion sheet or net
   * standing in the room: passes `straight` of the light undeviated; the scattered share is a relay's.
   */
  kind: 'opaque' | 'mirror' | 'glass' | 'sheet';
  /** For `sheet`: share of light that goes straight through, 0–1. */
  straight?: number;
  /** Tint of a pane per single pass, 0–1 by wavelength; absent: clear. */
  tint?: Spectrum;
}

export type PartKind =
  | 'room'
  | 'opening'
  | 'furniture'
  | 'person'
  | 'lamp-head'
  | 'lamp-door'
  | 'support'
  | 'flag'
  | 'sheet'
  | 'outside';

/** A thing on the stage that can be named in a sentence. */
export interface Part {
  /** e.g. `wall:2`, `furniture:table`, `person:A`, `lamp:L1`, `support:L1`, `flag:F1`. */
  id: string;
  words: string;
  kind: PartKind;
  /** Belongs to the little that moves (people, heads, stands, flags). */
  moving: boolean;
}

/** One body as a builder makes it, before the stage is put together. */
export interface Body {
  part: Part;
  /** 3 × n metres: x0 y0 z0 x1 … */
  positions: Float32Array;
  /** 3 × n unit shading normals; for flat bodies the face normal repeated. */
  normals: Float32Array;
  /** 3 × m vertex numbers; front face counter-clockwise. All surfaces are two-sided unless said. */
  indices: Uint32Array;
  /** m: index into `materials`. */
  material: Uint16Array;
  materials: Material[];
  /**
   * m: patch number within this body (0 …). Patches are 15–25 cm across; a triangle belongs to one patch.
   * Only opaque surfaces need one.
   */
  patch: Uint32Array;
  /** 3 × n: where each place is at rest, in steps of REST_STEP_M; needed where a material has relief. */
  rest?: Int16Array;
}

/** The whole stage as flat arrays. Triangles of parts that stand still come first. */
export interface Stage {
  /** 3 × n metres. */
  positions: Float32Array;
  /** 3 × n unit shading normals. */
  normals: Float32Array;
  /** 3 × m. */
  indices: Uint32Array;
  /** m: index into `materials`. */
  material: Uint16Array;
  /** m: index into `parts`. */
  part: Uint16Array;
  /** m: patch number, 0 … patchCount-1, over the whole stage; patches of still parts come first. */
  patch: Uint32Array;
  /** 3 × n, as of bodies, or empty; follows from the rest of the content. */
  rest?: Int16Array;
  patchCount: number;
  /** Triangles 0 … stillTriangles-1 stand still, the rest move. */
  stillTriangles: number;
  stillPatches: number;
  materials: Material[];
  parts: Part[];
  /** Named points of people's faces: by person part id. */
  faces: Record<string, FacePoints>;
  /** Haze, rain; absent: clear air. */
  air?: Air;
  /** Content key of everything above; of the still half alone; equal keys mean equal content. */
  key: string;
  stillKey: string;
  /** Content of what decides where rays go: reflectance of matte surfaces left out. */
  shapeKey: string;
}

export type FacePoint = 'forehead' | 'cheekL' | 'cheekR' | 'noseTip' | 'chin' | 'eyeL' | 'eyeR' | 'throat';

/** Positions and outward unit normals of named points on one face; L and R are the person's own. */
export type FacePoints = Record<FacePoint, { position: Vec3; normal: Vec3 }> & {
  /** Unit vector the face points along. */
  facing: Vec3;
};
