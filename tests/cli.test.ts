/** The terminal program as a person meets it: started as a process, judged by what it prints and how it ends. */
import { spawn } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { inflateSync } from 'node:zlib';
import { afterAll, expect, test } from 'vitest';
import { z } from 'zod';
import type { Supplied } from '../src/scheme/supplied.ts';
import type { Shoot } from '../src/shoot/schema.ts';
import { home, terminal } from './terminal.ts';

const SLACK = join(home, 'shoots/slack-water.json');
const KITCHEN = join(home, 'shoots/kitchen.json');
const { folder, rushlight, clear } = terminal('cli');
afterAll(clear);

const COMMANDS = ['tell', 'cure', 'match', 'picture', 'day', 'power', 'book', 'page', 'checks', 'serve'];

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
  [['cure', 'none.json', '--trouble', '1'], '--trouble, --cure and --out go together'],
  [['cure', 'none.json', '--trouble', '-1'], 'whole number from 0'],
  [['match', 'none.json'], "required option '--angle <id>' not specified"],
  [['match', 'none.json', '--angle', 'CA', '--stops', '9'], 'A number from'],
  [['match', SLACK, '--angle', 'CA', '--against', 'CA'], 'cannot be held against itself'],
  [
    ['picture', 'none.json', '--out', 'x.png', '--all', '--angle', 'W'],
    '--all and --angle do not go together',
  ],
  [['picture', 'none.json', '--out', 'x.png', '--noise', '0'], 'A number from'],
  [['picture', SLACK, '--out', 'x.png'], 'Which angle?'],
  [['tell', SLACK, '--angle', 'Z'], 'There is no angle Z.'],
  [['faces', '--person', 'nobody'], 'There is no nobody. Persons: man-34'],
  [['tell', SLACK, '--scene', 'Z'], 'There is no scene Z.'],
  [
    ['tell', SLACK, '--angle', 'W', '--tracer', 'magic'],
    'There is no tracer magic. Tracers: pool, fast, plain.',
  ],
  [['picture', SLACK, '--angle', 'W', '--only', 'L9', '--out', 'x.png'], 'There is no lamp L9'],
  [['picture', SLACK, '--all', '--out', join(SLACK, 'x')], 'part of the path is not a folder'],
  [['page', 'none.json'], "required option '--out <file>' not specified"],
  [['book', 'none.json'], "required option '--out <file>' not specified"],
  [
    ['book', SLACK, '--out', 'x.pdf', '--sheets', 'plan,poem'],
    'There is no sheet poem. Sheets: plan, angles',
  ],
  [['book', SLACK, '--out', 'x.pdf', '--paper', 'a3'], 'Paper: a4 or letter.'],
  [['book', SLACK, '--out', join('none', 'x.pdf'), '--sheets', 'recce'], 'there is no such file or folder'],
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

