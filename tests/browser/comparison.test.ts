import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { toCase } from '../../src/scenario/operating-point.ts';
import { quantityNamed } from '../../src/scenario/outcome/quantities.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { compareWheels } from '../../src/search/compare/comparison.ts';
import { comparisonPage } from '../../src/viz/compare/page.ts';
import { reportText } from '../../src/viz/write/report.ts';
import { findBrowser, launch, open } from './chromium.ts';
import { demo } from './sweep-page.ts';

const executable = findBrowser();
const DENSE = 'machine.rotors.dense={ geometry: { count: 24 } }';

describe.skipIf(executable === undefined)('a comparison under the hand', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-compare-'));
  const file = join(folder, 'compare.html');
  let browser: Browser;

  beforeAll(async () => {
    const scenario = await demo([DENSE]);
    const made = { version: 'of a test', date: '2026-01-01' };
    writeFileSync(file, reportText(comparisonPage(scenario, compareWheels(scenario), made)));
    browser = await launch(executable!);
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('a geometry number moves grade efficiency, cut and capacity, to what the model says of it', async () => {
    const { page, complaints, requests } = await open(browser, file, 1440);
    const cell = async (key: string) => Number(await page.textContent(`[data-value="${key}"]`));
    const grade = () =>
      page.$$eval('#figure-grade-efficiency .still path', (paths) =>
        paths.map((path) => path.getAttribute('d')).join(' '),
      );
    const before = { cut: await cell('wheel.cutSize_um'), grade: await grade() };
    await page.click('summary:has-text("Wheel geometry")');
    await page.focus('#set-wheel-geometry-height');
    for (let i = 0; i < 6; i++) await page.keyboard.press('PageUp');
    await expect.poll(() => cell('wheel.cutSize_um'), { timeout: 30_000 }).toBeLessThan(0.98 * before.cut);
    await expect.poll(grade, { timeout: 30_000 }).not.toBe(before.grade);
    const height = await page.inputValue('#set-wheel-geometry-height-number');
    const there = await demo([DENSE, `machine.wheels.medium-leaning.geometry.height=${height} mm`]);
    // the page draws each press on its way: the last one is waited for
    const comes = (key: string, wanted: number) =>
      expect
        .poll(async () => Math.abs((await cell(key)) / wanted - 1), { timeout: 30_000 })
        .toBeLessThan(6e-4);
    await comes('wheel.cutSize_um', quantityAt(there, 'cutSize') * 1e6);
    await comes('loop.feedAtChoke_kg_per_h', quantityAt(there, 'feedAtChoke') * 3600);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
  }, 120_000);

  test.each([1440, 390])(
    'at %d px rotors and sliders stand on the page, and nothing sticks out',
    async (width) => {
      const { page, complaints } = await open(browser, file, width);
      const text = (await page.textContent('#rotors'))!;
      for (const words of ['machine’s own', 'dense', 'Least specific energy first', 'cannot be ranked'])
        expect(text).toContain(words);
      expect(await page.locator('#figure-rotor-capacity svg').count()).toBeGreaterThan(0);
      expect(await page.locator('input[type=range][id^=set-machine-rotor-geometry]').count()).toBe(4);
      expect(await page.locator('input[type=range][id^=set-wheel-geometry]').count()).toBe(5);
      const size = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth] as const);
      expect(size[0]).toBeLessThanOrEqual(size[1]);
      expect(complaints).toEqual([]);
    },
    60_000,
  );
});

function quantityAt(scenario: Scenario, quantity: string): number {
  const point = solvePoint(toCase(scenario));
  return point.status === 'steady' ? quantityNamed(quantity)!.of(point) : Number.NaN;
}
