import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launch, open, still } from './browser';
import { Program } from './program';
import { serious, unnamed } from './serious';

// From nothing and a photograph to the first print file and the book, by page alone.

const photos = fileURLToPath(new URL('../../examples/foyer-rocket/photos/', import.meta.url));
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

interface Crossing {
  px: [number, number];
  mm: [number, number];
}

// Crossings as a maker would pick them; the file is the demo's.
function crossings(): Crossing[] {
  const text = readFileSync(`${photos}rocket-marks.yaml`, 'utf8');
  return [...text.matchAll(/px: \[([\d.]+), ([\d.]+)\], mm: \[(\d+), (\d+)\]/g)].map((m) => ({
    px: [Number(m[1]), Number(m[2])],
    mm: [Number(m[3]), Number(m[4])],
  }));
}

async function begin(page: Page, name: string): Promise<void> {
  await page.getByLabel('Name of the build').fill(name);
  await page.getByRole('button', { name: 'Start it' }).click();
  await page.getByRole('heading', { name: 'Photograph the piece on a cutting mat.' }).waitFor();
}

async function pick(page: Page, all: readonly Crossing[], width: number): Promise<void> {
  const photo = page.getByRole('application', { name: /^The photograph/ });
  const img = photo.getByRole('img', { name: 'The reference on the mat' });
  await expect.poll(() => img.evaluate((i) => (i as HTMLImageElement).naturalWidth)).toBe(width);
  const box = await still(img);
  const hold = await still(photo);
  const k = box.width / width;
  for (const c of all) {
    await photo.click({
      position: { x: box.x - hold.x + c.px[0] * k, y: box.y - hold.y + c.px[1] * k },
    });
    await page.getByLabel('lines to the right').fill(String(c.mm[0] / 10));
    await page.getByLabel('lines up').fill(String(c.mm[1] / 10));
    await page.keyboard.press('Enter');
    await page.getByLabel('lines up').waitFor({ state: 'detached' });
  }
}

// The mat's grid is found by itself.
async function mat(page: Page): Promise<void> {
  await page
    .getByRole('heading', { name: "The mat's grid is found." })
    .waitFor({ timeout: 45_000 });
  await page.getByText(/^Lines 10 mm apart, \d{3,4} crossings/).waitFor();
  await page.getByRole('button', { name: 'That is the mat' }).click();
}

// The steps up to the printer, whose figures stand in the fields then.
async function measured(page: Page, name: string, times: string): Promise<void> {
  await begin(page, name);
  await page.getByLabel(/^The photograph: JPEG/).setInputFiles(`${photos}rocket.jpg`);
  await mat(page);
  await page.getByLabel('Length, mm').fill('218.5');
  await page.getByRole('button', { name: 'That is its length' }).click();
  await page.getByLabel('Times').fill(times);
  await page.getByRole('button', { name: 'Measure it and work it out' }).click();
  await page.getByLabel('Nozzle, mm').waitFor({ timeout: 30_000 });
}

