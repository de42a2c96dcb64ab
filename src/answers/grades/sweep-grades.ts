import { outcomeOf } from '../../scenario/outcome/outcome.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { gradeNames } from '../../scenario/scenario-of-grade.ts';
import { budgetOf } from '../../search/next/budget.ts';
import type { StoredStudy } from '../../sweep/store/stored-study.ts';
import { probabilityOf } from '../odds.ts';
import { type Recommendation, recommend } from '../recommend.ts';
import type { SweepTable } from '../sweep-table.ts';
import { type StoredRows, tableFromStore } from '../table-from-store.ts';
import { sweepOfGrade, withBothSpecs, withEverySpec } from './grade-of-sweep.ts';
import { type GradePlanesInput, gradePlanes } from './grade-planes.ts';
import type { GradePoint } from './grade-point.ts';
import { type RunOrder, runOrder } from './run-order.ts';

/** One grade and what the sweep recommends for it. */
export interface GradeSwept {
  readonly name: string;
  /** The scenario of the grade, as in the file. */
  readonly file: Scenario;
  readonly best: Recommendation;
  readonly point: GradePoint;
  readonly table: SweepTable;
}

/** Points of a sweep that make two grades at once. */
export interface SharedRows {
  readonly names: readonly [string, string];
  readonly points: number;
  /** Of these the one to run first, by the goal of the first grade; absent where there is none. */
  readonly best?: Recommendation;
}

/** What a stored sweep says of every grade. */
export interface SweepGrades {
  readonly scenario: Scenario;
  readonly grades: readonly GradeSwept[];
  readonly planes: GradePlanesInput | undefined;
  readonly shared: readonly SharedRows[];
  /** Highest feed rate swept that meets a grade on each wheel, in the unit of the factor; absent where wheel or feed were not swept. */
  readonly byWheel?: readonly { readonly wheel: string; readonly feed: readonly (number | undefined)[] }[];
  /** Undefined for more grades than are ordered. */
  readonly order: RunOrder | undefined;
  readonly points: number;
}

/** Pairs of grades looked at: each is a recommendation of its own. */
const MOST_PAIRS = 6;

/** Every grade of a stored sweep, each as a sweep of its own would be answered, and what the grades share. */
export function sweepGrades(
  stored: Pick<StoredStudy, 'study' | 'columns'>,
  rows: StoredRows,
  ran: readonly string[] = [],
): SweepGrades {
  const { scenario, plan } = stored.study;
  const { factors } = plan;
  const grades = gradeNames(scenario).map((name): GradeSwept => {
    const own = sweepOfGrade(stored, name);
    const file = own.study.scenario;
    const table = tableFromStore(file, factors, own.columns, rows);
    const best = recommend(file, factors, table, ran);
    return { name, file, best, table, point: sweptPoint(name, best) };
  });
  const all = tableFromStore(withEverySpec(scenario), factors, stored.columns, rows);
  const pairs = grades.flatMap((a, i) => grades.slice(i + 1).map((b) => [a, b] as const));
  const byWheel = wheelsOf(grades);
  return {
    scenario,
    grades,
    planes: gradePlanes(
      scenario,
      all,
      grades.map(({ point }) => point),
    ),
    shared: pairs.slice(0, MOST_PAIRS).map(([a, b]) => sharedRows(stored, all, a, b, ran)),
    ...(byWheel ? { byWheel } : {}),
    order: runOrder(
      grades.map(({ name, point }) => ({ name, scenario: point.scenario })),
      budgetOf(scenario, Number.POSITIVE_INFINITY),
    ),
    points: rows.count,
  };
}

function sweptPoint(name: string, { scenario, standing, odds }: Recommendation): GradePoint {
  const { point } = standing;
  return {
    name,
    scenario,
    point,
    outcome: outcomeOf(scenario, point),
    probability: probabilityOf(odds),
    odds,
  };
}

function sharedRows(
  { study }: Pick<StoredStudy, 'study'>,
  all: SweepTable,
  a: GradeSwept,
  b: GradeSwept,
  ran: readonly string[],
): SharedRows {
  const names = [a.name, b.name] as const;
  const meets = Float64Array.from({ length: all.points }, (_, row) =>
    a.table.meets![row] === 1 && b.table.meets![row] === 1 ? 1 : 0,
  );
  const points = meets.reduce((sum, each) => sum + each, 0);
  if (points === 0) return { names, points };
  const both = withBothSpecs(study.scenario, ...names);
  const required = new Set(both.spec.map(({ text }) => text));
  const limits = all.limits.filter(({ kind, name }) => kind === 'machine' || required.has(name));
  const best = recommend(both, study.plan.factors, { ...all, limits, meets }, ran);
  return best.kind === 'first' ? { names, points, best } : { names, points };
}

/** Of each wheel swept the highest feed rate that meets each grade. */
function wheelsOf(grades: readonly GradeSwept[]): SweepGrades['byWheel'] {
  const { factors, points } = grades[0]!.table;
  const wheel = factors.find(({ path, names }) => path === 'wheel' && names);
  const feed = factors.find(({ path }) => path === 'feedRate');
  if (!wheel || !feed) return undefined;
  return wheel.names!.map((name, place) => ({
    wheel: name,
    feed: grades.map(({ table }) => {
      let most: number | undefined;
      for (let row = 0; row < points; row++)
        if (wheel.values[row] === place && table.meets![row] === 1 && !(feed.values[row]! <= (most ?? 0)))
          most = feed.values[row]!;
      return most;
    }),
  }));
}
