/** Named points of a face, each a vertex of the common topology; they stay put on all the people. */

export type PersonPoint =
  | 'forehead'
  | 'glabella'
  | 'browL'
  | 'browR'
  | 'noseTip'
  | 'noseSideL'
  | 'noseSideR'
  | 'noseBase'
  | 'cheekL'
  | 'cheekR'
  | 'cheekboneL'
  | 'cheekboneR'
  | 'upperLip'
  | 'lowerLip'
  | 'chin'
  | 'chinUnder'
  | 'jawL'
  | 'jawR'
  | 'throat'
  | 'neckPit'
  | 'lidUpperL'
  | 'lidUpperR'
  | 'lidLowerL'
  | 'lidLowerR'
  | 'eyeL'
  | 'eyeR';

/** Skin vertex of each point; the eyes' points (front of the cornea) are worked out. */
export const POINT_VERTEX: Record<Exclude<PersonPoint, 'eyeL' | 'eyeR'>, number> = {
  forehead: 5192,
  glabella: 227,
  browL: 6997,
  browR: 223,
  noseTip: 5054,
  noseSideL: 11711,
  noseSideR: 5096,
  noseBase: 343,
  cheekL: 11935,
  cheekR: 5331,
  cheekboneL: 11931,
  cheekboneR: 5327,
  upperLip: 455,
  lowerLip: 495,
  chin: 733,
  chinUnder: 5171,
  jawL: 7617,
  jawR: 915,
  throat: 815,
  neckPit: 1399,
  lidUpperL: 13352,
  lidUpperR: 6756,
  lidLowerL: 13370,
  lidLowerR: 6774,
};
