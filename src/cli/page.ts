/** `rushlight page`: program and shoot in one file. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { onePageHtml } from '../book/onePage.ts';
import { DARK, planSvg } from '../book/planSvg.ts';
import { STILL_STYLE, type StillAngle, stillHtml, stillPower } from '../book/still.ts';
import { drawPlan } from '../drawing/plan.ts';
import { anglesOf } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { buildIfStale, dist } from './build.ts';
import { command, type Effort, effortOptions } from './command.ts';
import { powerOf, type Surveyed, surveys } from './compute.ts';
import { writeWhole } from './files.ts';
import { writePng } from './png.ts';
import { progress } from './progress.ts';
import { readShoot } from './shoot.ts';

/** One angle for the page: the quick picture as the camera would show it, the plan, the readings. */
async function stillAngle(shoot: Shoot, { ref, survey }: Surveyed): Promise<StillAngle> {
  const { develop } = await import('../setup/develop.ts');
  const { outlinesOf, planFacts } = await import('../scheme/planFacts.ts');
  const { angleTold } = await import('../scheme/told.ts');
  const { width, height } = survey.hits;
  const rgba = new Uint8ClampedArray(4 * width * height);
  develop(survey.xyz, survey.exposure, survey.balance, rgba);
  const rgb = new Uint8Array(3 * width * height);
  for (let i = 0, o = 0; i < rgba.length; i += 4, o += 3) rgb.set(rgba.subarray(i, i + 3), o);
  const troubled = new Set(
    survey.troubles.flatMap((t) => (t.meant === undefined && t.severity > 0 && t.lamp ? [t.lamp] : [])),
  );
  const whites = Object.fromEntries(
    survey.angle.lamps.map((l) => [l.id, survey.weights.layers[l.layers[0]!]?.white]),
  );
  const facts = planFacts(
    shoot,
    ref,
    { whites, balance: survey.balance },
    troubled,
    outlinesOf(survey.angle.transport.stage),
  );
  return {
    told: angleTold(ref, survey),
    picture: `data:image/png;base64,${writePng(width, height, rgb).toString('base64')}`,
    pictureSize: { width, height },
    plan: planSvg(drawPlan(facts), { widthPx: 480, paint: DARK, label: `Plan, ${ref.scene} ${ref.angle}` }),
  };
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = effortOptions(
    command('page', 'Program and shoot in one HTML file that needs no server and no network.', [
      'rushlight page kitchen.json --out kitchen.html',
    ])
      .argument('<file>', 'a shoot')
      .requiredOption('--out <file>', 'where the page goes'),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<{ out: string } & Effort>();
  const { shoot, text } = await readShoot(parsed.args[0]!);
  await buildIfStale((line) => process.stderr.write(`${line}\n`));
  const script = readFileSync(join(dist, 'onefile.js'), 'utf8');
  const bar = progress('Page');
  let found: Surveyed[];
  try {
    found = await surveys(shoot, anglesOf(shoot), { ...o, quick: true }, bar.at);
  } finally {
    bar.end();
  }
  const angles = await Promise.all(found.map((at) => stillAngle(shoot, at)));
  const { powerTold } = await import('../scheme/told.ts');
  const power = await Promise.all(
    found.map(async ({ ref, survey }) => ({
      ref,
      told: powerTold(survey.supply, survey.weights.lamps),
      ...(await powerOf(shoot, ref)),
    })),
  );
  const html = onePageHtml({
    title: shoot.title,
    script,
    shoot: text,
    still: stillHtml(shoot, angles, stillPower(power), { quick: true }),
    style: STILL_STYLE,
  });
  writeWhole(o.out, html);
  process.stderr.write(`Written: ${o.out} (${(Buffer.byteLength(html) / 1e6).toFixed(1)} MB)\n`);
  return 0;
}
