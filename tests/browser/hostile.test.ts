import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { findBrowser, launch } from './chromium.ts';
import { everyPage, SMALL, trialAt } from './every-page.ts';
import { demo } from './sweep-page.ts';

const executable = findBrowser();

/** What would run, end an element, open a comment, turn the writing round or hide, were it taken for more than text. */
const CODE = `</script></style></title></textarea><script>window.ran=1;alert(1)</script><!-- <img src=x onerror="window.ran=1"><svg onload=alert(2)>`;
const SIGNS = `"'\`&amp;&#60;b&#62;\${7*7}{{7*7}}\u2028\u2029`;
const TURNS = '\u202eturned\u2066\u200bhidden\u200d\ufeff\u0000\u0007\u202c';
const LONG = 'W'.repeat(10_000);
const TEXTS: Readonly<Record<string, string>> = {
  code: `${CODE}${SIGNS}`,
  'signs and turns': `${TURNS}${SIGNS}${CODE}`,
  '10 kB': LONG,
  '10 kB of code': CODE.repeat(80),
};

/** The scenario with a text in every place that takes free text. */
function filled(scenario: Scenario, text: string): Scenario {
  // a wheel's name is a word of at most 60 letters, by the rules of the file
  const wheelName = (name: string) => name.padEnd(60, 'W');
  const wheels = Object.fromEntries(
    Object.entries(scenario.machine.wheels).map(([name, wheel]) => [wheelName(name), wheel]),
  );
  const renamed = (path: string) =>
    path.replace(/^machine\.wheels\.([\w-]+)/, (_, name) => `machine.wheels.${wheelName(name)}`);
  const factors = scenario.sweep!.factors.map((factor) =>
    factor.kind === 'levels' && factor.path === 'wheel'
      ? { ...factor, levels: factor.levels.map((level) => wheelName(String(level))) }
      : factor,
  );
  return {
    ...scenario,
    title: text,
    job: { lot: text, operator: text, [text.slice(0, 200)]: text },
    components: scenario.components.map((each, i) => ({
      ...each,
      material: { ...each.material, name: `${i}${text}` },
    })),
    machine: { ...scenario.machine, name: text, wheels },
    settings: { ...scenario.settings, wheel: wheelName(scenario.settings.wheel) },
    spec: scenario.spec.map((line, i) => ({ ...line, text: `${i}${text}` })),
    sweep: { ...scenario.sweep!, factors },
    calibration: { ...scenario.calibration, trials: [{ name: text }, text] },
    provenance: Object.fromEntries(
      Object.entries(scenario.provenance).map(([path, each]) => [
        renamed(path),
        { ...each, source: text, meaning: text, symbol: each.symbol && text.slice(0, 40) },
      ]),
    ),
    warnings: [{ code: 'other', message: text } as never],
    text,
  };
}

describe.skipIf(executable === undefined)('hostile text', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-hostile-'));
  let browser: Browser;
  let scenario: Scenario;
  let plain: Record<string, string>;

  beforeAll(async () => {
    browser = await launch(executable!);
    // no calibration joint, so that the prior is what is uncertain
    scenario = await demo(SMALL);
    plain = everyPage(scenario, [trialAt(scenario, 'T1')]);
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
      const pages = everyPage(hostile, [trialAt(hostile, text, text)], { ...hostile, machine, settings });
      for (const [kind, page] of Object.entries(pages)) {
        const [own, other] = [
          await looked(browser, folder, page),
          await looked(browser, folder, plain[kind]!),
        ];
        const { scripts, elements } = other;
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
        expect(own.height, told).toBeLessThan(other.height * 2 + 4000);
      }
    },
    240_000,
  );

  test('a calibrated answer names its trials as text', async () => {
    const { answerSection } = await import('../../src/viz/report/sections/answer.ts');
    const { openingOf } = await import('../../src/viz/report/answer.ts');
    const opening = openingOf(filled(scenario, TEXTS.code!));
    const { text } = answerSection({
      meets: true,
      opening,
      sentence: TEXTS.code!,
      second: [TEXTS.code!],
      spec: [],
    });
    expect(text).not.toMatch(/<(?:script|img|svg)/);
    expect(text).toContain('&lt;/script&gt;');
  });

  test('served, a page asks for nothing beside itself', async () => {
    const asked: string[] = [];
    const server = await serving(plain, asked);
    const { port } = server.address() as AddressInfo;
    for (const kind of Object.keys(plain)) {
      const page = await browser.newPage();
      const complaints: string[] = [];
      page.on('console', (message) => {
        if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
      });
      await page.goto(`http://127.0.0.1:${port}/${encodeURIComponent(kind)}`);
      await page.waitForSelector('html[data-ready=true]');
      await page.waitForTimeout(300);
      await page.close();
      expect(complaints, kind).toEqual([]);
    }
    server.close();
    expect(asked).toEqual(Object.keys(plain));
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
  await page.waitForSelector('html[data-ready=true]', { timeout: 60_000 });
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
