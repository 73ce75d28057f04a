import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launch, open } from './browser';
import { Program } from './program';

const program = new Program('foyer-rocket');
let browser: Browser;

beforeAll(async () => {
  await program.start();
  browser = await launch();
  await program.derived();
});

afterAll(async () => {
  await browser?.close();
  await program.end();
});

async function sheet(): Promise<Page> {
  const { page } = await open(browser, `${program.base}/#/${program.build}/sheet`);
  await page.locator('[data-lane="elevation"] svg.scene').waitFor();
  await page.locator('[data-mark="flag-overhang-0"]').first().waitFor({ state: 'attached' });
  return page;
}

const plumb = (page: Page) => page.locator('#plumb-aloud').textContent();

// No pointer in any of these.
describe('by keyboard alone', () => {
  test('the plumb line moves, lanes are stepped through, what hangs there is selected', async () => {
    const page = await sheet();
    // It begins half way along the piece, whose length hangs on what was measured.
    const first = parseInt((await plumb(page)) ?? '', 10);
    const lengths = page.locator('[data-lane="elevation"] text').filter({ hasText: /^\d{4}$/ });
    const whole = parseInt((await lengths.first().textContent()) ?? '', 10);
    expect(Math.abs(2 * first - whole)).toBeLessThanOrEqual(1);
    const moved = `${first + 109} millimetres`;
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('Alt+ArrowLeft');
    await expect.poll(() => plumb(page)).toBe(moved);
    await page.keyboard.press('ArrowDown');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-lane'))).toBe(
      'pieces',
    );
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'body 3 of 3' }).waitFor();
    await page.getByRole('status').filter({ hasText: moved }).waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'The whole' }).waitFor();
    await page.context().close();
  });

  test('findings and joints by their letters, a station by G, units by U', async () => {
    const page = await sheet();
    await page.keyboard.press('n');
    await page.getByRole('heading', { name: /^note: / }).waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('g');
    await page.getByLabel('Station, mm').fill('200');
    await page.keyboard.press('Enter');
    await expect.poll(() => plumb(page)).toBe('200 millimetres');
    await page.keyboard.press('j');
    await expect.poll(() => plumb(page)).toBe('340 millimetres');
    await page.keyboard.press('Shift+J');
    await expect.poll(() => plumb(page)).toBe('180 millimetres');
    await page.keyboard.press('u');
    await expect.poll(() => plumb(page)).toBe('7 and 1/16 inches');
    await page.context().close();
  });

  test('nearer, farther, the whole; sheets by number; the list of keys', async () => {
    const page = await sheet();
    const boxes = () =>
      page.locator('[data-lane="pieces"] [data-mark="print-nose.foot.nose"]').count();
    await expect.poll(boxes).toBe(1);
    for (let n = 0; n < 6; n++) await page.keyboard.press('+');
    await expect.poll(boxes).toBe(0);
    await page.keyboard.press('0');
    await expect.poll(boxes).toBe(1);
    await page.keyboard.press('?');
    await page.getByRole('dialog', { name: 'Keys' }).waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('6');
    await page.getByRole('heading', { name: /^(Today|Next)/ }).waitFor();
    await page.keyboard.press('1');
    await page.getByRole('heading', { name: /it can be made/ }).waitFor();
    await page.context().close();
  });

  test('an edit from the first tab stop to its undo', async () => {
    const page = await sheet();
    await page.keyboard.press('g');
    await page.getByLabel('Station, mm').fill('1100');
    await page.keyboard.press('Enter');
    await page.locator('[data-lane="elevation"]').focus();
    await page.keyboard.press('Enter');
    const wall = page.getByRole('button', { name: /^wall of nose,/ });
    await wall.waitFor();
    for (let n = 0; n < 40; n++) {
      if (await wall.evaluate((b) => b === document.activeElement)) break;
      await page.keyboard.press('Tab');
    }
    await page.keyboard.press('Enter');
    await page.keyboard.type('2.5 mm');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Undo: wall of nose' }).waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('Control+z');
    await page.getByRole('button', { name: 'Redo: wall of nose' }).waitFor();
    await page.context().close();
  });
});
