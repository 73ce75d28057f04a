import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launch, open } from './browser';
import { Program } from './program';

// axe-core (MPL-2.0, test only) on every screen in both schemes: nothing serious.
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

interface Violation {
  id: string;
  impact: string;
  nodes: { target: string[]; failureSummary: string }[];
}

async function serious(page: Page): Promise<string[]> {
  await page.evaluate(source);
  const found = await page.evaluate(async () => {
    const axe = (window as unknown as { axe: { run: () => Promise<{ violations: Violation[] }> } })
      .axe;
    return (await axe.run()).violations;
  });
  return found
    .filter((v) => v.impact === 'serious' || v.impact === 'critical')
    .map((v) => `${v.id}: ${v.nodes[0]?.target.join(' ')} ${v.nodes[0]?.failureSummary}`);
}

const sheets = ['verdict', 'reference', 'size', 'sheet', 'lights', 'calendar', 'book', 'shop'];

describe.each([false, true])('axe, night: %s', (night) => {
  test.each(sheets)('%s', async (name) => {
    const { page, faults } = await open(browser, `${program.base}/#/${program.build}/${name}`, {
      night,
    });
    await page.getByLabel('Title block').getByText('Foyer rocket').waitFor();
    await page.waitForLoadState('networkidle').catch(() => undefined); // the stream of events stays open
    expect(await serious(page)).toEqual([]);
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
