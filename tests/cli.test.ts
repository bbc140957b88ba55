/** The terminal program as a person meets it: started as a process, judged by what it prints and how it ends. */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { Supplied } from '../src/cli/compute.ts';
import type { Shoot } from '../src/shoot/schema.ts';

const home = resolve(import.meta.dirname, '..');
const folder = mkdtempSync(join(tmpdir(), 'rushlight-cli-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function rushlight(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(home, 'bin/rushlight.js'), ...args], {
    encoding: 'utf8',
    cwd: folder,
    env: { ...process.env, RUSHLIGHT_TRACE: '' },
  });
  return { status, stdout, stderr };
}

const COMMANDS = ['tell', 'cure', 'picture', 'power', 'page', 'checks', 'serve'];

test('help names every command and ends well', () => {
  const { status, stdout } = rushlight('--help');
  expect(status).toBe(0);
  for (const name of COMMANDS) expect(stdout).toMatch(new RegExp(`^  ${name} `, 'm'));
});

test.each(COMMANDS)('%s --help ends well and gives an example', (name) => {
  const { status, stdout } = rushlight(name, '--help');
  expect(status).toBe(0);
  expect(stdout).toContain('Example:');
  expect(stdout).toMatch(/Example:\n {2}(rushlight|npm)/);
});

test.each([
  [[], 'Use: rushlight'],
  [['dance'], "There is no command 'dance'"],
  [['toString'], 'There is no command'],
  [['checks', '--loud'], "unknown option '--loud'"],
  [['checks', 'weather'], 'There are no checks of weather'],
  [['serve', '--port', 'four'], 'whole number from 0 to 65535'],
  [['serve', '--port', '70000'], 'whole number from 0 to 65535'],
  [['serve', 'extra'], 'too many arguments'],
  [['tell'], "missing required argument 'file'"],
  [['tell', 'none.json'], 'none.json cannot be read: there is no such file'],
  [['tell', '.'], 'it is a folder'],
  [['picture', 'none.json'], "required option '--out <file>' not specified"],
  [['picture', 'none.json', '--out', 'x.png', '--size', '5x5'], 'A size such as 1280x720'],
  [['cure', 'none.json', '--take', '1'], '--take and --out go together'],
])('bad use %j: exit status 2, said on standard error, no trace', (args, words) => {
  const { status, stdout, stderr } = rushlight(...args);
  expect(stderr).toContain(words);
  expect(stderr).not.toMatch(/\n\s+at /);
  expect(stdout).toBe('');
  expect(status).toBe(2);
});

test('a file that is no shoot is refused in words', () => {
  for (const [name, text] of [
    ['broken.json', '{ "title": '],
    ['other.json', '{ "title": "not a shoot" }'],
    ['list.json', '[1, 2]'],
    ['empty.json', ''],
  ] as const) {
    writeFileSync(join(folder, name), text);
    const { status, stderr } = rushlight('tell', name);
    expect(stderr).toContain(`${name} is not a shoot that can be opened`);
    expect(stderr).not.toMatch(/\n\s+at /);
    expect(status).toBe(2);
  }
});

test('checks: rows as data, exit status by whether they hold', () => {
  const { status, stdout } = rushlight('checks', 'power', '--json');
  const rows = JSON.parse(stdout) as { holds: boolean; expected: number; got: number; tolerance: number }[];
  expect(rows.length).toBeGreaterThan(50);
  expect(Object.keys(rows[0]!)).toEqual([
    'id',
    'what',
    'source',
    'expected',
    'got',
    'unit',
    'tolerance',
    'holds',
  ]);
  for (const r of rows) expect(r.holds).toBe(Math.abs(r.got - r.expected) <= r.tolerance);
  expect(status).toBe(rows.every((r) => r.holds) ? 0 : 1);
});

test('a reader that stops early is no failure', async () => {
  const child = spawn(process.execPath, [join(home, 'bin/rushlight.js'), 'checks', 'power', '--json']);
  let complaint = '';
  child.stderr.on('data', (part) => {
    complaint += part;
  });
  // Stops before the first word: every write of the program meets a closed pipe.
  child.stdout.destroy();
  expect(await new Promise((done) => child.on('exit', done))).toBe(0);
  expect(complaint).toBe('');
});

test('power: every lamp on the mains is counted; margins, what was not checked and cautions are told', () => {
  for (const name of readdirSync(join(home, 'shoots')).filter((file) => file.endsWith('.json'))) {
    const path = join(home, 'shoots', name);
    const shoot = JSON.parse(readFileSync(path, 'utf8')) as Shoot;
    for (const [id, scene] of Object.entries(shoot.scenes)) {
      const { status, stdout } = rushlight('power', path, '--scene', id, '--json');
      const told = JSON.parse(stdout) as Supplied['solution'] & Supplied;
      const counted = told.loads.map((l) => l.id);
      for (const [lamp, { feed }] of Object.entries(scene.rig.lamps))
        if (feed) expect(counted).toContain(lamp);
      expect(told.uncounted).toEqual([]);
      expect(status).toBe(told.worst === 'within' ? 0 : 1);
      const { stdout: text } = rushlight('power', path, '--scene', id);
      for (const line of [...told.notChecked, ...told.cautions]) expect(text).toContain(line);
      expect(text).not.toMatch(/\bsafe\b|\bok\b|will trip/i);
    }
  }
});

/** Starts `npm start`'s program; resolves once it has printed its address. */
function start(...args: string[]) {
  const child = spawn(process.execPath, [join(home, 'bin/start.js'), '--no-open', ...args], { cwd: folder });
  let said = '';
  const ended = new Promise<number | null>((done) => child.on('exit', (code) => done(code)));
  const address = new Promise<string>((found, lost) => {
    child.stdout.on('data', (part) => {
      said += part;
      const [at] = /http:\S+/.exec(said) ?? [];
      if (at) found(at);
    });
    child.on('exit', () => lost(new Error(said)));
  });
  const onExit = () => child.kill('SIGKILL');
  process.once('exit', onExit);
  ended.then(() => process.off('exit', onExit));
  return { child, address, ended, said: () => said };
}

test('start serves the program, a second start finds it, both signals end it well', async () => {
  for (const signal of ['SIGTERM', 'SIGINT'] as const) {
    const first = start('--port', '0');
    const address = await first.address;
    const page = await fetch(address);
    expect(page.status).toBe(200);
    expect(await page.text()).toContain('<title>Rushlight</title>');
    expect(page.headers.get('cross-origin-embedder-policy')).toBe('require-corp');

    const second = start('--port', new URL(address).port);
    expect(await second.address).toBe(address);
    expect(await second.ended).toBe(0);
    expect(second.said()).toContain('already runs');

    first.child.kill(signal);
    expect(await first.ended).toBe(0);
  }
}, 120_000);
