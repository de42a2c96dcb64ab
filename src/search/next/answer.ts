import type { Matrix } from 'ml-matrix';
import { sizeAt } from '../../model/psd/curve.ts';
import type { Point } from '../../scenario/outcome/solved.ts';
import { expressionValue, marginOf } from '../../scenario/outcome/spec.ts';
import { valueAt, withValue } from '../../scenario/point.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import { scaleOf } from '../find/merit.ts';
import type { SearchSpace } from '../find/space.ts';
import { modelWith } from './planned.ts';

/** One number the answer hangs on, with its slope over every coefficient. */
export interface AnswerLine {
  readonly text: string;
  /** Value at the settings of the answer, as a share of its limit (or of itself). */
  readonly value: number;
  /** Slope over the logarithms of the coefficients. */
  readonly gradient: readonly number[];
}

/** The answer asked: at its settings, the margins that may fail and the goal. */
export interface Answer {
  readonly scenario: Scenario;
  readonly lines: readonly AnswerLine[];
  /** Requirements these settings miss by the best that is known, in doubt or not. */
  readonly missed: readonly string[];
}

/** A margin this many standard errors inside its limit is not in doubt. */
const IN_DOUBT = 4;
const STEP = 0.5;
/** Relative step of a setting. */
const SETTING_STEP = 0.02;

/**
 * What the answer of `find` hangs on. Margins that no coefficient can bring to their limit are left out: a trial that made
 * them better known would change nothing. Without any spec, median and x95 of the product are asked.
 *
 * @param scenario at the settings of the answer
 */
export function answerAt(scenario: Scenario, posterior: Posterior): Answer {
  const { mean, covariance } = posterior;
  const centre = numbersOf(scenario, modelWith(scenario, posterior, mean));
  if (!centre) return { scenario, lines: [], missed: scenario.spec.map(({ text }) => text) };
  const gradients = centre.map(() => new Array<number>(mean.length).fill(0));
  for (let k = 0; k < mean.length; k++) {
    const step = STEP * Math.sqrt(covariance.get(k, k));
    const at = (side: number) =>
      numbersOf(
        scenario,
        modelWith(
          scenario,
          posterior,
          mean.map((value, i) => (i === k ? value + side * step : value)),
        ),
      );
    const above = at(1);
    const below = at(-1);
    const width = (above ? step : 0) + (below ? step : 0);
    if (width === 0) continue;
    centre.forEach(({ value }, line) => {
      gradients[line]![k] = ((above?.[line]?.value ?? value) - (below?.[line]?.value ?? value)) / width;
    });
  }
  const lines = centre
    .map(({ text, value, always }, i) => ({ text, value, always, gradient: gradients[i]! }))
    .filter(
      ({ value, always, gradient }) =>
        always || Math.abs(value) < IN_DOUBT * Math.sqrt(varianceOf(gradient, covariance)),
    );
  const kept = lines.length > 0 ? lines : [tightest(centre, gradients)];
  return {
    scenario,
    lines: kept.map(({ text, value, gradient }) => ({ text, value, gradient })),
    missed: centre.slice(0, scenario.spec.length).flatMap(({ text, value }) => (value < 0 ? [text] : [])),
  };
}

interface Numbered {
  readonly text: string;
  readonly value: number;
  readonly always: boolean;
}

function numbersOf(scenario: Scenario, point: Point): Numbered[] | undefined {
  if (point.status === 'choked') return undefined;
  const lines = scenario.spec.map((requirement) => ({
    text: requirement.text,
    value: marginOf(requirement, point) / scaleOf(requirement, point),
    always: false,
  }));
  const { goal } = scenario;
  if (goal) {
    const value = expressionValue(goal.expression, point);
    if (value > 0) lines.push({ text: goal.text, value: Math.log(value), always: true });
  }
  if (lines.length === 0) {
    for (const share of [0.5, 0.95]) {
      lines.push({ text: `x${100 * share}`, value: Math.log(sizeAt(point.curve, share)), always: true });
    }
  }
  return lines.map((line) => (Number.isFinite(line.value) ? line : { ...line, value: 0 }));
}

function tightest(lines: readonly Numbered[], gradients: readonly (readonly number[])[]) {
  const at = lines.reduce((a, line, i) => (Math.abs(line.value) < Math.abs(lines[a]!.value) ? i : a), 0);
  return { ...lines[at]!, gradient: gradients[at]! };
}

/** Slope of each line of the answer over the logarithm of the setting that moves it most; 0 where none does. */
export function steepness(answer: Answer, posterior: Posterior, { factors, numbers }: SearchSpace): number[] {
  const { scenario, lines } = answer;
  const at = (factor: Factor, times: number): Numbered[] | undefined => {
    const value = valueAt(scenario, factor.path);
    if (typeof value !== 'number') return undefined;
    const moved = withValue(scenario, factor.path, value * times, factor.as);
    return numbersOf(moved, modelWith(moved, posterior, posterior.mean));
  };
  const slopes = lines.map(() => 0);
  for (const j of numbers) {
    const above = at(factors[j]!, 1 + SETTING_STEP);
    const below = at(factors[j]!, 1 - SETTING_STEP);
    if (!above || !below) continue;
    lines.forEach(({ text }, i) => {
      const rise =
        above.find((one) => one.text === text)!.value - below.find((one) => one.text === text)!.value;
      slopes[i] = Math.max(slopes[i]!, Math.abs(rise) / (2 * SETTING_STEP));
    });
  }
  return slopes;
}

/** gᵀ C g. */
export function varianceOf(gradient: readonly number[], covariance: Matrix): number {
  let sum = 0;
  for (let i = 0; i < gradient.length; i++) {
    for (let j = 0; j < gradient.length; j++) sum += gradient[i]! * covariance.get(i, j) * gradient[j]!;
  }
  return sum;
}

/** Sum of the variances of the answer's lines: what the next trials are to make small. */
export function doubtOf({ lines }: Answer, covariance: Matrix): number {
  return lines.reduce((sum, { gradient }) => sum + varianceOf(gradient, covariance), 0);
}
