/** Older files brought forward, one major version at a time. */
import { VERSION } from './schema.ts';

type Raw = Record<string, unknown>;

/**
 * Steps by the version they start from. Version 0 was the draft format: one place and one scene at the top,
 * angles called `setups`.
 */
const STEPS: Record<number, (file: Raw) => Raw> = {
  0: (file) => {
    const { place, scene, ...rest } = file;
    const s = (scene ?? {}) as Raw;
    const { setups, ...kept } = s;
    return {
      ...rest,
      version: { major: 1, minor: 0 },
      places: rest.places ?? { place },
      scenes: rest.scenes ?? { scene: { ...kept, place: 'place', angles: s.angles ?? setups ?? {} } },
    };
  },
};

/** The file at today's version, or undefined when a step is not known. The argument is left untouched. */
export function migrate(file: Raw, from: number): Raw | undefined {
  let current = structuredCloneJson(file);
  for (let v = from; v < VERSION.major; v++) {
    const step = STEPS[v];
    if (!step) return undefined;
    current = step(current);
  }
  return current;
}

const structuredCloneJson = (v: Raw): Raw => JSON.parse(JSON.stringify(v)) as Raw;
