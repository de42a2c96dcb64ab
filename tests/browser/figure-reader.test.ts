import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findBrowser, launch, type Opened, open } from './chromium.ts';
import { demoPages } from './every-page.ts';
import { polled } from './numbers.ts';

const executable = findBrowser();

describe.skipIf(executable === undefined)('figures read by pointer and keyboard', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-reader-'));
  const file = join(folder, 'report.html');
  let browser: Browser;
  let opened: Opened;

  beforeAll(async () => {
    writeFileSync(file, (await demoPages()).sweep!);
    browser = await launch(executable!);
    opened = await open(browser, file, 1280);
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const tip = (page: Page, figure: string) => page.locator(`#figure-${figure} .points .tip`);
  const layer = (page: Page, figure: string) => page.locator(`#figure-${figure} .points`);

  test('the page is ready without the plotting library, and weighs little', async () => {
    expect(await opened.page.evaluate(() => 'Plotly' in window)).toBe(false);
    expect(statSync(file).size).toBeLessThan(3.5e6);
    expect(opened.complaints).toEqual([]);
  });

  test('a pointer near the size curve reads the size and the share below it', async () => {
    const { page } = opened;
    await page.locator('#figure-size-curve').scrollIntoViewIfNeeded();
    await polled(() => layer(page, 'size-curve').isVisible()).toBe(true);
    const curve = page.locator('#figure-size-curve .still svg');
    await polled(async () => {
      const box = (await curve.boundingBox())!;
      // across the left panel, where the product's curve must be met
      for (let share = 0.1; share < 0.6; share += 0.02) {
        await page.mouse.move(box.x + share * box.width, box.y + 0.5 * box.height);
        if (await tip(page, 'size-curve').isVisible()) return tip(page, 'size-curve').textContent();
      }
      return '';
    }).toMatch(/\d.*µm/);
    await page.mouse.move(5, 5);
    await polled(() => tip(page, 'size-curve').isVisible()).toBe(false);
  });

  test('arrow keys go from point to point, speak, and stop at the ends', async () => {
    const { page } = opened;
    await layer(page, 'grade-efficiency').focus();
    await page.keyboard.press('ArrowRight');
    const first = await tip(page, 'grade-efficiency').textContent();
    expect(await tip(page, 'grade-efficiency').getAttribute('aria-live')).toBe('polite');
    await page.keyboard.press('ArrowRight');
    const second = await tip(page, 'grade-efficiency').textContent();
    expect(second).not.toBe(first);
    await page.keyboard.press('ArrowLeft');
    expect(await tip(page, 'grade-efficiency').textContent()).toBe(first);
    await page.keyboard.press('End');
    const last = await tip(page, 'grade-efficiency').textContent();
    await page.keyboard.press('ArrowRight');
    expect(await tip(page, 'grade-efficiency').textContent()).toBe(last);
    await page.keyboard.press('Escape');
    expect(await tip(page, 'grade-efficiency').isVisible()).toBe(false);
  });

  test('the cross on the window starts at the pinned point and reads beside itself', async () => {
    const { page } = opened;
    const pinned = await page.evaluate(() => Number(window.grindloop!.settings.now.rotorSpeed));
    await page.locator('.reader').focus();
    await page.keyboard.press('ArrowRight');
    const words = await page.textContent('.reader .tip');
    const read = Number(/rotor speed ([\d.]+)/.exec(words!)![1]);
    expect(Math.abs(read / pinned - 1)).toBeLessThan(1e-3);
    expect(words).toMatch(/x95|chokes/);
    const box = (await page.locator('.reader .tip').boundingBox())!;
    const plane = (await page.locator('.reader').boundingBox())!;
    expect(box.x).toBeGreaterThanOrEqual(plane.x - 1);
    expect(box.x + box.width).toBeLessThanOrEqual(plane.x + plane.width + 1);
  });

  test('a pinned point that chokes leaves no curve of the point before', async () => {
    const { page } = opened;
    await page.evaluate(() => {
      const { settings } = window.grindloop!;
      const feed = settings.controls.find(({ path }) => path === 'feedRate') as { max: number };
      const wheel = settings.controls.find(({ path }) => path === 'wheelSpeed') as { max: number };
      settings.set({ feedRate: feed.max, wheelSpeed: wheel.max });
    });
    await polled(() => page.textContent('#pinned-state')).toMatch(/chokes/);
    for (const id of ['size-curve', 'grade-efficiency', 'balance'])
      expect(await page.locator(`#figure-${id}`).isVisible()).toBe(false);
    await page.click('#reset');
    await polled(() => page.locator('#figure-size-curve').isVisible()).toBe(true);
  });
});