test('six steps lead to the first print file and the book', async () => {
  const { page, faults } = await open(browser, `${program.base}/`);
  await measured(page, 'My rocket', '1');
  expect(await page.getByLabel('Nozzle, mm').inputValue()).toBe('0.4');
  await page.getByLabel('Bed wide, mm').fill('230');
  await page.getByRole('button', { name: 'That is the printer' }).click();
  await page
    .getByRole('heading', { name: /^At 21\d mm it can be made/ })
    .waitFor({ timeout: 30_000 });
  await page.getByRole('button', { name: 'Make the print files' }).click();
  const saved = page.waitForEvent('download');
  await page.getByText('Save the print file').click({ timeout: 60_000 });
  const file = await saved;
  expect(file.suggestedFilename()).toMatch(/\.3mf$/);
  expect(
    readFileSync(await file.path())
      .subarray(0, 2)
      .toString(),
  ).toBe('PK');
  await page.getByRole('link', { name: 'To the drawing board' }).click();
  await page.getByRole('link', { name: /Book/ }).click();
  const bound = page.waitForEvent('download');
  await page.getByText('Save the book').click();
  const book = await bound;
  expect(
    readFileSync(await book.path())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-');
  expect(faults.filter((f) => !f.includes('404'))).toEqual([]); // the file looked for before it is made
  await page.context().close();
}, 120_000);

// Each step by day and by night: nothing serious for axe-core, and at the widths of a phone
// and a tablet all that can be pressed has a name. Cuts that are kept where they lie change
// nothing.
test('axe on the six steps, by day and by night, and cuts kept where they lie', async () => {
  const { page, faults } = await open(browser, `${program.base}/`);
  const look = async (step: string) => {
    await page
      .getByRole('listitem')
      .filter({ hasText: step })
      .and(page.locator('[aria-current]'))
      .waitFor();
    const found: string[] = [];
    for (const paper of ['night', 'day']) {
      await page.evaluate((p) => (document.documentElement.dataset.paper = p), paper);
      found.push(...(await serious(page)).map((f) => `${paper}: ${f}`));
    }
    for (const width of [390, 900, 1440]) {
      await page.setViewportSize({ width, height: 900 });
      found.push(...(await unnamed(page)).map((u) => `${width} px, no name: ${u}`));
    }
    expect(found, step).toEqual([]);
  };
  await begin(page, 'By day and by night');
  await look('Photograph');
  await page.getByLabel(/^The photograph: JPEG/).setInputFiles(`${photos}rocket.jpg`);
  await page.getByRole('heading', { name: "The mat's grid is found." }).waitFor();
  await look('The mat');
  await page.getByRole('button', { name: 'Pick crossings by hand' }).click();
  await pick(page, crossings(), 3000);
  await look('The mat');
  await page.getByRole('button', { name: 'These are enough' }).click();
  await look('Length');
  await page.getByLabel('Length, mm').fill('218.5');
  await page.getByRole('button', { name: 'That is its length' }).click();
  await look('How large');
  await page.getByLabel('Times').fill('3');
  await page.getByRole('button', { name: 'Measure it and work it out' }).click();
  await page.getByLabel('Nozzle, mm').waitFor({ timeout: 30_000 });
  await look('Printer');
  await page.getByLabel('high, mm').fill('240');
  await page.getByRole('button', { name: 'That is the printer' }).click();
  const keep = page.getByRole('button', { name: 'Keep the cuts where they lie' });
  await keep.waitFor({ timeout: 30_000 });
  await look('First print file');
  const heading = page.getByRole('heading', { name: /^At 65\d mm it can be made/ });
  const before = await heading.innerText();
  await keep.click();
  await keep.waitFor({ state: 'detached', timeout: 30_000 });
  await page.getByText('It stays right').waitFor({ timeout: 30_000 });
  expect(await heading.innerText()).toBe(before);
  expect(faults).toEqual([]);
  await page.context().close();
}, 120_000);

// A step that only the heavier lines make likely is asked for, with what is likely chosen;
// what is answered is what is measured with.
test('how far the lines are apart is asked where it is likely only', async () => {
  const { page, faults } = await open(browser, `${program.base}/`);
  await begin(page, 'A lever');
  const lever = new URL('../../examples/lock-lever/photos/lever.jpg', import.meta.url);
  const asked: string[] = [];
  let build = '';
  page.on('request', (r) => {
    const url = new URL(r.url());
    if (!url.pathname.endsWith('/grid')) return;
    asked.push(url.search);
    build = url.pathname.split('/')[3] ?? '';
  });
  await page.getByLabel(/^The photograph: JPEG/).setInputFiles(fileURLToPath(lever));
  await page
    .getByRole('heading', { name: 'How far are the lines apart?' })
    .waitFor({ timeout: 45_000 });
  await page.getByText(/one line in 5 is heavier, as on mats of 10 mm/).waitFor();
  const apart = page.getByLabel('Lines are apart');
  expect(await apart.locator('option:checked').innerText()).toBe('10 mm');
  expect(await serious(page)).toEqual([]);
  await apart.selectOption('1/2 in');
  await page.getByRole('button', { name: 'That is how far' }).click();
  await page.getByText(/^Lines 12.7 mm apart, \d{3,4} crossings/).waitFor({ timeout: 45_000 });
  await page.waitForLoadState('networkidle');
  await page.getByRole('button', { name: 'That is the mat' }).click();
  expect(asked).toEqual(['?pitch_mm=0', '?pitch_mm=12.7']);
  await page.getByLabel('Length, mm').fill('261.5');
  await page.getByRole('button', { name: 'That is its length' }).click();
  await page.getByLabel('Times').fill('2');
  await page.getByRole('button', { name: 'Measure it and work it out' }).click();
  await page.getByLabel('Nozzle, mm').waitFor({ timeout: 60_000 });
  const declared = await page.evaluate(
    async (id) => (await fetch(`/api/builds/${id}/declaration`)).json() as Promise<unknown>,
    build,
  );
  expect(JSON.stringify(declared)).toMatch(/"path":"reference.grid"[^{}]*}[^{}]*"12.7 mm"/);
  expect(faults).toEqual([]);
  await page.context().close();
}, 180_000);

test('a photograph of 20 megapixels', async () => {
  const { page } = await open(browser, `${program.base}/`);
  await begin(page, 'Large photograph');
  const small = readFileSync(`${photos}rocket.jpg`).toString('base64');
  const large = await page.evaluate(async (data) => {
    const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/jpeg' }));
    const canvas = new OffscreenCanvas(5200, 3900);
    canvas.getContext('2d')?.drawImage(bitmap, 0, 0, 5200, 3900);
    const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.9 });
    const out = new Uint8Array(await blob.arrayBuffer());
    let text = '';
    for (let n = 0; n < out.length; n += 8192)
      text += String.fromCharCode(...out.subarray(n, n + 8192));
    return btoa(text);
  }, small);
  await page.getByLabel(/^The photograph: JPEG/).setInputFiles({
    name: 'Large one.jpg',
    mimeType: 'image/jpeg',
    buffer: Buffer.from(large, 'base64'),
  });
  const k = 5200 / 3000;
  const scaled = crossings().map((c): Crossing => ({ px: [c.px[0] * k, c.px[1] * k], mm: c.mm }));
  await page.getByRole('button', { name: 'Pick crossings by hand' }).click();
  await pick(page, scaled.slice(0, 9), 5200);
  await page.getByRole('button', { name: 'These are enough' }).click();
  await page.getByLabel('Length, mm').fill('218.5');
  await page.getByRole('button', { name: 'That is its length' }).click();
  await page.getByLabel('Times').fill('3');
  await page.getByRole('button', { name: 'Measure it and work it out' }).click();
  await page.getByLabel('Nozzle, mm').waitFor({ timeout: 45_000 });
  await page.context().close();
}, 120_000);
