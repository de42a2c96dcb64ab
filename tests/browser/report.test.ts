import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Change, changedScenario } from '../../src/answers/change.ts';
import { toCase } from '../../src/scenario/operating-point.ts';
import { outcomeOf } from '../../src/scenario/outcome/outcome.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { runReport } from '../../src/viz/report/run-report.ts';
import { reportText } from '../../src/viz/write/report.ts';
import { findBrowser, launch, open } from './chromium.ts';
import { pointIsShown, polled, through } from './numbers.ts';
import { uniform } from './random.ts';
import { demo, demoParts, sweepPage } from './sweep-page.ts';

const executable = findBrowser();
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

function randomSettings(count: number): Change[][] {
  const next = uniform(20260101);
  const between = (low: number, high: number) => low + (high - low) * next();
  const wheels = ['medium-radial', 'medium-leaning', 'long-leaning'];
  return Array.from({ length: count }, (_, k): Change[] => [
    { path: 'wheel', value: wheels[k % 3]! },
    { path: 'rotorSpeed', value: between(4000, 7000) / 60, as: 'shaft' },
    { path: 'wheelSpeed', value: between(1000, 4000) / 60, as: 'shaft' },
    { path: 'feedRate', value: between(50, 400) / 3600 },
    { path: 'wheel.geometry.height', value: between(0.04, 0.12) },
  ]);
}

/** Every number of an outcome by its path; lists are counted through, those of named things go by name. */
function numbersIn(value: unknown, path = ''): [string, number][] {
  if (typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  const key = (place: string, each: unknown) =>
    Array.isArray(value) && typeof each === 'object'
      ? String((each as { name?: string }).name ?? place)
      : place;
  return Object.entries(value).flatMap(([place, each]) => numbersIn(each, `${path}.${key(place, each)}`));
}

describe.skipIf(executable === undefined)('report of a sweep, in a browser', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-page-'));
  const file = join(folder, 'report.html');
  let browser: Browser;

  beforeAll(async () => {
    writeFileSync(file, reportText(await demoParts()));
    browser = await launch(executable!);
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test.each([1440, 390])('at %i px it asks no network, complains of nothing and fits', async (width) => {
    const { page, complaints, requests } = await open(browser, file, width);
    await through(page);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    const overflow = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(overflow).toBeLessThanOrEqual(0);
    expect(await page.locator('.sentence').textContent()).toMatch(
      /^Uncalibrated estimate, for planning a first trial: /,
    );
    await page.close();
  });

  test('page and command line agree to 1e-12 at random settings', async () => {
    const { page } = await open(browser, file, 1200);
    const scenario = await demo();
    for (const changes of randomSettings(10)) {
      const here = changedScenario(scenario, changes);
      const own = new Map(numbersIn(outcomeOf(here, solvePoint(toCase(here)))));
      const there = numbersIn(await page.evaluate((each) => window.grindloop!.run(each), changes));
      expect(there.length).toBe(own.size);
      for (const [path, value] of there) {
        // what rounding leaves over is no value of the mill
        if (path === '.loop.massClosure') continue;
        const expected = own.get(path)!;
        const same = Object.is(value, expected) || Math.abs(value - expected) <= 1e-12 * Math.abs(expected);
        expect(same, `${path}: ${value} in the page, ${expected} outside`).toBe(true);
      }
    }
    await page.close();
  });

  test.each(['light', 'dark'] as const)('no fault of accessibility, %s', async (scheme) => {
    const { page } = await open(browser, file, 1200, scheme);
    await through(page);
    await page.evaluate(AXE);
    const found = await page.evaluate(async () => {
      const { axe } = window as unknown as { axe: { run(): Promise<{ violations: AxeFault[] }> } };
      const { violations } = await axe.run();
      return violations.map(
        ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' | ')}`,
      );
    });
    expect(found).toEqual([]);
    await page.close();
  });
});

interface AxeFault {
  readonly id: string;
  readonly nodes: readonly { readonly html: string }[];
}

describe.skipIf(executable === undefined)('report of a run, in a browser', () => {
  test.each([
    ['that meets its spec', [], 390],
    ['that chokes', ['settings.feedRate=5000 kg/h'], 1200],
  ] as const)('%s says so, and follows its sliders', async (_, set, width) => {
    const folder = mkdtempSync(join(tmpdir(), 'grindloop-run-'));
    const file = join(folder, 'run.html');
    const browser = await launch(executable!);
    try {
      const made = { version: 'of a test', date: '2026-01-01', audience: 'engineer' } as const;
      const scenario = await demo(set);
      writeFileSync(file, reportText(runReport(scenario, made)));
      const { page, complaints, requests } = await open(browser, file, width);
      await through(page);
      const words = await page.locator('.sentence').textContent();
      expect(words).toMatch(set.length > 0 ? /the mill chokes/ : /the medium leaning wheel at 2000\srpm/);
      await page.evaluate(() => window.grindloop!.settings.set({ feedRate: 120 }));
      await polled(() => page.textContent('#pinned-state')).toMatch(
        /feed rate 120\skg\/h, [^:]*: it meets the whole spec/,
      );
      await pointIsShown(page, scenario);
      expect(complaints).toEqual([]);
      expect(requests).toEqual([]);
      const overflow = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(overflow).toBeLessThanOrEqual(0);
    } finally {
      await browser.close();
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

describe.skipIf(executable === undefined)('text of a file, in a browser', () => {
  test('is never run and stands as it was written', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'grindloop-hostile-'));
    const file = join(folder, 'report.html');
    const hostile = `</script><img src=x onerror="window.pwned=1"><script>window.pwned=1</script>'"&`;
    const browser = await launch(executable!);
    try {
      const plain = await demo();
      const scenario = { ...plain, title: hostile, job: { lot: hostile }, text: hostile };
      writeFileSync(file, sweepPage(scenario));
      const { page, complaints, requests } = await open(browser, file, 1000);
      expect(await page.locator('h1').textContent()).toBe(hostile);
      await through(page);
      expect(await page.evaluate(() => (window as unknown as { pwned?: number }).pwned)).toBeUndefined();
      expect(complaints).toEqual([]);
      expect(requests).toEqual([]);
    } finally {
      await browser.close();
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
