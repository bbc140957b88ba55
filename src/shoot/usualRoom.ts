/**
 * What is supposed of a room until somebody has looked: paint, a door, a socket, the circuits behind it. All of it is
 * marked as guessed or not told; nothing here may count as known. Common practice, no source.
 */
import type { Region } from './kit.ts';
import { regionWord } from './region-words.ts';
import type { CameraSettings, Circuit, Finish, Opening, Socket, Supply } from './schema.ts';
import { atWall, type Outline, wallLengthM } from './walls.ts';

/** Tones of walls one can say without measuring: reflectances to about ± 0.1 (judgement). */
export const WALL_TONES = [
  { words: 'white', reflectance: 0.78, colour: '#f2efe8' },
  { words: 'pale', reflectance: 0.58, colour: '#e2d9c6' },
  { words: 'middle', reflectance: 0.35, colour: '#b3a68f' },
  { words: 'dark', reflectance: 0.14, colour: '#5d5348' },
] as const;
export type WallTone = (typeof WALL_TONES)[number]['words'];

const guess = (words: string, reflectance: number, colour: string): Finish => ({
  words,
  reflectance,
  colour,
  guessed: true,
});
export const GUESSED = {
  walls: guess('pale paint', WALL_TONES[1].reflectance, WALL_TONES[1].colour),
  floor: { ...guess('boards', 0.25, '#9a8063'), glossF0: 0.04, roughness: 0.4 } as Finish,
  ceiling: guess('white', 0.78, '#f2efe8'),
  ground: guess('ground outside', 0.2, '#8d8a84'),
  door: guess('painted', 0.4, '#c9bfae'),
} as const;

/** Volts and cycles one supposes there; the same as src/power has them, held together by a test. */
export const MAINS: Readonly<Record<Region, { nominalV: number; frequencyHz: number }>> = {
  uk: { nominalV: 230, frequencyHz: 50 },
  eu: { nominalV: 230, frequencyHz: 50 },
  na: { nominalV: 120, frequencyHz: 60 },
  au: { nominalV: 230, frequencyHz: 50 },
  // East; the west has 60.
  jp: { nominalV: 100, frequencyHz: 50 },
};

export const SOCKET_KIND: Readonly<Record<Region, Socket['kind']>> = {
  uk: 'uk-double',
  eu: 'eu',
  na: 'us-15',
  au: 'au-10',
  jp: 'jp-double',
};

/** How many plugs a socket of a kind takes: doubles and the usual North American pair two (common practice). */
export const outletsOf = (kind: Socket['kind']): number =>
  kind === 'uk-double' || kind === 'jp-double' || kind === 'us-15' || kind === 'us-20' ? 2 : 1;

/** What usually feeds the sockets of a room there, in words only: it is not told, so it is reckoned at its worst. */
const USUAL_CIRCUIT: Readonly<Record<Region, string>> = {
  uk: 'usually a ring on 30 or 32 A, sometimes a radial on 20 A',
  eu: 'usually 16 A, sometimes 10 or 13 A',
  na: 'usually 15 A, in kitchens 20 A',
  au: 'usually 16 or 20 A',
  jp: 'usually 20 A, under a contract of 30 to 60 A',
};

/** Every socket on one circuit that nobody has told: the worse case for anything plugged in. */
export const CIRCUIT_ID = 'sockets';
export const usualCircuit = (region: Region): Circuit => ({
  words: `all ${regionWord(region, 'socket', 2)} on one circuit, not told`,
  device: 'unknown',
  cable: { known: false },
  houseLoads: {},
});

export function usualSupply(region: Region): Supply {
  return {
    words: `Nobody has told the supply: ${USUAL_CIRCUIT[region]}. Ask: which ${regionWord(region, 'socket', 2)} share a ${regionWord(region, 'breaker')}, its amps, what else is on it, whether there is ${/^([aeiou]|RCD)/.test(regionWord(region, 'rcd')) ? 'an' : 'a'} ${regionWord(region, 'rcd')}.`,
    region,
    ...MAINS[region],
    earthing: 'unknown',
    circuits: { [CIRCUIT_ID]: usualCircuit(region) },
    sockets: {},
  };
}

export const usualSocket = (outline: Outline, wall: number, alongM: number, region: Region): Socket => ({
  circuit: CIRCUIT_ID,
  at: [...atWall(outline, wall, alongM, 0.02).map((v) => +v.toFixed(3)), 0.3] as [number, number, number],
  kind: SOCKET_KIND[region],
});

/** An ordinary door or window that begins at `fromM`, kept within its wall and under the ceiling. */
export function usualOpening(
  outline: Outline,
  ceilingM: number,
  kind: Opening['kind'],
  wall: number,
  middleM: number,
): Opening {
  const long = wallLengthM(outline, wall);
  const wide = Math.min(kind === 'window' ? 1.2 : kind === 'door' ? 0.8 : 1, long * 0.9);
  const fromM = Math.max(0.02, Math.min(long - wide - 0.02, middleM - wide / 2));
  const headM = Math.min(kind === 'window' ? 2.1 : 2, ceilingM - 0.05);
  const ends = { fromM: +fromM.toFixed(3), toM: +(fromM + wide).toFixed(3) };
  if (kind === 'window')
    return { kind, wall, ...ends, sillM: Math.min(0.95, headM / 2), headM, fill: 'glass' };
  if (kind === 'door') return { kind, wall, ...ends, sillM: 0, headM, fill: 'shut', finish: GUESSED.door };
  return { kind, wall, ...ends, sillM: 0, headM, fill: 'open' };
}

/** Settings one begins with: no beat against the mains at either speed [CHECKS-CAMERA §2]. */
export const usualCamera = (region: Region): CameraSettings => ({
  class: 'modern',
  ei: 800,
  ...(MAINS[region].frequencyHz === 60
    ? { fps: 24, shutter: { kind: 'angle', deg: 180 } as const }
    : { fps: 25, shutter: { kind: 'time', seconds: 0.02 } as const }),
  stop: 2.8,
  whiteBalance: { kind: 'kelvin', kelvin: 3200 },
});
