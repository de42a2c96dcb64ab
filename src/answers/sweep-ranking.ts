import { evaluate } from '../scenario/expression/expression.ts';
import { scaleOfLimit } from '../scenario/outcome/relative-margin.ts';
import type { Factor, Scenario } from '../scenario/scenario.ts';
import { fromShown, toShownDifference } from '../scenario/units/display.ts';
import type { Change } from './change.ts';
import { factorSi, type SweepTable } from './sweep-table.ts';
import { pageUnit } from './words.ts';

/** Rows at which every requirement is met and the machine can run. */
export function rowsMeeting({ points, meets }: SweepTable): number[] {
  return meets ? Array.from({ length: points }, (_, row) => row).filter((row) => meets[row] === 1) : [];
}

/** A row's factor values as changes, SI; factors that change nothing there are left out. */
export function changesOf(factors: readonly Factor[], table: SweepTable, row: number): Change[] {
  return table.factors.flatMap((factor, j): Change[] => {
    const value = factor.values[row]!;
    if (Number.isNaN(value)) return [];
    const { as } = factors[j]!;
    const si = factor.names ? factor.names[value]! : factorSi(factor, value);
    return [{ path: factor.path, value: si, ...(as ? { as } : {}) }];
  });
}

/**
 * Relative margins by row, one array a limit; NaN where it chokes. A limit that is no plain number is held against its size at
 * the file's own settings.
 */
function relativeColumns({ spec, air }: Scenario, table: SweepTable): Float64Array[] {
  const inlet = table.factors.find(({ path }) => path === 'air.temperature');
  return table.limits.map(({ name, values }) => {
    const requirement = spec.find(({ text }) => text === name);
    const limit = requirement ? evaluate(requirement.right, () => Number.NaN) : Number.NaN;
    return Float64Array.from({ length: table.points }, (_, row) => {
      const temperature = inlet ? factorSi(inlet, inlet.values[row]!) : air.temperature;
      // without a number as its limit: in percent of it, as the limits of the shafts are stored
      if (!requirement || Number.isNaN(limit)) return values[row]! / 100;
      const scale = scaleOfLimit(requirement, limit, temperature) ?? 1;
      return values[row]! / toShownDifference(scale, requirement.shownIn);
    });
  });
}

/** How the rows of a sweep stand: only to choose which of them the model looks at again. */
export interface RowScores {
  /** Smallest relative margin, the margin to choking among them; −∞ where it chokes. */
  readonly worst: Float64Array;
  /** Sum of what is missed relative to the limits, 0 where nothing is; where it chokes ∞. */
  readonly missed: Float64Array;
}

/** Scores of every row. */
export function scoresOf(scenario: Scenario, table: SweepTable): RowScores {
  const columns = relativeColumns(scenario, table);
  const worst = new Float64Array(table.points);
  const missed = new Float64Array(table.points);
  for (let row = 0; row < table.points; row++) {
    const chokes = !Number.isNaN(table.reason[row]!);
    const steady = table.steady?.[row] ?? Number.POSITIVE_INFINITY;
    worst[row] = chokes ? Number.NEGATIVE_INFINITY : Math.min(steady, ...columns.map((each) => each[row]!));
    missed[row] = chokes
      ? Number.POSITIVE_INFINITY
      : columns.reduce((sum, each) => sum + (each[row]! >= 0 ? 0 : missOf(each[row]!)), 0);
  }
  return { worst, missed };
}

/** A number that does not exist counts as missed by the whole of its limit. */
function missOf(relative: number): number {
  return Number.isNaN(relative) ? 1 : -relative;
}

/** The goal at every row, larger better, −∞ where it does not exist; undefined where there is none or the sweep did not store what it needs. */
export function goalColumn({ goal }: Scenario, table: SweepTable): Float64Array | undefined {
  if (!goal) return undefined;
  const stored = [...table.quantities, ...(table.settings ?? [])];
  const value = (name: string, row: number): number | undefined => {
    const quantity = stored.find(({ of }) => of === name);
    if (quantity) return fromShown(quantity.values[row]!, pageUnit(name));
    const factor = table.factors.find(({ path, names }) => path === name && !names);
    return factor && factorSi(factor, factor.values[row]!);
  };
  let known = true;
  const goals = Float64Array.from({ length: table.points }, (_, row) =>
    evaluate(goal.expression, (name, argument) => {
      const at = argument === undefined ? name : `${name}(${Number((argument * 1e6).toPrecision(12))} um)`;
      const found = value(at, row);
      known &&= found !== undefined;
      return found ?? Number.NaN;
    }),
  );
  if (!known) return undefined;
  const sense = goal.sense === 'maximise' ? 1 : -1;
  return goals.map((value) => (Number.isNaN(value) ? Number.NEGATIVE_INFINITY : sense * value));
}

/** Rows by a number, the largest first; among equals the one farthest from its limits. */
export function ranked(rows: readonly number[], by: ArrayLike<number>, worst: Float64Array): number[] {
  return [...rows].sort((a, b) => by[b]! - by[a]! || worst[b]! - worst[a]!);
}

/** The first row of each combination of the factors but some. */
export function distinct(table: SweepTable, rows: readonly number[], without: readonly string[]): number[] {
  const others = table.factors.filter(({ path }) => !without.includes(path));
  const seen = new Set<string>();
  return rows.filter((row) => {
    const key = others.map(({ values }) => values[row]).join(' ');
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
