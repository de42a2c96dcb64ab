import { existsSync } from 'node:fs';
import { type Browser, chromium, type Page } from 'playwright-core';

const PLACES = [
  process.env.CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** Path of a browser; undefined, with a word on the terminal, where there is none. */
export function findBrowser(): string | undefined {
  const found = PLACES.find((place) => place !== undefined && existsSync(place));
  if (found === undefined)
    console.warn('browser tests are skipped: no chromium found; CHROMIUM=/path names one');
  return found;
}

export function launch(executablePath: string): Promise<Browser> {
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

/** An opened page with everything it complained about and everything it asked the network for. */
export interface Opened {
  readonly page: Page;
  readonly complaints: string[];
  readonly requests: string[];
}

/** A page whose script has drawn it, or that has none. */
export const READY = 'html[data-ready=true], html:not(:has(script))';

/** Opens a file of the disk and waits until its script has drawn it. */
export async function open(
  browser: Browser,
  file: string,
  width: number,
  colorScheme: 'light' | 'dark' = 'light',
): Promise<Opened> {
  const page = await browser.newPage({ viewport: { width, height: 900 }, colorScheme });
  const complaints: string[] = [];
  const requests: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('request', (request) => {
    if (request.url() !== `file://${file}` && !/^(blob|data):/.test(request.url()))
      requests.push(request.url());
  });
  await page.goto(`file://${file}`);
  await page.waitForSelector(READY, { timeout: 30_000 });
  return { page, complaints, requests };
}
