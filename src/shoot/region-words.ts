/** Words that follow the region: socket or outlet, earth or ground. Common usage, from memory, no source. */
import type { Supply } from './schema.ts';

type Region = Supply['region'];

const WORDS = {
  socket: { uk: 'socket', eu: 'socket', na: 'outlet', au: 'power point', jp: 'outlet' },
  earth: { uk: 'earth', eu: 'earth', na: 'ground', au: 'earth', jp: 'ground' },
  lead: { uk: 'lead', eu: 'lead', na: 'extension cord', au: 'extension lead', jp: 'extension cord' },
  board: { uk: 'fuse box', eu: 'fuse box', na: 'panel', au: 'switchboard', jp: 'panel' },
  breaker: { uk: 'breaker', eu: 'breaker', na: 'breaker', au: 'breaker', jp: 'breaker' },
  rcd: { uk: 'RCD', eu: 'RCD', na: 'GFCI', au: 'safety switch', jp: 'earth-leakage breaker' },
  multiway: { uk: 'block', eu: 'block', na: 'power strip', au: 'power board', jp: 'power strip' },
  reel: { uk: 'cable drum', eu: 'cable drum', na: 'cord reel', au: 'cable reel', jp: 'cord reel' },
  adaptor: { uk: 'adaptor', eu: 'adaptor', na: 'adapter', au: 'adaptor', jp: 'adapter' },
  recce: { uk: 'recce', eu: 'recce', na: 'scout', au: 'recce', jp: 'scout' },
  torch: { uk: 'torch', eu: 'torch', na: 'flashlight', au: 'torch', jp: 'flashlight' },
  mains: { uk: 'mains', eu: 'mains', na: 'house power', au: 'mains', jp: 'mains' },
  skirting: { uk: 'skirting', eu: 'skirting', na: 'baseboard', au: 'skirting', jp: 'baseboard' },
  hob: { uk: 'cooker', eu: 'cooker', na: 'stove', au: 'stove', jp: 'stove' },
  tap: { uk: 'tap', eu: 'tap', na: 'faucet', au: 'tap', jp: 'faucet' },
} satisfies Record<string, Record<Region, string>>;

export type RegionWord = keyof typeof WORDS;
export const REGION_WORDS = Object.keys(WORDS) as RegionWord[];

/** The word as it is said there; `count` other than 1: the plural (some have none). */
export function regionWord(region: Region, word: RegionWord, count = 1): string {
  const said = WORDS[word][region];
  if (count === 1 || NO_PLURAL.has(word)) return said;
  return /(?:[sxz]|ch|sh)$/.test(said) ? `${said}es` : `${said}s`;
}
const NO_PLURAL = new Set<RegionWord>(['earth', 'mains', 'skirting']);

/**
 * A sentence with its words put in: “Which {socket}?”, “two {socket+}” for the plural, “{Socket}” with a capital.
 * A word in braces that no region has stays as it stands.
 */
export const sayIn = (region: Region, sentence: string): string =>
  sentence.replace(/\{([A-Za-z]+)(\+?)\}/g, (all, name: string, plural: string) => {
    const key = name[0]!.toLowerCase() + name.slice(1);
    if (!Object.hasOwn(WORDS, key)) return all;
    const said = regionWord(region, key as RegionWord, plural ? 2 : 1);
    return name[0] === key[0] ? said : said[0]!.toUpperCase() + said.slice(1);
  });

/** Nouns that may be swapped in a sentence made elsewhere; a lead only where it is plainly a thing. */
const SWAPPED: readonly (readonly [RegExp, RegionWord])[] = [
  [/\b(s)ocket(s?)\b/gi, 'socket'],
  [/(?<=\b(?:a|the|whole|each|its|one|wound) )(l)ead()\b(?! (?:to|nowhere))/gi, 'lead'],
  [/\b(f)use box(es)?\b/gi, 'board'],
  [/\b(c)able drum(s?)\b/gi, 'reel'],
];

/** A sentence in British words, in the region's. */
export function inRegion(region: Region, sentence: string): string {
  if (region === 'uk' || region === 'eu') return sentence;
  return SWAPPED.reduce(
    (said, [pattern, word]) =>
      said.replace(pattern, (_all, first: string, plural: string) => {
        const found = regionWord(region, word, plural ? 2 : 1);
        return first === first.toUpperCase() ? found[0]!.toUpperCase() + found.slice(1) : found;
      }),
    sentence,
  );
}
