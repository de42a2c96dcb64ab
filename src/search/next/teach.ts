import { inverse, Matrix } from 'ml-matrix';
import { sizeAt, undersizeAt } from '../../model/psd/curve.ts';
import type { Point } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Comparison, fillResiduals, modelAt, prepareComparison } from '../../trials/fit/compare.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import { MEASUREMENT_ERRORS, type Trial } from '../../trials/trial.ts';

/** Step of the differences in ln of a coefficient. */
const STEP = 1e-2;
const FINEST = 0.5e-6;
const PER_DECADE = 18;
const DECADES = 3.2;

/**
 * What a run would tell of the coefficients: JᵀJ of its residuals (size curve by laser, net power) over their errors and the
 * model's own discrepancy, by central differences at the posterior mean.
 *
 * @returns undefined where the mill chokes there, so that the run should not be made
 */
export function informationOf(scenario: Scenario, posterior: Posterior): Matrix | undefined {
  const { coefficients } = posterior.prior;
  const trial: Trial = { name: '', scenario };
  const point = modelAt(trial, coefficients, posterior.mean);
  if (point.status === 'choked') return undefined;
  const comparison = prepareComparison(expected(trial, point), MEASUREMENT_ERRORS, posterior.discrepancy);
  const jacobian = new Matrix(comparison.length, coefficients.length);
  for (let k = 0; k < coefficients.length; k++) {
    const { wheel } = coefficients[k]!;
    if (wheel !== undefined && wheel !== scenario.settings.wheel) continue;
    const above = residualsAt(comparison, posterior, k, STEP);
    const below = residualsAt(comparison, posterior, k, -STEP);
    if (!above || !below) return undefined;
    for (let i = 0; i < comparison.length; i++) jacobian.set(i, k, (above[i]! - below[i]!) / (2 * STEP));
  }
  return jacobian.transpose().mmul(jacobian);
}

function residualsAt(
  comparison: Comparison,
  posterior: Posterior,
  k: number,
  step: number,
): Float64Array | undefined {
  const { coefficients } = posterior.prior;
  const logarithms = posterior.mean.map((value, i) => (i === k ? value + step : value));
  const point = modelAt(comparison.trial, coefficients, logarithms);
  if (point.status === 'choked') return undefined;
  const out = new Float64Array(comparison.length);
  fillResiduals(comparison, point, out, 0);
  return out;
}

/** The run as it would be measured if the model were right. */
function expected(trial: Trial, { curve, state }: Extract<Point, { status: 'steady' }>): Trial {
  const count = Math.round(PER_DECADE * DECADES);
  const points = Array.from({ length: count }, (_, i) => {
    const size = FINEST * 10 ** (i / PER_DECADE);
    return { size, undersize: undersizeAt(curve, size) };
  });
  const { rotorPower, idlePower } = state.conditions;
  return {
    ...trial,
    sizes: {
      name: '',
      kind: 'curve',
      method: 'laser',
      basis: 'volume',
      understood: '',
      remarks: [],
      stated: [],
      points,
    },
    power: { value: rotorPower, error: MEASUREMENT_ERRORS.power },
    idlePower,
  };
}

/** Covariance after a run: (C⁻¹ + JᵀJ)⁻¹. */
export function learned(covariance: Matrix, information: Matrix): Matrix {
  return inverse(inverse(covariance).add(information));
}

/** x50, x95 [m] and power [W] a run is expected to give. */
export function forecast(scenario: Scenario, posterior: Posterior) {
  const point = modelAt({ name: '', scenario }, posterior.prior.coefficients, posterior.mean);
  if (point.status === 'choked') return undefined;
  return {
    x50: sizeAt(point.curve, 0.5),
    x95: sizeAt(point.curve, 0.95),
    power: point.state.conditions.rotorPower,
  };
}
