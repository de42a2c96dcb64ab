import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { changedScenario } from '../../src/answers/change.ts';
import type { Measure } from '../../src/answers/measure.ts';
import { type PlaneAxis, planeView } from '../../src/answers/plane.ts';
import { quantityOf, type SweepTable, tableGrid } from '../../src/answers/sweep-table.ts';
import { levelsOf, sweepWindow } from '../../src/answers/sweep-window.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { type OperatingWindow, operatingWindow } from '../../src/search/window/window.ts';
import { unpackSweep } from '../../src/viz/page/unpack.ts';
import { planeAxis } from '../../src/viz/report/context.ts';
import type { ReportData } from '../../src/viz/report/report-data.ts';
import { reportText } from '../../src/viz/write/report.ts';
import { findBrowser, launch, type Opened, open } from './chromium.ts';
import { changesOn, numbersFor, numbersOf, pointIsShown, polled } from './numbers.ts';
import { demo, demoParts } from './sweep-page.ts';

const executable = findBrowser();

describe.skipIf(executable === undefined)('a report under the hand', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-hand-'));
  let browser: Browser;
  let opened: Opened;
  let scenario: Scenario;
  let data: ReportData;
  let table: SweepTable;

  /** Numbers of the window that the sweep, or the model on a plane, has at the page's settings. */
  const numbersOfWindow = (window: OperatingWindow): string[][] => {
    const measured = (path: string) => table.factors.find((each) => each.path === path)!.measure;
    const [x, y] = data.sweep!.axes!.map(measured) as [Measure, Measure];
    const quantity = quantityOf(table, data.sweep!.quantity).measure;
    const { words, chokedBecause } = data;
    return numbersFor('window', { window, x, y, quantity, words, chokedBecause, marks: [] });
  };
  const windowOf = async (page: Page): Promise<string[][]> => {
    const now = await page.evaluate(() => window.grindloop!.settings.now);
    const { axes, quantity } = data.sweep!;
    const levels = levelsOf(quantityOf(table, quantity));
    const at = { ...data.position, ...now };
    return numbersOfWindow(sweepWindow(table, tableGrid(table)!, axes!, at, quantity, levels, {}));
  };
  const liveWindowOf = async (page: Page): Promise<string[][]> => {
    const { axes, quantity } = data.sweep!;
    const [x, y] = axes!.map((path) => planeAxis(table, path, 21)) as [PlaneAxis, PlaneAxis];
    const there = changedScenario(scenario, await changesOn(page));
    return numbersOfWindow(
      operatingWindow(planeView(there, x, y, quantity), levelsOf(quantityOf(table, quantity))),
    );
  };

  beforeAll(async () => {
    const file = join(folder, 'report.html');
    scenario = await demo();
    const parts = await demoParts();
    ({ data } = parts);
    table = await unpackSweep(data.sweep!);
    writeFileSync(file, reportText(parts));
    browser = await launch(executable!);
    opened = await open(browser, file, 1280);
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('a slider of the sweep moves window, curves and numbers to where the sweep and the model have them', async () => {
    const { page, complaints } = opened;
    const before = await windowOf(page);
    await polled(() => numbersOf(page, 'window')).toEqual(before);
    await pointIsShown(page, scenario);
    const feed = await settingOf(page, 'feedRate');
    await page.focus('#set-feedRate');
    const { min, max } = (await page.evaluate(() =>
      window.grindloop!.settings.controls.find(({ path }) => path === 'feedRate'),
    )) as { min: number; max: number };
    const key = feed > (min + max) / 2 ? 'PageDown' : 'PageUp';
    for (let i = 0; i < 12; i++) await page.keyboard.press(key);
    await polled(async () => Math.abs((await settingOf(page, 'feedRate')) / feed - 1)).toBeGreaterThan(0.25);
    const after = await windowOf(page);
    expect(after).not.toEqual(before);
    await polled(() => numbersOf(page, 'window')).toEqual(after);
    await polled(() => page.textContent('#source')).toMatch(/^From the sweep/);
    await pointIsShown(page, scenario);
    const speed = await settingOf(page, 'wheelSpeed');
    await page.focus('#set-wheelSpeed');
    for (let i = 0; i < 5; i++) await page.keyboard.press('PageUp');
    await polled(() => settingOf(page, 'wheelSpeed')).toBeGreaterThan(1.2 * speed);
    await pointIsShown(page, scenario);
    expect(complaints).toEqual([]);
  });

  test('geometry leaves the sweep: the window is solved live and says so', async () => {
    const { page, complaints } = opened;
    await page.click('#reset');
    const before = await windowOf(page);
    await polled(() => numbersOf(page, 'window')).toEqual(before);
    const height = await settingOf(page, 'wheel-geometry-height');
    await page.click('summary:has-text("Wheel geometry")');
    await page.focus('#set-wheel-geometry-height');
    let live = before;
    for (const presses of [6, 3]) {
      for (let i = 0; i < presses; i++) await page.keyboard.press('PageUp');
      await polled(() => settingOf(page, 'wheel-geometry-height')).toBeGreaterThan(1.2 * height);
      const next = await liveWindowOf(page);
      expect(next).not.toEqual(live);
      live = next;
      await polled(() => numbersOf(page, 'window')).toEqual(live);
      await page.focus('#set-wheel-geometry-height');
    }
    expect(await page.textContent('#source')).toMatch(/^Live, not in the sweep/);
    await pointIsShown(page, scenario);
    await page.click('#reset');
    await polled(() => page.textContent('#source')).toMatch(/^From the sweep/);
    await polled(() => numbersOf(page, 'window')).toEqual(before);
    expect(complaints).toEqual([]);
  });

  test('a click pins a point, and so does the keyboard', async () => {
    const { page } = opened;
    await page.click('#reset');
    const reader = page.locator('.reader');
    const spot = async (): Promise<[number, number]> => {
      await reader.scrollIntoViewIfNeeded();
      const box = (await reader.boundingBox())!;
      return [box.x + box.width * 0.25, box.y + box.height * 0.4];
    };
    // what is drawn meanwhile may push the plane aside: the hand follows it
    await polled(async () => {
      await page.mouse.move(...(await spot()));
      return page.textContent('#reading');
    }).toMatch(/^wheel speed .*x95/);
    await polled(async () => {
      await page.mouse.click(...(await spot()));
      return settingOf(page, 'wheelSpeed');
    }).toBeCloseTo(2000, -2);
    expect(await settingOf(page, 'rotorSpeed')).toBeCloseTo(5800, -2);
    await reader.focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Enter');
    await polled(() => settingOf(page, 'wheelSpeed')).toBeCloseTo(2100, -1);
    await polled(() => settingOf(page, 'rotorSpeed')).toBeCloseTo(5875, -1);
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
    // it stands at 320° and goes 1° a press; the eye is 1.75 away from the upright
    const eye = () =>
      page.$eval('#relief .plot', (plot) => (plot as unknown as Plotted).layout.scene.camera.eye.x);
    await page.focus('#turn');
    for (const degrees of [321, 322]) {
      await page.keyboard.press('ArrowRight');
      await polled(eye).toBeCloseTo(1.75 * Math.cos((degrees * Math.PI) / 180), 6);
    }
    await page.click('#show-relief');
    await polled(() => page.locator('#relief').isVisible()).toBe(false);
  });

  test('prints every section with its figures', async () => {
    const { page } = opened;
    const pdf = await page.pdf({ preferCSSPageSize: true });
    // eight sheets, also after the page was moved by hand: the most a sweep may print on
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(8);
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

/** What the plotting library keeps of a drawing in three dimensions. */
interface Plotted {
  readonly layout: { readonly scene: { readonly camera: { readonly eye: { readonly x: number } } } };
}

async function settingOf(page: Page, path: string): Promise<number> {
  return Number.parseFloat(await page.inputValue(`#set-${path}-number`));
}
