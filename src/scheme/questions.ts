/** What nobody has told yet, as questions to ask in the place; and what the answer is worth. */
import { kindOf } from '../setup/lamps.ts';
import { sayIn } from '../shoot/region-words.ts';
import type { Shoot } from '../shoot/schema.ts';

export interface Question {
  /** Place or scene it belongs to, by name. */
  about: string;
  ask: string;
  /** What hangs on it. */
  worth: string;
}

export function questionsOf(shoot: Shoot): Question[] {
  const out: Question[] = [];
  for (const place of Object.values(shoot.places)) {
    const { supply } = place;
    const ask = (question: string, worth: string) =>
      out.push({
        about: place.name,
        ask: sayIn(supply.region, question),
        worth: sayIn(supply.region, worth),
      });
    for (const c of Object.values(supply.circuits)) {
      if (c.device === 'unknown')
        ask(`${c.words}: what kind of {breaker} or fuse?`, 'until told, 10 A is planned');
      if (c.ratingA === undefined) ask(`${c.words}: how many amps?`, 'until told, 10 A is planned');
      if (!c.cable?.known)
        ask(`${c.words}: what cable, and how long?`, 'what it carries, volts lost on the way');
      if (c.ring && !c.ring.continuityTested)
        ask(`${c.words}: has the ring been tested whole?`, 'else one leg is planned');
      if (c.rcdMa === undefined)
        ask(`${c.words}: is there an {rcd}, and of how many mA?`, 'who is protected, what leakage it bears');
      if (c.loopImpedanceOhm === undefined)
        ask(`${c.words}: what {earth} loop was measured at the {board}?`, 'whether a fault clears in time');
    }
    if (supply.earthing === 'unknown') ask('How is the supply {earth}ed?', 'no verdict on faults until told');
    if (supply.boardAt === undefined)
      ask('Where is the {board}, and who may open it?', 'the way to it stays clear');
    ask(
      'What else hangs on this supply: heating, freezer, care or alarm gear?',
      'amps that are not counted; who must not be cut off',
    );
    if (place.ceilingM === undefined) ask('How high is the ceiling?', 'stands, bounce, what hangs');
    if (place.northDeg === undefined) ask('Which way is north?', 'sun at the windows');
    const guessed = [
      place.floor.guessed && 'floor',
      place.walls.guessed && 'walls',
      place.ceiling?.guessed && 'ceiling',
      ...Object.values(place.furniture).map((f) => f.finish.guessed && (f.words ?? f.kind)),
    ].filter((w): w is string => typeof w === 'string');
    if (guessed.length) ask(`How light are they: ${guessed.join(', ')}?`, 'up to a stop of fill');
    for (const r of Object.values(place.rigging))
      if (r.loadKg === undefined)
        ask(`What may hang from ${r.words ?? `the ${r.kind}`}, and who says so?`, 'nothing hangs until told');
  }
  for (const [id, head] of Object.entries(shoot.kit.lamps)) {
    const kind = kindOf(head);
    if (!head.reading && kind && kind.bandStops > 0.3)
      out.push({
        about: 'Kit',
        ask: `${head.words ?? kind.words} (${id}): what does this very head give? One reading, its distance written down.`,
        worth: `± ${kind.bandStops} stop until read`,
      });
  }
  return out;
}
