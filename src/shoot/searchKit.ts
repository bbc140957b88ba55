/** Finding kit by typing. */
import { finder } from './found.ts';
import { KIT, type KitKind, type KitPart, type Region } from './kit.ts';

const find = finder(KIT);

/** Kinds that answer to every word typed, best first; at most `limit`. */
export const searchKit = (
  text: string,
  options: { part?: KitPart; region?: Region; limit?: number } = {},
): KitKind[] =>
  find(
    text,
    options.limit ?? 20,
    (kind) =>
      !(options.part && kind.part !== options.part) &&
      !(options.region && kind.regions && !kind.regions.includes(options.region)),
  );
