import { namesIn } from '../../scenario/expression/expression.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { marginScale } from '../../scenario/outcome/relative-margin.ts';
import { marginOf } from '../../scenario/outcome/spec.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { MoreLimits } from './limits.ts';

/**
 * Lines of a spec as limits of the other machine: those that the first point meets and that speak neither of the product,
 * which is matched anyway, nor of the first machine's plant. A line is used up to 1 where its margin is gone.
 */
export function specLimits(spec: Scenario['spec'], from: Solved): MoreLimits {
  const lines = spec.filter((line) => {
    const groups = [line.left, line.right].flatMap(namesIn).map((name) => quantityNamed(name)!.group);
    return (
      !groups.includes('plant') && !groups.every((group) => group === 'product') && marginOf(line, from) >= 0
    );
  });
  return (solved) =>
    lines.map((line) => ({ name: line.text, use: 1 - marginOf(line, solved) / marginScale(line, solved) }));
}
