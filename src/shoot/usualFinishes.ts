/** Finishes of ordinary things where nobody tells them: reflectances are guesses and say so. */
import type { Finish } from './schema.ts';

const finish = (words: string, reflectance: number, colour: string): Finish => ({
  words,
  reflectance,
  colour,
  guessed: true,
});
export const WOOD = finish('wood', 0.28, '#b08a5c');
export const DARK_WOOD = finish('dark wood', 0.15, '#6a4a33');
export const CLOTH = finish('grey cloth', 0.25, '#8b8a86');
export const LINEN = finish('pale linen', 0.55, '#ded8cc');
export const PAINTED = finish('painted', 0.5, '#e4ddcf');
export const ENAMEL = finish('white enamel', 0.7, '#f0f0ee');
export const STEEL = finish('grey steel', 0.3, '#8d9296');
export const BLACK = finish('black', 0.05, '#242424');
export const LEAF = finish('leaves', 0.1, '#4a6b34');
export const BRICK = finish('brick', 0.2, '#9a5f4a');
export const BLUE = finish('blue paint', 0.12, '#2f4a6a');
/** Half of the light goes straight through its holes (judgement). */
export const NET: Finish = { ...finish('white net', 0.35, '#ece9e2'), passes: 0.5 };
export const BRASS: Finish = {
  ...finish('tarnished brass', 0.1, '#b08d4a'),
  glossF0: 0.45,
  roughness: 0.42,
  metal: true,
};
export const STONE = finish('concrete', 0.3, '#a09c94');
export const CANVAS = finish('grey-green canvas', 0.2, '#6c7263');
export const PLASTIC = finish('dark plastic', 0.06, '#2c2e30');
export const PAPER = finish('paper', 0.5, '#d8d2c4');
export const COVER = finish('blue-grey bed cover', 0.22, '#66737d');
export const BOOKS = finish('book covers', 0.12, '#7a5a45');
export const BOOKS_DARK = finish('dark book covers', 0.07, '#3c4a52');
export const BOOKS_PALE = finish('pale book covers', 0.35, '#c9b79a');
export const BOOKS_RED = finish('red book covers', 0.1, '#8a3a30');
export const CLAY = finish('terracotta', 0.22, '#a8623f');
export const BARK = finish('bark', 0.11, '#5d5044');
export const SHADE = finish('parchment', 0.55, '#e2d3ae');
export const RED_LENS = finish('red lens', 0.07, '#b3201c');
