import { beforeAll, describe, expect, test } from 'vitest';
import type { FindAnswer } from '../../src/answers/find/find-answer.ts';
import { findDocument } from '../../src/answers/find/find-document.ts';
import { toCase } from '../../src/scenario/operating-point.ts';
import { outcomeOf } from '../../src/scenario/outcome/outcome.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import type { FoundPoint } from '../../src/search/find/find.ts';
import { demo, requiring } from './cases.ts';

const SPEC = ['passing(75 um) >= 95 %', 'feedRate >= 100 kg/h'];
let file: Scenario;
let slow: FoundPoint;
let fast: FoundPoint;

/** A point as a search finds it: solved, with its settings as they are typed. */
async function found(
  rotor: number,
  wheel: number,
  feed: number,
  limits: readonly string[] = [],
): Promise<FoundPoint> {
  const at = { rotorSpeed: `${rotor} rpm`, wheelSpeed: `${wheel} rpm`, feedRate: `${feed} kg/h` };
  const set = Object.entries(at).map(([name, value]) => `settings.${name}=${value}`);
  const scenario = requiring(await demo(...set), ...SPEC);
  const point = solvePoint(toCase(scenario), {});
  const outcome = outcomeOf(scenario, point);
  const settings = [
    { path: 'rotorSpeed', value: rotor / 60, shownIn: 'rpm' },
    { path: 'wheelSpeed', value: wheel / 60, shownIn: 'rpm' },
    { path: 'feedRate', value: feed / 3600, shownIn: 'kg/h' },
  ];
  const violation = outcome.spec.every(({ met }) => met) ? 0 : 0.1;
  return {
    coordinates: new Float64Array(3),
    settings,
    scenario,
    point,
    outcome,
    goal: feed / 3600,
    merit: { violation, goal: feed / 3600 },
    limits,
  } as FoundPoint;
}

function answer(more: Partial<FindAnswer> & Pick<FindAnswer, 'named'>): FindAnswer {
  const meets = more.named.merit.violation === 0;
  return {
    scenario: file,
    space: { taken: [] } as unknown as FindAnswer['space'],
    nominal: { best: more.named, meets, byChoice: [more.named], evaluations: 1 },
    likeliest: undefined,
    robust: undefined,
    capacity: undefined,
    relaxed: [],
    verdict: null,
    ...more,
  } as FindAnswer;
}

beforeAll(async () => {
  file = requiring(await demo(), ...SPEC);
  fast = await found(5700, 2400, 200, ['motor']);
  slow = await found(4200, 1000, 300);
});

test('the cases are what they are said to be', () => {
  expect(fast.merit.violation).toBe(0);
  expect(slow.merit.violation).toBeGreaterThan(0);
});

describe('run first', () => {
  const chances = (whole: number, chokes: number) => ({ whole, chokes, error: 0.03, lines: [whole, 1] });
  test('the probability, its error and the share that chokes are in the first sentence', () => {
    const likeliest = {
      point: fast,
      chances: chances(0.314, 0.04),
      byChoice: [],
    } as unknown as FindAnswer['likeliest'];
    const { opening, answer: said } = findDocument(answer({ named: fast, likeliest }), true);
    expect(opening).toBe('Uncalibrated estimate, for planning a first trial:');
    expect(said).toEqual([
      'run first the medium leaning wheel at 2400 rpm, rotor 5700 rpm, 200 kg/h: the probability of meeting the whole spec is 31 % (± 3 percentage points), and the mill chokes in 4 % of the samples of the coefficients.',
    ]);
  });
  test('wheels that the samples cannot tell apart are said to be a tie', () => {
    const likeliest = {
      point: fast,
      chances: chances(0.314, 0.04),
      tie: ['medium-leaning', 'long-leaning'],
      byChoice: [],
    } as unknown as FindAnswer['likeliest'];
    expect(findDocument(answer({ named: fast, likeliest }), true).answer[1]).toBe(
      'A tie: these coefficients cannot separate medium leaning from long leaning; medium leaning is named because it is the first in the file.',
    );
  });
  test('where nothing meets the spec it is said first', () => {
    const likeliest = {
      point: slow,
      chances: chances(0.02, 0),
      byChoice: [],
    } as unknown as FindAnswer['likeliest'];
    const { answer: said } = findDocument(answer({ named: slow, likeliest }), false);
    expect(said).toEqual([
      'no settings within the ranges meet the whole spec if the coefficients are as assumed; run first the medium leaning wheel at 1000 rpm, rotor 4200 rpm, 300 kg/h: the probability of meeting the whole spec is 2 % (± 3 percentage points), and the mill chokes in 0 % of the samples of the coefficients.',
      'It misses "95 % below 75 µm" by 35 percentage points.',
    ]);
  });
});