// What other people's scripts rely on: the shape of `tell --json`, written down here and nowhere else.
const figure = z.number();
const Cure = z.object({ edit: z.string(), args: z.record(z.string(), z.unknown()), says: z.string().min(5) });
const Told = z.object({
  format: z.literal('rushlight-readings'),
  shoot: z.string(),
  settings: z.object({ stop: figure, ei: figure, fps: figure }),
  cRef: figure,
  quick: z.boolean(),
  angles: z.array(
    z.object({
      scene: z.string(),
      angle: z.string(),
      marks: z
        .array(
          z.object({
            mark: z.string(),
            incidentLx: figure.min(0),
            askedT: figure,
            overStops: figure,
            bandStops: figure.gt(0),
            doubts: z.array(z.string()),
            ratioStops: figure,
            ratio: figure.min(1),
            convention: z.string(),
            lamps: z
              .array(
                z.object({
                  lamp: z.string(),
                  directLx: figure.min(0),
                  bouncedLx: figure.min(0),
                  lx: figure.min(0),
                  role: z.string(),
                  azimuthDeg: figure.min(0).max(180),
                  elevationDeg: figure.min(-90).max(90),
                  clock: figure.gt(0).max(12),
                }),
              )
              .min(1),
          }),
        )
        .min(1),
      spots: z.array(z.object({ spot: z.string(), lx: figure.min(0) })),
      troubles: z.array(
        z.object({
          kind: z.string(),
          lamp: z.string().optional(),
          subject: z.string().optional(),
          severity: z.number().int().min(0).max(3),
          says: z.string().min(5),
          at: z.object({ x: figure, y: figure, z: figure }).optional(),
          meant: z.union([z.literal(false), z.string()]),
          cures: z.array(Cure),
        }),
      ),
    }),
  ),
  power: z.object({
    circuits: z
      .array(
        z.object({
          circuit: z.string(),
          currentA: figure.min(0),
          ratingA: figure.gt(0).optional(),
          limitA: figure.gt(0).optional(),
          verdict: z.string(),
        }),
      )
      .min(1),
    devices: z.array(z.object({ device: z.string(), currentA: figure.min(0), verdict: z.string() })),
    lamps: z
      .array(
        z.object({
          lamp: z.string(),
          volts: figure.optional(),
          currentA: figure.min(0),
          lightFactor: figure.min(0),
          cctK: figure.gt(0),
        }),
      )
      .min(1),
  }),
});

const tellQuick = (path: string, angle: string) => {
  const { status, stdout, stderr } = rushlight('tell', path, '--angle', angle, '--quick', '--json');
  expect(stderr).toBe('');
  expect(status).toBe(0);
  return Told.parse(JSON.parse(stdout));
};

test('tell --json has the shape that was promised, on both shoots', () => {
  for (const [path, angle] of [
    [KITCHEN, 'OA'],
    [SLACK, 'CA'],
  ] as const) {
    const told = tellQuick(path, angle);
    const shoot = JSON.parse(readFileSync(path, 'utf8')) as Shoot;
    const scene = Object.values(shoot.scenes)[0]!;
    expect(told.shoot).toBe(shoot.title);
    expect(told.cRef).toBe(shoot.exposureConstant);
    expect(told.quick).toBe(true);
    expect(told.settings).toMatchObject({ stop: scene.camera.stop, ei: scene.camera.ei });
    expect(told.angles.map((a) => a.angle)).toEqual([angle]);
    for (const mark of told.angles[0]!.marks) {
      expect(mark.lamps.map((l) => l.lamp)).toEqual(Object.keys(scene.rig.lamps));
      // n:1 is two to the stops; both are printed to two places.
      expect(Math.abs(Math.log2(mark.ratio) - mark.ratioStops)).toBeLessThan(0.02);
      // Incident-light equation [ISO-2720]: E = C N² / (t S); over-exposure is how far the asked stop is above the set one.
      expect(Math.abs(2 * Math.log2(mark.askedT / scene.camera.stop) - mark.overStops)).toBeLessThan(0.06);
    }
    expect(told.power.lamps.map((l) => l.lamp)).toEqual(Object.keys(scene.rig.lamps));
  }
}, 240_000);

test('a shoot of a newer program is read, not written', () => {
  const newer = JSON.parse(readFileSync(SLACK, 'utf8')) as Shoot;
  newer.version.major += 1;
  writeFileSync(join(folder, 'newer.json'), JSON.stringify(newer));
  const { status, stderr } = rushlight(
    ...['cure', 'newer.json', '--angle', 'W', '--trouble', '0', '--cure', '0', '--out', 'newest.json'],
  );
  expect(stderr).toContain('may read it, not change it');
  expect(status).toBe(2);
  expect(readdirSync(folder)).not.toContain('newest.json');
});

