import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { outcomeOf } from '../../src/scenario/outcome/outcome.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { toCase } from '../../src/scenario/point.ts';
import { type Change, changedScenario } from '../../src/viz/live/change.ts';
import { tableFromStore } from '../../src/viz/report/from-store.ts';
import { recommend } from '../../src/viz/report/recommend.ts';
import { CHROMIUM, launch, type Opened, openFile, sayWhereNone } from './browser.ts';
import { smallScenario, sweptHere, writtenReport } from './reports.ts';

sayWhereNone();

describe.skipIf(CHROMIUM === undefined)('the report of a sweep in a browser', () => {
  let browser: Browser;
  let file: string;
  let opened: Opened;
  let source: ReturnType<typeof sweptHere>;

  beforeAll(async () => {
    browser = await launch();
    source = sweptHere(await smallScenario());
    file = writtenReport(source);
    opened = await openFile(browser, file);
  }, 120_000);
  afterAll(() => browser.close());

  test('opens from disk in silence and asks the network for nothing', async () => {
    const { page, complaints, requests } = opened;
    await scrollThrough(page);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    expect(await page.textContent('.opening')).toBe('Uncalibrated estimate, for planning a first trial:');
    const answer = await page.textContent('.sentence');
    expect(answer).toMatch(
      /run the .* wheel at [\d.]+ rpm, rotor [\d.]+ rpm, [\d.]+ kg\/h: [\d.]+ % below 75 µm/,
    );
  });

  test('a slider of the sweep moves window, curves and numbers', async () => {
    const { page, complaints } = opened;
    await page.click('#reset');
    await page.waitForSelector('#figure-window .main-svg');
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
    const curve = await pathOf(page, '#figure-size-curve');
    await page.focus('#set-wheelSpeed');
    for (let i = 0; i < 5; i++) await page.keyboard.press('PageUp');
    await polled(() => pathOf(page, '#figure-size-curve')).not.toBe(curve);
    expect(complaints).toEqual([]);
  });

  test('geometry leaves the sweep: the window is solved live and says so', async () => {
    const { page, complaints } = opened;
    await page.click('#reset');
    await page.waitForSelector('#figure-window .main-svg');
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
    await page.waitForSelector('#figure-window .main-svg');
    const reader = page.locator('.reader');
    await reader.scrollIntoViewIfNeeded();
    const box = (await reader.boundingBox())!;
    await page.mouse.move(box.x + box.width * 0.25, box.y + box.height * 0.4);
    expect(await page.textContent('#reading')).toMatch(/^wheel speed .*x95/);
    await page.mouse.click(box.x + box.width * 0.25, box.y + box.height * 0.4);
    expect(Number.parseFloat((await page.textContent('output[for=set-wheelSpeed]'))!)).toBeCloseTo(2000, -2);
    expect(Number.parseFloat((await page.textContent('output[for=set-rotorSpeed]'))!)).toBeCloseTo(5800, -2);
    await reader.focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Enter');
    const pinned = await page.textContent('output[for=set-wheelSpeed]');
    expect(Number.parseFloat(pinned!)).toBeCloseTo(2100, -1);
    await polled(() => page.textContent('#pinned-state')).toMatch(/wheel speed 2100 rpm/);
  });

  test('page and command line agree to 1e-12 at ten settings', async () => {
    const { page } = opened;
    const { scenario } = source.stored.study;
    const { factors } = source.stored.study.plan;
    const best = recommend(
      scenario,
      factors,
      tableFromStore(scenario, factors, source.stored.columns, source.rows),
    );
    const random = mulberry(20);
    const between = (low: number, high: number) => low + (high - low) * random();
    for (let k = 0; k < 10; k++) {
      const wheel = Object.keys(scenario.machine.wheels)[Math.floor(between(0, 3))]!;
      const changes: Change[] = [
        { path: 'wheel', value: wheel },
        { path: 'rotorSpeed', value: between(70, 115), as: 'shaft' },
        { path: 'wheelSpeed', value: between(18, 60), as: 'shaft' },
        { path: 'feedRate', value: between(0.03, 0.12) },
        { path: 'wheel.geometry.height', value: between(0.05, 0.11) },
        { path: 'machine.rotor.geometry.gap', value: between(0.008, 0.014) },
      ];
      const there = await page.evaluate((list) => window.grindloop!.run(list), changes as never);
      const at = changedScenario(best.scenario, changes);
      const here = outcomeOf(at, solvePoint(toCase(at)));
      const [a, b] = [numbersOf(there), numbersOf(here)];
      expect(a.length).toBe(b.length);
      expect(a.length).toBeGreaterThan(30);
      for (const [i, [name, value]] of a.entries()) {
        const other = b[i]![1];
        if (Number.isNaN(value) && Number.isNaN(other)) continue;
        const slack = name.endsWith('massClosure') ? 1e-12 : 1e-12 * Math.abs(other);
        expect(Math.abs(value - other), `${name} ${value} ${other}`).toBeLessThanOrEqual(slack);
      }
    }
  });

  test('what is copied as --set gives the same point', async () => {
    const { page } = opened;
    await page.click('#copy-options');
    const text = await page.inputValue('#copy-text');
    expect(text).toMatch(/--set 'settings\.wheel=.*' .*--set 'settings\.feedRate=[\d.]+ kg\/h'/);
    await page.click('#copy-yaml');
    expect(await page.inputValue('#copy-text')).toMatch(/^settings: \{ wheel: /);
  });

  test('axe-core finds nothing, light and dark', async () => {
    const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
    for (const colorScheme of ['light', 'dark'] as const) {
      const { page } = opened;
      await page.emulateMedia({ colorScheme });
      await scrollThrough(page);
      await page.evaluate(() => {
        for (const details of document.querySelectorAll('details')) details.open = true;
      });
      await page.evaluate(axe);
      const found = await page.evaluate(async () => {
        const { violations } = await (globalThis as unknown as { axe: Axe }).axe.run(document);
        return violations.map(
          ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(' | ')}`,
        );
      });
      expect(found).toEqual([]);
    }
  });

  test('at 390 px nothing scrolls sideways', async () => {
    const { page } = await openFile(browser, file, { viewport: { width: 390, height: 844 } });
    await page.evaluate(() => {
      for (const details of document.querySelectorAll('details')) details.open = true;
    });
    await page.waitForTimeout(300);
    const widths = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    expect(widths[0]).toBeLessThanOrEqual(widths[1]!);
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
    expect(state.sections.map(([id]) => id)).toEqual([
      'answer',
      'window',
      'point',
      'ladder',
      'knobs',
      'surfaces',
      'matters',
      'assumptions',
      'cautions',
      'made',
    ]);
    expect(state.sections.every(([, visible]) => visible)).toBe(true);
    expect(state.undrawn).toEqual([]);
    expect(state.panel).toBe(0);
  });
});

async function scrollThrough(page: Page): Promise<void> {
  await page.evaluate(async () => {
    for (let y = 0; y < document.body.scrollHeight; y += 500) {
      scrollTo(0, y);
      await new Promise((done) => setTimeout(done, 60));
    }
    scrollTo(0, 0);
  });
}

interface Axe {
  run(root: Document): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
}

/** Waits as long as a busy machine needs. */
function polled<T>(value: () => T | Promise<T>) {
  return expect.poll(value, { timeout: 30_000 });
}

async function shown(page: Page) {
  return {
    window: await pathOf(page, '#figure-window'),
    x95: await page.textContent('[data-value="product.x95_um"]'),
    source: await page.textContent('#source'),
  };
}

/** Every path of a figure, as one text. */
function pathOf(page: Page, figure: string): Promise<string> {
  return page.$$eval(`${figure} .plot path`, (paths) =>
    paths.map((path) => path.getAttribute('d')).join(' '),
  );
}

/** Numbers of plain data with their places, in order. */
function numbersOf(data: unknown, place = ''): [string, number][] {
  if (typeof data === 'number') return [[place, data]];
  if (typeof data !== 'object' || data === null) return [];
  return Object.entries(data).flatMap(([key, value]) => numbersOf(value, `${place}.${key}`));
}

function mulberry(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
