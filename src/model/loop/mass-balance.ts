import type { SteadyState } from './state.ts';

/** Product by class of all components together [kg/s]. */
export function wholeProduct(state: SteadyState): Float64Array {
  const [first, ...others] = state.components;
  if (others.length === 0) return first!.product;
  const sum = Float64Array.from(first!.product);
  for (const { product } of others) for (let i = 0; i < sum.length; i++) sum[i]! += product[i]!;
  return sum;
}

/** |Σ p − F|/F: what the solve lost or made. */
export function massClosure(state: SteadyState): number {
  let fed = 0;
  let left = 0;
  for (const { feed, product } of state.components) {
    for (let i = 0; i < feed.length; i++) {
      fed += feed[i]!;
      left += product[i]!;
    }
  }
  return Math.abs(left - fed) / fed;
}

/**
 * Cumulative undersize at the class edges from masses by class; 0 at e_0, since class 0 also holds all finer.
 *
 * @param masses by class, any unit, length n
 * @param undersize length n+1, written in place
 */
export function fillUndersize(masses: Float64Array, undersize: Float64Array): void {
  let total = 0;
  for (let i = 0; i < masses.length; i++) total += masses[i]!;
  let sum = 0;
  undersize[0] = 0;
  for (let i = 0; i < masses.length; i++) {
    sum += masses[i]!;
    undersize[i + 1] = sum / total;
  }
}
