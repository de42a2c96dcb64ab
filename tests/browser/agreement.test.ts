import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { wordsOfVerdict } from '../answers/cases.ts';
import { grindloopIn } from '../program.ts';
import { findBrowser, launch, open } from './chromium.ts';
import { uniform } from './random.ts';

const executable = findBrowser();

/** The demo's sweep made small, with factors of machine and air, so that the recommendation moves them too. */
const SWEEP = `sweep:
  design: grid
  factors:
    rotorSpeed: { from: 4000 rpm, to: 7000 rpm, steps: 3 }
    wheelSpeed: { from: 1000 rpm, to: 5000 rpm, steps: 4 }
    wheel: [ medium-radial, medium-leaning, long-leaning ]
    feedRate: { from: 100 kg/h, to: 500 kg/h, steps: 3 }
    wheel.geometry.height: { from: 50 mm, to: 90 mm, steps: 3 }
    air.flow: { from: 1300 m^3/h, to: 1700 m^3/h, steps: 2 }
`;

describe.skipIf(executable === undefined)('page and command line', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-agree-'));
  const scenario = join(folder, 'case.yaml');
  let browser: Browser;
  let page: Page;

  beforeAll(async () => {
    const demo = readFileSync('scenarios/erythritol.yaml', 'utf8');
    writeFileSync(scenario, demo.replace(/^sweep:\n(?: .*\n)+/m, SWEEP));
    for (const words of [
      ['sweep', scenario, '-o', 'study'],
      ['report', 'study', '-o', 'report.html'],
    ]) {
      const done = await grindloopIn(folder, ...words);
      expect(done.err).toBe('');
      expect(done.code).toBe(0);
    }
    browser = await launch(executable!);
    ({ page } = await open(browser, join(folder, 'report.html'), 1200));
  }, 180_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('agree to 1e-12 where the page stands at first', () => compare(page, scenario, folder));

  test('agree to 1e-12 at ten random settings, by the text the page copies', async () => {
    const next = uniform(20260214);
    let steady = 0;
    for (let k = 0; k < 10; k++) {
      const shares = Array.from({ length: 20 }, next);
      await page.evaluate((each) => {
        const { settings } = window.grindloop!;
        const chosen = ['wheel', 'rotorSpeed', 'wheelSpeed', 'feedRate', 'air.flow', 'wheel.geometry.height'];
        const controls = settings.controls.filter(({ path }) => chosen.includes(path));
        settings.set(
          Object.fromEntries(
            controls.map((control, i) => {
              const share = each[i]!;
              if (control.kind === 'choice')
                return [control.path, control.choices[Math.floor(share * control.choices.length)]!];
              return [control.path, control.min + (control.max - control.min) * share];
            }),
          ),
        );
      }, shares);
      if ((await compare(page, scenario, folder)) === 'steady') steady++;
    }
    expect(steady).toBeGreaterThanOrEqual(5);
  }, 240_000);
});

/** Takes the settings the page copies to the command line, word for word, and holds every number against the page's. */
async function compare(page: Page, scenario: string, folder: string): Promise<string> {
  await page.click('#copy-options');
  const text = await page.inputValue('#copy-text');
  // the shell takes the text apart as a user's does
  const split = spawnSync('sh', ['-c', `printf '%s\\0' ${text}`], { encoding: 'utf8' });
  expect(split.stderr).toBe('');
  const words = split.stdout.split('\0').slice(0, -1);
  const done = await grindloopIn(folder, 'run', scenario, ...words, '--json');
  expect(done.err).toBe('');
  const { verdict, ...expected } = JSON.parse(done.out);
  const found = JSON.parse(
    await page.evaluate(async () => {
      const { run, settings } = window.grindloop!;
      return JSON.stringify(await run(settings.changes()));
    }),
  );
  expect(found.status).toBe(expected.status);
  const wanted = new Map(numbersIn(expected));
  const numbers = numbersIn(found);
  expect(numbers.length).toBe(wanted.size);
  expect(numbers.length).toBeGreaterThan(found.status === 'steady' ? 200 : 20);
  for (const [path, value] of numbers) {
    // what rounding leaves over is no value of the mill
    if (path === '.loop.massClosure') continue;
    const other = wanted.get(path)!;
    const same = Object.is(value, other) || Math.abs(value - other) <= 1e-12 * Math.abs(other);
    expect(same, `${text}: ${path} is ${value} in the page, ${other} on the command line`).toBe(true);
  }
  await expect.poll(() => shownCells(page, expected), { timeout: 30_000 }).toEqual([]);
  // the page says in words what the verdict of the command says in numbers
  const said = await page.textContent('#pinned-state');
  expect(said!.replace(/[\u00a0\u202f]/g, ' '), text).toContain(wordsOfVerdict(verdict));
  expect(verdict.meets).toBe(
    expected.status === 'steady' && expected.spec.every(({ met }: { met: boolean }) => met),
  );
  return found.status;
}

/** Cells of the page that show something else than the command line's number, to the digits shown. */
async function shownCells(page: Page, expected: Record<string, Record<string, number>>): Promise<string[]> {
  const cells = await page.$$eval('[data-value]', (all) =>
    all.map((cell) => {
      const { value, factor } = (cell as HTMLElement).dataset;
      return { place: value!, factor: Number(factor ?? 1), text: cell.textContent! };
    }),
  );
  expect(cells.length).toBeGreaterThan(25);
  return cells.flatMap(({ place, factor, text }) => {
    const [group, key] = place.split('.') as [string, string];
    const value = expected[group]?.[key];
    const shown = Number(text.replace('−', '-').replaceAll('\u202f', ''));
    if (place === 'loop.massClosure') return [];
    if (value === undefined || value === null) return text === '–' ? [] : [`${place}: ${text}`];
    const near = Math.abs(shown - value * factor) <= 6e-4 * Math.abs(value * factor);
    return near ? [] : [`${place}: ${text}, not ${value * factor}`];
  });
}

/** Every number of an outcome by its path; named things go by name. */
function numbersIn(value: unknown, path = ''): [string, number][] {
  if (typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  const key = (place: string, each: unknown) =>
    Array.isArray(value) && typeof each === 'object'
      ? String((each as { name?: string } | null)?.name ?? place)
      : place;
  return Object.entries(value).flatMap(([place, each]) => numbersIn(each, `${path}.${key(place, each)}`));
}
