import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { launch, open, still } from './browser';
import { Program } from './program';

// An edit on every lane, by pointer or by keys: what follows is seen on the lane, the file
// says it, and undo brings the lane back as it was.

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

const path = () => join(program.dir ?? '', 'build.yaml');
const text = () => readFileSync(path(), 'utf8');
const body = (t: string) => t.replace(/^revision: .*$/m, '');
const begun = text();

interface Case {
  lane: string; // its name
  sheet?: string;
  mark: string; // that is selected, on the lane itself unless said
  on?: string; // id of the lane it is selected on
  folded?: boolean; // what follows stands in its folded line
  edit: (lane: Locator, page: Page) => Promise<void>;
  undo: string; // name of the step
  says: string; // in the file, after it
}

// slide moves a grip by so many arrow keys and lets it go with Enter.
async function slide(lane: Locator, name: RegExp, key: string, times: number) {
  const grip = lane.getByRole('slider', { name });
  await grip.focus();
  for (let n = 0; n < times; n++) await grip.press(key);
  await grip.press('Enter');
}

// drag pulls a grip along by so many px.
async function drag(lane: Locator, page: Page, name: RegExp, by: number) {
  const box = await still(lane.getByRole('slider', { name }));
  const y = box.y + 6;
  await page.mouse.move(box.x + box.width / 2, y);
  await page.mouse.down();
  for (const part of [0.4, 0.8, 1]) await page.mouse.move(box.x + box.width / 2 + by * part, y);
  await page.mouse.up();
}

async function type(lane: Locator, name: string, to: string) {
  await lane.getByRole('button', { name: new RegExp(`^${name},`) }).click();
  const field = lane.getByLabel(`${name}, as declared`);
  await field.fill(to);
  await field.press('Enter');
}

const cases: Case[] = [
  {
    lane: 'Elevation',
    mark: 'component-voice',
    edit: (lane, page) => drag(lane, page, /^place of voice-hole/, 40),
    undo: 'place of voice-hole',
    says: 'voice-hole: {part: body, at: ',
  },
  {
    lane: 'Pieces',
    mark: 'print-body.+1.+2',
    edit: (lane) => slide(lane, /^cut \+1 of body/, 'Shift+ArrowRight', 2),
    undo: 'accept c1',
    says: 'cuts:',
  },
  {
    lane: 'Walls',
    mark: 'piece-nose.foot.nose',
    on: 'elevation',
    edit: (lane) => slide(lane, /^wall of nose/, 'ArrowUp', 4),
    undo: 'wall of nose',
    says: 'to: 218.5 ref\n    wall: 2.8 mm',
  },
  {
    lane: 'Core and stock',
    mark: 'core-length',
    edit: (lane) => slide(lane, /^nose of the core/, 'Shift+ArrowLeft', 3),
    undo: 'nose of the core',
    says: 'to: 176 ref',
  },
  {
    lane: 'Fits',
    mark: 'fit-body-shoulder',
    edit: async (lane) => {
      await lane.getByLabel('joint body and shoulder').selectOption('butt');
    },
    undo: 'joint body and shoulder',
    says: 'kind: butt',
  },
  {
    lane: 'Weight',
    mark: 'centre-of-mass',
    folded: true,
    edit: (lane) => type(lane, 'base across', '900 mm'),
    undo: 'base across',
    says: 'across: 900 mm',
  },
  {
    lane: 'Finish',
    mark: 'zone-nose.foot.nose',
    edit: (lane) => type(lane, 'coats of colour', '4'),
    undo: 'coats of colour',
    says: 'colour_coats: 4',
  },
  {
    lane: 'Error',
    mark: 'doubt',
    edit: (lane) => type(lane, 'length of the reference', '218.5 ± 0.8 ref'),
    undo: 'length of the reference',
    says: 'length: 218.5 ± 0.8 ref',
  },
  {
    lane: 'Lights & sound',
    sheet: 'lights',
    mark: 'component-glow',
    edit: (lane, page) => drag(lane, page, /^place of glow/, 12),
    undo: 'place of glow',
    says: 'glow: {kind: strip-60, in: bell, at: ',
  },
];

// seen is all that a lane shows, drawn and written, but for what goes with the selection
// and the plumb line.
const seen = (lane: Locator) =>
  lane.evaluate((e) => {
    const words = [...e.querySelectorAll<HTMLElement>('h2, p:not(.here), .remark')].map(
      (p) => p.innerText,
    );
    return words.join('\n') + (e.querySelector('.drawing')?.innerHTML ?? '');
  });

// settled is what a lane shows once that has not changed for a quarter of a second: an answer
// that has come is not drawn yet.
async function settled(lane: Locator): Promise<string> {
  let before = '';
  for (let same = 0; same < 5;) {
    const now = await seen(lane);
    same = now === before ? same + 1 : 0;
    before = now;
    await setTimeout(50);
  }
  return before;
}

// apart is where what a lane shows leaves what it showed before, in the words there, as a
// report has no room for a drawing's paths; '' where it is the same.
async function apart(lane: Locator, before: string): Promise<string> {
  const now = await seen(lane);
  if (now === before) return '';
  let at = 0;
  while (now[at] === before[at]) at++;
  const around = (t: string) => t.slice(Math.max(0, at - 60), at + 60);
  return `${around(before)} ⟶ ${around(now)}`;
}

describe('an edit on every lane', () => {
  test.each(cases)('$lane', async (c) => {
    // What a first try met would not be reported where the second passes.
    await edited(c).catch((error: unknown) => {
      console.error(c.lane, error);
      throw error;
    });
  });

  async function edited(c: Case): Promise<void> {
    if (body(text()) !== body(begun)) writeFileSync(path(), begun); // a lane before left it so
    await program.derived(); // what the edit before was undone to as well
    const { page, faults } = await open(
      browser,
      `${program.base}/#/${program.build}/${c.sheet ?? 'sheet'}`,
    );
    onTestFinished(() => page.context().close());
    const lane = page.getByRole('region', { name: c.lane, exact: true });
    await lane.waitFor();
    const fold = lane.getByRole('button', { name: c.lane, expanded: false });
    const closed = (await fold.count()) > 0;
    const line = closed ? await settled(lane) : '';
    if (closed) await fold.click();
    const from = c.on ? page.locator(`[data-lane="${c.on}"]`) : lane;
    const mark = from.locator(`[data-mark="${c.mark}"]`).first();
    await mark.waitFor();
    const redrawn = c.mark.match(/^(piece|print)-/)
      ? page.waitForResponse((r) => r.url().includes('selected='))
      : undefined;
    await mark.dispatchEvent('click');
    await redrawn;
    await lane.locator('.over, .strip').locator('button, select, [role=slider]').first().waitFor();
    const file = text();
    const before = c.folded ? line : await settled(lane);
    await c.edit(lane, page);
    if (c.folded) await lane.getByRole('button', { name: c.lane, expanded: true }).click();
    const undo = page.getByRole('button', { name: `Undo: ${c.undo}` });
    await undo.waitFor();
    expect(text()).toContain(c.says);
    expect(text()).not.toBe(file);
    const left = () => apart(lane, before);
    await expect.poll(left, { timeout: 20_000 }).not.toBe('');
    await undo.click();
    await page.getByRole('button', { name: `Redo: ${c.undo}` }).waitFor();
    await expect.poll(left, { timeout: 20_000 }).toBe('');
    expect(body(text())).toBe(body(file));
    expect(faults).toEqual([]);
  }
});
