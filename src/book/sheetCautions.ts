/** Cautions: what a rig like this can do to people, filled from the plan where it knows; to be read and signed. */
import { lampWords } from '../scheme/lampWords.ts';
import { suppliedOf } from '../scheme/supplied.ts';
import { regionWord, sayIn } from '../shoot/region-words.ts';
import { putBlanks, putHeading, putList, putWords } from './blocks.ts';
import { anglesIn, type BookFacts, keyOf, regionOf, scenesOf } from './facts.ts';
import { type DraftPage, newSheet } from './sheet.ts';

export const sheetCautions = (f: BookFacts): DraftPage[] => scenesOf(f).flatMap((scene) => one(f, scene));

function one(f: BookFacts, scene: string): DraftPage[] {
  const s = f.shoot.scenes[scene]!;
  const region = regionOf(f.shoot, scene);
  const say = (words: string) => sayIn(region, words);
  const sheet = newSheet(f, {
    title: 'Cautions',
    about: `${s.name}: the usual ones; local law, the insurer and whoever signs come first`,
    foot: 'Says what the plan knows. A competent person looks at the place and decides.',
  });
  const { flow } = sheet;
  const first = anglesIn(f, scene)[0];
  const lamps = first ? lampWords(f.shoot, first) : [];
  const numbers = (list: readonly { number: string }[]) => list.map((l) => l.number).join(', ');
  const troubles = anglesIn(f, scene).flatMap((ref) => f.reads.get(keyOf(ref))?.troubles ?? []);
  const said = (kind: string) => [
    ...new Set(troubles.filter((t) => t.kind === kind && t.meant === undefined).map((t) => t.says)),
  ];

  const over = lamps.filter((l) => !l.practical && /clamp|beam|hung|gantry|rail|pipe/i.test(l.stands));
  const stands = lamps.filter((l) => /stand/i.test(l.stands));
  const high = lamps.filter((l) => l.heightM >= 2.5);
  const crossing = lamps.filter((l) => l.crosses.length && !l.practical);
  const outdoors = lamps.filter((l) => /yard|slip|outside|rain|garden|street/i.test(`${l.what} ${l.stands}`));

  putHeading(flow, 'Heat');
  putList(flow, [
    'Tungsten heads burn skin, cloth and paper for minutes after they are out. Gloves; nothing that burns within a metre of the glass unless its label says less.',
    'Sheets stand off the glass on wooden pegs. What smells or smokes: lamp out, wait, gloves.',
    'A bulb is never touched with bare fingers, never changed plugged in.',
    ...said('heat-near'),
  ]);
  putHeading(flow, 'Height and weight');
  putList(flow, [
    ...(over.length
      ? [
          `Overhead in this rig: ${numbers(over)}. A bond on every head; doors, scrims and sheets tied; nobody under it while it is hung. Who says that it holds is named below.`,
        ]
      : ['Nothing of this rig is planned overhead.']),
    ...(stands.length
      ? [
          `On stands: ${numbers(stands)}. A bag on every stand, legs wide, one leg under the weight; leads tied off at the foot.`,
        ]
      : []),
    ...(high.length
      ? [
          `At ${'2.5'} m or higher: ${numbers(high)}. A ladder is held by a second person; nobody works on one alone.`,
        ]
      : []),
    ...said('stand-cannot-stand'),
  ]);
  putHeading(flow, say('{Mains} and water'));
  putList(flow, suppliedOf(f.shoot, { scene, angle: first?.angle }).cautions);
  putList(flow, [
    ...(outdoors.length
      ? [
          say(
            `Out of doors or near the wet: ${numbers(outdoors)}. Own {rcd} that was tested that day, rubber {lead+}, joints off the ground and covered; in rain the lamp goes out.`,
          ),
        ]
      : []),
    say('No joint, block or {adaptor} lies where water can stand. Wet hands stay off.'),
    ...said('circuit-over'),
    ...said('plug-over'),
    ...said('lead-over'),
  ]);
  putHeading(flow, 'Ways');
  putList(flow, [
    'Ways out, their signs, the extinguisher and the board stay free; nothing stands in a doorway.',
    ...(crossing.length
      ? crossing.map((l) =>
          say(`The {lead} of ${l.number} crosses ${l.crosses.join(', ')}: matted, or carried over.`),
        )
      : [say('By this plan no {lead} crosses a doorway at the floor; look again in the place.')]),
    say('{Lead+} run along the walls, tied or taped; a {reel} is unwound whole.'),
  ]);
  putHeading(flow, 'Eyes, flashing, smoke');
  putList(flow, [
    'Say it before a lamp is struck; nobody looks into one. Flashing or flickering light can bring on fits: ask beforehand, put it on the call sheet.',
    'Smoke or mist: water-based only, aired out; say so to whoever minds the alarms, who puts them back on afterwards.',
    'Daylight LED sources at short range dazzle: cloth or distance before a face is close.',
  ]);
  if (f.shoot.crewNote) {
    putHeading(flow, 'Of this shoot');
    putWords(flow, f.shoot.crewNote);
  }
  putHeading(flow, 'Who answers for what', 34);
  putBlanks(flow, [
    { name: 'electrics, a competent, licensed person', wide: 3 },
    { name: 'signature, date', wide: 2 },
  ]);
  putBlanks(flow, [
    { name: 'what hangs, a competent person', wide: 3 },
    { name: 'signature, date', wide: 2 },
  ]);
  putBlanks(flow, [
    { name: 'first aid', wide: 2 },
    { name: 'nearest help, telephone', wide: 3 },
  ]);
  putWords(
    flow,
    `Not checked by this sheet: the ${regionWord(region, 'socket', 2)}, ${regionWord(region, 'lead', 2)} and stands themselves; the floor; the ceiling; the weather; who is tired.`,
  );
  return sheet.finish();
}
