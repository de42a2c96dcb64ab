import type { Requirement } from '../scenario/expression/expression.ts';
import { requirementWords } from './words.ts';

/** A requirement as the curve meets it: it must pass above or below this point. */
export interface Gate {
  readonly words: string;
  /** [µm] */
  readonly size: number;
  /** Share finer, 0…1. */
  readonly share: number;
  /** `above`: at this size at least this share; `below`: at most. */
  readonly pass: 'above' | 'below';
  /** Whether the line is about the share at a size, or about the size at a share. */
  readonly about: 'share' | 'size';
  readonly met: boolean;
}

const PERCENTILE = /^x(\d{1,2}(?:\.\d{1,4})?)$/;

/** The lines of a spec that a size curve can show: shares at a size, and percentiles. */
export function gatesOf(spec: readonly Requirement[], results: readonly { readonly met: boolean }[]): Gate[] {
  return spec.flatMap((requirement, index): Gate[] => {
    const { left, right, relation } = requirement;
    if (left.kind !== 'quantity' || right.kind !== 'number') return [];
    const common = { words: requirementWords(requirement), met: results[index]?.met ?? false };
    const atLeast = relation.startsWith('>');
    const percent = Number(PERCENTILE.exec(left.name)?.[1]);
    if (percent > 0) {
      const pass = atLeast ? 'below' : 'above';
      return [{ ...common, size: right.value * 1e6, share: percent / 100, pass, about: 'size' }];
    }
    if (left.argument === undefined) return [];
    const size = left.argument * 1e6;
    if (left.name === 'passing') {
      return [{ ...common, size, share: right.value, pass: atLeast ? 'above' : 'below', about: 'share' }];
    }
    if (left.name === 'oversize') {
      return [{ ...common, size, share: 1 - right.value, pass: atLeast ? 'below' : 'above', about: 'share' }];
    }
    return [];
  });
}
