import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { type Change, changedScenario } from '../../src/answers/change.ts';
import { pointView } from '../../src/answers/point-view.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { FIGURES, type FigureName } from '../../src/viz/figures/index.ts';
import { PAGE } from '../../src/viz/theme.ts';

/** Waits for a value as long as a busy machine needs; a page still drawing is asked again. */
export function polled<T>(value: () => T | Promise<T>) {
  return expect.poll(value, { timeout: 30_000 });
}

/** Numbers behind a figure as the page has them; the figure is brought into view, where the page draws it. */
export async function numbersOf(page: Page, id: string): Promise<string[][]> {
  const figure = page.locator(`#figure-${id}`);
  await figure.scrollIntoViewIfNeeded();
  return figure.evaluate((element) => {
    const details = element.querySelector('details')!;
    details.open = true;
    const rows = [...details.querySelectorAll('tbody tr')];
    return rows.map((row) => [...row.children].map((cell) => cell.textContent!.replaceAll('\u00a0', ' ')));
  });
}

/** Numbers a figure of this data has. */
export function numbersFor(figure: FigureName, input: unknown): string[][] {
  const { rows } = FIGURES[figure].draw(input as never, { width: 600, theme: PAGE }).table;
  return rows.map((row) => row.map((cell) => cell.replaceAll('\u00a0', ' ')));
}

/** Scrolls to every figure in sight and waits until it is drawn for the width there is. */
export async function through(page: Page): Promise<void> {
  const scripted = (await page.locator('script').count()) > 0;
  for (const figure of await page.locator('[data-figure]:visible').all()) {
    await figure.scrollIntoViewIfNeeded();
    const drawn = figure.locator(scripted ? '.still svg' : '.plot svg');
    await polled(() => drawn.count()).toBeGreaterThan(0);
  }
}

/** What the page stands at. */
export function changesOn(page: Page): Promise<Change[]> {
  return page.evaluate(() => window.grindloop!.settings.changes());
}

/**
 * Waits until the pinned point is the model's at the page's settings: its x95 among the numbers, and what its figures hold. A
 * page of a point that choked at first has the figure of the choke alone.
 */
export async function pointIsShown(page: Page, scenario: Scenario): Promise<void> {
  const { outcome, curves, choke } = pointView(changedScenario(scenario, await changesOn(page)));
  if (outcome.status !== 'steady' || !curves) throw new Error('it was to run');
  await polled(() => numbersOf(page, 'choke')).toEqual(numbersFor('choke', choke));
  if ((await page.locator('#figure-size-curve').count()) === 0) return;
  const x95 = outcome.product.x95_um as number;
  const cell = page.locator('[data-value="product.x95_um"]');
  await polled(async () => Math.abs(Number(await cell.textContent()) / x95 - 1)).toBeLessThan(6e-4);
  const { product, behind, gates } = curves;
  const wanted = numbersFor('size-curve', { product, behind, gates, measured: [] });
  await polled(() => numbersOf(page, 'size-curve')).toEqual(wanted);
}
