import type { Matrix } from 'ml-matrix';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import { expressionValue, marginOf } from '../../scenario/outcome/spec.ts';
import { toCase } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { withCoefficients } from '../../trials/fit/coefficients.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import { scaleOf } from '../find/merit.ts';

/** One number the next trials should sharpen: how it follows the coefficients' logarithms. */
export interface Question {
  readonly text: string;
  readonly value: number;
  /** What its error is held against. */
  readonly scale: number;
  readonly gradient: readonly number[];
}

const STEP = 1e-2;
/** A line whose margin is more than this many standard errors wide is no question. */
const SURE = 4;

/**
 * What is asked at the settings in mind: the margin of every line of the spec that is in doubt, else of all; without a spec
 * the goal, else x95.
 */
export function questionsAt(scenario: Scenario, posterior: Posterior): Question[] {
  const { coefficients } = posterior.prior;
  const at = (k: number, step: number): Point => {
    const logarithms = posterior.mean.map((value, i) => (i === k ? value + step : value));
    return solvePoint(toCase(withCoefficients(scenario, coefficients, logarithms)));
  };
  const base = at(-1, 0);
  if (base.status === 'choked') return [];
  const sides = coefficients.map((_, k) => [at(k, STEP), at(k, -STEP)] as const);
  const question = (
    text: string,
    scale: number,
    of: (point: Extract<Point, { status: 'steady' }>) => number,
  ): Question => ({
    text,
    scale,
    value: of(base),
    gradient: sides.map(([above, below]) => {
      const high = above.status === 'steady' ? of(above) : of(base);
      const low = below.status === 'steady' ? of(below) : of(base);
      return (
        (high - low) / (STEP * (Number(above.status === 'steady') + Number(below.status === 'steady') || 1))
      );
    }),
  });
  const lines = scenario.spec.map((requirement) =>
    question(requirement.text, scaleOf(requirement, base), (point) => marginOf(requirement, point)),
  );
  const known = lines.filter(({ gradient, value }) => [value, ...gradient].every(Number.isFinite));
  const doubtful = known.filter((one) => Math.abs(one.value) < SURE * errorOf(one, posterior.covariance));
  if (doubtful.length > 0) return doubtful;
  if (known.length > 0) return known;
  const { goal } = scenario;
  const x95 = { kind: 'quantity', name: 'x95' } as const;
  const expression = goal?.expression ?? x95;
  const value = Math.abs(expressionValue(expression, base)) || 1;
  return [question(goal?.text ?? 'x95', value, (point) => expressionValue(expression, point))];
}

/** Standard error of an answer, gᵀ C g under the root. */
export function errorOf({ gradient }: Question, covariance: Matrix): number {
  let sum = 0;
  for (let i = 0; i < gradient.length; i++)
    for (let j = 0; j < gradient.length; j++) sum += gradient[i]! * covariance.get(i, j) * gradient[j]!;
  return Math.sqrt(Math.max(0, sum));
}

/** All answers' variances over their scales. */
export function doubtOf(questions: readonly Question[], covariance: Matrix): number {
  return questions.reduce((sum, one) => sum + (errorOf(one, covariance) / one.scale) ** 2, 0);
}
