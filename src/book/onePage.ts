/** The one-file page: program, shoot and what can be read before any script runs, in one HTML text. */

/** What the page is made of. */
export interface OnePage {
  /** Shown in the tab; plain text. */
  title: string;
  /** The whole program as one module script: dist/onefile.js. */
  script: string;
  /** The shoot as saved: JSON text. Absent: the page opens as the program does. */
  shoot?: string;
  /** HTML that is read where no script runs, and until the program has begun. */
  still: string;
  /** Style for `still`. */
  style?: string;
}

/** Plain text as HTML. */
export const escapeHtml = (text: string): string => text.replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);

// Inside a script element only these two beginnings end or change it. In a script's strings, patterns and templates
// `\x3c` reads as `<`; in JSON `\u003c` does.
const scriptInside = (code: string) => code.replace(/<(?=\/script|!--|script)/gi, '\\x3c');
const jsonInside = (json: string) => json.replace(/</g, '\\u003c');

/** The page. It needs no other file, no server and no network. */
export function onePageHtml({ title, script, shoot, still, style = '' }: OnePage): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<meta name="color-scheme" content="dark light">
<title>${escapeHtml(title)}</title>
<style>${style.replace(/<\//g, '<\\/')}</style>
</head>
<body>
<div id="root">${still}</div>
${shoot === undefined ? '' : `<script type="application/json" id="rushlight-shoot">${jsonInside(shoot)}</script>\n`}<script type="module" id="rushlight-program">${scriptInside(script)}</script>
</body>
</html>
`;
}
