import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runAnswer, runJson } from '../../src/answers/run-text.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import type { Outcome } from '../../src/scenario/outcome/outcome.ts';
import { findBrowser, launch, type Opened, open } from './chromium.ts';
import { deskPage } from './desk-file.ts';
import { polled } from './numbers.ts';

const executable = findBrowser();
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const LARGEST = 3.5e6;

/** Every number of a result by its path. */
function numbersIn(value: unknown, path = ''): [string, number][] {
  if (typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, each]) => numbersIn(each, `${path}.${key}`));
}

/** The case as the form now has it, solved in the page. */
async function outcomeInPage(page: Page): Promise<Outcome> {
  const reply = (await page.evaluate(() => window.grindloopDesk!.run())) as { view?: { outcome: Outcome } };
  return reply.view!.outcome;
}

async function answered(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelector('#part-answer .sentence'));
  await polled(() => page.textContent('#window-state')).toMatch(/points computed/);
}

describe.skipIf(executable === undefined)('the desk, in a browser without network', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-desk-'));
  const file = join(folder, 'desk.html');
  let browser: Browser;
  const opened = async (width = 1440, scheme: 'light' | 'dark' = 'light'): Promise<Opened> => {
    const one = await open(browser, file, width, scheme);
    await one.page.context().setOffline(true);
    return one;
  };

  beforeAll(async () => {
    writeFileSync(file, deskPage());
    browser = await launch(executable!);
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('weighs little enough to be sent by mail', () => {
    expect(statSync(file).size).toBeLessThan(LARGEST);
  });

  test.each([
    [1440, 'light'],
    [1024, 'light'],
    [768, 'dark'],
    [390, 'dark'],
  ] as const)(
    'at %i px, %s: fits, is accessible, complains of nothing, asks nothing',
    async (width, scheme) => {
      const { page, complaints, requests } = await opened(width, scheme);
      await answered(page);
      await page.click('#text-view summary');
      await page.evaluate(AXE);
      const found = await page.evaluate(async () => {
        const { axe } = window as unknown as {
          axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
        };
        const { violations } = await axe.run();
        return violations.map(
          ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join()}`,
        );
      });
      expect(found).toEqual([]);
      const overflow = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(overflow).toBeLessThanOrEqual(0);
      const buttons = await page.$$eval('button', (all) =>
        all
          .filter((each) => each.offsetParent !== null)
          .map((each) => ({
            name: each.getAttribute('aria-label') ?? each.textContent!.trim(),
            height: each.getBoundingClientRect().height,
          })),
      );
      expect(new Set(buttons.map(({ name }) => name)).size).toBe(buttons.length);
      for (const { name, height } of buttons) expect(height, name).toBeGreaterThanOrEqual(24);
      expect(complaints).toEqual([]);
      expect(requests).toEqual([]);
      await page.close();
    },
  );

  test("a newcomer's case typed into the form gives the numbers of run", async () => {
    const { page, complaints } = await opened();
    await answered(page);
    await page.fill('#field-title', 'Lot 4711');
    await page.selectOption('#choose-material', 'organic-crystal');
    await page.fill('#field-material-density', '1470 kg/m^3');
    await page.selectOption('#feed-kind', 'percentiles');
    await page.fill('#field-feed-percentiles-10', '180 um');
    await page.fill('#field-feed-percentiles-50', '500 um');
    await page.fill('#field-feed-percentiles-90', '900 um');
    await page.fill('#field-settings-rotorSpeed', '85 m/s');
    await page.fill('#field-settings-wheelSpeed', '37 Hz');
    await page.fill('#field-settings-feedRate', '170 kg/h');
    await page.getByRole('button', { name: 'Remove: x50 at least 20 µm' }).click();
    await page.selectOption('#add-quantity', 'x99');
    await page.fill('#add-value', '120 um');
    await page.click('#add-requirement');
    await polled(() => page.textContent('.requirements')).toContain('x99 at most 120 µm');
    const text = await page.inputValue('#text');
    expect(text).toContain('# Demo case, invented.');
    expect(text).toContain('wheelSpeed: 37 Hz');
    const typed = join(folder, 'typed.yaml');
    writeFileSync(typed, text);
    const outside = JSON.parse(runJson(runAnswer(await loadScenario(typed)))) as Outcome;
    const here = new Map(numbersIn(await outcomeInPage(page)));
    let compared = 0;
    for (const [path, value] of numbersIn(outside).filter(([path]) => !/massClosure|^\.verdict/.test(path))) {
      const own = here.get(path);
      // a spread or a probability is found by drawing, and stands in `run` alone
      if (own === undefined) continue;
      compared += 1;
      expect(Math.abs(own - value), path).toBeLessThanOrEqual(1e-12 * Math.abs(value));
    }
    expect(compared).toBeGreaterThan(150);
    expect(await page.textContent('#desk-title')).toBe('Lot 4711');
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('a fault shows with line and remedy, hides the answer, and leads to its line', async () => {
    const { page } = await opened();
    await answered(page);
    await page.fill('#field-settings-feedRate', '150');
    await polled(() => page.textContent('#faults')).toMatch(/settings\.feedRate \(line \d+\): .*unit/);
    expect(await page.isVisible('#results')).toBe(false);
    expect(await page.getAttribute('#field-settings-feedRate', 'aria-invalid')).toBe('true');
    const line = Number(/line (\d+)/.exec((await page.textContent('#faults'))!)![1]);
    await page.click('#faults button');
    const selected = await page.$eval('#text', (area) => {
      const { value, selectionStart, selectionEnd } = area as HTMLTextAreaElement;
      return value.slice(selectionStart, selectionEnd);
    });
    const text = await page.inputValue('#text');
    expect(selected).toBe(text.split('\n')[line - 1]);
    expect(selected).toContain('feedRate: 150');
    await page.fill('#field-settings-feedRate', '150 kg/h');
    await polled(() => page.isVisible('#results')).toBe(true);
    await page.close();
  });

  test('text typed shows in the form; undo and the address bring a state back', async () => {
    const { page } = await opened();
    await answered(page);
    const text = await page.inputValue('#text');
    await page.click('#text-view summary');
    await page.fill('#text', text.replace('rotorSpeed: 5730 rpm', 'rotorSpeed: 6100 rpm'));
    await polled(() => page.inputValue('#field-settings-rotorSpeed')).toBe('6100 rpm');
    await polled(() => page.url()).toContain('6100');
    await page.reload();
    await polled(() => page.inputValue('#field-settings-rotorSpeed')).toBe('6100 rpm');
    await page.click('#undo');
    await polled(() => page.inputValue('#field-settings-rotorSpeed')).toBe('5730 rpm');
    await page.close();
  });

  test('a point pinned on the window becomes the settings of the case', async () => {
    const { page } = await opened();
    await answered(page);
    await page.locator('.reader[role=application]').first().focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    await polled(() => page.inputValue('#field-settings-feedRate')).toBe('310 kg/h');
    await polled(() => page.textContent('#part-answer .sentence')).toContain('310\u00a0kg/h');
    await page.close();
  });
});
