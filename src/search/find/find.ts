import { factorValue } from '../../scenario/design/coordinate.ts';
import { toCase } from '../../scenario/operating-point.ts';
import { type Outcome, outcomeOf } from '../../scenario/outcome/outcome.ts';
import { marginScale } from '../../scenario/outcome/relative-margin.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import { expressionValue, marginOf } from '../../scenario/outcome/spec.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';
import { scenarioAt } from '../../sweep/study/point-case.ts';
import { isBetter, type Judged, judgeOf, type Merit, meritOf } from './objective.ts';
import { EFFORT, type Effort, optimise } from './optimise.ts';
import { roundedPoint } from './rounding.ts';
import { coordinateOf, type SearchSpace } from './space.ts';

/** A setting found: path, SI value or name, and the unit it is shown in. */
export interface FoundSetting {
  readonly path: string;
  readonly value: number | string;
  readonly shownIn: string;
  readonly as?: 'shaft' | 'rim';
}

/** A point found, as `run` sees it. */
export interface FoundPoint {
  /** One coordinate a factor of the space. */
  readonly coordinates: Float64Array;
  readonly settings: readonly FoundSetting[];
  readonly scenario: Scenario;
  readonly point: Point;
  readonly outcome: Outcome;
  /** Value of the goal, SI; NaN without one. */
  readonly goal: number;
  readonly merit: Merit;
  /** What holds it: lines of the spec within 1 % of their limit, the motor, and ends of ranges. */
  readonly limits: readonly string[];
}

export interface Found {
  /** Best point; the nearest miss where `meets` is false. */
  readonly best: FoundPoint;
  readonly meets: boolean;
  /** Best of each combination of choices, best first. */
  readonly byChoice: readonly FoundPoint[];
  /** Points evaluated. */
  readonly evaluations: number;
}

export interface FindOptions {
  readonly seed?: number;
  readonly effort?: Effort;
  /** Margins to keep inside each line of the spec, SI. */
  readonly reserves?: readonly number[];
  /** Instead of the scenario's own goal. */
  readonly goal?: Judged['goal'];
}

/** A limit counts as reached within this share of it. */
const NEAR = 0.01;
const AT_END = 1e-3;

/**
 * Settings that meet the spec and serve the goal best. Every combination of choices is searched; without a goal the smallest
 * margin is made as large as it can be. The point reported is the rounded one, solved again as `run` would.
 */
export function findSettings(scenario: Scenario, space: SearchSpace, options: FindOptions = {}): Found {
  const goal = options.goal ?? scenario.goal;
  const judged: Judged = {
    spec: scenario.spec,
    ...(options.reserves ? { reserves: options.reserves } : {}),
    ...(goal ? { goal } : {}),
  };
  const judge = judgeOf(scenario, space.factors, judged);
  let evaluations = 0;
  const counted = (at: Float64Array): Merit => {
    evaluations++;
    return judge(at);
  };
  const found = space.choices.map((choice) => bestOf(choice, space, counted, options));
  const byChoice = found
    .map((coordinates) => foundPoint(scenario, space, coordinates, judged))
    .sort((a, b) => (isBetter(a.merit, b.merit) ? -1 : isBetter(b.merit, a.merit) ? 1 : 0));
  const best = byChoice[0]!;
  return { best, meets: best.merit.violation === 0, byChoice, evaluations };
}

function bestOf(
  choice: Float64Array,
  { factors, numbers }: SearchSpace,
  judge: (at: Float64Array) => Merit,
  options: FindOptions,
): Float64Array {
  const coordinates = (at: readonly number[]): Float64Array => {
    const all = Float64Array.from(choice);
    numbers.forEach((j, k) => {
      all[j] = coordinateOf(factors[j]!, at[k]!);
    });
    return all;
  };
  const place = optimise(
    numbers.length,
    (at) => judge(coordinates(at)),
    options.seed ?? 1,
    options.effort ?? EFFORT,
  );
  return roundedPoint(coordinates(place.at), place.merit, factors, numbers, judge).coordinates;
}

/** Solves a point afresh, as `run` would, and tells what holds it. */
export function foundPoint(
  scenario: Scenario,
  space: SearchSpace,
  coordinates: Float64Array,
  judged: Judged,
): FoundPoint {
  const there = scenarioAt(scenario, space.factors, coordinates);
  const c = toCase(there);
  const point = solvePoint(c);
  const steady = point.status === 'steady';
  return {
    coordinates,
    settings: space.factors.map((factor, j) => ({
      path: factor.path,
      value: factorValue(factor, coordinates[j]!),
      shownIn: factor.shownIn,
      ...(factor.as ? { as: factor.as } : {}),
    })),
    scenario: there,
    point,
    outcome: outcomeOf(there, point),
    goal: steady && judged.goal ? expressionValue(judged.goal.expression, point) : Number.NaN,
    merit: meritOf(c, point, judged),
    limits: [
      ...specLimits(point, judged),
      ...space.factors.flatMap((factor, j) => rangeLimit(factor, coordinates[j]!)),
    ],
  };
}

function specLimits(point: Point, judged: Judged): string[] {
  if (point.status === 'choked') return [`it chokes: ${point.state.message}`];
  const lines = judged.spec.flatMap((requirement, k) => {
    const margin = marginOf(requirement, point) - (judged.reserves?.[k] ?? 0);
    return margin / marginScale(requirement, point) < NEAR ? [requirement.text] : [];
  });
  const { rotorPower, availablePower } = point.state.conditions;
  return rotorPower > availablePower * (1 - NEAR) ? [...lines, 'power of the motor'] : lines;
}

function rangeLimit(factor: Factor, coordinate: number): string[] {
  if (factor.kind !== 'number') return [];
  const { from, to, path } = factor;
  const reach = AT_END * (to - from);
  if (coordinate - from < reach) return [`lowest ${path} of its range`];
  return to - coordinate < reach ? [`highest ${path} of its range`] : [];
}
