import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { sampleDensity, systematic } from '../../src/trials/fit/importance.ts';
import { bandOf } from '../../src/trials/fit/quantile.ts';
import { leastSquares } from '../../src/trials/least-squares.ts';
import { seeded } from '../../src/trials/random.ts';
import { close } from '../close.ts';

const EFFORT = { evaluations: 12_000, effective: 0, most: 0 };

function drawsFrom(sample: { points: readonly (readonly number[])[]; weights: Float64Array }, count = 4000) {
  return systematic(sample.weights, count, 0.5).map((k) => sample.points[k]!);
}

describe('a sampled posterior', () => {
  test('of a linear model has the exact mean, covariance and 95 % intervals (AᵀA)⁻¹', () => {
    const a = new Matrix([
      [1, 2, 0],
      [0, 1, 1],
      [3, 0, 1],
      [1, 1, 1],
      [2, -1, 4],
    ]);
    const b = [1, -2, 3, 0.5, 2];
    const residuals = (t: readonly number[]): Float64Array =>
      Float64Array.from(b, (value, i) => a.getRow(i).reduce((sum, x, j) => sum + x * t[j]!, -value));
    const wide = [1e3, 1e3, 1e3];
    const solution = leastSquares(
      { residuals, lower: wide.map((w) => -w), upper: wide, steps: [1e-3, 1e-3, 1e-3] },
      [0, 0, 0],
    )!;
    const exact = inverse(a.transpose().mmul(a));
    const sample = sampleDensity(
      (t) => -0.5 * residuals(t).reduce((sum, r) => sum + r * r, 0),
      [{ share: 1, mean: solution.parameters, covariance: solution.covariance }],
      seeded(1),
      EFFORT,
    );
    expect(sample.effective).toBeGreaterThan(2500);
    for (let i = 0; i < 3; i++) {
      const error = Math.sqrt(exact.get(i, i));
      const mean = sample.points.reduce((sum, at, k) => sum + sample.weights[k]! * at[i]!, 0);
      expect(Math.abs(mean - solution.parameters[i]!)).toBeLessThan(0.05 * error);
      const { low, high } = bandOf(drawsFrom(sample).map((at) => at[i]!));
      close((high - low) / (2 * 1.959964 * error), 1, 0.05);
      for (let j = 0; j < 3; j++) {
        const together = sample.points.reduce(
          (sum, at, k) =>
            sum +
            sample.weights[k]! * (at[i]! - solution.parameters[i]!) * (at[j]! - solution.parameters[j]!),
          0,
        );
        const scale = error * Math.sqrt(exact.get(j, j));
        expect(Math.abs(together - exact.get(i, j))).toBeLessThan(0.06 * scale);
      }
    }
  });

  test('follows a bend: y about x², x standard normal, has mean 1 and variance 2 + s² (derived)', () => {
    const s = 0.3;
    const sample = sampleDensity(
      ([x, y]) => -0.5 * (x! ** 2 + ((y! - x! ** 2) / s) ** 2),
      // the normal approximation at the mode knows nothing of the bend; a wide guess guards
      [
        { share: 0.85, mean: [0, 0], covariance: Matrix.diag([1, s * s]) },
        { share: 0.15, mean: [0, 0], covariance: Matrix.diag([4, 9]) },
      ],
      seeded(2),
      { ...EFFORT, evaluations: 30_000 },
    );
    const mean = sample.points.reduce((sum, at, k) => sum + sample.weights[k]! * at[1]!, 0);
    const square = sample.points.reduce((sum, at, k) => sum + sample.weights[k]! * (at[1]! - mean) ** 2, 0);
    close(mean, 1, 0.1);
    close(square, 2 + s * s, 0.25);
    const { high } = bandOf(drawsFrom(sample).map((at) => at[0]!));
    close(high, 1.96, 0.08);
  });

  test('holds two hills apart in their own shares, guessed in the wrong ones', () => {
    const hill = (x: number, at: number, s: number): number => Math.exp(-0.5 * ((x - at) / s) ** 2) / s;
    const sample = sampleDensity(
      ([x]) => Math.log(0.7 * hill(x!, 0, 1) + 0.3 * hill(x!, 12, 0.2) + 1e-300),
      [
        { share: 0.5, mean: [0], covariance: Matrix.diag([1]) },
        { share: 0.5, mean: [12], covariance: Matrix.diag([0.04]) },
      ],
      seeded(3),
      EFFORT,
    );
    const far = sample.points.reduce((sum, [x], k) => sum + (x! > 6 ? sample.weights[k]! : 0), 0);
    close(far, 0.3, 0.05);
  });

  test('is the same for the same seed, and another for another', () => {
    const at = (seed: number) =>
      sampleDensity(
        ([x]) => -0.5 * x! * x!,
        [{ share: 1, mean: [0], covariance: Matrix.diag([1]) }],
        seeded(seed),
        { evaluations: 200, effective: 0, most: 0 },
      ).points[7]!;
    expect(at(4)).toEqual(at(4));
    expect(at(4)).not.toEqual(at(5));
  });
});
