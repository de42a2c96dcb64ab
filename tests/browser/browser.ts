import { existsSync } from 'node:fs';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';

/** Where a Chromium stands on common systems; CHROMIUM names another. */
const PLACES = [
  process.env.CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

export const CHROMIUM = PLACES.find((place) => place !== undefined && existsSync(place));

/** Says once that browser tests were left out, and why. */
export function sayWhereNone(): void {
  if (CHROMIUM === undefined) {
    process.stderr.write('browser tests left out: no Chromium found; CHROMIUM=/path/to/chromium names one\n');
  }
}

export function launch(): Promise<Browser> {
  return chromium.launch({
    executablePath: CHROMIUM!,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-sync',
    ],
  });
}

/** A page opened from disk, with everything it complained of or asked the network for. */
export interface Opened {
  readonly page: Page;
  readonly complaints: string[];
  readonly requests: string[];
}

export async function openFile(
  browser: Browser,
  file: string,
  options: BrowserContextOptions = {},
): Promise<Opened> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const page = await context.newPage();
  const complaints: string[] = [];
  const requests: string[] = [];
  page.on('console', (message) => complaints.push(`${message.type()}: ${message.text()}`));
  page.on('pageerror', (error) => complaints.push(`error: ${error.message}`));
  page.on('request', (request) => {
    if (!/^(file|blob|data):/.test(request.url())) requests.push(request.url());
  });
  await page.goto(`file://${file}`);
  await page.waitForSelector('html[data-ready]', { state: 'attached' });
  return { page, complaints, requests };
}
