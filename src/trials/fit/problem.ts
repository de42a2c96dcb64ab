import type { LeastSquares } from '../least-squares.ts';
import { boundsOf, type Coefficient } from './coefficient.ts';
import type { Prior } from './coefficients.ts';
import { type Comparison, fillResiduals } from './compare.ts';
import { cholesky, whiten } from './covariance.ts';
import { trialModel } from './model.ts';

/** Difference step along the scale of a coefficient: well above the noise of the solve, well below any curvature. */
const STEP = 1e-3;

/**
 * Least squares over the trials: residuals of every trial, then the prior as L⁻¹(θ − θ_0). A change of one wheel's
 * coefficients leaves trials on other wheels as they are, so those are solved once per coefficient vector that matters.
 */
export function fitProblem(prior: Prior, comparisons: readonly Comparison[]): LeastSquares {
  const { coefficients, mean } = prior;
  const lower = cholesky(prior.covariance);
  const data = comparisons.reduce((sum, { length }) => sum + length, 0);
  const model = trialModel(coefficients);
  const total = data + coefficients.length;
  const kept = new Map<string, Float64Array | null>();
  const residuals = (theta: readonly number[]): Float64Array | undefined => {
    const out = new Float64Array(total);
    let offset = 0;
    for (let i = 0; i < comparisons.length; i++) {
      const block = trialResiduals(comparisons[i]!, i, coefficients, theta, kept, model);
      if (!block) return undefined;
      out.set(block, offset);
      offset += block.length;
    }
    whiten(
      lower,
      theta.map((value, i) => value - mean[i]!),
      out,
      data,
    );
    return out;
  };
  return {
    residuals,
    lower: coefficients.map((one) => boundsOf(one)[0]),
    upper: coefficients.map((one) => boundsOf(one)[1]),
    steps: coefficients.map(() => STEP),
  };
}

const KEPT = 4000;

function trialResiduals(
  comparison: Comparison,
  index: number,
  coefficients: readonly Coefficient[],
  theta: readonly number[],
  kept: Map<string, Float64Array | null>,
  model: ReturnType<typeof trialModel>,
): Float64Array | undefined {
  const { wheel } = comparison.trial.scenario.settings;
  const acting = theta.filter(
    (_, i) => coefficients[i]!.wheel === undefined || coefficients[i]!.wheel === wheel,
  );
  const key = `${index}:${acting.join()}`;
  const known = kept.get(key);
  if (known !== undefined) return known ?? undefined;
  const point = model(comparison.trial, theta);
  let block: Float64Array | null = null;
  if (point.status === 'steady') {
    block = new Float64Array(comparison.length);
    fillResiduals(comparison, point, block, 0);
  }
  if (kept.size > KEPT) kept.clear();
  kept.set(key, block);
  return block ?? undefined;
}
