import type { Browser } from 'playwright-core';
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

describe('what is seen of the demo', () => {
  test("the terminal's address opens the verdict", async () => {
    const { page, faults } = await open(browser, `${program.base}/b/${program.build}`);
    await page.getByRole('heading', { name: /At 1311 mm it can be made/ }).waitFor();
    await page
      .getByRole('img', { name: /shoulder/ })
      .first()
      .waitFor();
    expect(await page.getByLabel('Title block').innerText()).toContain('Foyer rocket');
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test('the plumb line reads every lane straight down', async () => {
    const { page, faults } = await open(browser, `${program.base}/#/${program.build}/sheet`);
    const pieces = page.getByRole('group', { name: /^Pieces:/ });
    await pieces.waitFor();
    await page.getByRole('img', { name: 'nose', exact: true }).first().hover();
    await expect.poll(() => pieces.getAttribute('aria-label')).toContain('nose');
    await page.keyboard.press('Shift+ArrowLeft');
    await page.keyboard.press('Shift+ArrowLeft');
    await page.keyboard.press('Shift+ArrowLeft');
    await expect.poll(() => pieces.getAttribute('aria-label')).not.toContain('nose');
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test('folds open by their names, five at most', async () => {
    const { page } = await open(browser, `${program.base}/#/${program.build}/sheet`);
    for (const name of ['Core and stock', 'Fits', 'Weight', 'Finish']) {
      await page.getByRole('button', { name, exact: true }).click();
    }
    const openLanes = page.locator('section.lane svg.scene');
    await expect.poll(() => openLanes.count()).toBe(5);
    await page.context().close();
  });

  test('feet and inches on every sheet', async () => {
    const { page } = await open(browser, `${program.base}/#/${program.build}/verdict`);
    await page.getByRole('button', { name: 'ft-in' }).click();
    await page.getByRole('heading', { name: /At 4'-3 5\/8" it can be made/ }).waitFor();
    await page.context().close();
  });

  test('the day begins with the bench list', async () => {
    const { page, faults } = await open(browser, `${program.base}/#/${program.build}/calendar`, {
      night: true,
    });
    await page.getByRole('checkbox').first().waitFor();
    await page.getByRole('heading', { name: /^Likely/ }).waitFor();
    expect(faults).toEqual([]);
    await page.context().close();
  });
});
