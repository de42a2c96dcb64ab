import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { plantDocument } from '../../src/answers/plant/plant-document.ts';
import { scaleDocument } from '../../src/answers/scale/scale-document.ts';
import { timeDocument } from '../../src/answers/time/time-document.ts';
import { filesBeside } from '../../src/scenario/load.ts';
import { machineAlone } from '../../src/scenario/machine-alone.ts';
import { answerPage } from '../../src/viz/write/answer-page.ts';
import { findBrowser, launch, open } from './chromium.ts';
import { demoPages } from './every-page.ts';
import { demo } from './sweep-page.ts';

const executable = findBrowser();
const PHONE = 390;
/** Smallest words of a drawing on a telephone [px]. */
const SMALLEST = 11;

/** Words of the drawings shown, and how tall they stand on the screen. */
function wordsOf(page: Page) {
  return page.evaluate(() => {
    const shown = [...document.querySelectorAll<SVGTextElement>('.plot svg text')].filter(
      (text) => text.textContent?.trim() && text.getClientRects().length > 0,
    );
    const sizes = shown.map((text) => {
      const svg = text.ownerSVGElement!;
      const scale = svg.getBoundingClientRect().width / (svg.viewBox.baseVal.width || svg.clientWidth);
      return { words: text.textContent!, size: Number.parseFloat(getComputedStyle(text).fontSize) * scale };
    });
    return { drawings: document.querySelectorAll('.plot svg').length, sizes };
  });
}

/** Words of one drawing that stand on each other or reach out of it, before any script runs. */
function clashesOf(page: Page) {
  return page.evaluate(() => {
    type Corner = readonly [x: number, y: number];
    // a line box is taller than its letters, and its ends are air
    const boxOf = (text: SVGTextElement): Corner[] => {
      const { x, y, width, height } = text.getBBox();
      const { a, b, c, d, e, f } = text.getScreenCTM()!;
      const [left, right, top, bottom] = [x + 1.5, x + width - 1.5, y + 0.2 * height, y + 0.85 * height];
      const corners: Corner[] = [
        [left, top],
        [right, top],
        [right, bottom],
        [left, bottom],
      ];
      return corners.map(([u, v]): Corner => [a * u + c * v + e, b * u + d * v + f]);
    };
    // two turned boxes are apart where a side of one parts them
    const apart = (one: Corner[], other: Corner[]) =>
      [one, other].some((box) =>
        [0, 1].some((side) => {
          const along = [box[side + 1]![0] - box[side]![0], box[side + 1]![1] - box[side]![1]] as const;
          const reach = (corners: Corner[]) => corners.map(([u, v]) => u * along[0] + v * along[1]);
          const [a, b] = [reach(one), reach(other)];
          return Math.max(...a) <= Math.min(...b) || Math.max(...b) <= Math.min(...a);
        }),
      );
    const found: string[] = [];
    for (const svg of document.querySelectorAll<SVGSVGElement>('.plot svg')) {
      if (svg.getClientRects().length === 0) continue;
      const frame = svg.getBoundingClientRect();
      const texts = [...svg.querySelectorAll('text')].filter((text) => text.textContent?.trim());
      const boxes = texts.map(boxOf);
      texts.forEach((text, i) => {
        const name = `${svg.closest<HTMLElement>('[data-figure]')!.dataset.figure}: ${text.textContent}`;
        const [across, down] = [boxes[i]!.map(([u]) => u), boxes[i]!.map(([, v]) => v)];
        if (Math.min(...across) < frame.left - 1 || Math.max(...across) > frame.right + 1)
          found.push(`${name} reaches out`);
        if (Math.min(...down) < frame.top - 1 || Math.max(...down) > frame.bottom + 1)
          found.push(`${name} reaches out`);
        for (let j = 0; j < i; j++)
          if (!apart(boxes[i]!, boxes[j]!)) found.push(`${name} stands on ${texts[j]!.textContent}`);
      });
    }
    return found;
  });
}

/** Answers of commands as pages: figures with long names, wide tables. */
async function documents(): Promise<Record<string, string>> {
  const scenario = await demo();
  const other = machineAlone('production-600', filesBeside('scenarios/x.yaml'));
  const answers = [plantDocument(scenario), timeDocument(scenario, true), scaleDocument(scenario, other, {})];
  const made = { version: 'of a test', date: '2026-01-01' };
  return Object.fromEntries(answers.map((each) => [each.command, answerPage(each, made)]));
}

describe.skipIf(executable === undefined)('words of drawings', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-legible-'));
  let browser: Browser;
  let pages: Record<string, string>;
  let answers: Record<string, string>;

  beforeAll(async () => {
    browser = await launch(executable!);
    answers = await documents();
    pages = { ...(await demoPages()), ...answers };
    for (const [kind, text] of Object.entries(pages)) writeFileSync(join(folder, `${kind}.html`), text);
  }, 180_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('are large enough to read on a telephone before any script runs, and no page scrolls sideways', async () => {
    for (const kind of Object.keys(pages)) {
      const context = await browser.newContext({
        viewport: { width: PHONE, height: 844 },
        javaScriptEnabled: false,
      });
      const page = await context.newPage();
      await page.goto(`file://${join(folder, `${kind}.html`)}`);
      const { drawings, sizes } = await wordsOf(page);
      expect(drawings, kind).toBeGreaterThan(0);
      expect(sizes.length, kind).toBeGreaterThan(drawings);
      expect(
        sizes.filter(({ size }) => size < SMALLEST - 0.01),
        kind,
      ).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth), kind).toBe(PHONE);
      await context.close();
    }
  }, 120_000);

  test('stand clear of each other and inside their drawing, on a telephone and on a desk', async () => {
    for (const width of [PHONE, 1440]) {
      const context = await browser.newContext({
        viewport: { width, height: 900 },
        javaScriptEnabled: false,
      });
      for (const kind of Object.keys(pages)) {
        const page = await context.newPage();
        await page.goto(`file://${join(folder, `${kind}.html`)}`);
        expect(await clashesOf(page), `${kind}, ${width} px`).toEqual([]);
        await page.close();
      }
      await context.close();
    }
  }, 120_000);

  test('are large enough to read on a telephone when the script has drawn them', async () => {
    for (const kind of Object.keys(pages)) {
      const { page } = await open(browser, join(folder, `${kind}.html`), PHONE);
      // the answers of commands and a customer's document have no script: their stills are held by the test before this one
      const scripted = (await page.locator('script').count()) > 0;
      expect(scripted, kind).toBe(!kind.endsWith('for a customer') && !(kind in answers));
      const figures = scripted ? page.locator('[data-figure]:not([data-figure=needed])') : undefined;
      for (const figure of (await figures?.all()) ?? []) {
        await figure.scrollIntoViewIfNeeded();
        // drawn anew, but for the speeds needed, which stay as they came: the two stills that came with the page are gone
        await expect.poll(() => figure.locator('.narrow').count(), { timeout: 30_000 }).toBe(0);
      }
      const { sizes } = await wordsOf(page);
      expect(
        sizes.filter(({ size }) => size < SMALLEST - 0.01),
        kind,
      ).toEqual([]);
      await page.close();
    }
  }, 240_000);
});
