import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { openingOf } from '../../../src/answers/verdict-words.ts';
import { demoCase, packageCatalogue } from '../../../src/scenario/load.ts';
import { valueAt } from '../../../src/scenario/operating-point.ts';
import { parseScenario } from '../../../src/scenario/parse.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { calibrationStanding } from '../../../src/trials/calibration/calibration-standing.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import { calibrationFile } from '../../../src/trials/calibration/write.ts';
import { coordinateOf } from '../../../src/trials/fit/coefficient.ts';
import { priorOf } from '../../../src/trials/fit/coefficients.ts';
import type { Fit } from '../../../src/trials/fit/fit.ts';
import { close } from '../../close.ts';

const DEMO = readFileSync(demoCase('erythritol'), 'utf8');
const plain = parseScenario(DEMO, { ...packageCatalogue(), name: 'demo' });
const FRIABILITY = 'material.selection.friability';
const CUT = 'machine.wheels.medium-leaning.coefficients.cutFactor';

/** The file of a fit that found every coefficient 0.1 above its prior along its scale, twice as well known. */
function fileOf(lackOfFit = false, from = plain): string {
  const prior = priorOf(from);
  const mean = prior.mean.map((value) => value + 0.1);
  const covariance = prior.covariance.clone().mul(0.25);
  const fit = { prior, mean, covariance, discrepancy: 0.02, draws: [], comparisons: [], suspects: [] };
  const more = {
    chiSquare: 20,
    freedom: 20,
    probability: 0.5,
    lackOfFit,
    starts: 8,
    agreeing: 8,
    effective: 250,
  };
  const solution = { residuals: new Float64Array(0) };
  const of = {
    materials: ['erythritol'],
    machine: plain.machine.name,
    wheels: ['medium-leaning', 'medium-radial', 'long-leaning'],
    feed: ['log-normal'],
    covered: {
      rotorTip: [70, 100],
      wheelRim: [5, 40],
      feedRate: [100 / 3600, 400 / 3600],
      airFlow: [1000 / 3600, 2000 / 3600],
    },
  } as const;
  const head = { scenario: 'demo', log: 'log.csv', trials: ['A', 'B'], date: '2026-01-31', of };
  return calibrationFile({ ...fit, ...more, solution } as unknown as Fit, head).replace(
    / {2}draws: .*\n(?: {4}.*\n|\n)*/,
    '',
  );
}

function scenarioWith(change: (text: string) => string = (text) => text, lackOfFit = false): Scenario {
  const files = { ...packageCatalogue(), readFile: () => fileOf(lackOfFit) };
  return parseScenario(`calibration: cal.yaml\n${change(DEMO)}`, { ...files, name: 'demo' });
}

const fitted = (path: string): number => {
  const at = priorOf(plain).coefficients.find((one) => one.path === path)!;
  return at.prior * Math.exp(0.1);
};

test('of one wheel, used with three: no number is set by two coefficients, and the calibrated ones stand', () => {
  const leaning = 'medium-leaning';
  const wheels = { [leaning]: plain.machine.wheels[leaning]! };
  const readFile = () => fileOf(false, { ...plain, machine: { ...plain.machine, wheels } });
  const scenario = parseScenario(`calibration: cal.yaml\n${DEMO}`, {
    ...packageCatalogue(),
    readFile,
    name: 'demo',
  });
  const { prior, mean } = posteriorOf(scenario);
  const paths = prior.coefficients.flatMap(({ path, also = [] }) => [path, ...also.map((one) => one.path)]);
  expect(new Set(paths).size).toBe(paths.length);
  for (const name of ['leanFactor', 'bypass']) {
    const at = (wheel: string): number =>
      prior.coefficients.findIndex(({ path, also = [] }) =>
        [path, ...also.map((one) => one.path)].includes(`machine.wheels.${wheel}.coefficients.${name}`),
      );
    const known = prior.coefficients[at(leaning)]!;
    close(mean[at(leaning)]!, coordinateOf(known, known.prior) + 0.1, 1e-6);
    expect(at('long-leaning')).toBeGreaterThanOrEqual(0);
    expect(at('long-leaning')).not.toBe(at(leaning));
  }
});

