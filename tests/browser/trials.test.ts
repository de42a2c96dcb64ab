import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runCommandLine } from '../../src/cli/command-line.ts';
import { demoCase } from '../../src/scenario/load.ts';
import { findBrowser, launch, open } from './chromium.ts';
import { through } from './numbers.ts';

const executable = findBrowser();
const folder = mkdtempSync(join(tmpdir(), 'trial-report-'));
const file = join(folder, 'trials.html');
const demo = demoCase('erythritol');
const log = join(dirname(demo), 'data', 'trials', 'erythritol.csv');

/** What of the trials' text and figures reaches beyond the page or out of its own place, where nothing scrolls it. */
function cutOff(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const width = document.documentElement.clientWidth;
    const faults: string[] = [];
    for (const part of document.querySelectorAll(
      '#trials :is(h2, h3, p, li, dt, dd, caption span, figcaption, svg)',
    )) {
      if (part.closest('details:not([open]), [hidden]')) continue;
      const box = part.getBoundingClientRect();
      const what = `${part.tagName} ${(part.textContent ?? '').slice(0, 40)}`;
      if (box.width > 0 && (box.right > width + 0.5 || box.left < -0.5)) faults.push(what);
      const lines = part.tagName === 'DT' ? box.height / parseFloat(getComputedStyle(part).lineHeight) : 1;
      if (lines > (part.textContent ?? '').split(/[\s-]/).length + 0.5)
        faults.push(`${what}: a word is broken`);
    }
    return faults;
  });
}

describe.skipIf(executable === undefined)('report of trials, in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch(executable!);
    expect(await runCommandLine(['report', demo, '--trials', log, '-o', file])).toBe(0);
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test.each([
    [390, 'light'],
    [768, 'dark'],
    [1440, 'light'],
  ] as const)('at %i px, %s, nothing is cut, and only tables scroll sideways', async (width, scheme) => {
    const { page, complaints, requests } = await open(browser, file, width, scheme);
    await through(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
    expect(await cutOff(page)).toEqual([]);
    const wide = await page
      .locator('#trials .scroll:visible')
      .evaluateAll((tables) =>
        tables
          .filter((each) => each.scrollWidth > each.clientWidth)
          .map((each) => getComputedStyle(each).overflowX),
      );
    expect(wide.every((overflow) => overflow === 'auto')).toBe(true);
    if (width === 390) expect(wide.length).toBeGreaterThan(0);
    if (width === 1440) expect(wide).toEqual([]);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    await page.close();
  });

  test('prints with every table within the paper and no figure or row on two pages', async () => {
    const { page } = await open(browser, file, 1200);
    await page.emulateMedia({ media: 'print' });
    const pdf = await page.pdf({ preferCSSPageSize: true });
    const pages = [...pdf.toString('latin1').matchAll(/\/Type\s*\/Page\b/g)].length;
    expect(pages).toBeGreaterThan(4);
    expect(pages).toBeLessThanOrEqual(10);
    // A4 less its margins, in CSS pixels
    await page.setViewportSize({ width: Math.round(((210 - 26) / 25.4) * 96), height: 1000 });
    // as the browser does before it prints: every figure as a still, at the width of the sheet
    await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
    const inPrint = await page.evaluate(() => {
      const parts = [...document.querySelectorAll('#trials :is(.figure, tr, h3, .scroll)')].filter(
        (each) => !each.closest('.numbers'),
      );
      const style = (each: Element) => getComputedStyle(each);
      return {
        split: parts.filter((each) => each.matches('.figure, tr') && style(each).breakInside !== 'avoid')
          .length,
        parted: parts.filter((each) => each.matches('h3') && style(each).breakAfter !== 'avoid').length,
        tooWide: parts
          .filter((each) => each.matches('.scroll') && each.scrollWidth > each.clientWidth + 1)
          .map((each) => `${each.getAttribute('aria-label')}: ${each.scrollWidth} in ${each.clientWidth}`),
        tallest: Math.max(
          ...parts.filter((each) => each.matches('.figure')).map((each) => each.clientHeight),
        ),
      };
    });
    expect(inPrint).toMatchObject({ split: 0, parted: 0, tooWide: [] });
    // two figures and more to a page of 265 mm
    expect(inPrint.tallest).toBeLessThan(500);
    await page.close();
  });

  test('a customer reads the trials without coefficients or model', async () => {
    const other = join(folder, 'customer.html');
    expect(await runCommandLine(['report', demo, '--trials', log, '--for', 'customer', '-o', other])).toBe(0);
    const { page, complaints } = await open(browser, other, 390);
    await through(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    expect(await cutOff(page)).toEqual([]);
    const text = (await page.locator('#trials').textContent()) ?? '';
    expect(text).toContain('The runs against the target');
    expect(text).not.toContain('computed');
    expect(text).not.toMatch(/friability|velocityRatio/);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('long names of runs and a log full of remarks widen no page', async () => {
    const bad = join(folder, 'long.csv');
    const name = 'W'.repeat(60);
    writeFileSync(
      bad,
      `trial;rotor speed [rpm];wheel speed [rpm];wheel;feed rate [kg/h];power [kW];feed [kg];product [kg];filter [kg];minutes\n${name};5700;1800;medium-leaning;200;6.2;13.3;9.1;0.9;4\n`,
    );
    const there = join(folder, 'long.html');
    expect(await runCommandLine(['report', demo, '--trials', bad, '-o', there])).toBe(0);
    const { page } = await open(browser, there, 390);
    await through(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    expect(await cutOff(page)).toEqual([]);
    await page.close();
  });
});
