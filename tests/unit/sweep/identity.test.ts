import { expect, test } from 'vitest';
import { differences, studyHash } from '../../../src/sweep/store/identity.ts';
import type { Study } from '../../../src/sweep/study/study.ts';
import type { Context } from '../../../src/viz/report/context.ts';
import { madePart } from '../../../src/viz/report/parts-of-sweep.ts';
import { FACTORS, PILOT_SCENARIO, pilotStudy } from '../../workers/sweep/pilot.ts';

const study = pilotStudy({ design: 'sobol', factors: FACTORS, points: 100, seed: 1 });
const withScenario = (change: Partial<typeof PILOT_SCENARIO>): Study => ({
  ...study,
  scenario: { ...PILOT_SCENARIO, ...change },
});

test('remarks change nothing, and a design that can be extended may grow', () => {
  const hash = studyHash(study, '1');
  expect(studyHash(withScenario({ text: '# a remark', title: 'other', job: { lot: '7' } }), '1')).toBe(hash);
  expect(studyHash({ ...study, plan: { ...study.plan, points: 200 } }, '1')).toBe(hash);
});

test.each([
  [
    'the feed rate',
    withScenario({ settings: { ...PILOT_SCENARIO.settings, feedRate: 0.1 } }),
    /scenario.settings.feedRate/,
  ],
  ['the seed', { ...study, plan: { ...study.plan, seed: 2 } }, /design.seed: 2 here, 1 in the store/],
  ['the columns', { ...study, quantities: ['x50'] }, /quantities/],
  ['a spec line', withScenario({ spec: [] }), /scenario.spec/],
] as const)('another sweep by %s is told apart and named', (_, other, words) => {
  expect(studyHash(other, '1')).not.toBe(studyHash(study, '1'));
  expect(differences(other, '1', study, '1').join('\n')).toMatch(words);
});

test('a grid counts its points, and the version of the program counts', () => {
  const latin = (points: number): Study => ({
    ...study,
    plan: { ...study.plan, design: 'latin-hypercube', points },
  });
  expect(studyHash(latin(100), '1')).not.toBe(studyHash(latin(200), '1'));
  expect(studyHash(study, '2')).not.toBe(studyHash(study, '1'));
  expect(differences(study, '2', study, '1')).toEqual(['version: "2" here, "1" in the store']);
});

test('a report of a sweep by another version says so, with what to do', () => {
  const said = (version?: string): string => {
    const stored = { study, hash: 'abc', version: '1.4.0', size: 60 };
    const source = { stored, date: '2026-01-01', ...(version ? { version } : {}) };
    return JSON.stringify(madePart({ source, whole: false } as unknown as Context));
  };
  expect(said('2.0.0')).toContain(
    'The sweep was computed with version 1.4.0 of grindloop; this is version 2.0.0, whose equations may differ: points computed for this page need not agree with those stored; sweep again into another OUT.',
  );
  expect(said('1.4.0')).not.toContain('whose equations may differ');
});
