import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findBrowser, launch, type Opened, open } from './chromium.ts';
import { demoPages } from './every-page.ts';
import { polled } from './numbers.ts';

const executable = findBrowser();

describe.skipIf(executable === undefined)('the state of a report', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-address-'));
  const file = join(folder, 'report.html');
  let browser: Browser;
  let opened: Opened;

  beforeAll(async () => {
    writeFileSync(file, (await demoPages()).sweep!);
    browser = await launch(executable!);
    opened = await open(browser, file, 1280);
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const settingsOf = (page: Page) => page.evaluate(() => ({ ...window.grindloop!.settings.now }));
  const typeInto = async (page: Page, id: string, text: string) => {
    await page.fill(id, text);
    await page.press(id, 'Enter');
  };

  test('stands in the address, is undone by Back, done again, and opened anew from a link', async () => {
    const { page, complaints } = opened;
    const first = await settingsOf(page);
    await typeInto(page, '#set-feedRate-number', '0.25 t/h');
    await polled(() => page.url()).toContain('#at?feedRate=250');
    await page.click('input[value=long-leaning]');
    await polled(() => page.url()).toContain('wheel=long-leaning');
    await page.selectOption('#choose-quantity', 'x50');
    await polled(() => page.url()).toContain('colour=x50');
    const state = await settingsOf(page);
    expect(state).toMatchObject({ feedRate: 250, wheel: 'long-leaning' });
    const link = page.url();
    await page.click('#undo');
    await polled(() => page.inputValue('#choose-quantity')).not.toBe('x50');
    await page.goBack();
    await polled(async () => (await settingsOf(page)).wheel).toBe(first.wheel);
    await page.click('#undo');
    await polled(() => settingsOf(page)).toEqual(first);
    expect(await page.isDisabled('#undo')).toBe(true);
    await page.click('#redo');
    await polled(async () => (await settingsOf(page)).feedRate).toBe(250);
    expect(complaints).toEqual([]);

    const other = await browser.newPage();
    await other.goto(link);
    await other.waitForSelector('html[data-ready=true]', { timeout: 60_000 });
    expect(await settingsOf(other)).toEqual(state);
    expect(await other.inputValue('#choose-quantity')).toBe('x50');
    await other.reload();
    await other.waitForSelector('html[data-ready=true]', { timeout: 60_000 });
    expect(await settingsOf(other)).toEqual(state);
    await other.close();
  });

  test('a link to a part of the page leaves the settings as they are', async () => {
    const { page } = opened;
    const before = [await settingsOf(page), page.url()];
    await page.click('nav a[href="#ladder"]');
    expect([await settingsOf(page), page.url()]).toEqual(before);
    await polled(() => page.evaluate(() => document.activeElement?.id)).toBe('ladder');
  });

  test('an address nobody could have made leaves the page as at first', async () => {
    const page = await browser.newPage();
    await page.goto(`file://${file}#at?feedRate=1e9&wheel=none&rotorSpeed=fast&colour=nothing`);
    await page.waitForSelector('html[data-ready=true]', { timeout: 60_000 });
    expect(await page.evaluate(() => window.grindloop!.settings.moved())).toEqual([]);
    await page.close();
  });

  test('a number beside a slider is refused in words, and the setting stays', async () => {
    const { page } = opened;
    const before = await settingsOf(page);
    const fault = () => page.textContent('#set-feedRate-number-fault');
    await typeInto(page, '#set-feedRate-number', '2,5');
    expect(await fault()).toBe('use a decimal point and no thousands separator: 2,5');
    await typeInto(page, '#set-feedRate-number', '90 rpm');
    expect(await fault()).toBe('"rpm" is not a unit of this number; write 150 kg/h');
    await typeInto(page, '#set-feedRate-number', '100000');
    expect(await fault()).toMatch(/^must be \d+ to \d+ kg\/h$/);
    expect(await settingsOf(page)).toEqual(before);
    await page.press('#set-feedRate-number', 'Escape');
    expect(await page.isVisible('#set-feedRate-number-fault')).toBe(false);
  });
});
