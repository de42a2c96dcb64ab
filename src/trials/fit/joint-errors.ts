import type { Solved } from '../../scenario/outcome/quantity.ts';
import { type Comparison, curveValues } from './compare.ts';
import { type ComparedCurve, correlation } from './covariance.ts';
import { ERROR_LEVELS, type LevelIndex } from './error-levels.ts';
import { flatCholesky, forwardSolve, logDiagonal } from './flat-cholesky.ts';

/** What was measured less what the model gives, over all trials: curves one after the other, and powers. */
export interface Residuals {
  readonly sizes: Float64Array;
  readonly powers: Float64Array;
}

/** A covariance ready for use: its lower triangle, and half the ln of its determinant. */
export interface Factor {
  readonly lower: Float64Array;
  readonly logDeterminant: number;
}

/** The errors of all trials together: a wrong law errs alike in every trial, an analyser anew. */
export interface JointErrors {
  readonly sizes: number;
  readonly powers: number;
  /** Fills in one trial's part. */
  readonly fill: (trial: number, solved: Solved, into: Residuals) => void;
  readonly sizeFactor: (index: LevelIndex) => Factor;
  readonly powerFactor: (index: LevelIndex) => Factor;
  /** ln of the likelihood of the curves, of the powers. */
  readonly ofSizes: (residuals: Residuals, index: LevelIndex) => number;
  readonly ofPowers: (residuals: Residuals, index: LevelIndex) => number;
  /** d residual / d ln x error of the model, and where along ln x, for every compared point. */
  readonly turns: Float64Array;
  readonly places: Float64Array;
  /** Grinding power of every power compared [W]. */
  readonly grinding: Float64Array;
}

/**
 * Σ = a² S + F + s² [ρ K + (1 − ρ) K within a trial], K_ij = h_i h_j k(ln x_i − ln x_j) (`derived` from δ = b + w): S the
 * analyser's scatter at its limits, F what is each point's own, h the slope that turns an error of size into one of the
 * compared value. Powers: the same with 1 for k and the grinding power for h. Factors are made when first asked for.
 *
 * @param comparisons prepared without discrepancy
 */
export function jointErrors(comparisons: readonly Comparison[]): JointErrors {
  const curves = comparisons.flatMap(({ curve }, trial) => (curve ? [{ curve, trial }] : []));
  const powers = powersOf(comparisons);
  const sizes = curves.reduce((sum, { curve }) => sum + curve.at.length, 0);
  const sizeBlocks = sizeBlocksOf(curves, sizes);
  const powerBlocks = powerBlocksOf(powers);
  const white = new Float64Array(Math.max(sizes, powers.length));
  const likelihood = (n: number, values: Float64Array, { lower, logDeterminant }: Factor): number => {
    forwardSolve(lower, n, values, white);
    let square = 0;
    for (let i = 0; i < n; i++) square += white[i]! * white[i]!;
    return -0.5 * square - logDeterminant;
  };
  const sizeFactor = kept(
    ({ size, shared, scatter }) => (size * 16 + shared) * 16 + scatter,
    ({ size, shared, scatter }) =>
      factorOf(
        sizeBlocks,
        sizes,
        ERROR_LEVELS.size.values[size]!,
        ERROR_LEVELS.shared.values[shared]!,
        ERROR_LEVELS.scatter.values[scatter]!,
      ),
  );
  const powerFactor = kept(
    ({ power, shared }) => power * 16 + shared,
    ({ power, shared }) =>
      factorOf(
        powerBlocks,
        powers.length,
        ERROR_LEVELS.power.values[power]!,
        ERROR_LEVELS.shared.values[shared]!,
        1,
      ),
  );
  return {
    sizes,
    powers: powers.length,
    fill: filler(curves, powers),
    sizeFactor,
    powerFactor,
    ofSizes: (residuals, index) => (sizes > 0 ? likelihood(sizes, residuals.sizes, sizeFactor(index)) : 0),
    ofPowers: (residuals, index) =>
      powers.length > 0 ? likelihood(powers.length, residuals.powers, powerFactor(index)) : 0,
    turns: sizeBlocks.turns,
    places: Float64Array.from(curves.flatMap(({ curve }) => curve.positions)),
    grinding: Float64Array.from(powers, ({ grinding }) => grinding),
  };
}

interface Blocks {
  /** S, F, K and K within a trial, row-major. */
  readonly scatter: Float64Array;
  readonly fixed: Float64Array;
  readonly model: Float64Array;
  readonly within: Float64Array;
  readonly turns: Float64Array;
}

