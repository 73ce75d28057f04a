import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launch, open, still } from './browser';
import { Program } from './program';

// By hand on the photograph: a corner dragged and moved by keys, strokes, marks on the
// body; each one step of undo.
const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
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

async function tool(page: Page, name: string) {
  await page.getByRole('radio', { name }).check({ force: true });
}

async function undo(page: Page, name: RegExp) {
  const before = page.getByRole('button', { name });
  await before.first().waitFor();
  await before.first().click();
  await page.getByRole('button', { name: /^Redo: / }).waitFor();
}

// shoulder is the handle of the corner where the shoulder's cone meets its cylinder.
function shoulder(page: Page): Locator {
  return page.getByRole('button', { name: /^corner at station 1(49|50)\.\d/ });
}

async function middle(at: Locator): Promise<[number, number]> {
  const box = await still(at);
  return [box.x + box.width / 2, box.y + box.height / 2];
}

describe('by hand on the photograph', () => {
  test('a corner is dragged, says what follows, and is left as measured again', async () => {
    const { page, faults } = await open(browser, sheet());
    await tool(page, 'move corners');
    const [x, y] = await middle(shoulder(page));
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 6, y + 1, { steps: 4 });
    await page.getByText(/along and .* out from where it was found/).waitFor();
    await page.mouse.up();
    await page.getByRole('button', { name: /^Undo: corner at station/ }).waitFor();
    expect(text()).toMatch(/corrections: \[\{what: corner, from: \[1(49|50)/);
    const back = page.getByRole('button', { name: /^Leave the corner at station .* as measured$/ });
    await back.click();
    await page.getByRole('button', { name: 'Undo: corner as measured' }).waitFor();
    expect(text()).not.toContain('corrections');
    await back.waitFor({ state: 'detached' });
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test('a corner is moved by keys, finely with Shift, and undone by name', async () => {
    const { page } = await open(browser, sheet());
    await tool(page, 'move corners');
    await shoulder(page).focus();
    await page.keyboard.press('ArrowRight');
    await page.getByText(/^.*\+0\.[45]\d along/).waitFor();
    await page.keyboard.press('Shift+ArrowRight');
    await page.getByText(/^.*\+0\.[56]\d along/).waitFor();
    await page.keyboard.press('Escape');
    await page.getByText(/along and .* out from/).waitFor({ state: 'detached' });
    expect(text()).not.toContain('corrections');
    await page.keyboard.press('ArrowRight');
    await page.getByText(/along and .* out from/).waitFor();
    await page.keyboard.press('Enter');
    await undo(page, /^Undo: corner at station/);
    expect(text()).not.toContain('corrections');
    await page.context().close();
  });

  test('a stroke is painted by pointer and by keys', async () => {
    const { page, faults } = await open(browser, sheet());
    await tool(page, 'paint mat');
    const brush = page.getByRole('application', { name: /^Brush of mat, 4 mm wide/ });
    const box = await still(brush);
    await page.mouse.move(box.x + 0.3 * box.width, box.y + 30);
    await page.mouse.down();
    await page.mouse.move(box.x + 0.4 * box.width, box.y + 36, { steps: 5 });
    await page.mouse.up();
    await page.getByRole('button', { name: 'Undo: a stroke of mat, 4.0 mm wide' }).waitFor();
    expect(text()).toMatch(/brushes: \[\{is: mat, wide_mm: 4, path: \[\[/);
    await tool(page, 'paint object');
    const other = page.getByRole('application', { name: /^Brush of object/ });
    await other.focus();
    await page.keyboard.press(']');
    await page.getByRole('application', { name: /^Brush of object, 5 mm wide/ }).waitFor();
    await page.keyboard.press('Space');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Space');
    await page.getByRole('button', { name: 'Undo: a stroke of object, 5.0 mm wide' }).waitFor();
    await page.getByRole('button', { name: 'take away stroke 2' }).click();
    await page.getByRole('button', { name: 'take away stroke 2' }).waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'take away stroke 1' }).click();
    await page.getByRole('button', { name: 'take away stroke 1' }).waitFor({ state: 'detached' });
    expect(text()).not.toContain('brushes');
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test('a circle is placed by pointer, a line by keys, and an opening takes its place', async () => {
    const { page, faults } = await open(browser, sheet());
    await tool(page, 'move corners');
    const [x, y] = await middle(shoulder(page));
    await tool(page, 'circle');
    // On the body beside the shoulder: its axis runs below the corner's nearer side.
    await page.mouse.move(x - 40, y + 30);
    await page.mouse.down();
    await page.mouse.move(x - 18, y + 30, { steps: 4 });
    await page.getByText(/across, at station 1\d\d\.\d ± \d\.\d mm/).waitFor();
    await page.mouse.up();
    await page.getByRole('button', { name: 'take away circle-1' }).waitFor();
    expect(text()).toMatch(/circle-1: \{is: circle, from: \[/);
    await tool(page, 'line');
    const cross = page.getByRole('application', { name: /^A line by its two ends/ });
    await cross.focus();
    await page.keyboard.press('Enter');
    for (let n = 0; n < 6; n++) await page.keyboard.press('ArrowRight');
    await page.getByText(/long, at station/).waitFor();
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'take away line-1' }).waitFor();
    await page.getByRole('button', { name: /^make an opening of it in / }).click();
    await page.getByRole('button', { name: /^Undo: make an opening of it/ }).waitFor();
    expect(text()).toMatch(/circle-1: \{part: \w+, at: 1[\d.]+ ref, clocking_deg: /);
    expect(faults).toEqual([]);
    await page.context().close();
  });
});

interface Violation {
  id: string;
  impact: string;
  nodes: { failureSummary: string }[];
}

describe.each([false, true])('axe while the hand is on it, night: %s', (night) => {
  test.each(['move corners', 'paint mat', 'rectangle'])('%s', async (name) => {
    const { page } = await open(browser, sheet(), { night });
    await tool(page, name);
    await page.evaluate(source);
    const found = await page.evaluate(async () => {
      const axe = (
        window as unknown as { axe: { run: () => Promise<{ violations: Violation[] }> } }
      ).axe;
      return (await axe.run()).violations;
    });
    const serious = found.filter((v) => v.impact === 'serious' || v.impact === 'critical');
    expect(serious.map((v) => `${v.id}: ${v.nodes[0]?.failureSummary}`)).toEqual([]);
    await page.context().close();
  });
});
