/** The little server gives its own files to its own page on this machine, and nothing else to anybody. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type IncomingHttpHeaders, request, type Server } from 'node:http';
import { type AddressInfo, connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { opener } from '../src/cli/open.ts';
import { takePort, whoServes } from '../src/cli/serve.ts';
import { listen } from '../src/cli/server.ts';

const above = mkdtempSync(join(tmpdir(), 'rushlight-server-'));
const folder = join(above, 'dist');
const card = { program: 'rushlight', version: '0.0.0', home: 'here' } as const;
let server: Server;
let port = 0;

beforeAll(async () => {
  mkdirSync(join(folder, 'assets'), { recursive: true });
  writeFileSync(join(above, 'secret.json'), '"secret"');
  for (const [name, text] of [
    ['index.html', '<p>begin'],
    ['onefile.js', '1'],
    ['assets/a-1.css', 'p{}'],
    ['assets/a-1.woff2', 'w'],
    ['assets/a-1.bin', 'b'],
    ['.built', 'hidden'],
    ['odd.exe', 'x'],
  ] as const)
    writeFileSync(join(folder, name), text);
  server = await listen(folder, 0, card);
  port = (server.address() as AddressInfo).port;
});
afterAll(() => {
  server.close();
  server.closeAllConnections();
  rmSync(above, { recursive: true, force: true });
});

interface Answer {
  status: number;
  headers: IncomingHttpHeaders;
  text: string;
}
/** One request, its path sent exactly as written. */
const ask = (path: string, method = 'GET', headers: Record<string, string> = {}) =>
  new Promise<Answer>((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, path, method, headers }, (answer) => {
      let text = '';
      answer.on('data', (part) => {
        text += part;
      });
      answer.on('end', () => resolve({ status: answer.statusCode!, headers: answer.headers, text }));
    });
    asked.on('error', reject);
    asked.end();
  });

test('listens on this machine only', () => {
  expect((server.address() as AddressInfo).address).toBe('127.0.0.1');
});

test('files come with their types', async () => {
  for (const [path, type] of [
    ['/', 'text/html; charset=utf-8'],
    ['/index.html?x=1', 'text/html; charset=utf-8'],
    ['/onefile.js', 'text/javascript; charset=utf-8'],
    ['/assets/a-1.css', 'text/css; charset=utf-8'],
    ['/assets/a-1.woff2', 'font/woff2'],
    ['/assets/a-1.bin', 'application/octet-stream'],
  ] as const) {
    const { status, headers } = await ask(path);
    expect([path, status, headers['content-type']]).toEqual([path, 200, type]);
  }
  expect((await ask('/')).text).toBe('<p>begin');
});

test('hashed files are kept by the browser, pages asked for anew', async () => {
  expect((await ask('/assets/a-1.css')).headers['cache-control']).toContain('immutable');
  expect((await ask('/')).headers['cache-control']).toBe('no-cache');
});

test('every answer is isolated, allows nothing from elsewhere, invites no other origin', async () => {
  for (const [path, method] of [
    ['/', 'GET'],
    ['/none', 'GET'],
    ['/', 'POST'],
    ['/rushlight.json', 'GET'],
  ] as const) {
    const { headers } = await ask(path, method, { Origin: 'http://elsewhere.example' });
    // HTML standard, cross-origin isolation: these two together; Fetch standard: CORP and nosniff.
    expect(headers['cross-origin-opener-policy']).toBe('same-origin');
    expect(headers['cross-origin-embedder-policy']).toBe('require-corp');
    expect(headers['cross-origin-resource-policy']).toBe('same-origin');
    expect(headers['x-content-type-options']).toBe('nosniff');
    const policy = headers['content-security-policy'];
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    // CSP 3 §2.3.1: this word lets WebAssembly be compiled and nothing else; no other unsafe one may stand there.
    expect(String(policy).replace(" 'wasm-unsafe-eval'", '')).not.toMatch(/unsafe|https?:|\*/);
    expect(Object.keys(headers).filter((name) => name.startsWith('access-control'))).toEqual([]);
  }
});

