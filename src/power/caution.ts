/** The usual cautions: what stands under every power sheet, whatever the numbers say. */
import type { Network } from './network.ts';

/** Standing text. A competent, licensed person decides; this sheet does not. */
const ALWAYS: readonly string[] = [
  'From nameplates and published figures. Not a certificate: a competent person looks at the place and decides.',
  'Never planned here: opening a board, tailing in, parting a neutral, feeding a house backwards, defeating an earth pin, mains in standing water. Ask a licensed electrician.',
  'Ask before plugging in: what else is on this circuit and its RCD, and does anyone’s care, lifting or alarm gear hang on it?',
  'Test a socket before its first use; one that is hot, loose, cracked or wet is out. Unwind every reel.',
  'Change a lamp unplugged, not switched off: a dimmer or switch that is off does not make it dead.',
  'Bring cold lamps on one at a time. Local law and the insurer come first.',
];

/** The cautions for this supply: the standing ones, then what its region and source add. */
export function cautions(network: Network): string[] {
  const more: string[] = [];
  if (network.region === 'eu')
    more.push('These plugs go in either way round: a single switch may leave the lamp live. Unplug first.');
  if (network.region === 'na')
    more.push('Set lighting burns for hours: continuous load, 80 % of the breaker.');
  if (network.source.kind === 'mains' && network.source.earthing === 'IT')
    more.push('Both pins may be live on this supply: a single-pole device does not cut it off.');
  if (network.source.kind !== 'mains')
    more.push(
      'The set stands outdoors, six metres from doors, windows and vents, exhaust downwind; off and cool before fuel; dry, never under a sheet.',
      'A rod in the ground beside a small set may protect nobody: the bond is for a competent person.',
    );
  return [...ALWAYS, ...more];
}
