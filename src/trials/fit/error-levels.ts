import { logSum } from './proposal.ts';

/** What is not known of the errors: each on a few levels with the ln of their weights, summed over with the coefficients. */
export interface ErrorLevels {
  /** Relative error of size of the model itself, s. */
  readonly size: Levels;
  /** Relative error of its grinding power. */
  readonly power: Levels;
  /** Share ρ of the model's variance that is the same in every trial. */
  readonly shared: Levels;
  /** The analyser's scatter over its limits. */
  readonly scatter: Levels;
}

export interface Levels {
  readonly values: readonly number[];
  readonly logarithms: readonly number[];
}

/** One level of each, by number. */
export interface LevelIndex {
  readonly size: number;
  readonly power: number;
  readonly shared: number;
  readonly scatter: number;
}
export const LEVEL_NAMES = ['size', 'power', 'shared', 'scatter'] as const;

/** Relative error of size believed of a model of this kind before any trial (`assumed`): half of the weight lies below. */
export const MODEL_FLOOR = 0.025;
/** The same of its grinding power, which a wrong law moves from setting to setting (`assumed`). */
const POWER_FLOOR = 0.03;
/** Least error of the model that trials may arrive at, over that floor, and the largest error (`assumed`). */
const LEAST = 0.3;
const MOST = 0.8;
const COUNT = 19;

/**
 * Half-Cauchy belief about the model's own error on levels spaced evenly in their logarithm: small errors are likely, large
 * ones possible, and the trials decide (`recalled`: Gelman, Bayesian Analysis 1 (2006) 515).
 */
function halfCauchy(floor: number): Levels {
  const least = LEAST * floor;
  const values = Array.from({ length: COUNT }, (_, k) => least * (MOST / least) ** (k / (COUNT - 1)));
  return weighed(values, (level) => Math.log(level) - Math.log1p((level / floor) ** 2));
}

/** A wrong law errs alike in every trial: the share is believed about 0.7 (Beta(5.6, 2.4), `assumed`). */
const SHARED = [0.3, 0.5, 0.65, 0.78, 0.9] as const;
export const TYPICAL_SHARED = 0.7;
/** An analyser repeats within 0.6 of the limits of ISO 13320, give or take a factor e^0.4 (`assumed`). */
export const TYPICAL_SCATTER = 0.6;
export const SCATTER_SPREAD = 0.4;
const SCATTER_STEPS = [-2.25, -1.5, -0.75, 0, 0.75, 1.5, 2.25] as const;

export const ERROR_LEVELS: ErrorLevels = {
  size: halfCauchy(MODEL_FLOOR),
  power: halfCauchy(POWER_FLOOR),
  shared: weighed(SHARED, (share) => 4.6 * Math.log(share) + 1.4 * Math.log1p(-share)),
  scatter: weighed(
    SCATTER_STEPS.map((z) => TYPICAL_SCATTER * Math.exp(SCATTER_SPREAD * z)),
    (factor) => -0.5 * (Math.log(factor / TYPICAL_SCATTER) / SCATTER_SPREAD) ** 2,
  ),
};

/** Where a chain of levels begins: a typical share and scatter. */
export const MIDDLE_LEVELS: LevelIndex = { size: 7, power: 7, shared: 2, scatter: 3 };

function weighed(values: readonly number[], logarithm: (value: number) => number): Levels {
  const plain = values.map(logarithm);
  const total = logSum(plain);
  return { values, logarithms: plain.map((value) => value - total) };
}

/** ln of the prior weight of levels. */
export function levelsWeight(index: LevelIndex): number {
  return LEVEL_NAMES.reduce((sum, name) => sum + ERROR_LEVELS[name].logarithms[index[name]]!, 0);
}
