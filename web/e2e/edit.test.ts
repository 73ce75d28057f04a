import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
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

const text = () => readFileSync(join(program.dir ?? '', 'build.yaml'), 'utf8');
const sheet = () => `${program.base}/#/${program.build}/sheet`;

async function select(page: Page, mark: string) {
  await page
    .locator(`[data-mark="${mark}"]`)
    .first()
    .click({ position: { x: 4, y: 4 }, force: true });
}

async function wallOf(page: Page, part: string, to: string) {
  await page.getByRole('button', { name: new RegExp(`^wall of ${part},`) }).click();
  const field = page.getByLabel(`wall of ${part}, as declared`);
  await field.fill(to);
  return field;
}

describe('editing', () => {
  test('a wall is typed on the elevation, its consequence said first, and undone by name', async () => {
    const { page, faults } = await open(browser, sheet());
    await select(page, 'piece-nose.foot.nose');
    const field = await wallOf(page, 'nose', '3 mm');
    await page
      .getByText(/adds .* (h|g)/)
      .first()
      .waitFor();
    expect(text()).toContain('to: 218.5 ref\n    wall: 2.4 mm');
    await field.press('Enter');
    await page.getByRole('button', { name: 'Undo: wall of nose' }).waitFor();
    expect(text()).toContain('to: 218.5 ref\n    wall: 3 mm');
    await page.getByRole('button', { name: 'Undo: wall of nose' }).click();
    await page.getByRole('button', { name: /^Redo: wall of nose/ }).waitFor();
    expect(text()).toContain('to: 218.5 ref\n    wall: 2.4 mm');
    expect(text()).toContain('# drain pipe 110 x 3.2, EN 1401'); // comments stay
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test('what cannot be is refused, with the reason, and stays typed', async () => {
    const { page } = await open(browser, sheet());
    await select(page, 'piece-nose.foot.nose');
    const field = await wallOf(page, 'nose', 'thick');
    await field.press('Enter');
    await page.getByRole('alert').waitFor();
    expect(await field.inputValue()).toBe('thick');
    await field.press('Escape');
    await page.getByRole('button', { name: /^wall of nose, 2.4 mm/ }).waitFor();
    await page.context().close();
  });

  test('an end is dragged by keys, and caught by what is near by the pointer', async () => {
    const { page } = await open(browser, sheet());
    await select(page, 'piece-nose.foot.nose');
    const elevation = page.getByRole('region', { name: 'Elevation', exact: true });
    const grip = elevation.getByRole('slider', { name: /^foot of nose/ });
    await grip.focus();
    await grip.press('ArrowRight');
    await expect.poll(() => grip.getAttribute('aria-valuenow')).toBe('1009');
    await grip.press('Escape');
    await expect.poll(() => grip.getAttribute('aria-valuenow')).toBe('1008');
    await page.context().close();
  });

  test('two windows stay in step', async () => {
    const one = await open(browser, sheet());
    const two = await open(browser, sheet());
    await select(one.page, 'piece-shoulder.foot.nose');
    const field = await wallOf(one.page, 'shoulder', '2.8 mm');
    await field.press('Enter');
    await two.page.getByRole('button', { name: 'Undo: wall of shoulder' }).waitFor();
    await one.page.getByRole('button', { name: 'Undo: wall of shoulder' }).click();
    await two.page.getByRole('button', { name: /Redo: wall of shoulder/ }).waitFor();
    await one.page.context().close();
    await two.page.context().close();
  });

  test('a conflict is shown, and nothing is overwritten', async () => {
    const one = await open(browser, sheet());
    await one.page.route('**/events', (route) => route.abort()); // hears nothing from now on
    await one.page.reload();
    await select(one.page, 'piece-nose.foot.nose');
    const field = await wallOf(one.page, 'nose', '3.2 mm');
    const two = await open(browser, sheet());
    await select(two.page, 'piece-shoulder.foot.nose');
    await (await wallOf(two.page, 'shoulder', '2.8 mm')).press('Enter');
    await two.page.getByRole('button', { name: 'Undo: wall of shoulder' }).waitFor();
    await field.press('Enter');
    const alert = one.page.getByRole('alert').filter({ hasText: 'changed by another' });
    await alert.waitFor();
    expect(await alert.innerText()).toContain('wall of shoulder was 2.4 mm, is now 2.8 mm');
    expect(text()).not.toContain('3.2 mm\n');
    await two.page.getByRole('button', { name: 'Undo: wall of shoulder' }).click();
    await two.page.getByRole('button', { name: /Redo: wall of shoulder/ }).waitFor();
    await one.page.context().close();
    await two.page.context().close();
  });

  test('an edit on disk appears, and a mistake in the file is shown with its line', async () => {
    const { page } = await open(browser, sheet());
    await page.getByRole('heading', { name: 'The whole' }).waitFor();
    const before = text();
    writeFileSync(join(program.dir ?? '', 'build.yaml'), before.replace('ratio: 6', 'ratio: six'));
    await page
      .getByRole('alert')
      .filter({ hasText: /line \d+/ })
      .waitFor();
    writeFileSync(join(program.dir ?? '', 'build.yaml'), before);
    await page.getByRole('alert').waitFor({ state: 'detached' });
    await page.context().close();
  });

  test('undo is there after the program was stopped and started', async () => {
    const { page } = await open(browser, sheet());
    await select(page, 'piece-nose.foot.nose');
    const field = await wallOf(page, 'nose', '2.6 mm');
    await field.press('Enter');
    await page.getByRole('button', { name: 'Undo: wall of nose' }).waitFor();
    const port = Number(new URL(program.base).port);
    await program.stop();
    await page.getByRole('alert').filter({ hasText: 'has not answered' }).waitFor();
    await program.start(port);
    await page.getByRole('alert').waitFor({ state: 'detached', timeout: 20_000 });
    await page.getByRole('button', { name: 'Undo: wall of nose' }).click();
    await page.getByRole('button', { name: /Redo: wall of nose/ }).waitFor();
    expect(text()).toContain('to: 218.5 ref\n    wall: 2.4 mm');
    await page.context().close();
  });
});
