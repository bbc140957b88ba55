/**
 * A way through what is told and asked on the plan: a person's sentence and its choices, where they can stand and walk,
 * something new put down, the day. `look` is called at each stop.
 */
import type { Page } from 'playwright-core';

export async function throughThePlan(
  page: Page,
  phone: boolean,
  look: (where: string) => Promise<void>,
): Promise<void> {
  if (phone) await page.locator('.where-cell').click();
  const mark = page.locator('.where [data-thing="mark:A"]').first();
  await mark.waitFor();
  // As a key does it: where a finger lands on a small plan is asked elsewhere.
  await mark.focus();
  await page.keyboard.press('Enter');
  await page.locator('.where .who').waitFor();
  await look('a person’s sentence');
  await page.locator('.where .who .told-word').first().click();
  await page.locator('.where .who .choices').waitFor();
  await look('choices in the sentence');
  await page.locator('.where .who .told-word').first().click();
  await page.getByRole('button', { name: 'where else?' }).click();
  await page.locator('.where .stands path.iso').first().waitFor({ state: 'attached', timeout: 60_000 });
  await look('where they can stand');
  await page.locator('.stand-words .told-word').first().click();
  await look('where they walk to');
  await page.locator('.stand-words .choices').getByRole('button', { name: 'B', exact: true }).click();
  await page.locator('.stand-words .walk').waitFor();
  await look('a walk');
  await page.getByRole('button', { name: 'put away' }).first().click();
  await page.locator('.where [data-thing="opening:door"]').first().focus();
  await page.locator('.where .opening').waitFor();
  await page.locator('.where .opening [data-word="hung"]').click();
  await look('an opening’s sentence');
  await page.locator('.where .opening [data-word="hung"]').click();
  await page.locator('.where [data-add]').click();
  await page.locator('.adding .find').fill('so');
  await page.locator('.adding [data-put]').first().waitFor();
  await look('something new');
  await page.locator('.adding [data-put]').first().click();
  await look('something new, to be put down');
  await page.getByRole('button', { name: 'leave it' }).click();
  if (phone) await page.locator('.where-cell').click();
  await page.locator('.day-press').first().click();
  await page.locator('.day-strip').waitFor();
  await look('night');
  await page.getByRole('button', { name: 'by day', exact: true }).click();
  await page.locator('.day-line').waitFor();
  await look('the day');
  await page.keyboard.press('Escape');
}
