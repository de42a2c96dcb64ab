import { expect, test } from 'vitest';
import {
  coefficientSentences,
  fitNotes,
  fitSentences,
  misfitSentence,
  runSentences,
} from '../../src/answers/fit/fit-words.ts';
import type { TrialReport } from '../../src/trials/report-data.ts';

const FIT = {
  chiSquare: 22.35,
  freedom: 53.9,
  probability: 0.5,
  lackOfFit: false,
  suspects: [],
  discrepancy: 0.04,
  starts: 8,
  agreeing: 7,
  effective: 400,
  combinations: 3.4,
  leftAsGiven: [],
};
const coefficient = (symbol: string, state: string, atBound = false) => ({
  symbol,
  path: `a.${symbol}`,
  state,
  atBound,
});
const run = (name: string, measured: number | null, model: number, fits = true) => ({
  name,
  flags: [],
  fits,
  minutes: 4,
  outletTemperature_C: { measured, model },
  outletAtRest_C: model,
});
const report = (part: object = {}, fit: object = {}): TrialReport =>
  ({
    fit: { ...FIT, ...fit },
    coefficients: [coefficient('f', 'settled'), coefficient('q', 'settled'), coefficient('c', 'weak')],
    boundPairs: [],
    ignored: [],
    runs: [run('A', null, 30), run('B', null, 30)],
    ...part,
  }) as unknown as TrialReport;

test('how many coefficients are determined, which, and whether the model fits', () => {
  expect(fitSentences(report())).toEqual([
    '2 trials determine 2 of 3 coefficients (3.4 effective parameters): f and q.',
    'The model fits within the measuring errors (χ² 22.35 on 53.9 degrees of freedom, probability 0.50).',
  ]);
  expect(
    fitSentences(report({ coefficients: [coefficient('c', 'weak')], runs: [run('A', null, 30)] }))[0],
  ).toBe('1 trial determines 0 of 1 coefficients (3.4 effective parameters).');
});

test('a model that does not fit says so, and trials that scatter too little', () => {
  expect(fitSentences(report({}, { lackOfFit: true, probability: 0.0001 }))[1]).toBe(
    'The model does NOT fit within the measuring errors (χ² 22.35 on 53.9 degrees of freedom, probability 0.00010): every band is widened by 4 % of size.',
  );
  const close =
    'The trials scatter less than the measuring errors assumed: the intervals are on the wide side.';
  expect(fitSentences(report({}, { probability: 0.991 }))).toContain(close);
  expect(fitSentences(report({}, { probability: 0.989 }))).not.toContain(close);
});

test('correlated coefficients and those at a bound', () => {
  const found = coefficientSentences(
    report({
      boundPairs: [{ one: 'f', other: 'c', correlation: 0.97 }],
      coefficients: [coefficient('q', 'settled', true)],
    }),
  );
  expect(found).toEqual([
    'f and c are strongly correlated (0.97); only their combination is determined.',
    'q (a.q) ended at the end of its allowed range: look for a fault in trials or scenario.',
  ]);
});

test.each([
  [
    27,
    30,
    'The outlet temperature, not used by the fit, is 3 K below the model on average: check air flow, inlet temperature and heat loss.',
  ],
  [
    33,
    30,
    'The outlet temperature, not used by the fit, is 3 K above the model on average: check air flow, inlet temperature and heat loss.',
  ],
  [31.9, 30, 'The outlet temperature, not used by the fit, is 1.9 K above the model on average.'],
])('a thermometer at %d °C where the model has %d', (measured, model, words) => {
  expect(runSentences(report({ runs: [run('A', measured, model)] }))).toEqual([words]);
});

test('a run that does not fit is named; what to do where it alone does not', () => {
  expect(runSentences(report({ runs: [run('A', null, 30, false)] }))).toEqual([misfitSentence('A', null)]);
  expect(misfitSentence('A', null)).toBe('Run A does not fit with the others (χ² beyond 0.1 %).');
  expect(misfitSentence('A', { kind: 'left out', runs: ['A'], gain: 50 })).toBe(
    'Run A does not fit with the others, and without it they fit: look at its line of the log; --without A leaves it out.',
  );
  expect(misfitSentence('A', { kind: 'exchanged', runs: ['A', 'B'], gain: 50 })).toBe(
    'Run A: its size file seems to be exchanged with that of run B; exchanged back, all runs fit. Look at both lines of the log.',
  );
});

test.each([
  [99, true],
  [100, false],
])('an effective sample size of %d', (effective, few) => {
  const line = `Effective sample size is only ${effective}: treat the intervals as rough.`;
  expect(fitNotes(report({}, { effective })).includes(line)).toBe(few);
});