test('where no sample meets the spec either, no run is advised', () => {
  const chances = { whole: 0, chokes: 0.04, error: 1 / 600, lines: [0, 1] };
  const likeliest = { point: slow, chances, byChoice: [] } as unknown as FindAnswer['likeliest'];
  const { answer: said } = findDocument(answer({ named: slow, likeliest }), false);
  expect(said).toEqual([
    'no settings within the ranges meet the whole spec if the coefficients are as assumed, and none do in any sample of the coefficients: there is nothing to run for this spec. The nearest miss is the medium leaning wheel at 1000 rpm, rotor 4200 rpm, 300 kg/h.',
    'It misses "95 % below 75 µm" by 35 percentage points.',
  ]);
});

describe('what would have to be relaxed', () => {
  test('one requirement alone is not enough', () => {
    const { answer: said } = findDocument(answer({ named: slow }), false);
    expect(said).toEqual([
      'the nearest miss with the present coefficients is the medium leaning wheel at 1000 rpm, rotor 4200 rpm, 300 kg/h.',
      'It misses "95 % below 75 µm" by 35 percentage points.',
      'Relaxing one requirement is not enough: relax several, or widen the ranges.',
    ]);
  });
  test('one requirement, with what it reaches', () => {
    const line = { text: SPEC[0]!, value: 87.3 };
    const relaxed = [{ line, point: fast }] as unknown as FindAnswer['relaxed'];
    const { answer: said, sections } = findDocument(answer({ named: slow, relaxed }), false);
    expect(said).toEqual([
      'the nearest miss with the present coefficients is the medium leaning wheel at 1000 rpm, rotor 4200 rpm, 300 kg/h.',
      'It misses "95 % below 75 µm" by 35 percentage points.',
      'Relaxing one requirement, all others met:',
    ]);
    expect(sections[0]!.tables![0]!).toEqual({
      columns: [{ name: 'required' }, { name: 'reached' }, { name: 'at' }],
      rows: [[SPEC[0], '87.3 %', 'the medium leaning wheel at 2400 rpm, rotor 5700 rpm, 200 kg/h']],
    });
  });
});

describe('at a probability that is required', () => {
  const robust = (supported: boolean, calibrated: boolean) =>
    ({
      best: fast,
      byChoice: [],
      supported,
      confidence: 0.95,
      probability: supported ? 0.962 : 0.714,
      error: 0.011,
      lines: [0.97, 0.99],
      calibrated,
    }) as unknown as FindAnswer['robust'];
  test('it is reached', () => {
    const { answer: said } = findDocument(answer({ named: fast, robust: robust(true, true) }), true);
    expect(said).toEqual([
      'run first, for a probability of 95 %: the medium leaning wheel at 2400 rpm, rotor 5700 rpm, 200 kg/h; maximise feed rate: 200 kg/h.',
      'Supported at 95 %, including the uncertainty of model, feed lot and analyser; not a guarantee (the whole spec is met in 96.2 ± 1.1 % of the samples; least often "95 % below 75 µm").',
    ]);
  });
  test.each([
    [true, 'more trials (next) reduce the uncertainty'],
    [false, 'the model is uncalibrated: trials and fit reduce the uncertainty'],
  ])('it is not, calibrated %s', (calibrated, advice) => {
    const { answer: said } = findDocument(answer({ named: fast, robust: robust(false, calibrated) }), true);
    expect(said[0]).toBe(
      `NOT supported at 95 %: no settings were found that meet the whole spec with this probability, at most in 71.4 ± 1.1 % of the samples; ${advice}.`,
    );
  });
});

