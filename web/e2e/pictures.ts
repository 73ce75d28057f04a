import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, test } from 'vitest';
import { launch, open, still, type Eyes } from './browser';
import { Program } from './program';

// Every screen of the page as a picture for docs/page.md, of the demo as it stands.

const folder = fileURLToPath(new URL('../../docs/pictures/page/', import.meta.url));
const program = new Program('foyer-rocket');
let browser: Browser;

beforeAll(async () => {
  mkdirSync(folder, { recursive: true });
  await program.start();
  browser = await launch([
    '--enable-unsafe-swiftshader',
    '--use-gl=angle',
    '--use-angle=swiftshader',
  ]);
  await program.derived();
});

afterAll(async () => {
  await browser?.close();
  await program.end();
});

interface Picture extends Eyes {
  name: string;
  place: string;
  photo?: boolean; // has a photograph in it: a JPEG
  then?: (page: Page) => Promise<void>;
}

const board = { width: 1280, height: 800, scale: 0.7 };
const phone = { width: 390, height: 760, touch: true };

async function settled(page: Page) {
  await page.waitForLoadState('load');
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(1200);
}

const pictures: Picture[] = [
  { name: 'verdict', place: 'verdict', ...board },
  { name: 'reference', place: 'reference', photo: true, ...board },
  {
    name: 'reference-hand',
    place: 'reference',
    photo: true,
    ...board,
    then: async (page) => {
      await page.getByRole('radio', { name: 'move corners' }).check({ force: true });
      const corner = page.getByRole('button', { name: /^corner at station 1(49|50)\.\d/ });
      const box = await still(corner);
      await page.mouse.move(box.x + 12, box.y + 12);
      await page.mouse.down();
      await page.mouse.move(box.x + 19, box.y + 11, { steps: 4 });
      await page.getByText(/from where it was found/).waitFor();
      await page.getByText('working out what follows').waitFor({ state: 'detached' });
    },
  },
  {
    name: 'size',
    place: 'size',
    ...board,
    then: (page) => page.getByText('now', { exact: true }).waitFor(),
  },
  { name: 'sheet', place: 'sheet', ...board },
  { name: 'sheet-night', place: 'sheet', night: true, ...board },
  {
    name: 'sheet-selected',
    place: 'sheet',
    ...board,
    then: async (page) => {
      await page.locator('[data-mark="piece-shoulder.foot.nose"]').first().click({ force: true });
      await page.getByRole('button', { name: /^wall of shoulder,/ }).click();
      await page.getByLabel('wall of shoulder, as declared').fill('3 mm');
      await page
        .getByText(/adds .* (h|g)/)
        .first()
        .waitFor();
    },
  },
  { name: 'sheet-900', place: 'sheet', width: 900, height: 900, scale: 0.85 },
  {
    name: 'lights',
    place: 'lights',
    ...board,
    then: async (page) => {
      await page.locator('[data-mark="component-glow"]').first().dispatchEvent('click');
      await page.getByRole('button', { name: /^place of glow,/ }).waitFor();
    },
  },
  { name: 'calendar', place: 'calendar', ...board },
  { name: 'book', place: 'book', ...board, height: 420 },
  { name: 'shop', place: 'shop', ...board },
  {
    name: 'turn',
    place: 'sheet',
    ...board,
    then: async (page) => {
      await page.getByRole('button', { name: 'Turn it' }).click();
      await page.getByText('Fetching the solids.').waitFor({ state: 'detached' });
      await page.waitForTimeout(6000);
      await page.getByRole('slider', { name: 'Apart' }).fill('1');
    },
  },
  { name: 'bench-today', place: 'bench', ...phone },
  { name: 'bench-piece', place: 'bench/shoulder.foot.nose', ...phone },
];

test.each(pictures)('$name', async ({ name, place, photo, then, ...eyes }) => {
  const { page } = await open(browser, `${program.base}/#/${program.build}/${place}`, eyes);
  await settled(page);
  if (then) {
    await then(page);
    await page.waitForTimeout(700);
  }
  if (photo) await page.screenshot({ path: `${folder}${name}.jpg`, type: 'jpeg', quality: 72 });
  else await page.screenshot({ path: `${folder}${name}.png` });
  await page.context().close();
});

test('first', async () => {
  const { page } = await open(browser, `${program.base}/`, board);
  await settled(page);
  await page.screenshot({ path: `${folder}shelf.png` });
  await page.getByLabel('Name of the build').fill('My rocket');
  await page.getByRole('button', { name: 'Start it' }).click();
  const photos = fileURLToPath(new URL('../../examples/foyer-rocket/photos/', import.meta.url));
  await page.getByLabel(/^The photograph: JPEG/).setInputFiles(`${photos}rocket.jpg`);
  await page.getByRole('heading', { name: "The mat's grid is found." }).waitFor();
  await settled(page);
  await page.screenshot({ path: `${folder}first.jpg`, type: 'jpeg', quality: 72 });
  await page.getByRole('button', { name: 'Pick crossings by hand' }).click();
  const photo = page.getByRole('application', { name: /^The photograph/ });
  await photo.waitFor();
  await settled(page);
  await photo.click({ position: { x: 420, y: 240 } });
  await page.waitForTimeout(500);
  await page.screenshot({ path: `${folder}first-by-hand.jpg`, type: 'jpeg', quality: 72 });
  await page.context().close();
});
