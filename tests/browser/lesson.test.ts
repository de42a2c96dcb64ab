import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { passByPass } from '../../src/viz/lesson/batch.ts';
import { KEYS } from '../../src/viz/lesson/keys.ts';
import { lessonOn } from '../../src/viz/lesson/lesson.ts';
import { run } from '../../src/viz/lesson/mill.ts';
import { figureId, startOf, valueOfHand } from '../../src/viz/lesson/readings-panel.ts';
import type { Lesson, LessonStep, Values } from '../../src/viz/lesson/step.ts';
import { STEPS } from '../../src/viz/lesson/steps.ts';
import { lessonText } from '../../src/viz/write/lesson.ts';
import { findBrowser, launch, open } from './chromium.ts';
import { numbersFor, numbersOf, polled } from './numbers.ts';
import { demo } from './sweep-page.ts';

const executable = findBrowser();
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

test('all passes together are the steady state', async () => {
  const scenario = await demo();
  const batch = passByPass(scenario, 4000)!;
  const { feed, product } = run(scenario)!.state.components[0]!;
  const total = feed.reduce((sum, each) => sum + each, 0);
  const left = batch.left.at(-1)!;
  product.forEach((each, i) => {
    expect(Math.abs(left[i]! * total - each)).toBeLessThan(1e-8 * total);
  });
});

test('every step has its key, and the answers carry no gap', async () => {
  const lesson = lessonOn(await demo());
  expect(Object.keys(KEYS)).toEqual(STEPS.map(({ id }) => id));
  for (const { id } of STEPS) expect(KEYS[id]!.answer(lesson)).not.toMatch(/NaN|undefined|–|Infinity/);
});

test("a student's file holds no answer and no note", async () => {
  const scenario = await demo();
  const lesson = lessonOn(scenario);
  const [student, teacher] = [lessonText(scenario, 'student'), lessonText(scenario, 'teacher')];
  for (const { answer, notes } of Object.values(KEYS)) {
    for (const words of [answer(lesson).slice(0, 14), notes.slice(0, 40)]) {
      const unparted = (text: string) => text.replaceAll('\u00a0', ' ');
      expect(unparted(teacher)).toContain(words);
      expect(unparted(student)).not.toContain(words);
    }
  }
});

describe.skipIf(executable === undefined)('the lesson, in a browser', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-lesson-'));
  const file = join(folder, 'lesson.html');
  let browser: Browser;
  let lesson: Lesson;

  /** What the model says of a step: its facts, and the numbers of each figure. */
  const numbersOfStep = (step: LessonStep, values: Values) => {
    const { facts, figures } = step.show(lesson, values);
    return { facts, figures: figures.map(({ figure, input }) => numbersFor(figure, input)) };
  };
  const stepIsShown = async (page: Page, step: LessonStep, values: Values): Promise<void> => {
    const { facts, figures } = numbersOfStep(step, values);
    const shown = page.locator(`#${step.id} .values > div`);
    await polled(() =>
      shown.evaluateAll((all) => all.map(({ children }) => [...children].map((each) => each.textContent))),
    ).toEqual(facts);
    for (const [k, wanted] of figures.entries())
      await polled(() => numbersOf(page, figureId(step.id, k))).toEqual(wanted);
  };

  beforeAll(async () => {
    const scenario = await demo();
    lesson = lessonOn(scenario);
    writeFileSync(file, lessonText(scenario, 'teacher'));
    browser = await launch(executable!);
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test.each([1440, 390])('at %i px every slider moves its step', async (width) => {
    const { page, complaints, requests } = await open(browser, file, width);
    for (const step of STEPS) {
      let values = startOf(step.sliders(lesson));
      await stepIsShown(page, step, values);
      for (const slider of step.sliders(lesson)) {
        const input = page.locator(`#${step.id}-${slider.id}`);
        await input.press('PageUp');
        const value = valueOfHand(slider, Number(await input.inputValue()));
        expect(value).toBeGreaterThan(values[slider.id]!);
        const moved = { ...values, [slider.id]: value };
        expect(numbersOfStep(step, moved)).not.toEqual(numbersOfStep(step, values));
        values = moved;
        await stepIsShown(page, step, values);
      }
    }
    const overflow = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(overflow).toBeLessThanOrEqual(0);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    await page.close();
  });

  test('numbers on the axes can be read from the back row', async () => {
    const { page } = await open(browser, file, 1440);
    for (const { id } of STEPS) {
      await page.locator(`#${id}`).scrollIntoViewIfNeeded();
      await polled(() =>
        page.locator(`#${id} .still > svg`).evaluateAll((all) =>
          all.every((svg) => {
            const drawing = svg as SVGSVGElement;
            const scale = drawing.getBoundingClientRect().width / drawing.viewBox.baseVal.width;
            const sizes = [...svg.querySelectorAll('text')].map((each) =>
              Number(each.getAttribute('font-size')),
            );
            return sizes.length > 4 && Math.min(...sizes) * scale >= 16;
          }),
        ),
      ).toBe(true);
    }
    await page.close();
  });

  test('keys lead from step to step, reset one, and the address keeps the state', async () => {
    const { page } = await open(browser, file, 1440);
    const where = page.locator('.present .where');
    await page.keyboard.press('ArrowRight');
    await polled(() => where.textContent()).toBe('Step 2 of 8');
    await page.keyboard.press('ArrowRight');
    await polled(() => where.textContent()).toBe('Step 3 of 8');
    await page.locator('#send-back-pass').fill('10');
    await polled(() => page.url()).toContain('send-back.pass=10');
    await page.reload();
    await polled(() => page.locator('#send-back-pass').inputValue()).toBe('10');
    await polled(() => where.textContent()).toBe('Step 3 of 8');
    await page.locator('h1').evaluate((each) => (each.ownerDocument.activeElement as HTMLElement).blur());
    await page.keyboard.press('r');
    await polled(() => page.locator('#send-back-pass').inputValue()).toBe('4');
    await page.keyboard.press('ArrowLeft');
    await polled(() => where.textContent()).toBe('Step 2 of 8');
    // what moves the page without a hand, as a figure drawn late does, moves no step; a hand does
    await page.evaluate(() => {
      scrollTo({ top: 0, behavior: 'instant' });
      return new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    });
    expect(await where.textContent()).toBe('Step 2 of 8');
    await page.mouse.move(600, 400);
    await page.mouse.wheel(0, 30);
    await polled(() => where.textContent()).toBe('Step 1 of 8');
    await page.close();
  });

  test('no fault of accessibility', async () => {
    const { page } = await open(browser, file, 1200);
    await page.evaluate(AXE);
    const found = await page.evaluate(async () => {
      const { axe } = window as unknown as { axe: { run(): Promise<{ violations: { id: string }[] }> } };
      return (await axe.run()).violations.map(({ id }) => id);
    });
    expect(found).toEqual([]);
    await page.close();
  });
});