describe('a calibration is judged at the settings named, not at those of the file', () => {
  const tried = (feeds: readonly [number, number], lackOfFit = false) => ({
    trials: ['A', 'B'],
    fit: { lackOfFit },
    joint: {
      coefficients: [
        { path: 'material.selection.friability', symbol: 'f', unit: 'kg/(J m)', prior: 0.9, spread: 1 },
      ],
      mean: [Math.log(0.9)],
      covariance: [[0.01]],
      priorCovariance: [[1]],
      discrepancy: 0,
    },
    of: {
      materials: ['erythritol'],
      machine: file.machine.name,
      wheels: ['medium-leaning'],
      covered: {
        rotorTip: [1, 999],
        wheelRim: [1, 999],
        feedRate: feeds.map((kg) => kg / 3600),
        airFlow: [0, 9],
      },
    },
  });
  const at = (point: FoundPoint, calibration: unknown): FoundPoint => ({
    ...point,
    scenario: { ...point.scenario, calibration } as Scenario,
  });
  const robust = (best: FoundPoint) =>
    ({
      best,
      byChoice: [],
      supported: true,
      confidence: 0.9,
      probability: 0.95,
      error: 0.01,
      lines: [1, 1],
      calibrated: true,
    }) as unknown as FindAnswer['robust'];
  const words = (calibration: unknown) => {
    const [first, second] = [at(fast, calibration), at(slow, calibration)];
    const { opening, sections } = findDocument(
      {
        ...answer({ named: first, robust: robust(first) }),
        nominal: {
          best: second,
          meets: true,
          byChoice: [second],
          evaluations: 1,
        } as unknown as FindAnswer['nominal'],
      },
      true,
    );
    return { opening, nominal: sections.find(({ id }) => id === 'nominal')!.sentences! };
  };
  test('the first at 200 kg/h, the second at 300 kg/h', () => {
    // the file itself runs at another feed rate, which no sentence may speak of
    const both = words(tried([150, 320]));
    expect(both.opening).toBe('Calibrated on A and B:');
    expect(both.nominal.some((line) => line.includes('extrapolation'))).toBe(false);
    const second = words(tried([150, 220]));
    expect(second.opening).toBe('Calibrated on A and B:');
    expect(second.nominal[0]).toMatch(
      /^The medium leaning wheel at 1000 rpm, rotor 4200 rpm, 300 kg\/h meets/,
    );
    expect(second.nominal[1]).toBe(
      'This is an extrapolation beyond the settings tried: feed rate 300 kg/h (tried 150 to 220 kg/h). Its bands are wider for it.',
    );
    const first = words(tried([250, 320]));
    expect(first.opening).toBe(
      'This is an extrapolation beyond the settings tried: feed rate 200 kg/h (tried 250 to 320 kg/h). Its bands are wider for it. Calibrated on A and B:',
    );
    expect(first.nominal.some((line) => line.includes('extrapolation'))).toBe(false);
  });
  test('a calibration that does not fit is named in the first sentence, at a probability too', () => {
    expect(words(tried([150, 320], true)).opening).toBe(
      'The calibration does not fit its own trials within the measuring errors: its bands are wider for it. Calibrated on A and B, without a good fit:',
    );
  });
});

test('the best with the present coefficients: its limit, and what keeps a margin', () => {
  const { opening, answer: said } = findDocument(answer({ named: fast, capacity: fast }), true);
  expect([opening, ...said]).toEqual([
    'Uncalibrated estimate, for planning a first trial:',
    'the medium leaning wheel at 2400 rpm, rotor 5700 rpm, 200 kg/h meets the whole spec; maximise feed rate: 200 kg/h.',
    'Limited by motor.',
    '200 kg/h is the limit itself; 180 kg/h keeps a 10 % margin.',
    'Capacity at spec: 200 kg/h (the medium leaning wheel at 2400 rpm, rotor 5700 rpm, 200 kg/h).',
  ]);
});

test('where a requirement on the feed leaves no room for the usual margin, it is named', async () => {
  const tight = requiring(await demo(), SPEC[0]!, 'feedRate >= 190 kg/h');
  const { answer: said } = findDocument({ ...answer({ named: fast }), scenario: tight }, true);
  expect(said[2]).toBe(
    '200 kg/h is the limit itself; a 10 % margin would break "feed rate at least 190 kg/h".',
  );
});
