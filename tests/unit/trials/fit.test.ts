import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { inverse, Matrix } from 'ml-matrix';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Wheel } from '../../../src/model/case.ts';
import { sizeAt } from '../../../src/model/psd/curve.ts';
import { loadScenario } from '../../../src/scenario/load.ts';
import { toCase, valueAt } from '../../../src/scenario/operating-point.ts';
import { outcomeOf } from '../../../src/scenario/outcome/outcome.ts';
import { solvePoint } from '../../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import { calibrationFile } from '../../../src/trials/calibration/write.ts';
import { numbersAt } from '../../../src/trials/fit/coefficient.ts';
import { standingsOf } from '../../../src/trials/fit/coefficient-summary.ts';
import { prepareComparison } from '../../../src/trials/fit/compare.ts';
import { type Fit, fitTrials } from '../../../src/trials/fit/fit.ts';
import { idleNumberOf, modelIdlePower } from '../../../src/trials/fit/idle.ts';
import { drawsOf, predictPercentiles } from '../../../src/trials/fit/predict.ts';
import { fitProblem } from '../../../src/trials/fit/problem.ts';
import { leastSquares } from '../../../src/trials/least-squares.ts';
import { readTrialLog } from '../../../src/trials/log/file.ts';
import { chanceOf, samplesOf, scaledFeed } from '../../../src/trials/posterior-samples.ts';
import { seeded } from '../../../src/trials/random.ts';
import { withSpread } from '../../../src/trials/spread.ts';
import { MEASUREMENT_ERRORS, type Trial } from '../../../src/trials/trial.ts';
import {
  BLIND,
  campaign,
  campaignScenario,
  hiddenTruth,
  scenarioAt,
  type Truth,
} from '../../campaign/campaign.ts';
import { writeCampaign } from '../../campaign/files.ts';
import { FAIR, FEW } from '../../campaign/light.ts';
import { close } from '../../close.ts';

const SHARES = [0.1, 0.5, 0.95];

/** Share of the blind settings whose true percentiles and power lie within their 95 % bands. */
function covered(scenario: Scenario, fit: Fit, truth: Truth): { sizes: number; power: number } {
  const draws = drawsOf(fit, 300, 1);
  let sizes = 0;
  let power = 0;
  for (const blind of BLIND) {
    const there = scenarioAt(scenario, blind);
    const bands = predictPercentiles(there, fit, SHARES, draws);
    const point = truth.solve(there);
    if (point.status !== 'steady') throw new Error('the truth chokes');
    SHARES.forEach((share, i) => {
      const x = sizeAt(point.curve, share);
      if (x >= bands.sizes[i]!.low && x <= bands.sizes[i]!.high) sizes++;
    });
    const p = point.state.conditions.rotorPower;
    if (p >= bands.power.low && p <= bands.power.high) power++;
  }
  return { sizes: sizes / (BLIND.length * SHARES.length), power: power / BLIND.length };
}

