import { sizeAt } from '../../model/psd/curve.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import { toCase } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { normal, type Random, seeded } from '../random.ts';
import { withCoefficients } from './coefficients.ts';
import { CORRELATION_LENGTH, cholesky } from './covariance.ts';
import { drawFrom, type Posterior } from './fit.ts';

/** One possible world: coefficients, and the model's own error of size as a smooth function of ln x. */
export interface Draw {
  /** ln of the coefficients. */
  readonly logarithms: readonly number[];
  /** Relative error of size δ(ln x) of the model in this world, at one setting. */
  readonly sizeError: (logSize: number) => number;
  /** Relative error of power. */
  readonly powerError: number;
}

/** Waves of the smooth random function; enough that it is normal at every size. */
const WAVES = 24;

/**
 * Draws from a posterior: coefficients jointly normal in their logarithms within bounds, and a discrepancy that is a
 * smooth normal function of ln x (random waves of the squared-exponential kernel, `recalled`: Rahimi & Recht 2007).
 *
 * @param count number of draws
 * @param seed the same seed gives the same draws
 */
export function drawsOf(posterior: Posterior, count: number, seed = 1): Draw[] {
  const random = seeded(seed);
  const lower = cholesky(posterior.covariance);
  const { coefficients } = posterior.prior;
  return Array.from({ length: count }, () => {
    const free = drawFrom(posterior.mean, lower, random);
    const logarithms = free.map((value, i) =>
      Math.min(Math.log(coefficients[i]!.upper), Math.max(Math.log(coefficients[i]!.lower), value)),
    );
    return {
      logarithms,
      sizeError: smoothError(posterior.discrepancy, random),
      powerError: posterior.discrepancy * normal(random),
    };
  });
}

function smoothError(deviation: number, random: Random): (logSize: number) => number {
  const waves = Array.from({ length: WAVES }, () => ({
    rate: normal(random) / CORRELATION_LENGTH,
    phase: 2 * Math.PI * random(),
  }));
  const scale = deviation * Math.sqrt(2 / WAVES);
  return (logSize) => {
    let sum = 0;
    for (const { rate, phase } of waves) sum += Math.cos(rate * logSize + phase);
    return scale * sum;
  };
}

/** The model at a scenario's settings in one world; the discrepancy moves the edges of its size curve. */
export function pointIn(scenario: Scenario, posterior: Posterior, draw: Draw): Point {
  const { coefficients } = posterior.prior;
  const point = solvePoint(toCase(withCoefficients(scenario, coefficients, draw.logarithms)), {
    choke: false,
  });
  return point.status === 'choked' ? point : { ...point, ...disturbed(point, draw) };
}

/** A solved point with the model's own error of size and power laid on. */
export function disturbed(
  solved: Solved,
  draw: Draw,
  edges: Float64Array = disturbedEdges(solved.curve.edges, draw),
): Solved {
  const { conditions } = solved.state;
  const grindingPower = conditions.grindingPower * (1 + draw.powerError);
  return {
    case: solved.case,
    curve: { ...solved.curve, edges },
    state: {
      ...solved.state,
      conditions: { ...conditions, grindingPower, rotorPower: conditions.idlePower + grindingPower },
    },
  };
}

/** Edges of a size curve moved by the model's own error of size. */
export function disturbedEdges(edges: Float64Array, { sizeError }: Draw): Float64Array {
  const moved = edges.map((edge) => edge * Math.exp(sizeError(Math.log(edge))));
  // the smooth error never bends so far that edges cross, but a guard costs nothing
  for (let i = 1; i < moved.length; i++) moved[i] = Math.max(moved[i]!, moved[i - 1]! * (1 + 1e-9));
  return moved;
}

/** A quantity's median and the interval that holds a share of the draws. */
export interface Band {
  readonly low: number;
  readonly median: number;
  readonly high: number;
}

/** Equal-tailed interval of values; those that do not exist are left out. */
export function bandOf(values: readonly number[], confidence = 0.95): Band {
  const sorted = values.filter(Number.isFinite).sort((a, b) => a - b);
  return {
    low: quantile(sorted, (1 - confidence) / 2),
    median: quantile(sorted, 0.5),
    high: quantile(sorted, (1 + confidence) / 2),
  };
}

/** Quantile of sorted values, linear between them. */
export function quantile(sorted: readonly number[], share: number): number {
  if (sorted.length === 0) return Number.NaN;
  const at = share * (sorted.length - 1);
  const low = Math.floor(at);
  const high = Math.min(sorted.length - 1, low + 1);
  return sorted[low]! + (at - low) * (sorted[high]! - sorted[low]!);
}

/** Bands of percentiles and power at a scenario's settings. */
export function predictPercentiles(
  scenario: Scenario,
  posterior: Posterior,
  shares: readonly number[],
  draws: readonly Draw[],
  confidence = 0.95,
): {
  readonly sizes: readonly Band[];
  readonly power: Band;
  readonly temperature: Band;
  readonly choked: number;
} {
  const points = draws.map((draw) => pointIn(scenario, posterior, draw));
  const steady = points.filter((point) => point.status === 'steady');
  return {
    sizes: shares.map((share) =>
      bandOf(
        steady.map(({ curve }) => sizeAt(curve, share)),
        confidence,
      ),
    ),
    power: bandOf(
      steady.map(({ state }) => state.conditions.rotorPower),
      confidence,
    ),
    temperature: bandOf(
      steady.map(({ state }) => state.conditions.temperature),
      confidence,
    ),
    choked: points.length - steady.length,
  };
}