test('only GET and HEAD', async () => {
  for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS', 'PATCH']) {
    const { status, headers } = await ask('/', method);
    expect([method, status, headers.allow]).toEqual([method, 405, 'GET, HEAD']);
  }
  const head = await ask('/', 'HEAD');
  expect([head.status, head.text, head.headers['content-length']]).toEqual([200, '', '8']);
});

test('only by this machine’s own names, with the right port', async () => {
  for (const name of ['localhost', '127.0.0.1', '[::1]', 'LOCALHOST'])
    expect((await ask('/', 'GET', { Host: `${name}:${port}` })).status).toBe(200);
  for (const host of [
    'elsewhere.example',
    `elsewhere.example:${port}`,
    'localhost',
    `localhost:${port + 1}`,
    `127.0.0.2:${port}`,
  ])
    expect([host, (await ask('/', 'GET', { Host: host })).status]).toEqual([host, 403]);
  expect((await ask('/rushlight.json', 'GET', { Host: 'elsewhere.example' })).status).toBe(403);
});

test('no host named at all is turned away', async () => {
  const text = await new Promise<string>((resolve) => {
    let said = '';
    const line = connect(port, '127.0.0.1', () => line.write('GET / HTTP/1.0\r\n\r\n'));
    line.on('data', (part) => {
      said += part;
    });
    line.on('close', () => resolve(said));
  });
  expect(text).toMatch(/^HTTP\/1\.1 403 /);
});

test('nothing outside the program, nothing hidden, nothing unknown', async () => {
  for (const path of [
    '/../secret.json',
    '/%2e%2e/secret.json',
    '/..%2fsecret.json',
    '/assets/../../secret.json',
    '/assets/..%5c..%5csecret.json',
    '//secret.json',
    '/.built',
    '/%2ebuilt',
    '/odd.exe',
    '/assets',
    '/assets/',
    '/index.html%00.css',
    '/none.js',
    'http://127.0.0.1/secret.json',
  ]) {
    const { status, text } = await ask(path);
    expect([path, status]).toEqual([path, 404]);
    expect(text).not.toContain('secret"');
  }
  expect((await ask('/%E0%A4%A')).status).toBe(400);
});

test('a port: taken, found to be ours, or passed over', async () => {
  expect(await whoServes(port)).toEqual(card);
  const said: string[] = [];
  const stranger = createServer((_request, response) => response.end('{"program":"other"}'));
  await new Promise<void>((done) => stranger.listen(0, '127.0.0.1', done));
  const theirs = (stranger.address() as AddressInfo).port;
  expect(await whoServes(theirs)).toBeUndefined();

  // Past the stranger, to the one where this program answers.
  expect(await takePort([theirs, port], card, (line) => said.push(line))).toEqual({ runs: port });
  expect(said).toEqual([`Port ${theirs} is taken by another program.`]);

  // Past the stranger and the same program from another folder, to a free one.
  const found = await takePort([theirs, port, 0], { ...card, home: 'there' }, (line) => said.push(line));
  if ('runs' in found) throw new Error('took it for its own');
  expect(found.passed).toEqual([theirs, port]);
  expect(said.at(-1)).toBe(`Port ${port} belongs to a Rushlight that runs from another folder.`);
  found.server.close();

  await expect(takePort([theirs], card, () => {})).rejects.toThrow(/No port is free/);
  stranger.close();
});

test('a browser is opened only where there is a screen', () => {
  expect(opener('linux', {})).toBeUndefined();
  expect(opener('linux', { DISPLAY: ':0' })).toEqual(['xdg-open']);
  expect(opener('linux', { WAYLAND_DISPLAY: 'wayland-0' })).toEqual(['xdg-open']);
  expect(opener('linux', { DISPLAY: ':0', CI: 'true' })).toBeUndefined();
  expect(opener('darwin', {})).toEqual(['open']);
  expect(opener('win32', {})?.[0]).toBe('cmd');
});
