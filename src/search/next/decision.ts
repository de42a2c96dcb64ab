import type { Matrix } from 'ml-matrix';
import { sizeAt } from '../../model/psd/curve.ts';
import { valueAt, withValue } from '../../scenario/operating-point.ts';
import { marginScale } from '../../scenario/outcome/relative-margin.ts';
import type { Point } from '../../scenario/outcome/solved.ts';
import { expressionValue, marginOf } from '../../scenario/outcome/spec.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import type { SearchSpace } from '../find/space.ts';
import { modelWith } from './candidate-trial.ts';

/** One number the answer depends on, with its slope over every coefficient. */
interface AnswerLine {
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
 * What the answer of `find` depends on. Margins that no coefficient can bring to their limit are left out: a trial that made
 * them better known would change nothing. Without any spec, median and x95 of the product are asked.
 *
 * @param scenario at the settings of the answer
 */
export function answerAt(scenario: Scenario, posterior: Posterior): Answer {
  const all = linesAt(scenario, posterior);
  if (!all) return { scenario, lines: [], missed: scenario.spec.map(({ text }) => text) };
  const inDoubt = all.filter(
    ({ value, always, gradient }) =>
      always || Math.abs(value) < IN_DOUBT * Math.sqrt(varianceOf(gradient, posterior.covariance)),
  );
  return {
    scenario,
    lines: inDoubt.length > 0 ? inDoubt : [tightest(all)],
    missed: all.slice(0, scenario.spec.length).flatMap(({ text, value }) => (value < 0 ? [text] : [])),
  };
}

/**
 * Every margin of the spec and the goal, in doubt or not, with slopes over half a standard error of each coefficient to
 * either side.
 *
 * @returns undefined where the mill chokes at the mean
 */
export function linesAt(scenario: Scenario, posterior: Posterior): readonly NumberedLine[] | undefined {
  const { mean, covariance } = posterior;
  const numbersAt = (k: number, step: number) => {
    const moved = mean.map((value, i) => (i === k ? value + step : value));
    return numbersOf(scenario, modelWith(scenario, posterior, moved));
  };
  const centre = numbersAt(0, 0);
  if (!centre) return undefined;
  const gradients = centre.map(() => new Array<number>(mean.length).fill(0));
  for (let k = 0; k < mean.length; k++) {
    const step = STEP * Math.sqrt(covariance.get(k, k));
    const above = numbersAt(k, step);
    const below = numbersAt(k, -step);
    const width = (above ? step : 0) + (below ? step : 0);
    if (width === 0) continue;
    centre.forEach(({ value }, line) => {
      gradients[line]![k] = ((above?.[line]?.value ?? value) - (below?.[line]?.value ?? value)) / width;
    });
  }
  return centre.map((line, i) => ({ ...line, gradient: gradients[i]! }));
}

interface Numbered {
  readonly text: string;
  readonly value: number;
  /** Asked however well it is known. */
  readonly always: boolean;
}

type NumberedLine = Numbered & AnswerLine;

function numbersOf(scenario: Scenario, point: Point): Numbered[] | undefined {
  if (point.status === 'choked') return undefined;
  const lines = scenario.spec.map((requirement) => ({
    text: requirement.text,
    value: marginOf(requirement, point) / marginScale(requirement, point),
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

function tightest(lines: readonly NumberedLine[]): NumberedLine {
  return lines.reduce((a, line) => (Math.abs(line.value) < Math.abs(a.value) ? line : a));
}

/**
 * Slope of each line of the answer over the logarithm of the setting that moves it most, by differences of 2 % to either
 * side, or to one where the mill chokes on the other: the best settings often stand at that edge. 0 where none moves it.
 */
export function steepness(answer: Answer, posterior: Posterior, { factors, numbers }: SearchSpace): number[] {
  const { scenario, lines } = answer;
  const at = (factor: Factor, times: number): ReadonlyMap<string, number> | undefined => {
    const value = valueAt(scenario, factor.path);
    if (typeof value !== 'number') return undefined;
    const moved = withValue(scenario, factor.path, value * times, factor.as);
    const numbered = numbersOf(moved, modelWith(moved, posterior, posterior.mean));
    return numbered && new Map(numbered.map(({ text, value }) => [text, value]));
  };
  const slopes = lines.map(() => 0);
  for (const j of numbers) {
    const above = at(factors[j]!, 1 + SETTING_STEP);
    const below = at(factors[j]!, 1 - SETTING_STEP);
    const width = (above ? SETTING_STEP : 0) + (below ? SETTING_STEP : 0);
    if (width === 0) continue;
    lines.forEach(({ text, value }, i) => {
      const rise = (above?.get(text) ?? value) - (below?.get(text) ?? value);
      slopes[i] = Math.max(slopes[i]!, Math.abs(rise) / width);
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
