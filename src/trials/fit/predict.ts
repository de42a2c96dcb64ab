import { sizeAt } from '../../model/psd/curve.ts';
import { toCase } from '../../scenario/operating-point.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { normal, type Random, seeded } from '../random.ts';
import { boundsOf, withCoefficients } from './coefficient.ts';
import { CORRELATION_LENGTH, cholesky } from './covariance.ts';
import { SCATTER_SPREAD, TYPICAL_SCATTER } from './error-levels.ts';
import type { Posterior } from './fit.ts';
import { drawFrom } from './multistart.ts';
import { type Band, bandOf } from './quantile.ts';
import type { PosteriorDraw } from './sample.ts';
import { PLACES, smoothThrough } from './shared-error.ts';

/** One possible sample: coefficients, and the model's own error of size as a smooth function of ln x. */
export interface Draw {
  /** Coefficients along their scales. */
  readonly coordinates: readonly number[];
  /** Relative error of size δ(ln x) of the model in this sample, at one setting. */
  readonly sizeError: (logSize: number) => number;
  /** Relative error of grinding power of the model in this sample. */
  readonly powerError: number;
  /** The analyser's scatter over the limits of ISO 13320. */
  readonly scatter: number;
}

/** Waves of the smooth random function; enough that it is normal at every size. */
const WAVES = 24;

/**
 * Possible samples from a posterior: its own draws, each as likely as the others, in an order of their own; where it has none,
 * coefficients jointly normal along their scales within bounds. With each comes the model's error: the part all settings share
 * as the trials show it, and a part of its own that is a smooth normal function of ln x (random waves of the squared-exponential kernel, `recalled`: Rahimi & Recht 2007).
 *
 * @param count number of draws
 * @param seed the same seed gives the same draws
 */
export function drawsOf(posterior: Posterior, count: number, seed = 1): Draw[] {
  const random = seeded(seed);
  const next = posterior.draws ? dealt(posterior.draws, random) : normalDraws(posterior, random);
  return Array.from({ length: count }, () => {
    const { coordinates, discrepancy, powerDiscrepancy, share, scatter, shared } = next();
    const own = smoothError(discrepancy * Math.sqrt(1 - share), random);
    const common = smoothThrough(shared.sizes);
    return {
      coordinates,
      sizeError: (logSize) => common(logSize) + own(logSize),
      powerError: shared.power + powerDiscrepancy * Math.sqrt(1 - share) * normal(random),
      scatter,
    };
  });
}

/** Deals draws like cards, every one once before any twice. */
function dealt(draws: readonly PosteriorDraw[], random: Random): () => PosteriorDraw {
  let left: PosteriorDraw[] = [];
  return () => {
    if (left.length === 0) left = [...draws];
    const at = Math.floor(random() * left.length);
    const drawn = left[at]!;
    left[at] = left[left.length - 1]!;
    left.pop();
    return drawn;
  };
}

/** Before any trial, or from a file without draws: nothing is known of the part of the error that all settings share. */
function normalDraws(posterior: Posterior, random: Random): () => PosteriorDraw {
  const { covariance, mean, discrepancy } = posterior;
  const lower = cholesky(covariance);
  const bounds = posterior.prior.coefficients.map(boundsOf);
  return () => ({
    coordinates: drawFrom(mean, lower, random).map((value, i) =>
      Math.min(bounds[i]![1], Math.max(bounds[i]![0], value)),
    ),
    discrepancy,
    powerDiscrepancy: discrepancy,
    share: 0,
    scatter: TYPICAL_SCATTER * Math.exp(SCATTER_SPREAD * normal(random)),
    shared: NONE,
  });
}

const NONE = { sizes: PLACES.map(() => 0), power: 0 };

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

/** The model at a scenario's settings in one sample; the discrepancy moves the edges of its size curve. */
export function pointIn(scenario: Scenario, posterior: Posterior, draw: Draw): Point {
  const { coefficients } = posterior.prior;
  const point = solvePoint(toCase(withCoefficients(scenario, coefficients, draw.coordinates)), {
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
