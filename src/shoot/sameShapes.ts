/** The same thing drawn elsewhere and set down several times: its triangles stand in the file once. */
import type { Shoot } from './schema.ts';

interface Thing {
  shape?: unknown;
}
type Raw = Record<string, unknown>;

const things = (shoot: { places?: unknown }): [name: string, thing: Thing][] =>
  Object.entries((shoot.places ?? {}) as Raw).flatMap(([p, place]) => {
    const furniture = (place as { furniture?: unknown } | null)?.furniture;
    return typeof furniture === 'object' && furniture
      ? Object.entries(furniture).map(([id, thing]): [string, Thing] => [`${p}/${id}`, thing as Thing])
      : [];
  });

/** For the file: what has the shape of one before it says only of which (`place/thing`). */
export function shapesOnce(shoot: Shoot): Shoot {
  const first = new Map<string, string>();
  const said = new Map<string, { sameAs: string }>();
  for (const [name, { shape }] of things(shoot)) {
    if (shape === undefined) continue;
    const text = JSON.stringify(shape);
    const known = first.get(text);
    if (known === undefined) first.set(text, name);
    else said.set(name, { sameAs: known });
  }
  if (said.size === 0) return shoot;
  const places = Object.fromEntries(
    Object.entries(shoot.places).map(([p, place]) => [
      p,
      {
        ...place,
        furniture: Object.fromEntries(
          Object.entries(place.furniture).map(([id, f]) => {
            const same = said.get(`${p}/${id}`);
            return [id, same ? { ...f, shape: same } : f];
          }),
        ),
      },
    ]),
  );
  return { ...shoot, places: places as unknown as Shoot['places'] };
}

/** From the file: every thing has its shape again. Sentences where it leads nowhere. */
export function shapesEverywhere(file: Raw): string[] {
  const all = things(file).filter(([, t]) => typeof t === 'object' && t !== null);
  const whole = new Map(all.filter(([, t]) => t.shape !== undefined && sameAs(t) === undefined));
  const wrong: string[] = [];
  for (const [name, thing] of all) {
    const same = sameAs(thing);
    if (same === undefined) continue;
    const of = whole.get(same);
    if (of) thing.shape = of.shape;
    else
      wrong.push(
        `${name} is said to have the shape of “${same.slice(0, 90)}”, and nothing of that name has one of its own.`,
      );
  }
  return wrong;
}

function sameAs(t: Thing): string | undefined {
  const of = (t.shape as { sameAs?: unknown } | null | undefined)?.sameAs;
  return typeof of === 'string' ? of : undefined;
}
