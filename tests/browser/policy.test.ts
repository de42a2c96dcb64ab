import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { html } from '../../src/viz/html/template.ts';
import { documentText } from '../../src/viz/write/document.ts';
import { findBrowser, launch, READY } from './chromium.ts';
import { demoPages } from './every-page.ts';

const executable = findBrowser();

test('the policy allows nothing but the scripts of the page', () => {
  const text = documentText({
    title: 't',
    body: html`<p>b</p>`,
    style: '',
    data: {},
    texts: {},
    scripts: ['1 + 1'],
  });
  const policy = /http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(text)![1]!;
  const rules = new Map(policy.split('; ').map((rule) => [rule.split(' ')[0]!, rule.split(' ').slice(1)]));
  expect(rules.get('default-src')).toEqual(["'none'"]);
  expect(rules.get('connect-src')).toEqual(["'none'"]);
  expect(rules.get('base-uri')).toEqual(["'none'"]);
  expect(rules.get('form-action')).toEqual(["'none'"]);
  expect(rules.get('script-src')!.every((each) => /^'sha256-[\w+/=]{44}'$/.test(each))).toBe(true);
  expect(policy).not.toMatch(/unsafe-eval|unsafe-hashes|strict-dynamic|https?:|\*/);
  // the policy stands before anything it is to rule
  expect(text.indexOf('Content-Security-Policy')).toBeLessThan(text.search(/<(?:style|script|title|link)/));
});

describe.skipIf(executable === undefined)('the policy of every page, in a browser', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-policy-'));
  let browser: Browser;
  let pages: Record<string, string>;

  beforeAll(async () => {
    browser = await launch(executable!);
    pages = await demoPages();
  }, 180_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('refuses a script put into it, and anything sent', async () => {
    for (const [kind, text] of Object.entries(pages)) {
      const file = join(folder, 'page.html');
      writeFileSync(file, text);
      const page = await browser.newPage();
      const requests: string[] = [];
      const far = (url: string) => !/^(?:file|blob|data):/.test(url);
      page.on('requestfinished', (request) => {
        if (far(request.url())) requests.push(request.url());
      });
      page.on('requestfailed', (request) => {
        const reason = request.failure()?.errorText;
        if (far(request.url()) && reason !== 'csp') requests.push(`${request.url()} ${reason}`);
      });
      await page.goto(`file://${file}`);
      await page.waitForSelector(READY, { timeout: 60_000 });
      const found = await page.evaluate(async () => {
        const refused: string[] = [];
        document.addEventListener('securitypolicyviolation', ({ effectiveDirective }) =>
          refused.push(effectiveDirective),
        );
        const script = document.createElement('script');
        script.textContent = 'window.ran = "script"';
        document.body.append(script);
        const part = document.createElement('div');
        part.innerHTML = '<img src="data:," onerror="window.ran = \'handler\'">';
        document.body.append(part);
        const far = document.createElement('img');
        far.src = 'https://example.org/far.png';
        document.body.append(far);
        const outcome = (sent: Promise<unknown>) => sent.then(() => 'sent').catch(() => 'refused');
        const fetched = await outcome(fetch('https://example.org/'));
        const beacon = navigator.sendBeacon('https://example.org/', 'x');
        const socket = await outcome(
          new Promise((done, failed) => {
            const made = new WebSocket('wss://example.org/');
            made.onopen = done;
            made.onerror = failed;
          }),
        );
        await new Promise((done) => setTimeout(done, 300));
        return {
          refused: [...new Set(refused)].sort(),
          ran: (window as { ran?: string }).ran,
          fetched,
          beacon,
          socket,
        };
      });
      expect(found, kind).toEqual({
        refused: ['connect-src', 'img-src', 'script-src-attr', 'script-src-elem'],
        ran: undefined,
        fetched: 'refused',
        beacon: true,
        socket: 'refused',
      });
      expect(requests, kind).toEqual([]);
      await page.close();
    }
  }, 180_000);
});
