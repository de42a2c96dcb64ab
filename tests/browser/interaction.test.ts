import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { findBrowser, launch, type Opened, open } from './chromium.ts';
import { demo, sweepPage } from './sweep-page.ts';

const executable = findBrowser();

describe.skipIf(executable === undefined)('a report under the hand', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-hand-'));
  let browser: Browser;
  let opened: Opened;

  beforeAll(async () => {
    const file = join(folder, 'report.html');
    writeFileSync(file, sweepPage(await demo()));
    browser = await launch(executable!);
    opened = await open(browser, file, 1280);
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('a slider of the sweep moves window, curves and numbers', async () => {
    const { page, complaints } = opened;
    const before = await shown(page);
    await page.focus('#set-feedRate');
    for (let i = 0; i < 12; i++) await page.keyboard.press('PageDown');
    await polled(async () => (await shown(page)).x95).not.toBe(before.x95);
    const after = await shown(page);
    expect(after.window).not.toBe(before.window);
    expect(Number(after.x95)).toBeLessThan(Number(before.x95));
    expect(after.source).toMatch(/^From the sweep/);
    await page.locator('#figure-size-curve').scrollIntoViewIfNeeded();
    await page.waitForSelector('#figure-size-curve .main-svg');
    const curve = await pathsOf(page, '#figure-size-curve');
    await page.focus('#set-wheelSpeed');
    for (let i = 0; i < 5; i++) await page.keyboard.press('PageUp');
    await polled(() => pathsOf(page, '#figure-size-curve')).not.toBe(curve);
    expect(complaints).toEqual([]);
  });

  test('geometry leaves the sweep: the window is solved live and says so', async () => {
    const { page, complaints } = opened;
    await page.click('#reset');
    const before = await shown(page);
    await page.click('summary:has-text("Wheel geometry")');
    await page.focus('#set-wheel-geometry-height');
    for (let i = 0; i < 6; i++) await page.keyboard.press('PageUp');
    await polled(async () => (await shown(page)).window).not.toBe(before.window);
    expect((await shown(page)).source).toMatch(/^Live, not in the sweep/);
    await page.click('#reset');
    await polled(async () => (await shown(page)).source).toMatch(/^From the sweep/);
    expect(complaints).toEqual([]);
  });

  test('a click pins a point, and so does the keyboard', async () => {
    const { page } = opened;
    const reader = page.locator('.reader');
    await reader.scrollIntoViewIfNeeded();
    const box = (await reader.boundingBox())!;
    const spot = [box.x + box.width * 0.25, box.y + box.height * 0.4] as const;
    await page.mouse.move(...spot);
    expect(await page.textContent('#reading')).toMatch(/^wheel speed .*x95/);
    await page.mouse.click(...spot);
    expect(await settingOf(page, 'wheelSpeed')).toBeCloseTo(2000, -2);
    expect(await settingOf(page, 'rotorSpeed')).toBeCloseTo(5800, -2);
    await reader.focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Enter');
    expect(await settingOf(page, 'wheelSpeed')).toBeCloseTo(2100, -1);
    expect(await settingOf(page, 'rotorSpeed')).toBeCloseTo(5875, -1);
    await polled(() => page.textContent('#pinned-state')).toMatch(/wheel speed 2100\srpm/);
  });

  test('the settings are copied as options and as YAML', async () => {
    const { page } = opened;
    await page.click('#copy-options');
    const options = await page.inputValue('#copy-text');
    expect(options).toMatch(/--set 'settings\.wheel=.*' .*--set 'settings\.feedRate=[\d.]+ kg\/h'/);
    await page.click('#copy-yaml');
    const yaml = await page.inputValue('#copy-text');
    const { settings, air } = parse(yaml);
    for (const [path, value] of Object.entries({ ...settings, 'air.flow': air.flow }))
      expect(options).toContain(`${path}=${value}'`);
    const typed = [...options.matchAll(/--set '([^']+)'/g)].map((found) => found[1]!);
    const scenario = await demo(typed);
    expect(scenario.settings.wheelSpeed.value * 60).toBeCloseTo(await settingOf(page, 'wheelSpeed'), 6);
  });

  test('a surface stands in three dimensions only when asked for', async () => {
    const { page } = opened;
    expect(await page.locator('#relief canvas').count()).toBe(0);
    await page.click('#show-relief');
    await page.waitForSelector('#relief canvas', { timeout: 30_000 });
    expect(await page.getAttribute('#show-relief', 'aria-expanded')).toBe('true');
    await page.focus('#turn');
    await page.keyboard.press('ArrowRight');
    await page.click('#show-relief');
    expect(await page.locator('#relief').isVisible()).toBe(false);
  });

  test('prints every section with its figures', async () => {
    const { page } = opened;
    const pdf = await page.pdf({ preferCSSPageSize: true });
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)!.length).toBeGreaterThanOrEqual(9);
    await page.emulateMedia({ media: 'print' });
    await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
    const state = await page.evaluate(() => ({
      sections: [...document.querySelectorAll('section')].map(({ id, offsetHeight }) => [
        id,
        offsetHeight > 20,
      ]),
      undrawn: [...document.querySelectorAll<HTMLElement>('[data-figure]')]
        .filter((figure) => !figure.querySelector('.still > svg path'))
        .map(({ dataset }) => dataset.figure),
      panel: document.querySelector<HTMLElement>('.panel')!.offsetHeight,
    }));
    const names = ['answer', 'window', 'point', 'ladder', 'knobs', 'surfaces', 'matters', 'assumptions'];
    expect(state.sections).toEqual([...names, 'cautions', 'made'].map((id) => [id, true]));
    expect(state.undrawn).toEqual([]);
    expect(state.panel).toBe(0);
  });
});

/** Waits as long as a busy machine needs. */
function polled<T>(value: () => T | Promise<T>) {
  return expect.poll(value, { timeout: 30_000 });
}

async function settingOf(page: Page, path: string): Promise<number> {
  return Number.parseFloat((await page.textContent(`output[for=set-${path}]`))!);
}

async function shown(page: Page) {
  return {
    window: await pathsOf(page, '#figure-window'),
    x95: await page.textContent('[data-value="product.x95_um"]'),
    source: await page.textContent('#source'),
  };
}

/** Every path of a figure, as one text. */
function pathsOf(page: Page, figure: string): Promise<string> {
  return page.$$eval(`${figure} .plot path`, (paths) =>
    paths.map((path) => path.getAttribute('d')).join(' '),
  );
}
