import { marginOf } from '../scenario/outcome/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { labelOf, toShownDifference } from '../scenario/units/display.ts';
import { chokingOf, type Odds, probabilityOf } from './odds.ts';
import { type Miss, missesOf, nearestOf, type Standing } from './standing.ts';

/** A requirement that is not met, or a limit of the machine that is passed. */
export interface Failure {
  readonly text: string;
  /** By how much, above 0, in `unit`; null where the mill chokes. */
  readonly by: number | null;
  readonly unit: string;
}

/** Whether a point meets its spec: the same in every command. Plain data, as `--json` writes it. */
export interface Verdict {
  readonly meets: boolean;
  /** All that fails, worst first. */
  readonly fails: readonly Failure[];
  /** The requirement with the smallest relative margin; null where the mill chokes. */
  readonly nearest: { readonly text: string; readonly relativeMargin: number } | null;
  /** Share of the samples of the coefficients that meet the whole spec, and share in which the mill chokes, 0…1. */
  readonly probability: number;
  readonly chokes: number;
}

/**
 * Verdict on a point.
 *
 * @returns null without a spec: where nothing is required nothing is met or missed
 */
export function verdictOf({ spec }: Pick<Scenario, 'spec'>, standing: Standing, odds: Odds): Verdict | null {
  if (spec.length === 0) return null;
  const common = { meets: standing.meets, probability: probabilityOf(odds), chokes: chokingOf(odds) };
  if (standing.point.status === 'choked') {
    const fails = spec.map(({ text, shownIn }) => ({ text, by: null, unit: labelOf(shownIn) }));
    return { ...common, fails, nearest: null };
  }
  const place = nearestOf(standing);
  return {
    ...common,
    fails: missesOf(standing).map((miss) => failureOf(spec, standing, miss)),
    nearest: { text: spec[place]!.text, relativeMargin: standing.relative[place]! },
  };
}

/** A miss in the words and the unit of the requirement, or of the machine. */
export function failureOf(spec: Scenario['spec'], { point }: Standing, miss: Miss): Failure {
  if (miss.kind === 'machine') {
    const { name, value, limit, shownIn } = miss.excess;
    return { text: `highest ${name}`, by: toShownDifference(value - limit, shownIn), unit: labelOf(shownIn) };
  }
  const requirement = spec[miss.place]!;
  const unit = labelOf(requirement.shownIn);
  if (point.status === 'choked') return { text: requirement.text, by: null, unit };
  const margin = marginOf(requirement, point);
  const by = Number.isNaN(margin) ? null : toShownDifference(-margin, requirement.shownIn);
  return { text: requirement.text, by, unit };
}
