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
