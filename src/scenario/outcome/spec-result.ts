import { evaluate, type Requirement } from '../expression/expression.ts';
import { toShown, toShownDifference } from '../units/display.ts';
import type { Solved } from './quantity.ts';
import { relativeMargin } from './relative-margin.ts';
import { expressionValue, isMet, marginOf } from './spec.ts';

/** One requirement of the spec at an operating point; numbers in the unit the user wrote. */
export interface SpecResult {
  readonly text: string;
  readonly value: number;
  readonly limit: number;
  /** How far inside the limit, > 0 when met. */
  readonly margin: number;
  /** Margin over the scale of the limit, 0 at the limit; see `relativeMargin`. */
  readonly relativeMargin: number;
  readonly met: boolean;
  /** Probability that it is met, once a calibration gives the spread; null before. */
  readonly probability: number | null;
}

/** A requirement where the mill chokes: its limit is known where it is a number, its value is not. */
export function unknownResult({ text, right, shownIn }: Requirement): SpecResult {
  const limit = evaluate(right, () => Number.NaN);
  return {
    text,
    value: Number.NaN,
    limit: toShown(limit, shownIn),
    margin: Number.NaN,
    relativeMargin: Number.NaN,
    met: false,
    probability: null,
  };
}

/** Every requirement at a solved point. */
export function judge(spec: readonly Requirement[], solved: Solved): SpecResult[] {
  return spec.map((requirement) => {
    const margin = marginOf(requirement, solved);
    const unit = requirement.shownIn;
    return {
      text: requirement.text,
      value: toShown(expressionValue(requirement.left, solved), unit),
      limit: toShown(expressionValue(requirement.right, solved), unit),
      margin: toShownDifference(margin, unit),
      relativeMargin: relativeMargin(requirement, solved),
      met: isMet(requirement, margin),
      probability: null,
    };
  });
}
