/**
 * `npm run bench`: how fast, against what. Each thing is done both ways in turn and the ratios are printed with their
 * extremes; absolute figures are of this machine at this moment. `-- --json` gives the lines as data. `-- --screen`
 * measures instead, by the clock, what a person waits for in the browser.
 */
import { readFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { home } from '../src/cli/build.ts';
import { figures } from '../src/cli/compute.ts';
import { progress } from '../src/cli/progress.ts';
import { table } from '../src/cli/table.ts';
import { fastTracer } from '../src/engine/fast.ts';
import { exposureOf } from '../src/setup/develop.ts';
import { geometryOf } from '../src/setup/geometry.ts';
import { weightsOf } from '../src/setup/weights.ts';
import { openShoot } from '../src/shoot/file.ts';
import { anglesOf } from '../src/shoot/rigFor.ts';
import { dimmerLine, dragLine, readingLines } from './light.ts';
import type { Line } from './measure.ts';
import { rayLines } from './rays.ts';
import { screenWaits } from './screen.ts';

const { values } = parseArgs({ options: { json: { type: 'boolean' }, screen: { type: 'boolean' } } });
const n = (v: number) => String(Number(v.toPrecision(3)));
if (values.screen) {
  const bar = progress('Measuring');
  const waits = await screenWaits((share, what) => bar.at(share, what));
  bar.end();
  const heads = [
    { head: 'waited for' },
    { head: 'middle, ms', right: true },
    { head: '9 in 10 within', right: true },
    { head: 'goal', right: true },
  ];
  const rows = waits.map((w) => [w.name, n(w.median), n(w.most), w.goal === undefined ? '' : n(w.goal)]);
  process.stdout.write(values.json ? `${JSON.stringify(waits, null, 2)}\n` : `${table(heads, rows)}\n`);
  process.exit(0);
}
const opened = openShoot(readFileSync(join(home, 'shoots/slack-water.json'), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join('\n'));
const { shoot } = opened;
const people = await figures();
const refs = anglesOf(shoot);
const geometry = (ref: (typeof refs)[number]) => geometryOf(shoot, ref, people);
const angle = geometry(refs[0]!);
const { weights } = weightsOf(shoot, refs[0]!);
const { greyCdM2 } = exposureOf(angle.rig.camera, shoot.exposureConstant);
const tracer = fastTracer();

const bar = progress('Measuring');
const lines: Line[] = [];
bar.at(0, 'rays');
lines.push(...(await rayLines(angle)));
bar.at(0.2, 'a dimmer');
lines.push(await dimmerLine(tracer, shoot, refs, geometry));
bar.at(0.5, 'a drag');
lines.push((await dragLine(tracer, angle, weights, greyCdM2)).line);
bar.at(0.8, 'readings');
lines.push(...(await readingLines(tracer, angle, weights)));
bar.end();

const version = (name: string): string =>
  JSON.parse(readFileSync(join(home, 'node_modules', name, 'package.json'), 'utf8')).version;
const about = `Node ${process.version}, ${cpus()[0]?.model ?? 'unknown processor'} × ${cpus().length}, ${process.arch}; three-mesh-bvh ${version('three-mesh-bvh')} (surface-area tree), three ${version('three')}; ${angle.transport.stage.indices.length / 3} triangles, ${angle.transport.layers.length} layers of light; rays in WebAssembly on both sides but for the library; processor time of one thread`;
if (values.json) {
  process.stderr.write(`${about}\n`);
  process.stdout.write(`${JSON.stringify(lines, null, 2)}\n`);
} else {
  process.stdout.write(
    `${about}\n\n${table(
      [
        { head: 'what' },
        { head: 'ours', right: true },
        { head: 'theirs', right: true },
        { head: 'unit' },
        { head: 'times', right: true },
        { head: 'from', right: true },
        { head: 'to', right: true },
      ],
      lines.map((l) => [l.name, n(l.ours), n(l.theirs), l.unit, n(l.ratio), n(l.low), n(l.high)]),
    )}\n`,
  );
}
