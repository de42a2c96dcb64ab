import { sizeAt } from '../../src/model/psd/curve.ts';
import type { Point } from '../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { coordinateOf } from '../../src/trials/fit/coefficient.ts';
import { intervalOf } from '../../src/trials/fit/coefficient-summary.ts';
import { type Fit, fitTrials } from '../../src/trials/fit/fit.ts';
import { drawsOf, pointIn } from '../../src/trials/fit/predict.ts';
import { bandOf } from '../../src/trials/fit/quantile.ts';
import { seeded } from '../../src/trials/random.ts';
import { BLIND, campaign, campaignScenario, hiddenTruth, RUNS, scenarioAt, type Truth } from './campaign.ts';

export const METHODS = ['laser', 'sieve'] as const;
export const PERCENTILES = [0.1, 0.5, 0.9, 0.97] as const;
const DRAWS = 100;

/** Truths of another kind than the model's: other fragments, and two mixed stages in every pass. */
export const OTHER_LAWS = {
  'truncated-exponential': { law: 'truncated-exponential' },
  'two-power': { law: 'two-power', fineShare: 0.5, fineExponent: 0.8, coarseExponent: 4 },
} as const;
export type OtherLaw = keyof typeof OTHER_LAWS;

function withOtherLaw(scenario: Scenario, law: OtherLaw): Scenario {
  return {
    ...scenario,
    machine: { ...scenario.machine, stages: 2 },
    components: scenario.components.map((one) => ({
      ...one,
      material: { ...one.material, fragments: OTHER_LAWS[law] },
    })),
  };
}

export interface Kind {
  readonly method: (typeof METHODS)[number];
  readonly runs: number;
  /** The truth is of this kind instead of the model's. */
  readonly other?: OtherLaw;
}

/** What one campaign shows: each entry 1 where the truth lies within its 95 % interval or band. */
export interface Score {
  /** By symbol of the coefficient; absent where the truth has none of the kind. */
  readonly within?: Readonly<Record<string, number>>;
  /** The same with intervals half as wide, in coordinates: what a fit that claims too much would show. */
  readonly withinHalf?: Readonly<Record<string, number>>;
  readonly lackOfFit: number;
  readonly effective: number;
  readonly seconds: number;
  /** One row a blind setting at which the truth runs. */
  readonly blind: readonly {
    /** By percentile. */
    readonly within: readonly number[];
    /** |expected/true − 1| by percentile; expected is the median over the draws. */
    readonly errors: readonly number[];
    /** Median of |draw/expected − 1| by percentile: the error the fit itself expects. */
    readonly foretold: readonly number[];
    readonly power: number;
  }[];
}

/** Makes a campaign with a hidden truth, fits it, and holds the answers against the truth. */
export function scoreCampaign(kind: Kind, seed: number): Score {
  const scenario = campaignScenario();
  const random = seeded(seed);
  const { other, runs } = kind;
  const change = other ? (s: Scenario): Scenario => withOtherLaw(s, other) : undefined;
  const truth = hiddenTruth(scenario, random, change, RUNS.slice(0, runs));
  const trials = campaign(scenario, truth, runs, kind.method, random);
  const begun = performance.now();
  const fit = fitTrials(scenario, trials);
  if (!fit) throw new Error(`campaign ${seed} found no fit`);
  const seconds = (performance.now() - begun) / 1000;
  return {
    ...(other
      ? {}
      : { within: coefficientsWithin(fit, truth, 1), withinHalf: coefficientsWithin(fit, truth, 0.5) }),
    lackOfFit: Number(fit.lackOfFit),
    effective: fit.effective,
    seconds,
    blind: blindScores(scenario, fit, truth),
  };
}

function coefficientsWithin(fit: Fit, truth: Truth, width: number): Record<string, number> {
  return Object.fromEntries(
    fit.prior.coefficients.map(({ symbol }, i) => {
      const [low, high] = intervalOf(fit, i).map((value) =>
        coordinateOf(fit.prior.coefficients[i]!, value),
      ) as [number, number];
      const away = Math.abs(truth.coordinates[i]! - (low + high) / 2);
      return [symbol, Number(away <= (width * (high - low)) / 2)];
    }),
  );
}

function blindScores(scenario: Scenario, fit: Fit, truth: Truth): Score['blind'] {
  const draws = drawsOf(fit, DRAWS, 1);
  return BLIND.flatMap((settings) => {
    const there = scenarioAt(scenario, settings);
    const point = truth.solve(there);
    if (point.status !== 'steady') return [];
    const points = draws.map((draw) => pointIn(there, fit, draw)).filter(({ status }) => status === 'steady');
    const steady = points as Extract<Point, { status: 'steady' }>[];
    const sizes = PERCENTILES.map((share) => steady.map(({ curve }) => sizeAt(curve, share)));
    const powers = bandOf(steady.map(({ state }) => state.conditions.rotorPower));
    const bands = sizes.map((values) => bandOf(values));
    const quarters = sizes.map((values) => bandOf(values, 0.5));
    const real = PERCENTILES.map((share) => sizeAt(point.curve, share));
    const power = point.state.conditions.rotorPower;
    const inside = (x: number, { low, high }: { low: number; high: number }): number =>
      Number(x >= low && x <= high);
    return [
      {
        within: real.map((x, i) => inside(x, bands[i]!)),
        errors: real.map((x, i) => Math.abs(bands[i]!.median / x - 1)),
        foretold: quarters.map(({ low, median, high }) => (high - low) / 2 / median),
        power: inside(power, powers),
      },
    ];
  });
}
