import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

// axe-core (MPL-2.0, test only).
const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Violation {
  id: string;
  impact: string;
  nodes: { target: string[]; failureSummary: string }[];
}

// serious is what axe-core finds serious or critical on a page.
export async function serious(page: Page): Promise<string[]> {
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

// unnamed are the things one can press, slide or fill that have no name said aloud.
export async function unnamed(page: Page): Promise<string[]> {
  const told = await page.locator('body').ariaSnapshot();
  return told
    .split('\n')
    .filter((line) => /^\s*- (button|link|slider|textbox|combobox|checkbox)(:| \[|$)/.test(line));
}
