/**
 * A picture of the running program.
 *
 *   node --import ./bin/types-hook.js scripts/shot.ts URL out.png [--size 1440x900] [--phone] [--tablet]
 *     [--wait SELECTOR] [--click SELECTOR ...] [--key KEY ...] [--settle MS] [--full]
 *
 * URL may be `app` (builds what is stale, serves it for this picture alone) or `app/#there`. Clicks and keys are done
 * in the order given, then --wait is waited for. What the page complains of is printed; then the exit status is 1.
 */
import { parseArgs } from 'node:util';
import { pixels } from '../src/cli/command.ts';
import { complaints, launch, seenOn, startServer } from '../tests/browser/browser.ts';

const { values, positionals, tokens } = parseArgs({
  allowPositionals: true,
  tokens: true,
  options: {
    size: { type: 'string' },
    phone: { type: 'boolean' },
    tablet: { type: 'boolean' },
    wait: { type: 'string' },
    click: { type: 'string', multiple: true },
    key: { type: 'string', multiple: true },
    settle: { type: 'string' },
    full: { type: 'boolean' },
  },
});
const [url, out] = positionals;
if (!url || !out) {
  console.error(
    'Use: scripts/shot.ts URL out.png [--size 1440x900] [--phone] [--wait SELECTOR] [--click SELECTOR]',
  );
  process.exit(2);
}

const server = /^app\b/.test(url) ? await startServer() : undefined;
const browser = await launch();
try {
  const { phone = false, tablet = false } = values;
  const page = await browser.newPage(
    seenOn({ phone, tablet, ...(values.size && { size: pixels(values.size) }) }),
  );
  const said = complaints(page);
  await page.goto(server ? url.replace(/^app\/?/, server.address) : url);
  for (const token of tokens) {
    if (token.kind !== 'option' || token.value === undefined) continue;
    if (token.name === 'click') await page.locator(token.value).first().click();
    if (token.name === 'key') await page.keyboard.press(token.value);
  }
  if (values.wait) await page.locator(values.wait).first().waitFor({ timeout: 120_000 });
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
  await page.waitForTimeout(Number(values.settle ?? 300));
  await page.screenshot({ path: out, fullPage: values.full ?? false });
  for (const line of said) console.error(line);
  if (said.length) process.exitCode = 1;
} finally {
  await browser.close();
  await server?.stop();
}
