import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** Where a Chromium is found, or undefined; browser tests are skipped then, and say so. */
export const CHROMIUM = process.env.CHROMIUM ?? PLACES.find((place) => existsSync(place));

if (CHROMIUM === undefined) console.warn('no Chromium found: browser tests are skipped');

/** A headless Chromium that asks the network for nothing of its own. */
export function launch(): Promise<Browser> {
  return chromium.launch({
    executablePath: CHROMIUM!,
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