interface CurveOf {
  readonly trial: number;
  readonly curve: ComparedCurve;
}
/** A power compared: under load, or without feed, of which the model of grinding says nothing. */
interface PowerOf {
  readonly trial: number;
  readonly of: 'rotorPower' | 'grindingPower' | 'idlePower';
  readonly measured: number;
  readonly error: number;
  readonly grinding: number;
}

function powersOf(comparisons: readonly Comparison[]): PowerOf[] {
  return comparisons.flatMap(({ power, idle }, trial): PowerOf[] => [
    ...(power
      ? [{ ...power, trial, of: power.net ? ('grindingPower' as const) : ('rotorPower' as const) }]
      : []),
    ...(idle ? [{ ...idle, trial, of: 'idlePower' as const, grinding: 0 }] : []),
  ]);
}

function sizeBlocksOf(curves: readonly CurveOf[], n: number): Blocks {
  const blocks = emptyBlocks(n);
  const starts = startsOf(curves);
  curves.forEach(({ curve }, a) => {
    curve.at.forEach((_, i) => {
      const row = starts[a]! + i;
      // a curve at a size falls where the sizes grow; a percentile grows with them
      blocks.turns[row] = curve.space === 'share' ? -curve.slopes[i]! : 1;
    });
  });
  curves.forEach((one, a) => {
    curves.forEach((other, b) => {
      for (let i = 0; i < one.curve.at.length; i++) {
        for (let j = 0; j < other.curve.at.length; j++) {
          const [row, column] = [starts[a]! + i, starts[b]! + j];
          const at = row * n + column;
          const together = correlation(one.curve.positions[i]! - other.curve.positions[j]!);
          blocks.model[at] = blocks.turns[row]! * blocks.turns[column]! * together;
          if (a !== b) continue;
          blocks.within[at] = blocks.model[at]!;
          blocks.scatter[at] = one.curve.scatter.get(i, j);
          blocks.fixed[at] = one.curve.covariance.get(i, j) - one.curve.scatter.get(i, j);
        }
      }
    });
  });
  return blocks;
}

function startsOf(curves: readonly CurveOf[]): number[] {
  let at = 0;
  return curves.map(({ curve }) => {
    const start = at;
    at += curve.at.length;
    return start;
  });
}

function powerBlocksOf(powers: readonly PowerOf[]): Blocks {
  const n = powers.length;
  const blocks = emptyBlocks(n);
  powers.forEach((power, i) => {
    blocks.turns[i] = power.grinding;
    blocks.fixed[i * n + i] = power.error ** 2;
    blocks.within[i * n + i] = power.grinding ** 2;
    powers.forEach((other, j) => {
      blocks.model[i * n + j] = power.grinding * other.grinding;
    });
  });
  return blocks;
}

function emptyBlocks(n: number): Blocks {
  const square = () => new Float64Array(n * n);
  return {
    scatter: square(),
    fixed: square(),
    model: square(),
    within: square(),
    turns: new Float64Array(n),
  };
}

function factorOf(blocks: Blocks, n: number, level: number, shared: number, scatter: number): Factor {
  const { scatter: s, fixed, model, within } = blocks;
  const all = new Float64Array(n * n);
  const [common, own] = [level * level * shared, level * level * (1 - shared)];
  for (let i = 0; i < all.length; i++)
    all[i] = scatter * scatter * s[i]! + fixed[i]! + common * model[i]! + own * within[i]!;
  const lower = flatCholesky(all, n);
  return { lower, logDeterminant: logDiagonal(lower, n) };
}

function kept(
  key: (index: LevelIndex) => number,
  make: (index: LevelIndex) => Factor,
): (index: LevelIndex) => Factor {
  const made = new Map<number, Factor>();
  return (index) => {
    const at = key(index);
    let found = made.get(at);
    if (!found) {
      found = make(index);
      made.set(at, found);
    }
    return found;
  };
}

function filler(curves: readonly CurveOf[], powers: readonly PowerOf[]): JointErrors['fill'] {
  const starts = startsOf(curves);
  return (trial, solved, into) => {
    const a = curves.findIndex((one) => one.trial === trial);
    const { curve } = curves[a] ?? {};
    if (curve) {
      const values = curveValues(solved, curve);
      for (let i = 0; i < values.length; i++) into.sizes[starts[a]! + i] = curve.measured[i]! - values[i]!;
    }
    powers.forEach(({ trial: own, of, measured }, p) => {
      if (own === trial) into.powers[p] = measured - solved.state.conditions[of];
    });
  };
}
