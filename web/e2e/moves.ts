import { readFileSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launch, open, still } from './browser';
import { Program } from './program';

// What a drag costs on a build of 200 pieces: from the pointer's event to the frame that
// shows it, and from letting go to lanes redrawn. npm run bench; it prints, and judges
// nothing but that there was something to measure.

const pieces = 200;
const moves = 120;

const program = new Program('newel-post'); // a folder of its own; its build is written anew
let browser: Browser;

// A mast in pieces of 49 mm, as a printer of 57 mm height makes them.
function mast(dir: string): void {
  writeFileSync(
    join(dir, 'outlines/mast.yaml'),
    'schema: 1\ndoubt_mm: 0.1\npath: [{to: [0, 10]}, {to: [3200, 10]}]\n',
  );
  writeFileSync(
    join(dir, 'build.yaml'),
    `schema: 1
revision: 1
name: Mast
reference: {outline: outlines/mast.yaml, length: 3200 ± 0.1 ref}
enlarge: {ratio: 3}
parts:
  mast: {from: 0 ref, to: 3200 ref, wall: 2.4 mm}
calendar: {start: 2026-11-30}
`,
  );
  const shop = readFileSync(join(dir, 'shop.yaml'), 'utf8');
  writeFileSync(
    join(dir, 'shop.yaml'),
    shop.replace(/build: \[.*\]/g, 'build: [220 mm, 220 mm, 57 mm]'),
  );
}

beforeAll(async () => {
  if (program.dir) mast(program.dir);
  await program.start();
  browser = await launch();
  await program.derived();
});

afterAll(async () => {
  await browser?.close();
  await program.end();
});

// watch notes for each pointer event how long it takes to the end of its frame.
function watch(page: Page): Promise<void> {
  return page.evaluate(() => {
    const found: number[] = [];
    (window as unknown as { found: number[] }).found = found;
    const after = (work: () => void) =>
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = work; // a task after the frame was painted
        port2.postMessage(0);
      });
    addEventListener(
      'pointermove',
      (e) => after(() => found.push(performance.now() - e.timeStamp)),
      {
        capture: true,
      },
    );
  });
}

// redrawn waits for the release, and then for the elevation to be drawn anew and not stale.
function redrawn(page: Page): Promise<number> {
  return page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        let began = 0;
        addEventListener('pointerup', (e) => (began = e.timeStamp), { capture: true, once: true });
        const field = document.querySelector('[data-lane="elevation"]');
        if (!field) throw new Error('no elevation');
        let stale = false;
        new MutationObserver(() => {
          stale ||= field.classList.contains('stale');
          if (began && stale && !field.classList.contains('stale'))
            requestAnimationFrame(() => resolve(performance.now() - began));
        }).observe(field, { subtree: true, childList: true, attributes: true });
      }),
  );
}

const sorted = (all: readonly number[]) => [...all].sort((a, b) => a - b);
const figures = (all: readonly number[]) => {
  const s = sorted(all);
  return `median ${s[Math.floor(s.length / 2)]?.toFixed(0)} ms, worst ${s.at(-1)?.toFixed(0)} ms of ${s.length}`;
};

test('a drag on 200 pieces', async () => {
  const { page } = await open(browser, `${program.base}/#/${program.build}/sheet`);
  const elevation = page.getByRole('region', { name: 'Elevation', exact: true });
  await elevation.locator('[data-mark^="piece-"]').first().waitFor();
  expect(await elevation.locator('[data-mark^="piece-"]').count()).toBeGreaterThanOrEqual(pieces);
  const looked = page.waitForResponse((r) => r.url().includes('selected='));
  await elevation.locator('[data-mark^="piece-"]').nth(100).dispatchEvent('click');
  await looked;
  const grip = elevation.getByRole('slider', { name: /^nose of mast/ });
  const box = await still(grip);
  const x = box.x + box.width / 2;
  const y = box.y + 8;
  await watch(page);
  for (let n = 0; n < moves; n++) await page.mouse.move(x - 300 + n * 2, y + 40); // the plumb line
  const plumb = await page.evaluate(() =>
    (window as unknown as { found: number[] }).found.splice(0),
  );
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let n = 0; n < moves; n++) await page.mouse.move(x - n * 0.5, y);
  const drag = await page.evaluate(() =>
    (window as unknown as { found: number[] }).found.splice(0),
  );
  const until = redrawn(page);
  await page.mouse.up();
  const released = await until;
  const machine = `${cpus()[0]?.model ?? '?'}, ${cpus().length} cores, load ${loadavg()[0]?.toFixed(1)}`;
  console.log(
    `${machine}; ${pieces} pieces\n` +
      `plumb line, event to frame: ${figures(plumb)}\n` +
      `drag, event to frame: ${figures(drag)}\n` +
      `release to lanes redrawn: ${released.toFixed(0)} ms`,
  );
  expect(Math.min(plumb.length, drag.length)).toBeGreaterThan(moves / 2);
  await page.context().close();
});
