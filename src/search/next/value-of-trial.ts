import type { Matrix } from 'ml-matrix';
import { NORMAL_90 } from '../../trials/fit/quantile.ts';
import { type Answer, varianceOf } from './decision.ts';

/** A trial that raises the safe settings by less is not worth its powder (`assumed`: a feed lot or the analyser moves them more). */
export const WORTH_MOVING = 0.02;

/**
 * How far knowing more would move the settings, as a share of them, in 90 % of samples at most: the largest over the lines of
 * 1.645 √(gᵀ(C − C′)g)/s (`derived`). A measurement that lowers the variance of a line from gᵀCg to gᵀC′g moves its best value by
 * a deviation of variance gᵀ(C − C′)g (law of total variance), and the setting that moves the line most, s per unit of its
 * logarithm, makes up for it.
 *
 * @param slopes s of each line, from `steepness`; a line no setting moves, s = 0, is left out
 * @param before C, covariance of the logarithms of the coefficients now
 * @param after C′, with the trial in; absent: the whole uncertainty, C′ = 0
 */
export function settingsShift(
  { lines }: Answer,
  slopes: readonly number[],
  before: Matrix,
  after?: Matrix,
): number {
  return lines.reduce((most, { gradient }, i) => {
    if (!(slopes[i]! > 0)) return most;
    const left = after ? varianceOf(gradient, after) : 0;
    const moved = Math.sqrt(Math.max(0, varianceOf(gradient, before) - left));
    return Math.max(most, (NORMAL_90 * moved) / slopes[i]!);
  }, 0);
}

/**
 * By how much a trial lets the settings come nearer to their best, as a share of them. Settings are safe where every line holds
 * with 95 % probability, 1.645 standard errors inside its limit; a trial that lowers a standard error from σ to σ′ lets the
 * setting that moves the line most, s per unit of its logarithm, go on by 1.645 (σ − σ′)/s (`derived`, normal). The largest
 * over the lines: what a repeat cannot average away stays in both.
 *
 * @param slopes s of each line, from `steepness`; a line no setting moves, s = 0, is left out
 * @param before C, covariance of what is known now
 * @param after C′, with the trial in
 */
export function safeRaise(
  { lines }: Answer,
  slopes: readonly number[],
  before: Matrix,
  after: Matrix,
): number {
  return lines.reduce((most, { gradient }, i) => {
    if (!(slopes[i]! > 0)) return most;
    const gained = Math.sqrt(varianceOf(gradient, before)) - Math.sqrt(varianceOf(gradient, after));
    return Math.max(most, (NORMAL_90 * gained) / slopes[i]!);
  }, 0);
}
