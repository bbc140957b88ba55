/** The little server: hands out the built program, on this machine only, to a page that came from it only. */
import { createReadStream, statSync } from 'node:fs';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { extname, join } from 'node:path';

const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
  '.bin': 'application/octet-stream',
};

const POLICY = [
  "default-src 'none'",
  // Rays are WebAssembly.
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  "connect-src 'self'",
  "worker-src 'self' blob:",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** Sent with every answer: the page is alone in its process (so its workers may share memory) and calls nobody. */
const HEADERS: Record<string, string> = {
  'Content-Security-Policy': POLICY,
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
};

/** What /rushlight.json says: whose server this is, so that a second start finds the first. */
export interface Card {
  program: 'rushlight';
  version: string;
  /** Names the folder the program runs from, without telling it. */
  home: string;
}

function answer(request: IncomingMessage, response: ServerResponse, folder: string, card: Card) {
  const { method, headers, socket } = request;
  const say = (status: number, text: string, type = TYPES['.html']!, more: Record<string, string> = {}) => {
    response.writeHead(status, { ...HEADERS, ...more, 'Content-Type': type, 'Cache-Control': 'no-store' });
    response.end(method === 'HEAD' ? undefined : text);
  };
  const page = (words: string) =>
    `<!doctype html><meta charset="utf-8"><title>Rushlight</title><p>${words}</p>`;

  // Only this machine's own names: a strange name that resolves to 127.0.0.1 is turned away.
  const mine = ['localhost', '127.0.0.1', '[::1]'].map((name) => `${name}:${socket.localPort}`);
  if (!mine.includes((headers.host ?? '').toLowerCase()))
    return say(403, page('Not asked for by this name.'));
  if (method !== 'GET' && method !== 'HEAD')
    return say(405, page('Only reading is possible here.'), TYPES['.html'], { Allow: 'GET, HEAD' });

  // Only files of the program: plain names, step by step, none that begins with a dot.
  let path = '';
  try {
    path = decodeURIComponent((request.url ?? '/').split(/[?#]/)[0]!);
  } catch {
    return say(400, page('That is not an address.'));
  }
  if (path === '/rushlight.json') return say(200, JSON.stringify(card), TYPES['.json']);
  if (path.endsWith('/')) path += 'index.html';
  const steps = path.split('/').slice(1);
  const plain = path.startsWith('/') && steps.every((step) => /^[\w-][\w.-]*$/.test(step));
  const file = join(folder, ...steps);
  const size = plain ? statSync(file, { throwIfNoEntry: false }) : undefined;
  const type = TYPES[extname(file)];
  if (!size?.isFile() || !type)
    return say(404, page('There is no such page. <a href="/">Rushlight begins here.</a>'));

  const kept = steps[0] === 'assets' ? 'public, max-age=31536000, immutable' : 'no-cache';
  response.writeHead(200, {
    ...HEADERS,
    'Content-Type': type,
    'Content-Length': size.size,
    'Cache-Control': kept,
  });
  if (method === 'HEAD') response.end();
  else
    createReadStream(file)
      .on('error', () => response.destroy())
      .pipe(response);
}

/** Starts the server on 127.0.0.1. Fails with code EADDRINUSE when the port is taken; port 0 takes any free one. */
export function listen(folder: string, port: number, card: Card): Promise<Server> {
  return new Promise((resolve, reject) => {
    const server = createServer((request, response) => {
      try {
        answer(request, response, folder, card);
      } catch {
        response.destroy();
      }
    });
    server.once('error', reject);
    server.listen(port, '127.0.0.1', () => resolve(server));
  });
}
