/** The shoot as one page that opens anywhere. */
import { saveShoot } from '../shoot/file.ts';
import { countedShoot } from './counted.ts';
import { keepAsFile, onePageOf } from './onePageOf.ts';
import { refuse } from './refused.ts';
import { marked, nameOf } from './saving.ts';

export async function sendOn(): Promise<void> {
  const shoot = countedShoot();
  if (!shoot) return;
  try {
    const text = saveShoot(shoot);
    keepAsFile(`${nameOf(shoot.title)}.html`, await onePageOf({ title: shoot.title, shoot: text }));
    marked(text);
  } catch (error) {
    refuse({ words: [`The page could not be made: ${(error as Error).message}.`], at: undefined });
  }
}
