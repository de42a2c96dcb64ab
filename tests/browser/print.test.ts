import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { reportText } from '../../src/viz/write/report.ts';
import { findBrowser, launch, open } from './chromium.ts';
import { pagesFilled } from './printed-pages.ts';
import { demoParts } from './sweep-page.ts';

const executable = findBrowser();
const MM = 72 / 25.4;
/** Margins of the style sheet [pt]. */
const MARGIN = { top: 12 * MM, bottom: 15 * MM };

describe.skipIf(executable === undefined)('the report on paper', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-print-'));
  const file = join(folder, 'sweep.html');
  let browser: Browser;

  beforeAll(async () => {
    writeFileSync(file, reportText(await demoParts()));
    browser = await launch(executable!);
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test.each(['A4', 'Letter'] as const)(
    'of a sweep is at most 8 pages of %s, each well used',
    async (format) => {
      const { page } = await open(browser, file, 1200);
      const filled = pagesFilled(await page.pdf({ format }), MARGIN);
      expect(filled.length).toBeGreaterThan(4);
      expect(filled.length).toBeLessThanOrEqual(8);
      filled.slice(0, -1).forEach((part, k) => {
        expect(part, `page ${k + 1} of ${filled.map((each) => each.toFixed(2))}`).toBeGreaterThan(2 / 3);
      });
      await page.close();
    },
  );

  test('the first sheet has answer, spec, window and numeric limits, and nothing of the next part', async () => {
    const { page } = await open(browser, file, 690);
    await page.emulateMedia({ media: 'print' });
    await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
    const found = await page.evaluate(() => {
      const part = (id: string) => document.getElementById(id)!;
      return {
        next: getComputedStyle(part('point')).breakBefore,
        tall: part('window').getBoundingClientRect().bottom + scrollY,
        watch: part('answer').querySelector('.watch')!.textContent!,
      };
    });
    expect(found.next).toBe('page');
    // Letter less its margins, in CSS pixels
    expect(found.tall).toBeLessThan(((279.4 - 27) / 25.4) * 96);
    expect(found.watch).toMatch(/stop the run when it reaches [\d.]+\skW or 50\s°C at the outlet/);
    expect(found.watch).toMatch(/Highest speeds: rotor 7200\srpm, wheel 6000\srpm/);
    await page.close();
  });
});
