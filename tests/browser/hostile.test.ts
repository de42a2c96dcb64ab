import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { findBrowser, launch, READY } from './chromium.ts';
import { demoPages, pagesOf, SMALL, trialAt } from './every-page.ts';
import { filled, TEXTS } from './hostile-text.ts';
import { demo } from './sweep-page.ts';

const executable = findBrowser();
const SERVED = ['sweep', 'comparison', 'lesson'];

describe.skipIf(executable === undefined)('hostile text', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-hostile-'));
  let browser: Browser;
  let scenario: Scenario;
  let plain: Record<string, string>;
  const ordinary: Record<string, Awaited<ReturnType<typeof looked>>> = {};

  beforeAll(async () => {
    browser = await launch(executable!);
    scenario = await demo(SMALL);
    plain = await demoPages();
    for (const [kind, page] of Object.entries(plain))
      if (!/^lesson for/.test(kind)) ordinary[kind] = await looked(browser, folder, page);
  }, 180_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test.each(Object.keys(TEXTS))(
    '%s is inert on every page',
    async (name) => {
      const text = TEXTS[name]!;
      const { calibration: _none, ...hostile } = filled(scenario, text);
      const { machine, settings } = scenario;
      const pages = pagesOf(hostile, [trialAt(hostile, text, text)], { ...hostile, machine, settings });
      for (const [kind, page] of Object.entries(pages)) {
        const own = await looked(browser, folder, page);
        const { scripts, elements, height } = ordinary[kind]!;
        const told = `${kind}, ${name}`;
        expect({ ...own, elements: 0, height: 0 }, told).toEqual({
          dialogs: 0,
          ran: false,
          complaints: [],
          requests: [],
          sideways: 0,
          scripts,
          handlers: 0,
          elements: 0,
          height: 0,
        });
        // a name is no more than a name: it adds lines, not parts
        expect(own.elements, told).toBeLessThan(elements * 1.3);
        expect(own.height, told).toBeLessThan(height * 2 + 4000);
      }
    },
    240_000,
  );

  test('a calibrated answer names its trials as text', async () => {
    const { answerSection } = await import('../../src/viz/report/sections/answer.ts');
    const { openingOf } = await import('../../src/answers/verdict-words.ts');
    const opening = openingOf(filled(scenario, TEXTS['code, signs and turns, 10 kB of it']!));
    const { text } = answerSection(
      {
        meets: true,
        opening,
        sentence: TEXTS['code, signs and turns, 10 kB of it']!,
        second: [TEXTS['code, signs and turns, 10 kB of it']!],
        spec: [],
        verdict: null,
      },
      TEXTS['code, signs and turns, 10 kB of it']!,
      'At the mill, stop the run when it reaches 13.5 kW.',
    );
    expect(text).not.toMatch(/<(?:script|img|svg)/);
    expect(text).toContain('&lt;/script&gt;');
  });

  test('served, a page asks for nothing beside itself', async () => {
    const asked: string[] = [];
    const server = await serving(plain, asked);
    const { port } = server.address() as AddressInfo;
    for (const kind of SERVED) {
      const page = await browser.newPage();
      const complaints: string[] = [];
      page.on('console', (message) => {
        if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
      });
      await page.goto(`http://127.0.0.1:${port}/${encodeURIComponent(kind)}`);
      await page.waitForSelector(READY);
      await page.waitForTimeout(300);
      await page.close();
      expect(complaints, kind).toEqual([]);
    }
    server.close();
    expect(asked).toEqual(SERVED);
  });
});

function serving(pages: Record<string, string>, asked: string[]): Promise<Server> {
  const server = createServer(({ url }, response) => {
    const kind = decodeURIComponent(url!.slice(1));
    asked.push(kind);
    response.writeHead(pages[kind] ? 200 : 404, { 'content-type': 'text/html' }).end(pages[kind] ?? '');
  });
  return new Promise((done) => server.listen(0, '127.0.0.1', () => done(server)));
}

/** A page on a telephone, scrolled through: what it did and how it stands. */
async function looked(browser: Browser, folder: string, text: string) {
  const file = join(folder, 'page.html');
  writeFileSync(file, text);
  const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
  const complaints: string[] = [];
  const requests: string[] = [];
  let dialogs = 0;
  page.on('dialog', (dialog) => {
    dialogs++;
    void dialog.dismiss();
  });
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('request', (request) => {
    const own = request.url() === `file://${file}` || /^blob:|^data:/.test(request.url());
    if (!own) requests.push(request.url());
  });
  await page.goto(`file://${file}`);
  await page.waitForSelector(READY, { timeout: 60_000 });
  await through(page);
  const state = await page.evaluate(() => ({
    ran: 'ran' in window,
    scripts: document.scripts.length,
    handlers: document.querySelectorAll('[onerror],[onload],[onclick],[onmouseover]').length,
    sideways: Math.max(0, document.documentElement.scrollWidth - document.documentElement.clientWidth),
    elements: document.querySelectorAll('body *').length,
    height: document.documentElement.scrollHeight,
  }));
  await page.close();
  return { dialogs, complaints, requests, ...state };
}

async function through(page: Page): Promise<void> {
  await page.evaluate(async () => {
    for (let y = 0; y < document.body.scrollHeight; y += 1200) {
      scrollTo(0, y);
      await new Promise((done) => setTimeout(done, 40));
    }
  });
}
