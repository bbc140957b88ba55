/**
 * The recipe of the people: which morphs at which weight, what they wear, how their hair is made.
 * Values found by trial and by measuring the result (head length, distance of the pupils, nose).
 */
export interface Recipe {
  id: string;
  words: string;
  /** Natural standing eye height without shoes' heels, metres; the person's own size (our choice). */
  naturalEyeHeightM: number;
  sex: 'male' | 'female';
  ageYears: number;
  /** Ancestry shares, sum 1. */
  caucasian: number;
  african: number;
  asian: number;
  /** -1 … 1: towards the smallest or largest weight and muscle. */
  weight: number;
  muscle: number;
  /** Face morphs: name without folder prefix handled by `fold`; `l-`/`r-` pairs are written once as `*-`. */
  details: Record<string, number>;
  /** Our own correction of the distance of the eyes, metres added between the pupils. */
  eyesApartM: number;
  /** Our own scaling of the eye opening, 1 = as it is. */
  eyeScale: number;
  /** Our own scaling of the whole head, 1 (default) = as it is. */
  headScale?: number;
  top: string;
  shoes: string;
  hair: { sheet?: string; grown?: 'crop' | 'afro'; colour: string };
  brow: string;
  complexion: string;
  wardrobe: { top: string; bottom: string; shoes: string };
}

/**
 * Build corrections for everybody: the base heads are long from front to back and short in the nose. Weights set
 * so that head lengths come out near the medians of the check file (195 mm men, 180 mm women).
 */
export const BUILD: Record<'male' | 'female', Record<string, number>> = {
  male: { 'head/head-back-scale-depth-less': 0.5, 'nose/nose-scale-depth-incr': 0.6 },
  female: { 'head/head-back-scale-depth-less': 0.3, 'nose/nose-scale-depth-incr': 0.6 },
};

const common = { eyesApartM: 0.0036, eyeScale: 0.94 };

