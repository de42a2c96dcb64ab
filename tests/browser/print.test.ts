import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { demoCase } from '../../src/scenario/load.ts';
import { readTrialLog } from '../../src/trials/log/file.ts';
import { reportText } from '../../src/viz/write/report.ts';
import { findBrowser, launch, open } from './chromium.ts';
import { pagesFilled } from './printed-pages.ts';
import { demo, demoParts, sweepParts } from './sweep-page.ts';

const executable = findBrowser();
const MM = 72 / 25.4;
/** Margins of the style sheet [pt]. */
const MARGIN = { top: 12 * MM, bottom: 15 * MM };

describe.skipIf(executable === undefined)('the report on paper', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-print-'));
  const file = join(folder, 'sweep.html');
  const tried = join(folder, 'trials.html');
  let browser: Browser;

  beforeAll(async () => {
    const scenario = await demo();
    const log = resolve(dirname(demoCase('erythritol')), 'data/trials/erythritol.csv');
    const { trials } = await readTrialLog(log, scenario);
    writeFileSync(file, reportText(await demoParts()));
    writeFileSync(tried, reportText(sweepParts(scenario, 'engineer', trials)));
    browser = await launch(executable!);
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test.each([
    ['a sweep', 'A4', 8],
    ['a sweep', 'Letter', 8],
    ['a sweep with its trials', 'A4', 10],
    ['a sweep with its trials', 'Letter', 10],
  ] as const)('of %s on %s is at most %i pages, each well used', async (what, format, most) => {
    const { page } = await open(browser, what === 'a sweep' ? file : tried, 1200);
    const filled = pagesFilled(await page.pdf({ format }), MARGIN);
    expect(filled.length).toBeGreaterThan(4);
    expect(filled.length).toBeLessThanOrEqual(most);
    filled.slice(0, -1).forEach((part, k) => {
      expect(part, `page ${k + 1} of ${filled.map((each) => each.toFixed(2))}`).toBeGreaterThan(2 / 3);
    });
    await page.close();
  });

  test.each(['a sweep', 'a sweep with its trials'])(
    'of %s the first sheet has answer, spec, window and numeric limits, and nothing of the next part',
    async (what) => {
      const { page } = await open(browser, what === 'a sweep' ? file : tried, 690);
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
    },
  );
});
