import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { sheetOf, sheetSvg } from '../../src/viz/svg/sheet.ts';
import { everyOffer } from '../unit/viz/offers.ts';
import { findBrowser, launch } from './chromium.ts';

const executable = findBrowser();

/** Words of a drawing that reach over its edge, and pairs of axis or tick words that lie on each other [px²]. */
async function wordsAmiss(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const svg = document.querySelector('svg')!;
    const sheet = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll('text')].map((text) => ({
      words: text.textContent!,
      turned: text.hasAttribute('transform'),
      box: text.getBoundingClientRect(),
    }));
    const over = texts.filter(
      ({ box }) =>
        box.left < sheet.left || box.right > sheet.right || box.top < 0 || box.bottom > sheet.bottom,
    );
    const level = texts.filter(({ turned }) => !turned);
    const clashes = level.flatMap((one, i) =>
      level.slice(i + 1).flatMap((other) => {
        const wide = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
        const tall = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
        return wide > 3 && tall > 5 ? [`${one.words} on ${other.words}`] : [];
      }),
    );
    return [...over.map(({ words }) => `over the edge: ${words}`), ...clashes];
  });
}

describe.skipIf(executable === undefined)('figures as files, in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch(executable!);
  });
  afterAll(() => browser?.close());

  test.each([420, 900])(
    'at %i px no word is cut off or lies on another',
    async (width) => {
      const page = await browser.newPage({ viewport: { width: 1200, height: 1000 } });
      const amiss: string[] = [];
      let looked = 0;
      for (const [command, { figures, source }] of await everyOffer()) {
        for (const figure of figures) {
          await page.setContent(`<body style="margin:0">${sheetSvg(sheetOf(figure, source, width))}</body>`);
          looked += await page.locator('svg text').count();
          amiss.push(...(await wordsAmiss(page)).map((fault) => `${command}, ${figure.id}: ${fault}`));
        }
      }
      expect(amiss).toEqual([]);
      // some twenty words to each of three dozen figures
      expect(looked).toBeGreaterThan(500);
      await page.close();
    },
    120_000,
  );
});
