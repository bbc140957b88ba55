/** What a face can be turned to: `mark:B`, `camera:OA`, `thing:table`, and where that is. */
import type { Place, Scene } from './schema.ts';

type Looked = Pick<Scene, 'marks' | 'angles'>;

const of = <T>(group: Readonly<Record<string, T>>, id: string): T | undefined =>
  Object.hasOwn(group, id) ? group[id] : undefined;

/** The point looked at, metres; undefined: it is not there (any more). */
export function lookedAt(scene: Looked, place: Place, at: string): [number, number, number] | undefined {
  const [what, id = ''] = at.split(':');
  if (what === 'mark') {
    const m = of(scene.marks, id);
    return m && [m.at[0], m.at[1], m.eyeM];
  }
  if (what === 'camera') {
    const a = of(scene.angles, id);
    return a && [a.at[0], a.at[1], a.at[2]];
  }
  if (what !== 'thing') return undefined;
  const f = of(place.furniture, id);
  return f && [f.at[0], f.at[1], f.at[2] + f.sizeM[2] / 2];
}

/** Everything a mark could look at, in words. */
export function looksOf(scene: Looked, place: Place, mark: string): { at: string; words: string }[] {
  return [
    ...Object.keys(scene.marks)
      .filter((m) => m !== mark)
      .map((m) => ({ at: `mark:${m}`, words: m })),
    ...Object.keys(scene.angles).map((a) => ({ at: `camera:${a}`, words: `camera ${a}` })),
    ...Object.entries(place.furniture).map(([id, f]) => ({ at: `thing:${id}`, words: f.words ?? id })),
  ];
}
