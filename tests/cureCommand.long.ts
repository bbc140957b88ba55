/** A cure made from the terminal: every cure of an angle is tried four times over. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { Shoot } from '../src/shoot/schema.ts';
import { home, terminal } from './terminal.ts';

const SLACK = join(home, 'shoots/slack-water.json');
const { folder, rushlight, clear } = terminal('cure');
afterAll(clear);

interface Told {
  angles: { troubles: { kind: string; lamp?: string; cures: { edit: string; says: string }[] }[] }[];
}
const tellQuick = (path: string, angle: string): Told => {
  const { status, stdout } = rushlight('tell', path, '--angle', angle, '--quick', '--json');
  expect(status).toBe(0);
  return JSON.parse(stdout) as Told;
};

test('a cure, made: the lamp in frame and its flare are gone, the rest of the file is as it was', () => {
  const before = tellQuick(SLACK, 'W').angles[0]!;
  const about = (told: typeof before) =>
    told.troubles.filter((t) => t.lamp === 'L2' && ['flare', 'lamp-in-frame'].includes(t.kind));
  expect(about(before).map((t) => t.kind)).toEqual(expect.arrayContaining(['flare', 'lamp-in-frame']));

  const trouble = before.troubles.findIndex((t) => t.lamp === 'L2' && t.kind === 'lamp-in-frame');
  const cure = before.troubles[trouble]!.cures.findIndex((c) => c.edit === 'addFlag');
  expect(cure).toBeGreaterThanOrEqual(0);
  const choice = ['cure', SLACK, '--angle', 'W', '--quick', '--trouble', String(trouble)];
  const out = join(folder, 'cured.json');
  const made = rushlight(...choice, '--cure', String(cure), '--out', out);
  expect(made.stderr).toContain(before.troubles[trouble]!.cures[cure]!.says);
  expect(made.status).toBe(0);

  const [was, is] = [SLACK, out].map((path) => JSON.parse(readFileSync(path, 'utf8')) as Shoot);
  const flags = is!.scenes.slack!.rig.flags;
  const hung = Object.keys(flags).filter((id) => !(id in was!.scenes.slack!.rig.flags));
  expect(hung).toHaveLength(1);
  for (const id of hung) delete flags[id];
  expect(is).toEqual(was);

  expect(about(tellQuick(out, 'W').angles[0]!)).toEqual([]);

  const none = rushlight(...choice, '--cure', '99', '--out', join(folder, 'no.json'));
  expect(none.stderr).toContain('There is no cure 99');
  expect(none.status).toBe(2);
  expect(readdirSync(folder)).not.toContain('no.json');
}, 300_000);
