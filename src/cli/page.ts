/** `rushlight page`: program and shoot in one file. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { escapeHtml, onePageHtml } from '../book/onePage.ts';
import { anglesOf, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { buildIfStale, dist } from './build.ts';
import { command } from './command.ts';
import { writeWhole } from './files.ts';
import { readShoot } from './shoot.ts';
import { figure } from './table.ts';

const STYLE = `body{margin:16px;background:#191918;color:#ded8cb;font:16px/1.45 system-ui,sans-serif}
h1{font-size:24px}h2{font-size:18px;margin:24px 0 4px}table{border-collapse:collapse}
td,th{padding:3px 12px 3px 0;text-align:left;font-variant-numeric:tabular-nums}
th{font-weight:normal;color:#aca598}td.n,th.n{text-align:right}`;

/** What can be read before any script runs: each angle's rig as it stands, from the document itself. */
export function stillHtml(shoot: Shoot): string {
  const e = escapeHtml;
  const angles = anglesOf(shoot).map((ref) => {
    const { scene, angle, lamps, cheated } = rigFor(shoot, ref);
    const rows = Object.entries(lamps).map(
      ([id, lamp]) =>
        `<tr><td>${e(lamp.number)}</td><td>${e(lamp.words ?? shoot.kit.lamps[lamp.head]?.words ?? shoot.kit.lamps[lamp.head]?.kind ?? lamp.head)}</td>` +
        `<td class="n">${lamp.on ? figure(100 * lamp.level, 0) : 'out'}</td>` +
        lamp.at.map((x) => `<td class="n">${figure(x, 2)}</td>`).join('') +
        `<td>${e(lamp.sheets.join(' + '))}${cheated.includes(id) ? ' <i>cheats</i>' : ''}</td></tr>`,
    );
    return `<h2>${e(scene.name)} · ${e(angle.name)}</h2>
<table><tr><th></th><th>lamp</th><th class="n">burns %</th><th class="n">east m</th><th class="n">north m</th><th class="n">high m</th><th>in the beam</th></tr>
${rows.join('\n')}</table>`;
  });
  return `<main><h1>${e(shoot.title)}</h1>${angles.join('\n')}</main>`;
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = command('page', 'Program and shoot in one HTML file that needs no server and no network.', [
    'rushlight page kitchen.json --out kitchen.html',
  ])
    .argument('<file>', 'a shoot')
    .requiredOption('--out <file>', 'where the page goes')
    .parse(args as string[], { from: 'user' });
  const { out } = parsed.opts<{ out: string }>();
  const { shoot, text } = await readShoot(parsed.args[0]!);
  await buildIfStale((line) => process.stderr.write(`${line}\n`));
  const script = readFileSync(join(dist, 'onefile.js'), 'utf8');
  const html = onePageHtml({
    title: shoot.title,
    script,
    shoot: text,
    still: stillHtml(shoot),
    style: STYLE,
  });
  writeWhole(out, html);
  process.stderr.write(`Written: ${out} (${(Buffer.byteLength(html) / 1e6).toFixed(1)} MB)\n`);
  return 0;
}
