import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launch, open } from './browser';
import { Program } from './program';
import { serious } from './serious';

// Readings by caliper: typed, one of them wrongly; and a truth of the outline held.
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

const text = () => readFileSync(join(program.dir ?? '', 'build.yaml'), 'utf8');
const sheet = () => `${program.base}/#/${program.build}/reference`;

async function take(page: Page, read: string, at: string) {
  await page.getByLabel('Reading, mm').fill(read);
  await page.getByLabel('Station, mm of the reference').fill(at);
  await page.getByRole('button', { name: 'take' }).click();
}

describe('readings by caliper', () => {
  test('one is taken, one with its digits swapped is named, a truth is held', async () => {
    const { page, faults } = await open(browser, sheet());
    await page.getByText(/would help most/).waitFor();
    await take(page, '42.0 ± 0.03', '100');
    await page.getByText(/diameter at 100\.0: read 42\.00, all else says 4/).waitFor();
    await take(page, '43', '157');
    await page.getByText(/diameter at 157\.0: read 43\.00, all else says 3.*left out/).waitFor();
    expect(text()).toContain('{diameter: 42.0 ± 0.03 ref, at: 100 ref}');
    await page
      .getByRole('button', { name: /^hold it: the diameter at .* looks like 42 mm/ })
      .first()
      .click();
    await page.getByText(/Trued: 1 of the outline; at full size the surface lies up to/).waitFor();
    expect(text()).toContain('is: parallel, across: 42 ref');
    expect(await serious(page)).toEqual([]);
    expect(faults).toEqual([]);
    if (process.env.PICTURES)
      await page.screenshot({ path: join(process.env.PICTURES, 'day.png') });
    const night = await open(browser, sheet(), { night: true });
    await night.page.getByText(/Trued: 1 of the outline/).waitFor();
    if (process.env.PICTURES) {
      await night.page.screenshot({ path: join(process.env.PICTURES, 'night.png') });
    }
  });
});