describe('a calibration', () => {
  test('of the same material and machine is taken up whole', () => {
    const scenario = scenarioWith();
    close(valueAt(scenario, FRIABILITY) as number, fitted(FRIABILITY), 1e-8);
    close(valueAt(scenario, CUT) as number, fitted(CUT), 1e-8);
    expect(calibrationStanding(scenario)).toMatchObject({ side: 'whole', lackOfFit: false, outside: [] });
    expect(openingOf(scenario)).toBe('Calibrated on A and B:');
  });

  test('of another version of the program is said to be so, with what to do', () => {
    const read = (fitted: string) => {
      const text = fileOf().replace('label: fitted', `label: fitted\nversion: ${fitted}`);
      const files = { ...packageCatalogue(), version: '2.0.0', readFile: () => text };
      return calibrationStanding(parseScenario(`calibration: cal.yaml\n${DEMO}`, files)).sentences;
    };
    expect(read('2.0.0')).toEqual([]);
    expect(read('1.4.0')).toEqual([
      'The calibration was fitted with version 1.4.0 of grindloop; this is version 2.0.0, whose equations may differ: fit its trials again.',
    ]);
  });

  test('of another material lends its machine only: the material returns to its prior, and the first sentence says so', () => {
    const scenario = scenarioWith((text) => text.replace('name: erythritol', 'name: calcite'));
    close(valueAt(scenario, FRIABILITY) as number, 0.9, 1e-12);
    close(valueAt(scenario, CUT) as number, fitted(CUT), 1e-8);
    expect(calibrationStanding(scenario).side).toBe('machine');
    expect(openingOf(scenario)).toMatch(
      /^The calibration is of erythritol, not of calcite: only its coefficients of the machine are used/,
    );
    const { prior, mean, covariance } = posteriorOf(scenario);
    const place = (path: string): number => prior.coefficients.findIndex((one) => one.path === path);
    close(covariance.get(place(FRIABILITY), place(FRIABILITY)), 1, 1e-9);
    close(mean[place(FRIABILITY)]!, Math.log(0.9), 1e-9);
    close(covariance.get(place(CUT), place(CUT)), 0.25 * 0.25 ** 2, 1e-9);
  });

  test('made on another machine lends its material only', () => {
    const scenario = scenarioWith((text) =>
      text.replace('machine: { from: pilot-300 }', 'machine: { from: pilot-300, name: production mill }'),
    );
    close(valueAt(scenario, FRIABILITY) as number, fitted(FRIABILITY), 1e-8);
    close(valueAt(scenario, CUT) as number, 1, 1e-12);
    expect(openingOf(scenario)).toContain(
      `The calibration was made on ${plain.machine.name}, not on production mill: only its coefficients of the material`,
    );
  });

  test('that does not fit its own trials says so in every answer', () => {
    const scenario = scenarioWith(undefined, true);
    expect(calibrationStanding(scenario).lackOfFit).toBe(true);
    expect(openingOf(scenario)).toMatch(
      /does not fit its own trials .* Calibrated on A and B, without a good fit:$/,
    );
  });

  test('used beyond the settings tried names each with what was tried', () => {
    const scenario = scenarioWith((text) => text.replace(/feedRate: \d+ kg\/h/, 'feedRate: 500 kg/h'));
    expect(calibrationStanding(scenario).outside).toEqual(['feed rate 500 kg/h (tried 100 to 400 kg/h)']);
    expect(openingOf(scenario)).toContain('extrapolation beyond the settings tried');
  });
});

test('a range that begins at 0 is a coefficient of its own, its ends hold 95 % and are no wall', () => {
  const path = 'machine.wheels.medium-radial.coefficients.bypass';
  const prior = priorOf({ ...plain, uncertain: { [path]: [0, 0.2] } });
  const at = prior.coefficients.findIndex((one) => one.path === path);
  const one = prior.coefficients[at]!;
  for (const [end, side] of [
    [0, -1],
    [0.2, 1],
  ] as const)
    close(coordinateOf(one, end), prior.mean[at]! + side * 1.959964 * one.spread, 1e-6);
  expect(one.upper).toBe(1);
});
