import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { DeskWork } from '../../../src/viz/desk/work.ts';

const SCENARIOS = resolve(import.meta.dirname, '../../../scenarios');
const text = readFileSync(resolve(SCENARIOS, 'erythritol-grades.yaml'), 'utf8');
const shelf = {
  'machines/pilot-300': readFileSync(resolve(SCENARIOS, 'catalogue/machines/pilot-300.yaml'), 'utf8'),
};
const work = new DeskWork({ shelf, version: 'of a test' });
const ask = (grade?: string) => {
  const about = { text, files: {}, ...(grade === undefined ? {} : { grade }) };
  const reply = work.do({ about, job: { kind: 'case' } }) as never as {
    facts: { grades: readonly string[]; requirements: readonly { text: string }[] };
  };
  const { answer } = work.do({ about, job: { kind: 'answer' } }) as never as { answer: string };
  return { ...reply.facts, required: reply.facts.requirements.map((each) => each.text), answer };
};

test('a desk answers the grade chosen, with every grade in the table', () => {
  const finest = ask('finest');
  expect(finest.grades).toEqual(['standard', 'fine', 'finest']);
  expect(finest.required).toEqual([
    'outletTemperature <= 50 degC',
    'motorLoad <= 90 %',
    'passing(50 um) >= 95 %',
  ]);
  for (const name of finest.grades)
    expect(finest.answer).toContain(`<th scope="row"><bdi>${name}</bdi></th>`);
  expect(finest.answer).toMatch(/class="fails">(<bdi>)?NO/);
  expect(ask('standard').required).toContain('passing(150 um) >= 95 %');
  const all = ask();
  expect(all.required).toHaveLength(2);
  expect(all.answer).toContain('Grade by grade, at these settings');
  // a name that is no longer in the case asks about what holds for all
  expect(ask('gone').required).toEqual(all.required);
});

test.each([
  ['engineer', true],
  ['customer', false],
] as const)('the report for the %s answers every grade where none is chosen', (audience, made) => {
  const about = { text, files: {} };
  const job = { kind: 'report' as const, audience, date: '2026-01-02' };
  const { body, still } = work.do({ about, job }) as never as { body: string; still: boolean };
  for (const size of ['150 µm', '90 µm', '50 µm']) expect(body).toContain(`95 % below ${size}`);
  for (const name of ['standard', 'fine', 'finest']) expect(body).toContain(name);
  // no live model stands in it, so it takes no script along
  expect(still).toBe(true);
  expect(body.includes('one operating point, every grade')).toBe(made);
});
