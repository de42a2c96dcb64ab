import { undersizeAt } from '../../model/psd/curve.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';

/** Cut size of a solved point [m]. */
export function cutSizeOf(solved: Solved): number {
  return quantityNamed('cutSize')!.of(solved);
}

/** Share of the product below a size [m]. */
export function finesBelow(solved: Solved, size: number): number {
  return undersizeAt(solved.curve, size);
}
