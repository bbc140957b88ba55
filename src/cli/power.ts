/** `rushlight power`: amps, volts and margins from the board to every lamp. */
import type { DeviceAnswer } from '../power/solve.ts';
import { ampsUp, percent } from '../power/verdict.ts';
import type { Supplied } from '../scheme/supplied.ts';
import { command } from './command.ts';
import { powerOf } from './compute.ts';
import { angleAsked, readShoot, sceneOf } from './shoot.ts';
import { figure, table } from './table.ts';

const amps = (a: number | undefined) => (a === undefined ? '?' : ampsUp(a));

/** A solved supply as text. Amps are rounded up; what nobody told is a question mark; what was not checked is listed. */
export function powerText({ solution, cautions, uncounted }: Supplied): string {
  const ways = (head: string, answers: readonly DeviceAnswer[]) =>
    table(
      [
        { head },
        { head: 'A undimmed', right: true },
        { head: 'at worst V', right: true },
        { head: 'of', right: true },
        { head: 'left', right: true },
        { head: 'checked' },
      ],
      answers.map((d) => [
        d.words,
        amps(d.nominalCurrentA),
        amps(d.planningCurrentA),
        figure(d.limitA),
        // The margin is rounded down: towards less.
        d.marginA === undefined ? '?' : figure(Math.floor(d.marginA * 10 + 1e-7) / 10),
        d.verdict,
      ]),
    );
  const loads = table(
    [
      { head: 'lamp or load' },
      { head: 'A now', right: true },
      { head: 'volts', right: true },
      { head: 'lost', right: true },
      { head: 'checked' },
    ],
    solution.loads.map((l) => [
      l.words,
      amps(l.currentA),
      figure(l.volts),
      l.dropShare === undefined ? '?' : percent(l.dropShare),
      l.verdict,
    ]),
  );
  return [
    ways('circuit', solution.circuits),
    ...(solution.upstream.length ? [ways('ahead of the board', solution.upstream)] : []),
    ...(solution.devices.length ? [ways('on the way', solution.devices)] : []),
    loads,
    ['Not checked:', ...[...uncounted, ...solution.notChecked].map((line) => `  ${line}`)].join('\n'),
    cautions.join('\n'),
  ].join('\n\n');
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = command('power', 'Amps, volts and margins from the board to every lamp.', [
    'rushlight power kitchen.json --scene K',
  ])
    .argument('<file>', 'a shoot')
    .option('--scene <id>', 'the rig of this scene')
    .option('--angle <id>', 'as it stands for this angle')
    .option('--json', 'as data')
    .parse(args as string[], { from: 'user' });
  const o = parsed.opts<{ scene?: string; angle?: string; json?: boolean }>();
  const { shoot } = await readShoot(parsed.args[0]!);
  const at =
    o.angle === undefined
      ? { scene: sceneOf(shoot, o.scene), angle: undefined }
      : angleAsked(shoot, o.scene, o.angle);
  const supplied = await powerOf(shoot, at);
  const { solution, cautions, uncounted } = supplied;
  process.stdout.write(
    o.json
      ? `${JSON.stringify({ ...solution, uncounted, cautions }, null, 2)}\n`
      : `${powerText(supplied)}\n`,
  );
  return solution.worst === 'within' && uncounted.length === 0 ? 0 : 1;
}