/** Size and mean of the bytes of a picture whose rows are filtered by any of the five filters. [PNG 9.2] */
function readPng(path: string): { width: number; height: number; mean: number } {
  const file = readFileSync(path);
  const [width, height] = [file.readUInt32BE(16), file.readUInt32BE(20)];
  const parts: Buffer[] = [];
  for (let at = 8; at < file.length; at += 12 + file.readUInt32BE(at))
    if (file.toString('latin1', at + 4, at + 8) === 'IDAT')
      parts.push(file.subarray(at + 8, at + 8 + file.readUInt32BE(at)));
  const raw = inflateSync(Buffer.concat(parts));
  const stride = 3 * width;
  const out = new Uint8Array(stride * height);
  let sum = 0;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < stride; x++) {
      const a = x < 3 ? 0 : out[y * stride + x - 3]!;
      const b = y === 0 ? 0 : out[(y - 1) * stride + x]!;
      const c = x < 3 || y === 0 ? 0 : out[(y - 1) * stride + x - 3]!;
      const p = a + b - c;
      const [pa, pb, pc] = [a, b, c].map((v) => Math.abs(p - v)) as [number, number, number];
      const guess = [0, a, b, (a + b) >> 1, pa <= pb && pa <= pc ? a : pb <= pc ? b : c];
      const v = (raw[y * (stride + 1) + 1 + x]! + guess[raw[y * (stride + 1)]!]!) & 255;
      out[y * stride + x] = v;
      sum += v;
    }
  return { width, height, mean: sum / out.length };
}

test('a small picture: its size, not black, its noise told; one lamp alone gives less light', () => {
  const small = ['picture', SLACK, '--angle', 'W', '--size', '96x54', '--noise', '1'];
  const all = rushlight(...small, '--out', 'all.png');
  expect(all.stderr).toMatch(/Written: all\.png \(noise \d\.\d+ stop, \d+ passes\)/);
  expect(all.status).toBe(0);
  const seen = readPng(join(folder, 'all.png'));
  expect(seen).toMatchObject({ width: 96, height: 54 });
  expect(seen.mean).toBeGreaterThan(5);
  expect(seen.mean).toBeLessThan(200);

  expect(rushlight(...small, '--only', 'L3', '--out', 'one.png').status).toBe(0);
  expect(readPng(join(folder, 'one.png')).mean).toBeLessThan(seen.mean);
  expect(rushlight(...small, '--out', join('none', 'x.png')).status).toBe(2);
}, 240_000);

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

test('book: sheets that need no light print at once; the version is counted only when asked, and only once', () => {
  const own = join(folder, 'own.json');
  writeFileSync(own, readFileSync(KITCHEN));
  const print = (...more: string[]) =>
    rushlight('book', own, '--out', 'book.pdf', '--sheets', 'power,kit,cuts,recce', ...more);
  const first = print();
  expect(first.stderr).toMatch(/Written: book\.pdf \(\d+ pages, version 1 [a-z2-8]{4}\)/);
  expect(first.status).toBe(0);
  expect(readFileSync(own)).toEqual(readFileSync(KITCHEN));
  expect(readFileSync(join(folder, 'book.pdf')).subarray(0, 8).toString()).toBe('%PDF-1.7');

  expect(print('--count').stderr).toContain('Version 1 is now in');
  const counted = readFileSync(own, 'utf8');
  expect((JSON.parse(counted) as Shoot).edition!.number).toBe(1);
  expect(print('--count').stderr).toMatch(/version 1 /);
  expect(readFileSync(own, 'utf8')).toBe(counted);
});

test('book: the card of an angle with its picture, for pocket and phone', () => {
  const made = rushlight(
    ...[
      'book',
      SLACK,
      '--out',
      'card.pdf',
      '--sheets',
      'cards',
      '--angle',
      'CB',
      '--size',
      '160x90',
      '--cards',
      'cards',
    ],
  );
  expect(made.stderr).toContain('Written: 1 card in cards');
  expect(made.status).toBe(0);
  expect(readdirSync(join(folder, 'cards')).sort()).toEqual(['CB.pdf', 'CB.svg']);
  const phone = readFileSync(join(folder, 'cards/CB.svg'), 'utf8');
  expect(phone).toContain('data:image/png;base64,');
  expect(phone).toContain('quick picture');
}, 240_000);
