import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { findBrowser, launch, open } from '../browser/chromium.ts';
import { deskPage } from '../browser/desk-file.ts';
import { demo, sweepPage } from '../browser/sweep-page.ts';

/** Steps of the demo's factors that make about 100 000 points. */
const STEPS: Readonly<Record<string, number>> = { rotorSpeed: 37, wheelSpeed: 53, feedRate: 17 };
const SLIDER_STEPS = 60;
/** Feed rate at which the demo runs at every step of a control [kg/h]. */
const RUNNING_FEED = 150;
/** Longest wait for one step to be painted [ms]; a step that takes longer stops the measurement and is named. */
const LONGEST_STEP = 10_000;

/**
 * The report of a large sweep in a browser: weight, time to the answer and to the ready page, and a slider step of the
 * window (a slice of the sweep) and of the live point.
 *
 * @returns nothing where no Chromium is found
 */
export async function benchPage(): Promise<Record<string, number>> {
  const executable = findBrowser();
  if (executable === undefined) return {};
  const scenario = await demo();
  const { factors, ...plan } = scenario.sweep!;
  const more = factors.map((factor) =>
    factor.kind === 'number' ? { ...factor, steps: STEPS[factor.path] ?? 2 } : factor,
  );
  const text = sweepPage({ ...scenario, sweep: { ...plan, factors: more } });
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-bench-'));
  const file = join(folder, 'report.html');
  writeFileSync(file, text);
  const browser = await launch(executable);
  try {
    const { page } = await open(browser, file, 1280);
    const times = await page.evaluate(() => ({
      answer: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
      ready: performance.now(),
    }));
    await page.waitForSelector('#figure-window .still svg');
    return {
      page_MB: Buffer.byteLength(text) / 1e6,
      page_answer_ms: times.answer,
      page_ready_ms: times.ready,
      page_window_step_ms: await windowStep(page),
      ...Object.fromEntries(await pointSteps(page)),
    };
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Median time from a slider's step to the next frame with the window redrawn. */
async function windowStep(page: Page): Promise<number> {
  await page.locator('#figure-window').scrollIntoViewIfNeeded();
  const asked = {
    id: 'figure-window',
    path: 'feedRate',
    from: 150,
    by: 4,
    steps: SLIDER_STEPS,
    longest: LONGEST_STEP,
  };
  return (await page.evaluate(timeSteps, asked))[SLIDER_STEPS >> 1]!;
}

/** Controls moved, by name of the figure reported, with the value of step i. */
const MOVED = [
  ['wheel_speed', 'wheelSpeed', 1500, 20],
  ['air', 'air.flow', 1300, 5],
  ['height', 'wheel.geometry.height', 60.5, 0.5],
] as const;

/** Time from a step to the frame with the size curve of the pinned point drawn: middle and 95th percentile. */
async function pointSteps(page: Page): Promise<(readonly [string, number])[]> {
  // a point that chokes has no size curve: all steps are at a feed rate that runs
  await page.evaluate((feedRate) => window.grindloop!.settings.set({ feedRate }), RUNNING_FEED);
  await page.locator('#figure-size-curve').scrollIntoViewIfNeeded();
  const figures: (readonly [string, number])[] = [];
  for (const [name, path, from, by] of MOVED) {
    const asked = { id: 'figure-size-curve', path, from, by, steps: SLIDER_STEPS, longest: LONGEST_STEP };
    const taken = await page.evaluate(timeSteps, asked);
    figures.push([`page_point_${name}_ms`, taken[SLIDER_STEPS >> 1]!]);
    figures.push([`page_point_${name}_p95_ms`, taken[Math.floor(0.95 * SLIDER_STEPS)]!]);
  }
  return figures;
}

/**
 * The desk in a browser: weight, time to the first window, and the time from a slider's event to the painted curves of the
 * operating point; tasks of the main thread above 100 ms after loading are counted.
 *
 * @returns nothing where no Chromium is found
 */
export async function benchDesk(): Promise<Record<string, number>> {
  const executable = findBrowser();
  if (executable === undefined) return {};
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-bench-'));
  const file = join(folder, 'desk.html');
  const text = deskPage();
  writeFileSync(file, text);
  const browser = await launch(executable);
  try {
    const { page } = await open(browser, file, 1440);
    await page.waitForFunction(() =>
      /points computed/.test(document.querySelector('#window-state')!.textContent!),
    );
    const window_ms = await page.evaluate(() => performance.now());
    await page.waitForTimeout(2000);
    await page.locator('#figure-size-curve').scrollIntoViewIfNeeded();
    const figures: Record<string, number> = {
      desk_MB: Buffer.byteLength(text) / 1e6,
      desk_window_ms: window_ms,
    };
    for (const [name, field] of DESK_SLIDERS) {
      const { taken, long } = await page.evaluate(deskSteps, { field, steps: SLIDER_STEPS });
      figures[`desk_point_${name}_ms`] = taken[SLIDER_STEPS >> 1]!;
      figures[`desk_point_${name}_p95_ms`] = taken[Math.floor(0.95 * SLIDER_STEPS)]!;
      figures[`desk_longest_task_${name}_ms`] = long;
    }
    return figures;
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Fields of the desk's form whose values are stepped, by name of the figure reported. */
const DESK_SLIDERS = [
  ['wheel_speed', 'settings-wheelSpeed'],
  ['feed', 'settings-feedRate'],
  ['air', 'air-flow'],
] as const;

/** Runs in the page: a value typed, a thousandth more each time, until the size curve is painted. */
async function deskSteps({ field, steps }: { field: string; steps: number }) {
  const figure = document.getElementById('figure-size-curve')!;
  const input = document.getElementById(`field-${field}`) as HTMLInputElement;
  const [, number, unit] = /^([\d.]+)\s*(.*)$/.exec(input.value)!;
  let long = 0;
  const observer = new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) long = Math.max(long, duration);
  });
  observer.observe({ type: 'longtask' });
  const taken: number[] = [];
  for (let i = 1; i <= steps; i++) {
    const start = performance.now();
    const painted = new Promise((done) => figure.addEventListener('painted', done, { once: true }));
    input.value = `${Number(number) * (1 + 0.001 * i)} ${unit}`;
    input.dispatchEvent(new Event('input', { bubbles: true }));
    await painted;
    await new Promise((done) => requestAnimationFrame(() => done(undefined)));
    taken.push(performance.now() - start);
    await new Promise((done) => setTimeout(done, 30));
  }
  await new Promise((done) => setTimeout(done, 3000));
  observer.disconnect();
  return { taken: taken.sort((a, b) => a - b), long };
}

/**
 * Runs in the page: a setting moved step by step, each until a figure is painted.
 *
 * @returns times from the step to the painted frame, in rising order [ms]
 */
async function timeSteps(asked: {
  readonly id: string;
  readonly path: string;
  readonly from: number;
  readonly by: number;
  readonly steps: number;
  readonly longest: number;
}): Promise<number[]> {
  const figure = document.getElementById(asked.id)!;
  const taken: number[] = [];
  for (let i = 0; i < asked.steps; i++) {
    const start = performance.now();
    const value = asked.from + asked.by * i;
    const painted = new Promise((done, failed) => {
      figure.addEventListener('painted', done, { once: true });
      setTimeout(
        () => failed(new Error(`${asked.id} was not painted after ${asked.path} ${value}`)),
        asked.longest,
      );
    });
    window.grindloop!.settings.set({ [asked.path]: value });
    await painted;
    await new Promise((done) => requestAnimationFrame(() => done(undefined)));
    taken.push(performance.now() - start);
    await new Promise((done) => setTimeout(done, 30));
  }
  return taken.sort((a, b) => a - b);
}
