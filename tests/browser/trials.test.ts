import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { nameInWords } from '../../src/answers/words.ts';
import { runCommandLine } from '../../src/cli/command-line.ts';
import { demoCase, loadScenario } from '../../src/scenario/load.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { findBrowser, launch, open } from './chromium.ts';
import { through } from './numbers.ts';
import { pagesFilled } from './printed-pages.ts';

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

const JOB = `job:
  number: TC-7
  customer: Sweet Frost
  author: A. Example
  centre: Test centre
  logo: logo.svg
  objective: Icing powder, 95 % below 75 µm.
  conclusion: It can be made at 300 kg/h.
  nextStep: Repeat run E4 with 200 kg.
  operator: B. Secret
`;
/** What an engineer keeps for himself, in a file that is not the customer's. */
const NOTE = '# 41 EUR/t\n# as for Northmill Cocoa\n';
const LOGO =
  '<svg xmlns="http://www.w3.org/2000/svg" width="180" height="60"><rect width="60" height="60"/></svg>';
const MM = 72 / 25.4;
/** Margins of the style sheet [pt]. */
const PAPER = { top: 12 * MM, bottom: 15 * MM };

/** A file for a customer, byte for byte, with all that is inlined unpacked: no script, and nothing of how a number was computed. */
function holdsNothingElse(file: string, scenario: Scenario): void {
  expect(file).not.toContain('<script');
  const inlined = [...file.matchAll(/data:([\w/+]+);base64,([\w+/]+=*)/g)];
  expect(inlined.map(([, kind, bytes]) => [kind, Buffer.from(bytes!, 'base64').toString()])).toEqual([
    ['image/svg+xml', LOGO],
  ]);
  // long runs of base64 would be something packed
  expect(file.replace(/data:[^"]*/g, '').match(/[A-Za-z0-9+/]{200,}/)).toBeNull();
  const inner = Object.entries(scenario.provenance).filter(([path]) =>
    /\.(coefficients|selection|fragments)\./.test(path),
  );
  expect(inner.length).toBeGreaterThan(20);
  const words = file.slice(file.indexOf('</style>')).replace(/<[^>]*>/g, ' ');
  for (const [path, { label }] of inner) {
    const key = path.split('.').at(-1)!;
    const spoken = nameInWords(path);
    // `exponent`, `sharpness` … as words of their own; what the evidence sentence names is said without a number
    expect(words, path).not.toMatch(new RegExp(`\\b${key}\\b(?=[^.]{0,12}\\d)`));
    expect(words, path).not.toMatch(new RegExp(`\\b${spoken}\\b(?=[^.]{0,12}\\d)`));
    expect(file.includes(path), path).toBe(false);
    expect(label).not.toBe('');
  }
  for (const line of scenario.text.split('\n').filter((each) => each.length > 24 && !JOB.includes(each)))
    expect(file.includes(line.trim()), line).toBe(false);
  const ours = [
    '41 EUR',
    'Northmill',
    folder,
    dirname(demo),
    'logo.svg',
    'erythritol.csv',
    'run-1.csv',
    homedir(),
  ];
  for (const hidden of ['B. Secret', 'friability', 'swirl', 'vanes', ...ours])
    expect(file.includes(hidden), hidden).toBe(false);
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

  test("a customer's document is four to six well used pages, its foot has number and author, and nothing is hidden in the file", async () => {
    const other = join(folder, 'customer.html');
    const own = join(folder, 'case.yaml');
    const text = `${NOTE}${readFileSync(demo, 'utf8').replace(/job:\n( {2}.*\n)*/, JOB)}${NOTE}`;
    writeFileSync(own, text);
    writeFileSync(join(folder, 'logo.svg'), LOGO);
    expect(await runCommandLine(['report', own, '--trials', log, '--for', 'customer', '-o', other])).toBe(0);
    const { page, complaints, requests } = await open(browser, other, 390);
    await through(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    expect(await cutOff(page)).toEqual([]);
    expect(await page.locator('.logo').evaluate((img) => (img as HTMLImageElement).naturalWidth)).toBe(180);
    expect([...complaints, ...requests]).toEqual([]);
    for (const format of ['A4', 'Letter'] as const) {
      const filled = pagesFilled(await page.pdf({ format }), PAPER);
      expect(filled.length).toBeGreaterThanOrEqual(4);
      expect(filled.length).toBeLessThanOrEqual(6);
      for (const part of filled.slice(0, -1)) expect(part, String(filled)).toBeGreaterThan(2 / 3);
    }
    const foot = await page.evaluate(() => document.querySelector('style')!.textContent!.slice(-200));
    expect(foot).toContain('@bottom-left{content:"TC-7 \\b7  A. Example"');
    await page.close();
    holdsNothingElse(readFileSync(other, 'utf8'), await loadScenario(own));
    // the same words do stand in the engineer's report
    const whole = readFileSync(file, 'utf8');
    for (const shown of ['friability', 'vanes', '<script']) expect(whole.includes(shown)).toBe(true);
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
