/** The shoot as one page that opens anywhere, as it stands now: the program inside, and what can be read without it. */
import { STILL_STYLE } from '../book/still.ts';
import { saveShoot } from '../shoot/file.ts';
import { countedShoot } from './counted.ts';
import { useKept } from './kept.ts';
import { keepAsFile, onePageOf } from './onePageOf.ts';
import { refuse } from './refused.ts';
import { marked, nameOf } from './saving.ts';
import { stillNow } from './stillNow.ts';

let under = false;

export async function sendOn(): Promise<void> {
  if (under) return;
  const shoot = countedShoot();
  if (!shoot) return;
  under = true;
  const busy = (words: string) => refuse({ words: [words], at: undefined, busy: true });
  busy('Making the page …');
  try {
    const text = saveShoot(shoot);
    const { html: still, missing } = await stillNow(shoot, (n, of) =>
      busy(`Making the page: ${n} of ${of} angles worked out …`),
    );
    const page = await onePageOf({ title: shoot.title, shoot: text, still, style: STILL_STYLE });
    const name = `${nameOf(shoot.title)}.html`;
    keepAsFile(name, page);
    marked(text);
    useKept.getState().set({ saved: { ms: Date.now(), name, shoot } });
    refuse(
      missing.length
        ? {
            words: [
              `The page was made. Without scripts it does not show ${missing.join(', ')}, not worked out in time.`,
            ],
            at: undefined,
          }
        : undefined,
    );
  } catch (error) {
    refuse({
      words: [`The page could not be made: ${(error as Error).message}.`, 'Nothing was changed.'],
      at: undefined,
    });
  } finally {
    under = false;
  }
}
