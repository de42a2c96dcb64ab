import type { SizeCurve } from '../../model/psd/curve.ts';
import { evaluate, namesIn, type Requirement } from '../expression/expression.ts';
import { quantityNamed } from './quantities.ts';
import type { Solved } from './quantity.ts';
import { isMet } from './spec.ts';

/** Quantities read off the size curve alone. */
const SIZES = /^(passing|oversize|span|x\d{1,2}(\.\d{1,4})?)$/;

/**
 * Whether a size curve meets every requirement of a spec that is about sizes alone.
 *
 * @returns undefined where the spec has no such requirement
 */
export function sizeJudge(spec: readonly Requirement[]): ((curve: SizeCurve) => boolean) | undefined {
  const lines = spec.filter(({ left, right }) => {
    const names = [...namesIn(left), ...namesIn(right)];
    return names.every((name) => SIZES.test(name));
  });
  if (lines.length === 0) return undefined;
  return (curve) => {
    const solved = { curve } as unknown as Solved;
    const value = (side: Requirement['left']) =>
      evaluate(side, (name, argument) => quantityNamed(name)!.of(solved, argument));
    return lines.every((line) => {
      const gap = value(line.left) - value(line.right);
      return isMet(line, line.relation.startsWith('>') ? gap : -gap);
    });
  };
}
