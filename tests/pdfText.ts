/** Reads back what a PDF draws: the content of its pages, and the words in it. Only as much as the tests here need. */
import { inflateSync } from 'node:zlib';

/** Decoded streams of drawing operators, one a page, in order. */
export function pageContents(pdf: Uint8Array): string[] {
  const text = Buffer.from(pdf).toString('latin1');
  const out: string[] = [];
  for (const m of text.matchAll(/stream\r?\n/g)) {
    const from = m.index + m[0].length;
    const to = text.indexOf('endstream', from);
    let body: string;
    try {
      body = inflateSync(Buffer.from(text.slice(from, to), 'latin1')).toString('latin1');
    } catch {
      continue;
    }
    if (/^1 0 0 -1 0 [\d.]+ cm\n/.test(body)) out.push(body);
  }
  return out;
}

/** Colour operators of a content stream: grey, RGB, CMYK, named spaces, patterns and shadings. */
export const colourOperators = (content: string): string[] =>
  content
    .split('\n')
    .filter((l) => /(^|\s)(g|G|rg|RG|k|K|cs|CS|sc|SC|scn|SCN|sh)$/.test(l.trim()))
    .map((l) => l.trim());
