import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launch, open } from './browser';
import { Program } from './program';
import { serious, unnamed } from './serious';

// axe-core on every screen in both schemes: nothing serious; and at the widths of a phone, by
// day, and of a tablet, by night, all that can be pressed has a name.

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

const sheets = ['verdict', 'reference', 'size', 'sheet', 'lights', 'calendar', 'book', 'shop'];

describe.each([false, true])('axe, night: %s', (night) => {
  test.each(sheets)('%s', async (name) => {
    const { page, faults } = await open(browser, `${program.base}/#/${program.build}/${name}`, {
      night,
    });
    await page.getByLabel('Title block').getByText('Foyer rocket').waitFor();
    await page.waitForLoadState('networkidle').catch(() => undefined); // the stream of events stays open
    expect(await serious(page)).toEqual([]);
    await page.setViewportSize({ width: night ? 900 : 390, height: 900 });
    await page.getByRole('main').waitFor();
    expect(await unnamed(page)).toEqual([]);
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test.each(['bench', 'bench/shoulder.foot.nose'])('%s at 390 px', async (name) => {
    const { page, faults } = await open(browser, `${program.base}/#/${program.build}/${name}`, {
      night,
      width: 390,
      height: 844,
      touch: true,
    });
    await page.getByRole('navigation', { name: 'Places' }).waitFor();
    await page.getByRole('main').waitFor();
    expect(await serious(page)).toEqual([]);
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test('the shelf', async () => {
    const { page } = await open(browser, `${program.base}/`, { night });
    await page.getByRole('heading', { name: 'Go on' }).waitFor();
    expect(await serious(page)).toEqual([]);
    await page.context().close();
  });
});
