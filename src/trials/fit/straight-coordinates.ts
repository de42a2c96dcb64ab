import { type Coefficient, coordinateOf, numberAt } from './coefficient.ts';
import type { JointDensity } from './density.ts';

/** Coordinates in which the posterior is nearer to a normal distribution than on the scales of the coefficients. */
export interface StraightCoordinates {
  readonly to: (coordinates: readonly number[]) => number[];
  /** Back; not a number where a straight coordinate stands for nothing. */
  readonly from: (straight: readonly number[]) => number[];
  /** ln |dθ/d straight|, by which a density over straight coordinates is higher. */
  readonly volume: (straight: readonly number[]) => number;
}

/** A threshold shows little below this share of its prior median (`assumed`): there the coordinate is cut short. */
const UNSEEN = 0.4;

/**
 * η_v → s η_v with f → f/s² and c → c s² leaves every size curve as it is (eq. K1). On the scales of the fit that is a bent
 * line, which straight steps and a quadratic surface follow badly; in ln f + 2 ln η_v and ln c − 2 ln η_v it is the axis of
 * η_v. A small threshold does not show, so that ln c has a long tail: ln(c + c_1) has none.
 */
export function straightCoordinates(coefficients: readonly Coefficient[]): StraightCoordinates {
  const called = (name: string): number[] =>
    coefficients.flatMap(({ path }, i) => (path.endsWith(`.${name}`) ? [i] : []));
  const [ratio] = called('velocityRatio');
  const friabilities = called('friability');
  const thresholds = called('threshold');
  const turnAt = (at: readonly number[]): number =>
    ratio === undefined ? 0 : 2 * Math.log(numberAt(coefficients[ratio]!, at[ratio]!));
  const priors = coefficients.map((one) => coordinateOf(one, one.prior));
  const unseen = (i: number): number => UNSEEN * Math.exp(priors[i]! - turnAt(priors));
  return {
    to: (at) => {
      const turn = turnAt(at);
      const straight = [...at];
      for (const i of friabilities) straight[i]! += turn;
      for (const i of thresholds) straight[i] = Math.log(Math.exp(at[i]! - turn) + unseen(i));
      return straight;
    },
    from: (straight) => {
      const turn = turnAt(straight);
      const at = [...straight];
      for (const i of friabilities) at[i]! -= turn;
      for (const i of thresholds) at[i] = Math.log(Math.exp(straight[i]!) - unseen(i)) + turn;
      return at;
    },
    volume: (straight) =>
      thresholds.reduce((sum, i) => sum - Math.log1p(-unseen(i) * Math.exp(-straight[i]!)), 0),
  };
}

/** A density over straight coordinates. */
export function straightened(density: JointDensity, { from, volume }: StraightCoordinates): JointDensity {
  return {
    ...density,
    prior: (straight) => {
      const prior = density.prior(from(straight));
      return prior === undefined ? undefined : prior + volume(straight);
    },
    at: (straight) => {
      const point = density.at(from(straight));
      return point && { ...point, coordinates: straight, prior: point.prior + volume(straight) };
    },
    marginal: (straight) => density.marginal(from(straight)) + volume(straight),
  };
}
