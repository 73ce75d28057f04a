import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launch, open } from './browser';
import { Program } from './program';

const program = new Program('foyer-rocket');
let browser: Browser;
const phone = { width: 390, height: 844, touch: true };

beforeAll(async () => {
  await program.start();
  browser = await launch();
  await program.derived();
});

afterAll(async () => {
  await browser?.close();
  await program.end();
});

const bench = (place = '') => `${program.base}/#/${program.build}/bench${place}`;

interface Line {
  kind: string;
  text?: string;
  says: string;
}

async function log(): Promise<Line[]> {
  const reply = await fetch(`${program.base}/api/builds/${program.build}/log`);
  return ((await reply.json()) as { events: Line[] }).events;
}

describe('the bench page of a phone', () => {
  test('a piece from settled to printed, with a reading, a photograph and a note', async () => {
    const { page, faults } = await open(browser, bench('/shoulder.foot.nose'), phone);
    await page.getByRole('button', { name: /^Settle shoulder/ }).click();
    await page.getByRole('button', { name: /^Release it/ }).click();
    await page.getByRole('heading', { name: /^[A-Z]\d+$/ }).waitFor();
    await page.getByRole('button', { name: /^Started/ }).click();
    await page.getByText(/^Started \w+day/).waitFor();
    await page.getByRole('button', { name: /^Done/ }).click();
    await page.getByText(/^Printed \w+day/).waitFor();
    await page.getByRole('button', { name: 'more 0.05' }).click();
    await page.getByRole('button', { name: 'Keep the reading' }).click();
    await page.getByRole('button', { name: 'Kept' }).waitFor();
    await page.getByRole('button', { name: /^Note/ }).click();
    await page.getByLabel('Note').fill('a scratch at the seam');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByRole('button', { name: /^Note 1 kept/ }).waitFor();
    const pixel =
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';
    await page.getByLabel(/^Photo/).setInputFiles({
      name: 'seam.png',
      mimeType: 'image/png',
      buffer: Buffer.from(pixel, 'base64'),
    });
    await page.getByText('1 kept').nth(1).waitFor();
    expect((await log()).map((e) => e.kind)).toEqual([
      'photo',
      'note',
      'measured',
      'printed',
      'started',
      'released',
    ]);
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test('what is entered while the program is away is kept, and sent once it is back', async () => {
    const { page } = await open(browser, bench('/nose.foot.nose'), phone);
    await page.getByRole('button', { name: /^Note/ }).click();
    const port = Number(new URL(program.base).port);
    await program.stop();
    await page.getByLabel('Note').fill('written in the cellar');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('One entry is kept here').waitFor();
    await program.start(port);
    await page.getByText('One entry is kept here').waitFor({ state: 'detached', timeout: 30_000 });
    const notes = (await log()).filter((e) => e.says.includes('written in the cellar'));
    expect(notes).toHaveLength(1);
    await page.context().close();
  });

  test('targets are large enough for a glove, and nothing runs off the side', async () => {
    for (const place of ['', '/shoulder.foot.nose']) {
      const { page } = await open(browser, bench(place), phone);
      await page.getByRole('main').waitFor();
      const small = await page.evaluate(() =>
        [...document.querySelectorAll('button, main a, nav a')]
          .filter((e) => e.getBoundingClientRect().height < 58)
          .map((e) => e.textContent),
      );
      expect(small).toEqual([]);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      expect(wide).toBeLessThanOrEqual(390);
      await page.context().close();
    }
  });
});