export const PEOPLE: Recipe[] = [
  {
    ...common,
    id: 'man-34',
    words: 'man of 34',
    naturalEyeHeightM: 1.67,
    sex: 'male',
    ageYears: 34,
    caucasian: 0.9,
    african: 0.05,
    asian: 0.05,
    weight: -0.1,
    muscle: 0.15,
    details: {
      'head/head-square': 0.15,
      'nose/nose-hump-morehump': 0.25,
      'cheek/*-cheek-bones-out': 0.35,
      'cheek/*-cheek-inner-deflate': 0.35,
      'eyebrows/eyebrows-trans-depth-more': 0.3,
      'eyebrows/eyebrows-trans-vert-less': 0.35,
      'chin/chin-width-max': 0.15,
      'forehead/forehead-nubian-less': 0.2,
    },
    eyeScale: 0.9,
    top: 'male_casualsuit03',
    shoes: 'shoes01',
    hair: { sheet: 'short02', colour: '#3a2a1e' },
    brow: 'eyebrow001',
    complexion: 'intermediate',
    wardrobe: { top: '#56657a', bottom: '#2c2e33', shoes: '#1c1815' },
  },
  {
    ...common,
    id: 'woman-28',
    words: 'woman of 28',
    naturalEyeHeightM: 1.57,
    sex: 'female',
    ageYears: 28,
    caucasian: 0.8,
    african: 0.1,
    asian: 0.1,
    weight: 0,
    muscle: 0,
    details: {
      'head/head-oval': 0.5,
      'nose/nose-point-up': 0.25,
      'nose/nose-scale-horiz-decr': 0.2,
      'cheek/*-cheek-bones-out': 0.3,
      'chin/chin-triangle': 0.2,
    },
    top: 'female_casualsuit01',
    shoes: 'shoes03',
    hair: { sheet: 'ponytail01', colour: '#5a351d' },
    brow: 'eyebrow010',
    complexion: 'light',
    wardrobe: { top: '#8c3f3a', bottom: '#2f3b56', shoes: '#2a201b' },
  },
  {
    ...common,
    id: 'man-68',
    words: 'man of 68',
    naturalEyeHeightM: 1.63,
    sex: 'male',
    ageYears: 68,
    caucasian: 0.92,
    african: 0.04,
    asian: 0.04,
    weight: -0.45,
    muscle: -0.3,
    details: {
      'head/head-rectangular': 0.4,
      'cheek/*-cheek-volume-deflate': 0.6,
      'eyes/*-eye-bag-out': 0.4,
      'head/head-age-more': 0.2,
    },
    top: 'male_casualsuit02',
    shoes: 'shoes01',
    hair: { sheet: 'short04', colour: '#a9a6a0' },
    brow: 'eyebrow001',
    complexion: 'light',
    wardrobe: { top: '#4d5a48', bottom: '#3b352e', shoes: '#231a14' },
  },
  {
    ...common,
    id: 'woman-66',
    words: 'woman of 66',
    naturalEyeHeightM: 1.52,
    sex: 'female',
    ageYears: 66,
    caucasian: 0.92,
    african: 0.04,
    asian: 0.04,
    weight: 0.25,
    muscle: 0,
    details: { 'head/head-round': 0.3, 'nose/nose-scale-depth-incr': -0.3, 'neck/neck-double-more': 0.3 },
    top: 'male_casualsuit02',
    shoes: 'shoes03',
    hair: { sheet: 'short01', colour: '#b7b2aa' },
    brow: 'eyebrow010',
    complexion: 'light',
    wardrobe: { top: '#6e5a6e', bottom: '#34363c', shoes: '#2a2522' },
  },
  {
    ...common,
    id: 'man-26',
    words: 'man of 26',
    naturalEyeHeightM: 1.7,
    sex: 'male',
    ageYears: 26,
    caucasian: 0.1,
    african: 0.85,
    asian: 0.05,
    weight: 0,
    muscle: 0.1,
    details: { 'nose/nose-scale-depth-incr': 0.4 },
    top: 'male_casualsuit04',
    shoes: 'shoes01',
    hair: { grown: 'crop', colour: '#15110e' },
    brow: 'eyebrow001',
    complexion: 'dark',
    wardrobe: { top: '#a49b86', bottom: '#27303f', shoes: '#201c1a' },
  },
  {
    ...common,
    id: 'woman-42',
    words: 'woman of 42',
    naturalEyeHeightM: 1.56,
    sex: 'female',
    ageYears: 42,
    caucasian: 0.05,
    african: 0.9,
    asian: 0.05,
    weight: 0,
    muscle: 0,
    details: { 'head/head-round': 0.25, 'nose/nose-scale-depth-incr': 0.4 },
    top: 'male_casualsuit03',
    shoes: 'shoes03',
    hair: { grown: 'afro', colour: '#17120f' },
    brow: 'eyebrow010',
    complexion: 'very-dark',
    wardrobe: { top: '#9a4632', bottom: '#2b2b30', shoes: '#1e1a18' },
  },
  {
    ...common,
    id: 'woman-33',
    words: 'woman of 33',
    naturalEyeHeightM: 1.54,
    sex: 'female',
    ageYears: 33,
    caucasian: 0.07,
    african: 0.03,
    asian: 0.9,
    weight: 0,
    muscle: 0,
    details: { 'nose/nose-scale-depth-incr': 0.2 },
    top: 'male_casualsuit03',
    shoes: 'shoes03',
    hair: { sheet: 'long01', colour: '#14110f' },
    brow: 'eyebrow010',
    complexion: 'light',
    wardrobe: { top: '#3f5f66', bottom: '#26282d', shoes: '#1d1b1a' },
  },
  {
    ...common,
    id: 'man-47',
    words: 'man of 47',
    naturalEyeHeightM: 1.65,
    sex: 'male',
    ageYears: 47,
    caucasian: 0.9,
    african: 0.05,
    asian: 0.05,
    weight: 0.8,
    muscle: 0,
    details: { 'head/head-fat': 0.5, 'neck/neck-double-more': 0.6, 'nose/nose-volume-potato': 0.4 },
    top: 'male_casualsuit02',
    shoes: 'shoes01',
    hair: { sheet: 'short02', colour: '#2e2119' },
    brow: 'eyebrow001',
    complexion: 'intermediate',
    wardrobe: { top: '#3d4657', bottom: '#3a342c', shoes: '#1d1713' },
  },
  {
    ...common,
    id: 'boy-8',
    words: 'boy of 8',
    // 1.28 m tall in shoes.
    naturalEyeHeightM: 1.175,
    sex: 'male',
    ageYears: 8,
    caucasian: 0.75,
    african: 0.15,
    asian: 0.1,
    weight: -0.15,
    muscle: 0,
    details: { 'head/head-round': 0.2 },
    eyesApartM: 0,
    eyeScale: 1,
    // The data's child of ten has a head of a seventh; a child of eight one of a bit over a sixth (from memory).
    headScale: 1.11,
    top: 'male_casualsuit04',
    shoes: 'shoes03',
    hair: { sheet: 'short04', colour: '#4a3524' },
    brow: 'eyebrow010',
    complexion: 'light',
    wardrobe: { top: '#7f8f5a', bottom: '#3a4a63', shoes: '#3b3f46' },
  },
];

/** Axis scales of a piece's fit offsets: the piece was made on a body of these measures (decimetres). */
export const OFFSET_SCALES: Record<string, [number, number, number]> = {
  male_casualsuit02: [1.434, 2.41, 2.0],
  male_casualsuit03: [1.434, 2.41, 2.0],
  male_casualsuit04: [1.434, 2.41, 2.0],
  female_casualsuit01: [1.398, 2.205, 1.846],
  female_elegantsuit01: [1.398, 2.205, 1.846],
  bob02: [1.398, 2.205, 1.846],
  long01: [1.398, 2.205, 1.846],
  ponytail01: [1.398, 2.205, 1.846],
  short01: [1.668, 2.835, 2.354],
  short02: [1.434, 2.41, 2.0],
  short04: [1.48, 2.33, 1.922],
  eyebrow001: [1.416, 2.307, 1.923],
  eyebrow010: [1.416, 2.307, 1.923],
  shoes01: [0.7045, 0.5875, 2.539],
  shoes03: [0.7045, 0.5875, 2.539],
};
