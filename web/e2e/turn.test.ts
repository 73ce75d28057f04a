import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launch, open } from './browser';
import { Program } from './program';

const program = new Program('foyer-rocket');
let browser: Browser;
let drawing: Browser; // with a software WebGL

beforeAll(async () => {
  await program.start();
  browser = await launch();
  drawing = await launch([
    '--enable-unsafe-swiftshader',
    '--use-gl=angle',
    '--use-angle=swiftshader',
  ]);
  await program.derived();
});

afterAll(async () => {
  await browser?.close();
  await drawing?.close();
  await program.end();
});

const sheet = () => `${program.base}/#/${program.build}/sheet`;

describe('Turn it', () => {
  test('a piece is turned, and the sheet is there again with the focus where it was', async () => {
    const { page } = await open(drawing, sheet());
    await page.locator('[data-mark="piece-bell.foot.nose"]').first().click({ force: true });
    const press = page.getByRole('button', { name: 'Turn it' });
    await press.click();
    const hold = page.getByRole('application', { name: /^bell/ });
    await page.getByText('Fetching the solids.').waitFor({ state: 'detached' });
    const before = await hold.screenshot();
    await hold.focus();
    await page.keyboard.press('ArrowRight');
    await expect.poll(async () => (await hold.screenshot()).equals(before)).toBe(false);
    await page.keyboard.press('Escape');
    await hold.waitFor({ state: 'detached' });
    expect(await press.evaluate((b) => b === document.activeElement)).toBe(true);
    await page.context().close();
  });

  test('a still picture where the browser has no WebGL', async () => {
    const { page } = await open(browser, sheet());
    await page.addInitScript(() => {
      HTMLCanvasElement.prototype.getContext = () => null;
    });
    await page.reload();
    await page.getByRole('button', { name: 'Turn it' }).click();
    await page.getByText('This browser cannot turn solids').waitFor();
    await page.locator('dialog svg.scene').waitFor();
    await page.context().close();
  });

  test('the solids are fetched only then, and all else is below 400 kB gzipped', () => {
    const assets = fileURLToPath(new URL('../dist/assets/', import.meta.url));
    const names = readdirSync(assets);
    const solids = names.filter((n) => n.startsWith('solids-'));
    expect(solids).toHaveLength(1);
    const rest = names.filter((n) => !solids.includes(n));
    const bytes = rest.reduce((sum, n) => sum + gzipSync(readFileSync(assets + n)).length, 0);
    expect(bytes).toBeLessThan(400_000);
    expect(bytes).toBeGreaterThan(50_000); // it is the page that was weighed
    const index = readFileSync(
      fileURLToPath(new URL('../dist/index.html', import.meta.url)),
      'utf8',
    );
    expect(index).not.toContain('solids-');
  });
});
