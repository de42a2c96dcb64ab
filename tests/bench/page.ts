import { statSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { loadScenario } from '../../src/scenario/load.ts';
import { CHROMIUM, launch, openFile } from '../browser/browser.ts';
import { ERYTHRITOL, sweptHere, writtenReport } from '../browser/reports.ts';

/** Steps of the demo's factors that make about 100 000 points. */
const STEPS: Readonly<Record<string, number>> = { rotorSpeed: 37, wheelSpeed: 53, feedRate: 17 };
const SLIDER_STEPS = 60;

/**
 * The report of a large sweep in a browser: weight, time to the answer and to the ready page, and a slider step of the
 * window (a slice of the sweep) and of the live point.
 *
 * @returns nothing where no Chromium is found
 */
export async function benchPage(): Promise<Record<string, number>> {
  if (CHROMIUM === undefined) return {};
  const scenario = await loadScenario(ERYTHRITOL);
  const { factors, ...plan } = scenario.sweep!;
  const more = factors.map((factor) =>
    factor.kind === 'number' ? { ...factor, steps: STEPS[factor.path] ?? 2 } : factor,
  );
  const source = sweptHere({ ...scenario, sweep: { ...plan, factors: more } });
  const file = writtenReport(source);
  const browser = await launch();
  try {
    const { page } = await openFile(browser, file);
    const times = await page.evaluate(() => ({
      answer: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
      ready: performance.now(),
    }));
    await page.waitForSelector('#figure-window .main-svg');
    return {
      page_points: source.rows.count,
      page_MB: statSync(file).size / 1e6,
      page_answer_ms: times.answer,
      page_ready_ms: times.ready,
      page_window_step_ms: await windowStep(page),
      page_point_step_ms: await pointStep(page),
    };
  } finally {
    await browser.close();
  }
}

/** Median time from a slider's step to the next frame with the window redrawn. */
async function windowStep(page: Page): Promise<number> {
  await page.locator('#figure-window').scrollIntoViewIfNeeded();
  return page.evaluate(async (steps) => {
    const taken: number[] = [];
    for (let i = 0; i < steps; i++) {
      const start = performance.now();
      window.grindloop!.settings.set({ feedRate: 150 + 4 * i });
      await new Promise((done) => requestAnimationFrame(() => done(undefined)));
      taken.push(performance.now() - start);
      await new Promise((done) => setTimeout(done, 30));
    }
    return taken.sort((a, b) => a - b)[steps >> 1]!;
  }, SLIDER_STEPS);
}

/** Median time from a step to the size curve of the live point drawn, by way of the worker. */
async function pointStep(page: Page): Promise<number> {
  await page.locator('#figure-size-curve').scrollIntoViewIfNeeded();
  await page.waitForSelector('#figure-size-curve .main-svg');
  return page.evaluate(async (steps) => {
    const figure = document.getElementById('figure-size-curve')!;
    const taken: number[] = [];
    for (let i = 0; i < steps; i++) {
      const start = performance.now();
      const painted = new Promise((done) => figure.addEventListener('painted', done, { once: true }));
      window.grindloop!.settings.set({ wheelSpeed: 1500 + 20 * i });
      await painted;
      taken.push(performance.now() - start);
      await new Promise((done) => setTimeout(done, 30));
    }
    return taken.sort((a, b) => a - b)[steps >> 1]!;
  }, SLIDER_STEPS);
}
