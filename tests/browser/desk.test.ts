import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { unzipSync } from 'fflate';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { deskDocument } from '../../src/answers/desk/desk-documents.ts';
import { fitAnswer, USUAL_FIT } from '../../src/answers/fit/fit-answer.ts';
import { runAnswer, runJson } from '../../src/answers/run-text.ts';
import { demoCase, loadScenario, packageCatalogue } from '../../src/scenario/load.ts';
import type { Outcome } from '../../src/scenario/outcome/outcome.ts';
import { readTrialLog } from '../../src/trials/log/file.ts';
import { runReport } from '../../src/viz/report/run-report.ts';
import { reportText } from '../../src/viz/write/report.ts';
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

/** Largest relative difference between the numbers of two texts, in order. */
function apart(one: string, other: string): number {
  const [here, there] = [one, other].map((text) => [...text.matchAll(NUMBER)].map(([each]) => Number(each)));
  expect(here!.length).toBe(there!.length);
  return Math.max(...here!.map((value, i) => Math.abs(value - there![i]!) / (Math.abs(value) + 1e-6)));
}

const NUMBER = /-?\d+(?:\.\d+)?(?:e[+-]?\d+)?/g;

/** Two texts that say the same, but for the last bits of their numbers. */
function sayTheSame(one: string, other: string): boolean {
  const [here, there] = [one, other].map((text) => [...text.matchAll(NUMBER)].map(([each]) => Number(each)));
  return (
    one.replace(NUMBER, '#') === other.replace(NUMBER, '#') &&
    here!.every((value, i) => Math.abs(value - there![i]!) <= 1e-9 * Math.abs(value))
  );
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

  test('a saved campaign runs on the command line as a folder, and opens again', async () => {
    const { page, complaints } = await opened();
    await answered(page);
    const feed = 'size um,undersize %\n100,2\n200,12\n400,40\n600,68\n800,90\n1000,100\n';
    await page.setInputFiles('#file-open', {
      name: 'feed.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(feed),
    });
    await page.selectOption('#use-feed-csv', 'feed');
    await polled(() => page.textContent('#faults')).toMatch(/feed.*basis/s);
    await page.selectOption('#ask-basis-feed-csv', 'volume');
    await polled(() => page.textContent('#files')).toMatch(/6 classes, 100–1000 µm/);
    await page.click('#text-view summary');
    expect(await page.inputValue('#text')).toContain('file: feed.csv, basis: volume');
    await page.fill('#field-settings-feedRate', '210 kg/h');
    await polled(() => page.textContent('#part-answer .sentence')).toContain('210\u00a0kg/h');
    const here = new Map(numbersIn(await outcomeInPage(page)));
    const saved = async (button: string) => {
      const [file] = await Promise.all([page.waitForEvent('download'), page.click(button)]);
      return readFileSync((await file.path())!);
    };
    const zip = await saved('#save-folder');
    const json = await saved('#save-campaign');
    const out = join(folder, 'campaign');
    mkdirSync(out);
    for (const [name, bytes] of Object.entries(unzipSync(zip))) writeFileSync(join(out, name), bytes);
    const outside = JSON.parse(runJson(runAnswer(await loadScenario(join(out, 'case.yaml'))))) as Outcome;
    const numbersOf = new Map(numbersIn(outside));
    for (const path of ['x10_um', 'x50_um', 'x95_um', 'x99_um'] as const) {
      const value = numbersOf.get(`.product.${path}`)!;
      expect(value).toBeGreaterThan(0);
      expect(Math.abs(here.get(`.product.${path}`)! - value)).toBeLessThanOrEqual(1e-12 * value);
    }
    await page.evaluate(() => window.grindloopDesk!.text.write({}));
    await polled(() => page.inputValue('#field-settings-feedRate')).toBe('300 kg/h');
    for (const [name, buffer] of [
      ['saved.grindloop.json', json],
      ['saved.zip', zip],
    ] as const) {
      await page.evaluate(() => window.grindloopDesk!.text.write({}));
      await page.setInputFiles('#file-open', { name, mimeType: 'application/octet-stream', buffer });
      await polled(() => page.inputValue('#field-settings-feedRate')).toBe('210 kg/h');
      expect(await page.inputValue('#text')).toBe(readFileSync(join(out, 'case.yaml'), 'utf8'));
    }
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('a reload without an address loses neither case nor files', async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.goto(`file://${file}`);
    await answered(page);
    await page.fill('#field-settings-feedRate', '123 kg/h');
    await page.setInputFiles('#file-open', {
      name: 'lot.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('a'),
    });
    await polled(() => page.textContent('#kept')).toContain('Kept in this browser');
    await page.goto('about:blank');
    await page.goto(`file://${file}`);
    await polled(() => page.inputValue('#field-settings-feedRate')).toBe('123 kg/h');
    await polled(() => page.textContent('#files')).toContain('lot.csv');
    await context.close();
  });

  test('trials are read, fitted as on the command line, and what to run next goes into the log', async () => {
    const { page, complaints, requests } = await opened();
    await answered(page);
    const trials = join(dirname(demoCase('erythritol')), 'data/trials');
    await page.setInputFiles(
      '#file-open',
      [1, 2, 3, 4, 5].map((run) => join(trials, `run-${run}.csv`)),
    );
    await polled(() => page.textContent('#files')).toMatch(/70 classes, 0\.3–2044 µm, .*, laser: x10 4\.3,/);
    // the log is typed: settings and power of each run, its size file chosen where the file is listed
    await page.click('#log summary');
    const typed = [
      ['5700', '1800 rpm', '200', '5.794', '2.599'],
      ['5700', '46.67 Hz', '140', '6.073', '2.599'],
      ['4600', '1400', '140', '3.267', '1.441'],
      ['6800', '2200', '300', '10.42', '4.247'],
      ['5700', '1400', '320', '6.667', '2.599'],
    ];
    for (const [i, [rotor, wheel, feed, power, idle]] of typed.entries()) {
      await page.click('#log-add');
      const cells = {
        'rotor speed': rotor,
        'wheel speed': wheel,
        wheel: 'medium-leaning',
        'feed rate': feed,
      };
      for (const [name, value] of Object.entries({ ...cells, power, 'idle power': idle }))
        await page.getByLabel(`${name}, row ${i + 1}`, { exact: true }).fill(value!);
      await page.selectOption(`#use-run-${i + 1}-csv`, `${i}`);
    }
    await polled(() => page.textContent('#log-count')).toBe('5 runs in log.csv');
    expect(await page.isDisabled('#fit-start')).toBe(false);
    const [file] = await Promise.all([page.waitForEvent('download'), page.click('#save-folder')]);
    const out = join(folder, 'trials');
    mkdirSync(out);
    for (const [name, bytes] of Object.entries(unzipSync(readFileSync((await file.path())!))))
      writeFileSync(join(out, name), bytes);
    await page.click('#fit-start');
    await polled(() => page.textContent('#fit-state')).toMatch(/^fitted in/);
    await polled(() => page.textContent('#part-answer .opening')).toBe('Calibrated on 1, 2, 3, 4 and 5:');
    await polled(() => page.textContent('#shift')).toContain('probability of meeting the spec');
    const calibration = await page.evaluate(() => {
      const kept = JSON.parse(localStorage.getItem(Object.keys(localStorage)[0]!)!);
      return atob(kept.files['calibration.yaml']);
    });
    const scenario = await loadScenario(join(out, 'case.yaml'));
    const log = await readTrialLog(join(out, 'log.csv'), scenario);
    const outside = fitAnswer(scenario, log, { ...USUAL_FIT, version: 'of a test' });
    // browser and Node round a logarithm in its last bit each their own way; draws are written to six digits
    const own = Buffer.from(calibration, 'latin1').toString('utf8');
    const theirs = 'calibration' in outside ? outside.calibration : '';
    expect(apart(own, theirs)).toBeLessThan(2e-5);
    const [values, wanted] = [own, theirs].map((text) => text.slice(0, text.indexOf('\njoint:')));
    expect(apart(values!, wanted!)).toBeLessThan(1e-7);
    expect(await page.inputValue('#text')).toContain('calibration: calibration.yaml');
    await page.click('#next-start');
    await polled(() => page.textContent('#next-state')).toMatch(/^planned in/);
    await page.click('#sheet-log');
    expect(await page.getByLabel('trial, row 6', { exact: true }).inputValue()).toBe('6');
    await polled(() => page.textContent('#log-table')).toMatch(/\d \(\d.*\.\..*\)/);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    await page.close();
  });

  test('figures leave as SVG and PNG, their numbers as CSV', async () => {
    const { page, complaints } = await opened();
    await answered(page);
    const taken = async (name: string) => {
      const button = page.getByRole('button', { name, exact: true });
      const [file] = await Promise.all([page.waitForEvent('download'), button.click()]);
      return readFileSync((await file.path())!);
    };
    const svg = (await taken('Size curve as SVG')).toString('utf8');
    expect(svg).toMatch(/^<svg[^>]*>/);
    expect(svg).toContain('2000 rpm');
    expect((await taken('Operating window as PNG')).subarray(1, 4).toString('latin1')).toBe('PNG');
    const csv = parse((await taken('Size curve as CSV')).toString('utf8')) as string[][];
    expect(csv.length).toBeGreaterThan(5);
    expect(csv[0]![0]).toMatch(/size/);
    const scenario = await loadScenario(demoCase('erythritol'));
    const made = { version: 'of a test', date: new Date().toISOString().slice(0, 10) };
    // text for text what the command writes
    // text for text what the command writes, but for the last bit of a number
    for (const [name, audience] of [
      ['Write the report', 'engineer'],
      ['Write it for a customer', 'customer'],
    ] as const)
      expect(
        sayTheSame(
          (await taken(name)).toString('utf8'),
          reportText(runReport(scenario, { ...made, audience })),
        ),
      ).toBe(true);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('documents of the commands say what the commands say, and leave as pages of their own', async () => {
    const { page, complaints, requests } = await opened();
    await answered(page);
    const scenario = await loadScenario(demoCase('erythritol'));
    const shelf = packageCatalogue();
    for (const name of ['plant', 'scale'] as const) {
      await page.selectOption('#document-name', name);
      if (name === 'scale') await page.selectOption('#document-machine', 'production-600');
      await page.click('#document-compute');
      await polled(() => page.textContent('#document-state')).toMatch(/^computed in/);
      const texts = { 'machines/production-600': shelf.catalogue('machines/production-600')! };
      const organic = { 'materials/organic-crystal': shelf.catalogue('materials/organic-crystal')! };
      const own = deskDocument(scenario, { name, to: 'production-600' }, { ...texts, ...organic });
      const here = await page.locator('#document .sentence').textContent();
      expect(plain(here!)).toContain(plain(own.answer[0]!));
    }
    const [saved] = await Promise.all([page.waitForEvent('download'), page.click('#document-save')]);
    const other = join(folder, 'saved.html');
    await saved.saveAs(other);
    const text = readFileSync(other, 'utf8');
    expect(text).toContain("script-src 'none'");
    expect(text).toContain('<main class="document">');
    await page.evaluate(AXE);
    const found = await page.evaluate(async () => {
      const { axe } = window as unknown as { axe: { run(): Promise<{ violations: { id: string }[] }> } };
      return (await axe.run()).violations.map(({ id }) => id);
    });
    expect(found).toEqual([]);
    await page.selectOption('#document-name', 'find');
    await page.click('#document-compute');
    await page.click('#document-stop');
    expect(await page.textContent('#document-state')).toBe('stopped');
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    await page.close();
  });
});

/** Words without the spaces and low indices a page sets them with. */
function plain(text: string): string {
  return text.replace(/[\s\u00a0_]+/g, '').toLowerCase();
}