describe('a least-squares fit', () => {
  test('of a linear model has parameters (AᵀA)⁻¹Aᵀb and covariance (AᵀA)⁻¹ exactly', () => {
    const a = new Matrix([
      [1, 2, 0],
      [0, 1, 1],
      [3, 0, 1],
      [1, 1, 1],
      [2, -1, 4],
    ]);
    const b = Matrix.columnVector([1, -2, 3, 0.5, 2]);
    const exact = inverse(a.transpose().mmul(a));
    const theta = exact.mmul(a.transpose()).mmul(b);
    const wide = [1e3, 1e3, 1e3];
    const solution = leastSquares(
      {
        residuals: (t) =>
          Float64Array.from(
            a
              .mmul(Matrix.columnVector([...t]))
              .sub(b)
              .to1DArray(),
          ),
        lower: wide.map((w) => -w),
        upper: wide,
        steps: [1e-3, 1e-3, 1e-3],
      },
      [0, 0, 0],
    )!;
    for (let i = 0; i < 3; i++) {
      close(solution.parameters[i]!, theta.get(i, 0), 1e-8);
      for (let j = 0; j < 3; j++) close(solution.covariance.get(i, j), exact.get(i, j), 1e-8);
    }
  });

  test('comes to the same minimum as a general-purpose fitter on the same residuals (ml-levenberg-marquardt)', () => {
    const scenario = campaignScenario();
    const random = seeded(101);
    const truth = hiddenTruth(scenario, random);
    const trials = campaign(scenario, truth, 3, 'laser', random);
    const comparisons = trials.map((trial) => prepareComparison(trial, MEASUREMENT_ERRORS));
    const problem = fitProblem(truth.prior, comparisons);
    const own = leastSquares(problem, truth.prior.mean)!;
    const n = own.residuals.length;
    const x = Array.from({ length: n }, (_, i) => i);
    const other = levenbergMarquardt(
      { x, y: x.map(() => 0) },
      (theta: number[]) => {
        const r = problem.residuals(theta);
        return (i: number) => (r ? r[i]! : 1e3);
      },
      {
        initialValues: [...truth.prior.mean],
        minValues: [...problem.lower],
        maxValues: [...problem.upper],
        gradientDifference: 1e-4,
        centralDifference: true,
        maxIterations: 60,
        errorTolerance: 1e-12,
        damping: 1e-2,
      },
    );
    close(own.cost, other.parameterError, 1e-3);
    expect(own.cost).toBeLessThan(other.parameterError * (1 + 1e-4));
    own.parameters.forEach((value, i) => {
      const error = Math.sqrt(own.covariance.get(i, i));
      expect(Math.abs(value - other.parameterValues[i]!)).toBeLessThan(0.2 * error);
    });
  });
});

describe('campaigns with a hidden truth', () => {
  const scenario = campaignScenario();

  /** Campaigns of five runs, each fitted once for all that is asked of them. */
  const five = [11, 12].map((seed) => {
    const random = seeded(seed);
    const truth = hiddenTruth(scenario, random);
    const trials = campaign(scenario, truth, 5, 'laser', random);
    return { truth, trials, fit: fitTrials(scenario, trials, { starts: 4, effort: FAIR })! };
  });

  test('five laser runs: the truth lies within the errors, and blind settings within their bands', () => {
    let sizes = 0;
    let power = 0;
    for (const { truth, fit } of five) {
      expect(fit.lackOfFit).toBe(false);
      expect(fit.agreeing).toBeGreaterThanOrEqual(fit.starts / 2);
      fit.mean.forEach((value, i) => {
        const error = Math.sqrt(fit.covariance.get(i, i));
        expect(Math.abs(value - truth.coordinates[i]!)).toBeLessThan(4 * error);
      });
      const standings = standingsOf(fit);
      expect(standings.find(({ symbol }) => symbol === 'q')!.state).toBe('settled');
      expect(standings.find(({ symbol }) => symbol === 'χ_c')!.state).toBe('settled');
      const share = covered(scenario, fit, truth);
      sizes += share.sizes / five.length;
      power += share.power / five.length;
    }
    expect(sizes).toBeGreaterThan(0.85);
    expect(power).toBeGreaterThan(0.9);
  });

  test('one run settles less than five, and its errors are wider', () => {
    const { trials, fit } = five[0]!;
    const one = standingsOf(fitTrials(scenario, trials.slice(0, 1), { starts: 4, effort: FAIR })!);
    const all = standingsOf(fit);
    all.forEach((standing, i) => {
      // standard deviations of a hundred effective draws are known to 7 %, their ratio to a tenth
      expect(standing.after).toBeLessThan(one[i]!.after * 1.25);
    });
    expect(all.reduce((sum, { after }) => sum + after, 0)).toBeLessThan(
      one.reduce((sum, { after }) => sum + after, 0) * 0.85,
    );
  });

  test('a truth the model cannot express is said not to fit, and the bands widen until they hold it', () => {
    const random = seeded(33);
    // a tenth of the coarse slips round the wheel, which the scenario says none does
    const leaking = (wheel: Wheel): Wheel => ({
      ...wheel,
      coefficients: { ...wheel.coefficients, leakage: 0.1 },
    });
    const other = (s: Scenario): Scenario => ({
      ...s,
      machine: {
        ...s.machine,
        wheels: Object.fromEntries(
          Object.entries(s.machine.wheels).map(([name, one]) => [name, leaking(one)]),
        ),
      },
      components: s.components.map((one) => ({
        ...one,
        material: {
          ...one.material,
          fragments: { law: 'two-power', fineShare: 0.75, fineExponent: 0.45, coarseExponent: 3 },
        },
      })),
    });
    const truth = hiddenTruth(scenario, random, other);
    const fit = fitTrials(scenario, campaign(scenario, truth, 5, 'laser', random), {
      starts: 4,
      effort: FAIR,
    })!;
    expect(fit.lackOfFit).toBe(true);
    expect(fit.discrepancy).toBeGreaterThan(0.04);
    expect(covered(scenario, fit, truth).sizes).toBeGreaterThanOrEqual(0.85);
  }, 600_000);
});

