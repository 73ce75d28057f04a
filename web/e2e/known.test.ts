import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launch, open, still } from './browser';
import { Program } from './program';
import { serious, unnamed } from './serious';

// A photograph without a mat: one known length sets the scale, by page alone.

const program = new Program();
let browser: Browser;

beforeAll(async () => {
  await program.start();
  browser = await launch();
});

afterAll(async () => {
  await browser?.close();
  await program.end();
});

// A light piece 800 px long on a dark grey table, beside it a strip from (400, 850) to
// (1200, 850): drawn here, since it need not be more.
async function photograph(page: Page): Promise<Buffer> {
  const data = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(1600, 1200);
    const draw = canvas.getContext('2d');
    if (!draw) throw new Error('no canvas');
    draw.fillStyle = 'rgb(70, 70, 72)';
    draw.fillRect(0, 0, 1600, 1200);
    for (let n = 0; n < 60_000; n++) {
      draw.fillStyle = n % 2 ? 'rgba(255, 255, 255, 0.05)' : 'rgba(0, 0, 0, 0.07)';
      draw.fillRect((n * 7919) % 1600, (n * 104729) % 1200, 2, 2);
    }
    draw.filter = 'blur(1px)';
    draw.fillStyle = 'rgb(222, 220, 214)';
    draw.beginPath();
    draw.moveTo(400, 440);
    draw.lineTo(700, 440);
    draw.lineTo(900, 490);
    draw.lineTo(1200, 490);
    draw.lineTo(1200, 610);
    draw.lineTo(900, 610);
    draw.lineTo(700, 660);
    draw.lineTo(400, 660);
    draw.fill();
    const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.95 });
    let text = '';
    for (const byte of new Uint8Array(await blob.arrayBuffer())) text += String.fromCharCode(byte);
    return btoa(text);
  });
  return Buffer.from(data, 'base64');
}

async function toTheLength(page: Page, name: string): Promise<void> {
  await page.getByLabel('Name of the build').fill(name);
  await page.getByRole('button', { name: 'Start it' }).click();
  await page.getByLabel(/^The photograph: JPEG/).setInputFiles({
    name: 'Table.jpg',
    mimeType: 'image/jpeg',
    buffer: await photograph(page),
  });
  await page.getByRole('heading', { name: 'No grid is found.' }).waitFor({ timeout: 45_000 });
  await page.getByRole('button', { name: 'It lies on no mat' }).click();
  await page.getByRole('heading', { name: 'Press both ends of a known length.' }).waitFor();
}

async function press(page: Page, ...places: readonly [number, number][]): Promise<void> {
  const photo = page.getByRole('application', { name: /Enter picks a place$/ });
  const img = photo.getByRole('img');
  const box = await still(img);
  const hold = await still(photo);
  const k = box.width / 1600;
  for (const [x, y] of places)
    await photo.click({ position: { x: box.x - hold.x + x * k, y: box.y - hold.y + y * k } });
}

test('without a mat one known length sets the scale', async () => {
  const { page, faults } = await open(browser, `${program.base}/`);
  await toTheLength(page, 'On a table');
  const sets = page.getByRole('button', { name: 'That sets the scale' });
  await press(page, [400, 850]);
  await page.getByLabel('Apart, mm').fill('160');
  expect(await sets.isDisabled()).toBe(true); // one end is no length
  await press(page, [1200, 850]);
  await sets.click();
  await page.getByLabel('Length, mm').fill('150');
  await page.getByLabel('Sure to ±, mm').fill('10');
  await page.getByRole('button', { name: 'That is its length' }).click();
  await page.getByLabel('Times').fill('2');
  await page.getByRole('button', { name: 'Measure it and work it out' }).click();
  await page.getByLabel('Nozzle, mm').waitFor({ timeout: 45_000 });
  await page.getByRole('link', { name: 'To the drawing board' }).click();
  await page.getByRole('link', { name: /Reference/ }).click();
  await page.getByText(/One known length set its scale/).waitFor({ timeout: 30_000 });
  expect(faults).toEqual([]);
  await page.context().close();
}, 120_000);

test.each([false, true])(
  'axe on the known length, night: %s',
  async (night) => {
    const { page, faults } = await open(browser, `${program.base}/`, { night });
    await toTheLength(page, night ? 'Table by night' : 'Table by day');
    await press(page, [400, 850], [1200, 850]);
    const found = await serious(page);
    for (const width of [390, 900, 1440]) {
      await page.setViewportSize({ width, height: 900 });
      found.push(...(await unnamed(page)).map((u) => `${width} px, no name: ${u}`));
    }
    expect(found).toEqual([]);
    expect(faults).toEqual([]);
    await page.context().close();
  },
  120_000,
);
