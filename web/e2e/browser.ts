import { setTimeout } from 'node:timers/promises';
import { chromium, type Browser, type Locator, type Page } from 'playwright-core';

// Debian's Chromium without a display, and without talking to the outside.
export function launch(more: readonly string[] = []): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      ...more,
    ],
  });
}

export interface Opened {
  page: Page;
  faults: string[]; // what the page reported as wrong, refused requests among it
}

export interface Eyes {
  width?: number;
  height?: number;
  night?: boolean;
  touch?: boolean;
  scale?: number; // pixels of the picture for one of the page
}

export async function open(browser: Browser, url: string, eyes: Eyes = {}): Promise<Opened> {
  const context = await browser.newContext({
    viewport: { width: eyes.width ?? 1440, height: eyes.height ?? 900 },
    colorScheme: eyes.night ? 'dark' : 'light',
    hasTouch: eyes.touch ?? false,
    deviceScaleFactor: eyes.scale ?? 1,
    acceptDownloads: true,
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  await page.goto(url);
  return { page, faults };
}

export interface Place {
  x: number;
  y: number;
  width: number;
  height: number;
}

// still is where something lies once it has stopped moving: what is around it on a sheet
// comes by itself, and the mouse would miss it.
export async function still(at: Locator): Promise<Place> {
  await at.waitFor();
  let before = '';
  for (let same = 0; same < 5;) {
    const box = await at.boundingBox();
    const now = JSON.stringify(box);
    same = now === before ? same + 1 : 0;
    if (box && same === 5) return box;
    before = now;
    await setTimeout(50);
  }
  throw new Error('it is not shown');
}