describe('a calibration file', () => {
  let folder: string;
  let fit: Fit;
  let trials: readonly Trial[];
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'calibration-'));
    const scenario = campaignScenario();
    const random = seeded(101);
    const truth = hiddenTruth(scenario, random);
    const log = writeCampaign(folder, campaign(scenario, truth, 3, 'laser', random));
    const loaded = await loadScenario(
      new URL('../../../scenarios/erythritol.yaml', import.meta.url).pathname,
    );
    trials = (await readTrialLog(log, loaded)).trials;
    fit = fitTrials(loaded, trials, { starts: 1, effort: FEW })!;
    const head = {
      scenario: loaded.title,
      log: 'trials.csv',
      trials: trials.map(({ name }) => name),
      date: '2026-01-31',
    };
    writeFileSync(join(folder, 'cal.yaml'), calibrationFile(fit, head, idleNumberOf(trials)));
    writeFileSync(join(folder, 'calibrated.yaml'), `calibration: cal.yaml\n${loaded.text}`);
  }, 180_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const calibrated = (): Promise<Scenario> => loadScenario(join(folder, 'calibrated.yaml'));

  test('replaces the coefficients, with label and source, and carries the joint distribution', async () => {
    const scenario = await calibrated();
    fit.prior.coefficients.forEach((one, i) => {
      for (const [path, value] of numbersAt(one, fit.mean[i]!))
        close(valueAt(scenario, path) as number, value, 1e-8);
    });
    const { label, source } = scenario.provenance['material.fragments.exponent']!;
    expect(label).toBe('fitted');
    expect(source).toContain('fit to 3 trials of trials.csv, 2026-01-31');
    expect(scenario.provenance['machine.wheels.long-leaning.coefficients.cutFactor']!.label).toBe('assumed');
    const posterior = posteriorOf(scenario);
    fit.mean.forEach((value, i) => {
      close(posterior.mean[i]!, value, 1e-8);
      close(posterior.covariance.get(i, i), fit.covariance.get(i, i), 1e-8);
    });
    close(posterior.discrepancy, fit.discrepancy, 1e-8);
    expect(posterior.draws).toHaveLength(fit.draws.length);
    fit.draws.slice(0, 20).forEach(({ coordinates, discrepancy }, k) => {
      const taken = posterior.draws![k]!;
      close(taken.discrepancy, discrepancy, 1e-5);
      coordinates.forEach((value, i) => {
        close(taken.coordinates[i]!, value, 1e-5);
      });
    });
    // samples are the draws themselves, each once before any twice
    const samples = drawsOf(posterior, fit.draws.length, 3).map(({ coordinates }) => coordinates);
    expect(new Set(samples)).toEqual(new Set(posterior.draws!.map(({ coordinates }) => coordinates)));
  });

  test('idle powers made with c_0 0.8 give it back', () => {
    const at = scenarioAt(campaignScenario(), BLIND[0]!);
    close(idleNumberOf([{ name: '1', scenario: at, idlePower: modelIdlePower(at) }])!.value, 0.8, 1e-9);
  });

  test('gives an outcome its chances and bands, the same for the same seed', async () => {
    const scenario = await calibrated();
    const point = solvePoint(toCase(scenario));
    const outcome = withSpread(scenario, outcomeOf(scenario, point));
    expect(outcome.calibration).toMatchObject({ label: 'fitted', date: '2026-01-31' });
    const { bandsOfTruth95, probabilityOfSpec } = outcome.calibration as {
      bandsOfTruth95: Record<string, number[]>;
      probabilityOfSpec: number;
    };
    if (outcome.status !== 'steady') throw new Error('choked');
    const [low, , high] = bandsOfTruth95.x50_um!;
    expect(outcome.product.x50_um).toBeGreaterThan(low!);
    expect(outcome.product.x50_um).toBeLessThan(high!);
    for (const { probability } of outcome.spec) {
      expect(probability).toBeGreaterThanOrEqual(probabilityOfSpec);
      expect(probability).toBeLessThanOrEqual(1);
    }
    expect(withSpread(scenario, outcomeOf(scenario, point)).calibration).toEqual(outcome.calibration);
    expect(withSpread(scenario, outcomeOf(scenario, point), 2).calibration).not.toEqual(outcome.calibration);
  });

  test('chances count samples: a limit at the median is met in about half of them', async () => {
    const scenario = await calibrated();
    const posterior = posteriorOf(scenario);
    const samples = samplesOf(posterior, 100, 3);
    const { margins, lines } = chanceOf(scenario, posterior, samples);
    const median = margins[0]![50]!;
    const [first] = scenario.spec;
    const moved = {
      ...first!,
      right: {
        kind: 'binary',
        operator: '+',
        left: first!.right,
        right: { kind: 'number', value: median },
      } as const,
    };
    const again = chanceOf({ ...scenario, spec: [moved] }, posterior, samples);
    close(again.lines[0]!, 0.5, 0.05);
    expect(lines.length).toBe(4);
  });

  test('a damaged file is refused by name', async () => {
    const text = readFileSync(join(folder, 'cal.yaml'), 'utf8');
    writeFileSync(join(folder, 'broken.yaml'), text.replace(/^ {2}covariance:/m, '  covariances:'));
    const scenario = (await calibrated()).text.replace('cal.yaml', 'broken.yaml');
    writeFileSync(join(folder, 'with-broken.yaml'), scenario);
    const broken = await loadScenario(join(folder, 'with-broken.yaml'));
    expect(() => posteriorOf(broken)).toThrow('covariances of 19 by 19');
    writeFileSync(join(folder, 'broken.yaml'), text.replace(/( {2}draws: \|\n {4})\S+ /, '$1'));
    const short = await loadScenario(join(folder, 'with-broken.yaml'));
    expect(() => posteriorOf(short)).toThrow('draws of 48 numbers');
  });

  test('draws written as rows are taken up like draws written as a text', async () => {
    const text = readFileSync(join(folder, 'cal.yaml'), 'utf8');
    const rows = text.replace(/^ {2}draws: \|\n((?: {4}\S.*\n)+)/m, (_, lines: string) => {
      const row = (line: string) => `    - [ ${line.trim().split(' ').join(', ')} ]`;
      return `  draws:\n${lines.trimEnd().split('\n').map(row).join('\n')}\n`;
    });
    expect(rows).toContain('draws:\n    - [');
    writeFileSync(join(folder, 'rows.yaml'), rows);
    const one = await calibrated();
    writeFileSync(join(folder, 'with-rows.yaml'), one.text.replace('cal.yaml', 'rows.yaml'));
    const other = posteriorOf(await loadScenario(join(folder, 'with-rows.yaml')));
    writeFileSync(join(folder, 'with-text.yaml'), one.text);
    expect(other.draws).toEqual(posteriorOf(await loadScenario(join(folder, 'with-text.yaml'))).draws);
  });
});

test('a lot 5 % coarser has every size of its feed 5 % larger', () => {
  expect(scaledFeed({ law: 'log-normal', x50: 500e-6, spread: 0.35 }, 2)).toEqual({
    law: 'log-normal',
    x50: 1e-3,
    spread: 0.35,
  });
  expect(
    scaledFeed(
      {
        law: 'percentiles',
        points: [
          [0.1, 1e-4],
          [0.5, 2e-4],
        ],
      },
      2,
    ).points,
  ).toEqual([
    [0.1, 2e-4],
    [0.5, 4e-4],
  ]);
  expect(
    scaledFeed(
      {
        law: 'table',
        points: [
          [1e-4, 0.1],
          [2e-4, 1],
        ],
      },
      2,
    ).points,
  ).toEqual([
    [2e-4, 0.1],
    [4e-4, 1],
  ]);
});
