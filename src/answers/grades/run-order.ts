import type { Scenario } from '../../scenario/scenario.ts';
import { type Budget, type RunCost, runCost } from '../../search/next/budget.ts';
import { type Changeover, changeover } from './changeover.ts';

/** A grade at the settings it is run at, with its spec. */
export interface GradeRun {
  readonly name: string;
  readonly scenario: Scenario;
}

/** One run of the visit, in its place. */
export interface PlacedRun extends GradeRun {
  /** From the grade before; absent for the first, undefined where this grade does not come into its specification. */
  readonly change: Changeover | undefined;
  readonly cost: RunCost;
}

/** The order to run the grades in. */
export interface RunOrder {
  readonly runs: readonly PlacedRun[];
  readonly wheelChanges: number;
  /** Of all changes [kg]; NaN where a grade does not come into its specification. */
  readonly thrownAway: number;
  /** The same of the worst order with as few wheel changes [kg]. */
  readonly worst: number;
  /** Powder [kg] and time [s] of the whole visit, warming up included. */
  readonly powder: number;
  readonly time: number;
}

/** Every order is looked at; with more grades there are too many. */
export const MOST_ORDERED = 6;

/**
 * The order with the fewest wheel changes, and among these the one with the least powder thrown away at the changes.
 *
 * @returns undefined for more than `MOST_ORDERED` grades
 */
export function runOrder(
  grades: readonly GradeRun[],
  budget: Budget,
  change: (from: Scenario, to: Scenario) => Changeover | undefined = changeover,
): RunOrder | undefined {
  if (grades.length === 0 || grades.length > MOST_ORDERED) return undefined;
  const known = grades.map((from) =>
    grades.map((to) => (from === to ? undefined : change(from.scenario, to.scenario))),
  );
  const scored = orders(grades.map((_, i) => i)).map((order) => ({
    order,
    ...scoreOf(order, grades, known),
  }));
  const fewest = Math.min(...scored.map(({ wheelChanges }) => wheelChanges));
  const few = scored.filter(({ wheelChanges }) => wheelChanges === fewest);
  const best = few.reduce((a, b) => (b.thrownAway < a.thrownAway ? b : a));
  const runs = best.order.map((place, k): PlacedRun => {
    const grade = grades[place]!;
    const before = k === 0 ? undefined : best.order[k - 1]!;
    const own = before === undefined ? undefined : known[before]![place];
    const wheelBefore = before === undefined ? undefined : grades[before]!.scenario.settings.wheel;
    const settle = Math.max(budget.settle, own?.time ?? 0);
    return { ...grade, change: own, cost: runCost({ ...budget, settle }, grade.scenario, wheelBefore) };
  });
  const finite = (mass: number) => (Number.isFinite(mass) ? mass : Number.NaN);
  return {
    runs,
    wheelChanges: fewest,
    thrownAway: finite(best.thrownAway),
    worst: finite(Math.max(...few.map(({ thrownAway }) => thrownAway))),
    powder: runs.reduce((sum, { cost }) => sum + cost.powder, 0),
    time: runs.reduce((sum, { cost }) => sum + cost.time, budget.empty),
  };
}

function scoreOf(
  order: readonly number[],
  grades: readonly GradeRun[],
  known: readonly (readonly (Changeover | undefined)[])[],
): { readonly wheelChanges: number; readonly thrownAway: number } {
  let wheelChanges = 0;
  let thrownAway = 0;
  for (let k = 1; k < order.length; k++) {
    const [from, to] = [order[k - 1]!, order[k]!];
    if (grades[from]!.scenario.settings.wheel !== grades[to]!.scenario.settings.wheel) wheelChanges++;
    thrownAway += known[from]![to]?.thrownAway ?? Number.POSITIVE_INFINITY;
  }
  return { wheelChanges, thrownAway };
}

/** Every order of some places. */
function orders(places: readonly number[]): readonly (readonly number[])[] {
  if (places.length <= 1) return [places];
  return places.flatMap((first) =>
    orders(places.filter((place) => place !== first)).map((rest) => [first, ...rest]),
  );
}
