import type { Requirement } from '../../scenario/expression/expression.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type FoundPoint, findSettings } from '../../search/find/find.ts';
import { oddsOf, probabilityOf } from '../odds.ts';
import type { GradeFound } from './grade-found.ts';

/** Settings that make several grades at once: one product that meets the spec of each. */
export interface SharedSettings {
  readonly names: readonly string[];
  /** Undefined where no settings within the ranges meet both. */
  readonly point: FoundPoint | undefined;
  /** Feed rate lost by it against the best of each grade alone, in the order of the names [kg/s]; none without a point. */
  readonly lost: readonly number[];
  /** Share of the samples of the coefficients that meet both specs there, 0…1. */
  readonly probability?: number;
}

/** Pairs searched: each is a search of its own. */
const MOST_PAIRS = 15;

/** For every two grades the settings that serve both, by the goal of the first; coefficients as they stand. */
export function sharedSettings(grades: readonly GradeFound[], seed: number): readonly SharedSettings[] {
  const met = grades.filter(({ answer }) => answer.nominal.meets);
  const pairs = met.flatMap((a, i) => met.slice(i + 1).map((b) => [a, b] as const));
  return pairs.slice(0, MOST_PAIRS).map(([a, b]): SharedSettings => {
    const both: Scenario = {
      ...a.answer.scenario,
      spec: union(a.answer.scenario.spec, b.answer.scenario.spec),
    };
    const { best, meets } = findSettings(both, a.answer.space, { seed });
    const names = [a.name, b.name];
    if (!meets) return { names, point: undefined, lost: [] };
    const rate = feedOf(best);
    const probability = probabilityOf(oddsOf(best.scenario));
    return {
      names,
      point: best,
      probability,
      lost: [a, b].map(({ answer }) => feedOf(answer.nominal.best) - rate),
    };
  });
}

/** Feed rate of a point [kg/s]. */
export function feedOf({ scenario }: FoundPoint): number {
  return scenario.settings.feedRate;
}

function union(a: readonly Requirement[], b: readonly Requirement[]): readonly Requirement[] {
  return [...a, ...b.filter(({ text }) => !a.some((each) => each.text === text))];
}
