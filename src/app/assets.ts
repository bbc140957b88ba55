/** The files the program carries: figures of people and the shoots it offers to open. The same in both builds. */
import peopleUrl from '../../data/people/people.bin?url';
import { bytesAt } from './bytes.ts';

/** The figures of people (data/people/people.bin). */
export const peopleBytes = (): Promise<Uint8Array<ArrayBuffer>> => bytesAt(peopleUrl);

/** What a worker is given of them: the bytes, or an address that it reads itself. */
export type Figures = Uint8Array<ArrayBuffer> | string;

/**
 * The same for a worker: bytes, or in the one-file page the `data:` address as it stands, which the worker reads,
 * because a slow phone's page has enough to do.
 */
export const peopleFigures = async (): Promise<Figures> =>
  peopleUrl.startsWith('data:') ? peopleUrl : bytesAt(peopleUrl);

const urls = import.meta.glob<string>('../../shoots/*.json', {
  query: '?url',
  import: 'default',
  eager: true,
});

/** The shoots that come with the program, by file name without its ending. */
export const shootNames: readonly string[] = Object.keys(urls)
  .map((path) => path.replace(/^.*\/|\.json$/g, ''))
  .sort();

/** The text of one of `shootNames`. */
export async function shootText(name: string): Promise<string> {
  const url = urls[`../../shoots/${name}.json`];
  if (url === undefined) throw new Error(`No shoot named ${name} comes with the program.`);
  return new TextDecoder().decode(await bytesAt(url));
}

/** The shoot that `rushlight page` put into this page, or undefined when this is not a one-file page. */
export function shootInPage(): string | undefined {
  return document.getElementById('rushlight-shoot')?.textContent ?? undefined;
}
