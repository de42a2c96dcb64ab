import { type Expression, namesIn, type Requirement } from '../expression/expression.ts';
import type { Solved } from './quantity.ts';
import { expressionValue, marginOf } from './spec.ts';

/** Shares of the product: what is finer and what is coarser than a size make a whole. */
const SHARES: ReadonlySet<string> = new Set(['passing', 'oversize']);
/** Smallest share and smallest rise of temperature a margin is held against, so that a limit of 100 % or at the inlet has a scale. */
const SMALLEST_SHARE = 1e-3;
const SMALLEST_RISE = 1;

/**
 * Relative margin of a requirement at a solved point: margin over the scale of its limit [-]; 0 at the limit, positive inside,
 * the same however the requirement is worded.
 *
 * @returns NaN where a side of the requirement does not exist at this point
 * @example passing(75 um) >= 95 % and oversize(75 um) <= 5 % at 4 % coarser: (5 − 4)/5 = 0.2
 */
export function relativeMargin(requirement: Requirement, solved: Solved): number {
  return marginOf(requirement, solved) / marginScale(requirement, solved);
}

/** What a margin of a requirement is held against at a solved point, SI; see `scaleOfLimit`. */
export function marginScale(requirement: Requirement, solved: Solved): number {
  const limit = expressionValue(requirement.right, solved);
  return (
    scaleOfLimit(requirement, limit, solved.case.air.temperature) ??
    Math.abs(expressionValue(requirement.left, solved))
  );
}

/**
 * Scale of a limit, SI, > 0: for shares of the product the smaller of the share and what is left of the whole; for
 * temperatures the rise above the inlet air; else the limit itself.
 *
 * @param limit value of the requirement's right side, SI
 * @param inlet temperature of the inlet air [K]
 * @returns undefined where the limit is 0 and has no scale of its own
 */
export function scaleOfLimit(requirement: Requirement, limit: number, inlet: number): number | undefined {
  if (ofShares(requirement)) return Math.max(SMALLEST_SHARE, Math.min(limit, 1 - limit));
  if (requirement.shownIn === 'degC') return Math.max(SMALLEST_RISE, Math.abs(limit - inlet));
  if (limit !== 0) return Math.abs(limit);
  return requirement.shownIn === '%' || requirement.shownIn === '1' ? 1 : undefined;
}

/** Whether a requirement is about shares of the product alone. */
function ofShares({ left, right }: Requirement): boolean {
  const names = namesIn(left).concat(namesIn(right));
  return names.every((name) => SHARES.has(name)) && isSum(left) && isSum(right);
}

/** Whether an expression only adds and takes away, so that its unit is still that of its quantities. */
function isSum(expression: Expression): boolean {
  switch (expression.kind) {
    case 'number':
    case 'quantity':
      return true;
    case 'negate':
      return isSum(expression.of);
    case 'binary':
      return /[+-]/.test(expression.operator) && isSum(expression.left) && isSum(expression.right);
  }
}
