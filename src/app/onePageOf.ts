/** The one-file page, made by the program itself: from the little server, and from a one-file page again. */
import { type OnePage, onePageHtml } from '../book/onePage.ts';

/** The program as one script: out of this very page, or from beside it. */
async function programScript(): Promise<string> {
  const own = document.getElementById('rushlight-program')?.textContent;
  if (own) return own;
  const answer = await fetch(new URL('onefile.js', document.baseURI));
  if (!answer.ok) throw new Error(`onefile.js: ${answer.status}`);
  return answer.text();
}

/** The page's HTML. Without a shoot it opens as the program does; `still` is read where no script runs. */
export async function onePageOf(
  page: Omit<OnePage, 'script' | 'still'> & { still?: string },
): Promise<string> {
  return onePageHtml({ still: '', ...page, script: await programScript() });
}

/** Hands something to the person as a file. */
export function keepAsFile(
  name: string,
  content: string | Uint8Array<ArrayBuffer> | Blob,
  type = 'text/html',
): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(content instanceof Blob ? content : new Blob([content], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
