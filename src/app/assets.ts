/** The files the program carries: figures of people and the shoots it offers to open. The same in both builds. */
import peopleUrl from '../../data/people/people.bin?url';

/** Bytes behind an address that the build gave: a file beside the page, or a `data:` address in the one-file page. */
export async function bytesAt(url: string): Promise<Uint8Array<ArrayBuffer>> {
  if (!url.startsWith('data:')) {
    const answer = await fetch(url);
    if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
    return new Uint8Array(await answer.arrayBuffer());
  }
  // Decoded by hand: a page opened from a file may be refused a fetch, even of its own data.
  const comma = url.indexOf(',');
  const body = url.slice(comma + 1);
  if (!url.slice(0, comma).endsWith(';base64')) return new TextEncoder().encode(decodeURIComponent(body));
  // By a plain loop: over a few million letters a call for each takes a slow phone half a second.
  const letters = atob(body);
  const bytes = new Uint8Array(letters.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = letters.charCodeAt(i);
  return bytes;
}

/** The figures of people (data/people/people.bin). */
export const peopleBytes = (): Promise<Uint8Array<ArrayBuffer>> => bytesAt(peopleUrl);

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
