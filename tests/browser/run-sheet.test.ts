import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runCommandLine } from '../../src/cli/command-line.ts';
import { demoCase } from '../../src/scenario/load.ts';
import { findBrowser, launch } from './chromium.ts';

const executable = findBrowser();
const folder = mkdtempSync(join(tmpdir(), 'run-sheet-'));
const file = join(folder, 'sheet.html');

describe.skipIf(executable === undefined)('a run sheet for the floor', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch(executable!);
    const line = ['next', demoCase('erythritol'), '--trials', '5', '--set', 'powder.have=150 kg', '-o', file];
    expect(await runCommandLine(line)).toBe(0);
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true });
  });

  test('prints on one sheet of paper, A4 or Letter, with a box for every reading', async () => {
    const page = await browser.newPage({ viewport: { width: 1200, height: 900 } });
    await page.goto(`file://${file}`);
    const runs = await page.locator('section:has(h2:text("Runs")) tbody tr').count();
    expect(runs).toBeGreaterThanOrEqual(4);
    expect(await page.locator('.readings tbody tr').count()).toBe(runs);
    expect(await page.locator('.readings tbody tr').first().locator('td').count()).toBe(9);
    for (const paper of [{ preferCSSPageSize: true }, { format: 'Letter' }]) {
      const pdf = await page.pdf(paper);
      expect([...pdf.toString('latin1').matchAll(/\/Type\s*\/Page\b/g)].length).toBe(1);
    }
    await page.close();
  });
  test('is no wider than a phone, asks the network for nothing and complains of nothing', async () => {
    const page = await browser.newPage({ viewport: { width: 390, height: 800 } });
    const noise: string[] = [];
    page.on('console', (message) => noise.push(message.text()));
    page.on('request', (request) => {
      if (!/^(file|data):/.test(request.url())) noise.push(request.url());
    });
    await page.goto(`file://${file}`);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(390);
    expect(noise).toEqual([]);
    await page.close();
  });
  test('carries the cautions and a title of any kind inert', async () => {
    expect(readFileSync(file, 'utf8')).toMatch(/Dust, rotating parts and vents can kill/);
    const scenario = join(folder, 'odd.yaml');
    const title = '<script>alert(1)</script>';
    writeFileSync(
      scenario,
      readFileSync(demoCase('erythritol'), 'utf8').replace(/^title:.*$/m, `title: "${title}"`),
    );
    const odd = join(folder, 'odd.html');
    expect(await runCommandLine(['next', scenario, '--trials', '1', '-o', odd])).toBe(0);
    const text = readFileSync(odd, 'utf8');
    expect(text).not.toContain('<script>');
    expect(text).toContain('&lt;script&gt;alert(1)');
  });
});
