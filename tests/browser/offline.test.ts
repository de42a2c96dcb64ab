import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, launch } from './chromium.ts';

const MAIN = 'dist/src/cli/main.js';
const SECTIONS = [
  'The answer',
  'Operating window',
  'Response surfaces',
  'Assumptions',
  'Cautions',
  'How it was made',
];

interface Axe {
  run: () => Promise<{ violations: { id: string; nodes: { target: string[] }[] }[] }>;
}

describe.skipIf(CHROMIUM === undefined)('the report of a sweep, opened from disk', () => {
  let folder: string;
  let browser: Browser;
  let file: string;

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'report-'));
    const out = join(folder, 'out');
    execFileSync(
      process.execPath,
      [MAIN, 'sweep', 'scenarios/erythritol.yaml', '-o', out, '--threads', '2'],
      { stdio: 'pipe' },
    );
    execFileSync(process.execPath, [MAIN, 'report', out], { stdio: 'pipe' });
    file = join(out, 'report.html');
    browser = await launch();
  }, 300_000);

  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  async function open(width: number): Promise<{ page: Page; faults: string[] }> {
    const context = await browser.newContext({ viewport: { width, height: 900 }, bypassCSP: false });
    const page = await context.newPage();
    const faults: string[] = [];
    page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) faults.push(`${message.type()}: ${message.text()}`);
    });
    page.on('pageerror', (error) => faults.push(`page error: ${error.message}`));
    page.on('request', (request) => {
      if (!/^(file|blob|data):/.test(request.url())) faults.push(`request: ${request.url()}`);
    });
    await page.goto(pathToFileURL(file).href);
    await page.waitForTimeout(3000);
    return { page, faults };
  }

  test('shows its sections, asks the network for nothing and reports no fault', async () => {
    const { page, faults } = await open(1440);
    const headings = await page.locator('h2').allInnerTexts();
    for (const section of SECTIONS) expect(headings).toContain(section);
    expect(await page.locator('body').innerText()).toMatch(
      /Uncalibrated estimate, for planning a first trial:/i,
    );
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test('does not scroll sideways on a phone', async () => {
    const { page, faults } = await open(390);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    expect(faults).toEqual([]);
    await page.context().close();
  });

  test('has no accessibility violation that axe-core finds', async () => {
    const { page } = await open(1280);
    const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
    await page.evaluate(source);
    const { violations } = await page.evaluate(() => (globalThis as unknown as { axe: Axe }).axe.run());
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]!.target.join(' ')}`)).toEqual([]);
    await page.context().close();
  });

  test('carries a strict content policy and weighs less than 8 MB', () => {
    expect(readFileSync(file, 'utf8').slice(0, 4000)).toMatch(/Content-Security-Policy.*default-src 'none'/);
    expect(statSync(file).size).toBeLessThan(8e6);
  });
});
